import { describe, expect, test } from 'vitest';
import { boxModes } from '../../src/box/pistons.ts';
import { partRounds, stateRounds } from '../../src/compare/box-evidence.ts';
import { type BoxReading, readBox } from '../../src/compare/box-reading.ts';
import { boxStates } from '../../src/compare/box-state.ts';
import { labelPeak } from '../../src/record/box-edit.ts';
import type { InstrumentRecord } from '../../src/record/record.ts';
import { boxRecord, trueBox } from './box-story.ts';

const read = (record: InstrumentRecord): BoxReading => readBox(record, record.steps[0]!);
const labelsOf = (record: InstrumentRecord, state: string) =>
  stateRounds(record, record.steps[0]!)
    .find((round) => round.state === state)
    ?.peaks.map(({ label }) => label);

describe('the rounds of a closed box read from a record', () => {
  test('without noise the parts that were put in come out, from names that the program proposed itself', () => {
    const { found, which, model } = read(boxRecord(boxStates));
    expect(found?.kind).toBe('solved');
    if (found?.kind !== 'solved' || found.back === 'held') return;
    // the fit stops at 1e-8 of a parameter; a hundred times that is left
    expect(found.top.effective!.massKg.value / trueBox.top.massKg).toBeCloseTo(1, 6);
    expect(found.top.effective!.stiffnessNPerM.value / trueBox.top.stiffnessNPerM).toBeCloseTo(1, 6);
    expect(found.top.effective!.areaM2.value / trueBox.top.areaM2).toBeCloseTo(1, 6);
    expect(found.top.vacuoHz.value).toBeCloseTo(172, 4);
    expect(found.back.vacuoHz.value).toBeCloseTo(222, 4);
    expect(found.back.effective!.massKg.value / trueBox.back.massKg).toBeCloseTo(1, 6);
    expect(found.back.effective!.areaM2.value / trueBox.back.areaM2).toBeCloseTo(1, 6);
    expect(found.labels).toBe('confirmed');
    expect(found.sumRule?.labelsDoubtful).toBe(false);
    expect(which?.verdicts.map(({ behavesLike }) => behavesLike)).toEqual(['air', 'top', 'back']);
    const frequencies = boxModes(model!).map(({ frequencyHz }) => frequencyHz);
    boxModes(trueBox).forEach((mode, i) => {
      expect(frequencies[i]).toBeCloseTo(mode.frequencyHz, 4);
    });
  });

  test('through a recorder that changed the sound the parts come out, but no losses for the model', () => {
    const record = boxRecord(boxStates);
    const [step] = record.steps;
    const rounds = step!.rounds.map((round) => ({
      ...round,
      fit: { ...round.fit!, recorder: 'noise-suppression' as const },
    }));
    const { found, model } = read({ ...record, steps: [{ ...step!, rounds }] });
    if (found?.kind !== 'solved') throw new Error('not solved');
    expect(found.top.vacuoHz.value).toBeCloseTo(172, 4);
    expect(model).toBeUndefined();
  });

  test('without the losses of each peak known the parts come out, but no losses for the model', () => {
    const record = boxRecord(boxStates);
    const [step] = record.steps;
    const rounds = step!.rounds.map((round) => ({
      ...round,
      // reaches down to zero, yet is less than the value
      fit: {
        ...round.fit!,
        modes: round.fit!.modes.map((mode) => ({ ...mode, q: { ...mode.q, sigma: 0.6 * mode.q.value } })),
      },
    }));
    const { found, model } = read({ ...record, steps: [{ ...step!, rounds }] });
    expect(found?.kind).toBe('solved');
    expect(model).toBeUndefined();
  });

  test('blocked and open taken for one another are told as such, and nothing is concluded', () => {
    const hz = (state: 'open' | 'blocked') =>
      boxModes(state === 'open' ? trueBox : { ...trueBox, hole: 'blocked' }).map(({ frequencyHz }) => frequencyHz);
    const { found, model, doubts } = read(
      boxRecord(['open', 'blocked'], { peaksHz: { open: hz('blocked'), blocked: hz('open') } }),
    );
    expect(doubts).toEqual([{ kind: 'holes-exchanged', roundId: 'round-blocked' }]);
    expect(found?.kind).toBe('not-measurable');
    expect(model).toBeUndefined();
  });

  test('a peak called air while the hole was blocked contradicts its own state', () => {
    const record = boxRecord(['open', 'blocked']);
    const wrong = labelPeak(
      record,
      {
        id: 'n1',
        roundId: 'round-blocked',
        frequencyHz: boxModes({ ...trueBox, hole: 'blocked' })[0]!.frequencyHz,
        part: 'air',
      },
      undefined,
    );
    const { found } = read(wrong);
    expect(found).toMatchObject({ kind: 'contradicted', contradictions: [{ because: 'air-while-blocked' }] });
  });

  test('only what the maker said counts as said: proposals are labels to be denied by nobody', () => {
    const record = boxRecord(['open', 'blocked']);
    const airHz = boxModes(trueBox)[0]!.frequencyHz;
    const said = labelPeak(record, { id: 'n1', roundId: 'round-open', frequencyHz: airHz, part: 'air' }, undefined);
    const confirmed = (of: InstrumentRecord) =>
      stateRounds(of, of.steps[0]!)[0]!.peaks.map(({ label, isConfirmed }) => [label, isConfirmed]);
    expect(confirmed(record)).toEqual([
      ['air', false],
      ['top', false],
      ['back', false],
      ['other', false],
    ]);
    expect(confirmed(said)).toEqual([
      ['air', true],
      ['top', false],
      ['back', false],
      ['other', false],
    ]);
    const labels = (of: InstrumentRecord) => partRounds(stateRounds(of, of.steps[0]!))!.base.map(({ label }) => label);
    expect(labels(record)).toEqual([undefined, undefined, undefined]);
    expect(labels(said)).toEqual(['air', undefined, undefined]);
  });

  test('a back that still answers under the hand is not taken for held, but tells which peak is the back’s', () => {
    const dulled = boxModes(trueBox).map(({ frequencyHz }) => frequencyHz);
    const record = boxRecord(['open', 'blocked', 'back-damped', 'mass'], { peaksHz: { 'back-damped': dulled } });
    const named = dulled.reduce(
      (known, frequencyHz, i) =>
        labelPeak(
          known,
          { id: `n${i}`, roundId: 'round-back-damped', frequencyHz, part: (['air', 'top', 'back'] as const)[i]! },
          undefined,
        ),
      record,
    );
    const { found, solvedRounds, which } = read(named);
    expect(solvedRounds.map(({ state }) => state)).toEqual(['open', 'blocked', 'mass']);
    expect(found?.kind).toBe('solved');
    expect(which?.unused).toEqual([]);
  });

  test('a mass that moved nothing is said so, and is not taken for an endlessly heavy top', () => {
    const open = boxModes(trueBox).map(({ frequencyHz }) => frequencyHz);
    const { found } = read(boxRecord(['open', 'blocked', 'mass'], { peaksHz: { mass: open } }));
    expect(found).toMatchObject({ kind: 'not-measurable', because: 'mass-moved-nothing' });
  });

  test('one hold leaves out the scatter of holding anew, so its peaks are widened by a tenth of a per cent', () => {
    const record = boxRecord(['open'], { sigmaHz: 0.01, scatterKnown: false });
    const [air] = stateRounds(record, record.steps[0]!)[0]!.peaks;
    expect(air!.frequencyHz.sigma).toBeCloseTo(Math.hypot(0.01, 0.001 * air!.frequencyHz.value), 10);
  });

  test('what the maker says of a peak wins, and the parts not named yet go to the strongest peaks left', () => {
    const record = boxRecord(['open', 'blocked']);
    const hz = boxModes(trueBox).map(({ frequencyHz }) => frequencyHz);
    const said = labelPeak(record, { id: 'n1', roundId: 'round-open', frequencyHz: hz[1]!, part: 'back' }, undefined);
    expect(labelsOf(record, 'open')).toEqual(['air', 'top', 'back', 'other']);
    expect(labelsOf(said, 'open')).toEqual(['air', 'back', 'top', 'other']);
    // the other states keep the order of the open box
    expect(labelsOf(said, 'blocked')).toEqual(['back', 'top', 'other']);
  });

  test('the newest round of a state counts, and one that was set aside does not', () => {
    const record = boxRecord(['open', 'open']);
    const [first, second] = record.steps[0]!.rounds;
    const step = {
      ...record.steps[0]!,
      rounds: [
        { ...first!, id: 'a' },
        { ...second!, id: 'b' },
      ],
    };
    expect(stateRounds(record, step).map(({ round }) => round.id)).toEqual(['b']);
    const aside = { ...step, rounds: [step.rounds[0]!, { ...step.rounds[1]!, state: 'set-aside' as const }] };
    expect(stateRounds(record, aside).map(({ round }) => round.id)).toEqual(['a']);
  });

  test('blocks that fill more than the box holds are named with both figures', () => {
    const record = boxRecord(['open']);
    const { cavity } = read({
      ...record,
      box: {
        cavity: {
          from: 'outline',
          bodyLengthMm: 500,
          lowerBoutMm: 390,
          waistMm: 270,
          upperBoutMm: 290,
          tailDepthMm: 40,
          neckDepthMm: 40,
          occupiedL: 9,
          holeRadiusMm: 50,
          holeEdgeMm: 3,
        },
      },
    });
    expect(cavity).toMatchObject({ kind: 'no-volume', occupiedL: 9 });
  });

  test('nothing is solved without the sizes or a round, and each is told by what is there', () => {
    const record = boxRecord(['open', 'blocked']);
    const { cavity: _, ...box } = record.box!;
    const unsized = read({ ...record, box });
    expect(unsized.cavity.kind).toBe('missing');
    expect(unsized.found).toBeUndefined();
    expect(unsized.model).toBeUndefined();
    expect(unsized.which?.verdicts).toHaveLength(3);
    const untapped = read({ ...record, steps: [{ ...record.steps[0]!, rounds: [] }] });
    expect(untapped).toMatchObject({
      rounds: [],
      solvedRounds: [],
      found: undefined,
      which: undefined,
      model: undefined,
    });
    expect(untapped.cavity.kind).toBe('cavity');
  });

  test('a back laid still is solved as held, and counts', () => {
    const { solvedRounds } = read(boxRecord(['open', 'blocked', 'back-damped']));
    expect(solvedRounds.map(({ state }) => state)).toEqual(['open', 'blocked', 'back-damped']);
  });

  test('the model has a loss for each mode of the open box, so a peak short of that there is none', () => {
    const record = boxRecord(boxStates);
    const [step] = record.steps;
    const less = step!.rounds.map((round) =>
      round.id === 'round-open' ? { ...round, fit: { ...round.fit!, modes: round.fit!.modes.slice(0, 2) } } : round,
    );
    const { model } = read({ ...record, steps: [{ ...step!, rounds: less }] });
    expect(model).toBeUndefined();
    const qs = boxModes(read(record).model!).map(({ q }) => q);
    boxModes(trueBox).forEach(({ q }, i) => {
      // Losses are light: their second order is left out.
      expect(Math.abs(qs[i]! / q - 1)).toBeLessThan(0.01);
    });
  });

  test('the losses are those of the open box, whenever it was tapped; without it there is no model', () => {
    const late = read(boxRecord(['blocked', 'back-damped', 'mass', 'open']));
    expect(boxModes(late.model!).map(({ q }) => Math.round(q))).toEqual(
      boxModes(read(boxRecord(boxStates)).model!).map(({ q }) => Math.round(q)),
    );
    expect(read(boxRecord(['blocked', 'back-damped', 'mass'])).model).toBeUndefined();
    expect(read(boxRecord(['blocked', 'mass', 'tap-on-back'])).model).toBeUndefined();
  });
});
