import { describe, expect, test } from 'vitest';
import { boxModes } from '../../src/box/pistons.ts';
import { type BoxChange, changedBox } from '../../src/box/what-if.ts';
import { movedModes } from '../../src/compare/box-change.ts';
import { type BoxReading, readBox } from '../../src/compare/box-reading.ts';
import { boxStates } from '../../src/compare/box-state.ts';
import { HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
import { once } from '../once.ts';
import { normals } from '../wood/seeded.ts';
import { boxRecord, holeRadiusM, massG, trueBox } from './box-story.ts';

const change: BoxChange = {
  holeRadiusM: holeRadiusM - 0.003,
  depthChangeM: 0.004,
  planAreaM2: (2 * 16.5) / (116 + 96),
  bridgeMassChangeKg: 0.004,
  topStiffnessRatio: 0.9,
  backStiffnessRatio: 0.95,
};
const trueThen = boxModes(changedBox(trueBox, change)).map(({ frequencyHz }) => frequencyHz);
const trueMoves = boxModes(trueBox).map(({ frequencyHz }, i) => trueThen[i]! - frequencyHz);

describe('what a change would do', () => {
  test('without noise the moves are those of the true box', () => {
    const record = boxRecord(boxStates);
    const forecast = movedModes(readBox(record, record.steps[0]!), change);
    expect(forecast.kind).toBe('moved');
    if (forecast.kind !== 'moved') return;
    forecast.modes.forEach(({ moveHz }, i) => {
      // the fit leaves a millionth of the constants
      expect(moveHz.value).toBeCloseTo(trueMoves[i]!, 3);
    });
  });

  test('with peaks read to 0.1 Hz and a volume read to 4 % the true moves lie within the stated 95 %, mode by mode', () => {
    const normal = normals(61);
    const inside = [0, 0, 0];
    const thenInside = [0, 0, 0];
    const squares = [0, 0, 0];
    const trials = 80;
    for (let trial = 0; trial < trials; trial++) {
      const told = boxRecord(['open', 'blocked', 'back-damped', 'mass'], { normal });
      const volumeL = 1000 * trueBox.volumeM3 * (1 + (0.04 / HALF_WIDTH_95) * normal());
      const record = { ...told, box: { ...told.box, cavity: { ...told.box!.cavity!, volumeL } } };
      const forecast = movedModes(readBox(record, record.steps[0]!), change);
      expect(forecast.kind).toBe('moved');
      if (forecast.kind !== 'moved') return;
      forecast.modes.forEach(({ moveHz, thenHz }, i) => {
        if (Math.abs(moveHz.value - trueMoves[i]!) <= HALF_WIDTH_95 * moveHz.sigma) inside[i]!++;
        if (Math.abs(thenHz.value - trueThen[i]!) <= HALF_WIDTH_95 * thenHz.sigma) thenInside[i]!++;
        squares[i]! += ((thenHz.value - trueThen[i]!) / thenHz.sigma) ** 2;
      });
    }
    // 80 draws of 95 %: three standard deviations are 7.3 %
    for (const each of [...inside, ...thenInside]) expect(each / trials).toBeGreaterThan(0.95 - 0.073);
    // nor is the ± wider than the scatter: chi squared of 80 draws is 80 ± 3 sqrt(160); with the peak and its move taken as
    // independent the middle mode's ± came out 30 % too wide
    for (const each of squares) expect(Math.abs(each - trials)).toBeLessThan(38);
  });

  test('a change that leaves no top is refused, not computed', () => {
    const record = boxRecord(boxStates);
    expect(movedModes(readBox(record, record.steps[0]!), { bridgeMassChangeKg: -0.089 })).toEqual({
      kind: 'impossible',
    });
  });

  test('without the round with the mass there is no model to move', () => {
    const record = boxRecord(['open', 'blocked']);
    expect(movedModes(readBox(record, record.steps[0]!), {})).toEqual({ kind: 'no-model' });
  });

  const whole = once(() => {
    const record = boxRecord(boxStates);
    return readBox(record, record.steps[0]!);
  });
  const kindOf = (of: BoxReading, to: BoxChange) => movedModes(of, to).kind;

  test('each part stands as it was read, and then where the move puts it', () => {
    const forecast = movedModes(whole(), change);
    if (forecast.kind !== 'moved') throw new Error(forecast.kind);
    expect(forecast.modes.map(({ part }) => part)).toEqual(['air', 'top', 'back']);
    forecast.modes.forEach(({ nowHz, moveHz, thenHz }, i) => {
      expect(nowHz).toEqual({ value: boxModes(trueBox)[i]!.frequencyHz, sigma: 0.1 });
      expect(thenHz.value).toBeCloseTo(nowHz.value + moveHz.value, 9);
    });
  });

  test('nothing changed moves nothing, and the peak stays as well known as it was read', () => {
    const forecast = movedModes(whole(), {});
    if (forecast.kind !== 'moved') throw new Error(forecast.kind);
    for (const { nowHz, moveHz, thenHz } of forecast.modes) {
      expect(moveHz).toEqual({ value: 0, sigma: 0 });
      expect(thenHz.value).toBe(nowHz.value);
      expect(thenHz.sigma).toBeCloseTo(nowHz.sigma, 9);
    }
  });

  test('of volume, top and plug of air a fifth must be left, and a hole', () => {
    const planAreaM2 = 0.15;
    const shallower = (left: number) => ({ planAreaM2, depthChangeM: ((left - 1) * trueBox.volumeM3) / planAreaM2 });
    const lighter = (left: number) => ({ bridgeMassChangeKg: (left - 1) * trueBox.top.massKg });
    const { effectiveLengthM, endCorrectionRatio } = (whole().model as typeof trueBox).hole;
    // The plug is shorter by the end correction of the radius that went.
    const narrower = (left: number) => ({
      holeRadiusM: holeRadiusM + ((left - 1) * effectiveLengthM) / endCorrectionRatio,
    });
    for (const less of [shallower, lighter, narrower])
      expect([0.21, 0.19].map((left) => kindOf(whole(), less(left)))).toEqual(['moved', 'impossible']);
    const hole = { radiusM: holeRadiusM, effectiveLengthM: 0.08, endCorrectionRatio: 0.5, q: 22 };
    const long = { ...whole(), model: { ...whole().model!, hole } };
    expect([0, -0.01].map((radiusM) => kindOf(long, { holeRadiusM: radiusM }))).toEqual(['impossible', 'impossible']);
  });

  test('each thing the model rests on has to be there', () => {
    expect(kindOf({ ...whole(), model: undefined }, {})).toBe('no-model');
    expect(kindOf({ ...whole(), found: undefined }, {})).toBe('no-model');
    expect(kindOf({ ...whole(), cavity: { kind: 'missing', needs: ['volume'] } }, {})).toBe('no-model');
    expect(kindOf({ ...whole(), rounds: whole().rounds.filter(({ state }) => state !== 'open') }, {})).toBe('no-model');
  });

  test('a box whose back does not answer moves as one of two pistons does', () => {
    const held = { ...trueBox, back: 'held' as const };
    const hz = (of: Parameters<typeof boxModes>[0]) => boxModes(of).map(({ frequencyHz }) => frequencyHz);
    const mass = { ...held, top: { ...held.top, massKg: held.top.massKg + massG / 1000 } };
    const peaksHz = { open: hz(held), blocked: hz({ ...held, hole: 'blocked' as const }), mass: hz(mass) };
    const told = boxRecord(['open', 'blocked', 'mass'], { peaksHz });
    const record = { ...told, box: { ...told.box, backAnswers: false } };
    const forecast = movedModes(readBox(record, record.steps[0]!), { holeRadiusM: 0.045, topStiffnessRatio: 0.9 });
    if (forecast.kind !== 'moved') throw new Error(forecast.kind);
    const then = hz(changedBox(held, { holeRadiusM: 0.045, topStiffnessRatio: 0.9 }));
    expect(forecast.modes.map(({ part }) => part)).toEqual(['air', 'top']);
    // The fit leaves a millionth of the constants.
    forecast.modes.forEach(({ thenHz }, i) => {
      expect(thenHz.value).toBeCloseTo(then[i]!, 3);
    });
  });
});
