// Rounds of the box done wrong on purpose, on boxes whose pistons are known, and what the page then says of them; done right, nothing.
import { describe, expect, test } from 'vitest';
import { type Box, boxModes } from '../../src/box/pistons.ts';
import type { BoxDoubt } from '../../src/compare/box-doubts.ts';
import { readBox } from '../../src/compare/box-reading.ts';
import { type BoxState, boxStates } from '../../src/compare/box-state.ts';
import { labelPeak } from '../../src/record/box-edit.ts';
import type { InstrumentRecord, Round } from '../../src/record/record.ts';
import { seeded } from '../bench/tap-signals.ts';
import { piston } from '../box/workshop-box.ts';
import { boxIn, boxRecord, holeEdgeM, massG, trueBox } from './box-story.ts';

const read = (record: InstrumentRecord) => readBox(record, record.steps[0]!);
const kinds = (record: InstrumentRecord) => read(record).doubts.map(({ kind }) => kind);
const hzIn = (state: BoxState, box: Box = trueBox) => boxModes(boxIn(state, box)).map(({ frequencyHz }) => frequencyHz);
const changed = (record: InstrumentRecord, state: BoxState, change: (round: Round) => Round): InstrumentRecord => ({
  ...record,
  steps: [
    {
      ...record.steps[0]!,
      rounds: record.steps[0]!.rounds.map((round) => (round.id === `round-${state}` ? change(round) : round)),
    },
  ],
});
const withLevels = (record: InstrumentRecord, state: BoxState, levelsDb: readonly number[]) =>
  changed(record, state, (round) => ({
    ...round,
    fit: { ...round.fit!, modes: round.fit!.modes.map((mode, i) => ({ ...mode, levelDb: levelsDb[i] ?? -45 })) },
  }));

describe('done right', () => {
  test('the rounds leave no doubt', () => {
    expect(kinds(boxRecord(boxStates))).toEqual([]);
  });

  test('nor do those of sixty other boxes, read with noise', () => {
    const random = seeded(4711);
    const between = (least: number, most: number) => least + random() * (most - least);
    const doubted: (readonly BoxDoubt[])[] = [];
    for (let k = 0; k < 60; k++) {
      const box = {
        ...trueBox,
        top: piston(between(0.06, 0.13), between(150, 205), between(0.035, 0.055), between(20, 45)),
        back: piston(between(0.13, 0.28), between(205, 260), between(0.03, 0.05), between(20, 45)),
      };
      const states: readonly BoxState[] = ['open', 'blocked', 'back-damped', 'mass'];
      const peaksHz = Object.fromEntries(states.map((state) => [state, hzIn(state, box)]));
      const { doubts } = read(boxRecord(states, { peaksHz, normal: () => between(-1.7, 1.7) }));
      if (doubts.length > 0) doubted.push(doubts);
    }
    expect(doubted).toEqual([]);
  });
});

describe('done wrong', () => {
  test('a hole left open in “hole blocked” is told by the air’s peak, though nobody called it so', () => {
    const { doubts, found, solvedRounds } = read(boxRecord(boxStates, { peaksHz: { blocked: hzIn('open') } }));
    expect(doubts).toMatchObject([{ kind: 'hole-not-blocked', roundId: 'round-blocked' }]);
    const told = doubts[0] as Extract<BoxDoubt, { kind: 'hole-not-blocked' }>;
    expect(told.airHz.value).toBeCloseTo(hzIn('open')[0]!, 6);
    // Nothing follows from that round; the others still tell.
    expect(solvedRounds.some(({ state }) => state === 'blocked')).toBe(false);
    expect(found?.kind).not.toBe('contradicted');
  });

  test('a trace of the air through a card that is not quite tight is no open hole', () => {
    const blocked = [hzIn('open')[0]!, ...hzIn('blocked')];
    const leaking = withLevels(boxRecord(boxStates, { peaksHz: { blocked } }), 'blocked', [-37, -20, -20]);
    expect(kinds(leaking)).toEqual([]);
    expect(kinds(withLevels(leaking, 'blocked', [-33, -20, -20]))).toEqual(['hole-not-blocked']);
  });

  test('open and blocked exchanged are told by where the ruler has the air', () => {
    const { doubts } = read(
      boxRecord(['open', 'blocked'], { peaksHz: { open: hzIn('blocked'), blocked: hzIn('open') } }),
    );
    expect(doubts).toEqual([{ kind: 'holes-exchanged', roundId: 'round-blocked' }]);
  });

  test('a back left free while it was to be held is told', () => {
    const free = boxRecord(boxStates, { peaksHz: { 'back-damped': hzIn('open') } });
    const asOpen = changed(free, 'back-damped', (round) => ({
      ...round,
      fit: free.steps[0]!.rounds.find(({ id }) => id === 'round-open')!.fit,
    }));
    expect(kinds(asOpen)).toEqual(['back-not-held']);
    // Damped so that only its Q falls, it was held.
    const dulled = changed(asOpen, 'back-damped', (round) => ({
      ...round,
      fit: {
        ...round.fit!,
        modes: round.fit!.modes.map((mode) => ({ ...mode, q: { value: 0.6 * mode.q.value, sigma: mode.q.sigma } })),
      },
    }));
    expect(kinds(dulled)).toEqual([]);
  });

  test.each([
    ['ten times too heavy', 10, 'too-heavy'],
    ['ten times too light', 0.1, 'too-light'],
  ])('a lump typed %s makes a top that is none', (_, times, looks) => {
    const typed = changed(boxRecord(boxStates), 'mass', (round) => ({
      ...round,
      support: { ...round.support, addedMassG: times * massG },
    }));
    const record: InstrumentRecord = {
      ...typed,
      steps: [{ ...typed.steps[0]!, rounds: typed.steps[0]!.rounds.filter(({ id }) => id !== 'round-mass-on-back') }],
    };
    expect(read(record).doubts).toMatchObject([{ kind: 'lump-misweighed', looks }]);
  });
});

describe('the air is where the ruler has it', () => {
  const weakAir = withLevels(boxRecord(['open']), 'open', [-45, -20, -20, -21]);

  test('25 dB down and below a louder stranger it is still the air', () => {
    const labels = read(weakAir).rounds[0]!.peaks.map(({ frequencyHz, label }) => [
      Math.round(frequencyHz.value),
      label,
    ]);
    expect(labels).toEqual([
      ...hzIn('open').map((hz, i) => [Math.round(hz), ['air', 'top', 'back'][i]]),
      [308, 'other'],
    ]);
  });

  test('without sizes the loudest three are proposed, as they were', () => {
    const { cavity: _, ...box } = weakAir.box!;
    const labels = readBox({ ...weakAir, box }, weakAir.steps[0]!).rounds[0]!.peaks.map(({ label }) => label);
    expect(labels).toEqual(['other', 'air', 'top', 'back']);
  });

  test('a peak called air far above it is doubted, with both figures', () => {
    const topHz = hzIn('open')[1]!;
    const called = labelPeak(
      boxRecord(['open']),
      { id: 'n', roundId: 'round-open', frequencyHz: topHz, part: 'air' },
      undefined,
    );
    const { doubts, cavity } = read(called);
    expect(doubts).toMatchObject([{ kind: 'air-not-by-ruler', state: 'open', calledHz: { value: topHz } }]);
    // Helmholtz: c / 2 pi sqrt(A / (V L)), with the end corrections that the ruler allows for, 1.4 to 1.85 radii.
    const { soundSpeedMPerS: c } = trueBox.air;
    const { radiusM } = trueBox.hole;
    const by = (ends: number) =>
      (c / (2 * Math.PI)) * Math.sqrt((Math.PI * radiusM ** 2) / (trueBox.volumeM3 * (holeEdgeM + ends * radiusM)));
    const own = cavity.kind === 'cavity' ? cavity.ownHz.value : 0;
    expect(own).toBeGreaterThan(by(1.85));
    expect(own).toBeLessThan(by(1.4));
  });
});
