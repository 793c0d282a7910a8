import { describe, expect, test } from 'vitest';
import { circumstances, obstacles } from '../../src/compare/conditions.ts';
import {
  birgeMean,
  roundsAt,
  sameSupport,
  sharedSpots,
  signatures,
  signatureUnder,
  soundRounds,
} from '../../src/compare/signature.ts';
import { tracks } from '../../src/compare/tracks.ts';
import { isMeasured } from '../../src/quantity/estimate.ts';
import type { Round, Support } from '../../src/record/record.ts';
import { inMould, story } from './story.ts';

describe('signatures and what may be compared', () => {
  test('rounds at two spots under one support are one signature with the modes of both', () => {
    const one = story([{ modesHz: [180, 270] }, { modesHz: [180.2, 350], spot: 'bridge-treble' }]);
    const step = { ...one.steps[0]!, rounds: [...one.steps[0]!.rounds, ...one.steps[1]!.rounds] };
    const [signature, ...others] = signatures(step);
    expect(others).toEqual([]);
    expect(signature!.spots).toEqual(['bridge-centre', 'bridge-treble']);
    expect(signature!.modes.map((mode) => Number(mode.frequencyHz.value.toFixed(2)))).toEqual([180.1, 270, 350]);
  });

  test('what two steps are drawn by is the rounds at the spots of both, under the support that is compared', () => {
    const glued = { ...inMould, bridge: 'glued' as const };
    const record = story([
      { modesHz: [180] },
      { modesHz: [181], spot: 'bridge-treble' },
      { modesHz: [182], spot: 'waist' },
      { modesHz: [183], spot: 'waist', support: glued },
    ]);
    const [centre, treble, waist, waistGlued] = record.steps.map((step) => step.rounds[0]!);
    const step = (...rounds: readonly (typeof waist)[]) => ({ ...record.steps[0]!, rounds: rounds.map((one) => one!) });
    const three = step(centre, treble, waist, waistGlued);
    const one = step(waist);
    const [a, b] = [signatures(three)[0]!, signatures(one)[0]!];
    expect([sharedSpots(a, b), sharedSpots(b, a)]).toEqual([['waist'], ['waist']]);
    expect(roundsAt(three, a.support, ['waist'])).toEqual([waist]);
    expect(roundsAt(three, glued, ['waist'])).toEqual([waistGlued]);
    expect(sharedSpots(a, signatures(step(waistGlued))[0]!)).toEqual(['waist']);
    expect(sharedSpots(b, signatures(step(centre, treble))[0]!)).toEqual([]);
  });

  test('through a recorder that changed the sound no Q is known, and a round beside it keeps its own', () => {
    const two = story([{ modesHz: [180] }, { modesHz: [180] }]);
    const [good, other] = two.steps.map((step) => step.rounds[0]!);
    const { fit } = other!;
    const modes = fit!.modes.map((mode) => ({ ...mode, q: { value: 5, sigma: 0.1 } }));
    const changed = { ...other!, fit: { ...fit!, modes, recorder: 'gain-control' as const } };
    const step = (...rounds: readonly (Round | undefined)[]) => ({
      ...two.steps[0]!,
      rounds: rounds.map((one) => one!),
    });
    const [alone] = signatures(step(changed))[0]!.modes;
    expect(alone!.frequencyHz).toEqual({ value: 180, sigma: 0.1 });
    expect(isMeasured(alone!.q)).toBe(false);
    const [both] = signatures(step(good, changed))[0]!.modes;
    expect(Math.abs(both!.q.value - 40)).toBeLessThan(0.001);
    expect(Math.abs(both!.q.sigma - 1)).toBeLessThan(0.001);
  });

  test('rounds that are labelled alike and lie 2 % apart are told, and of three the odd one', () => {
    const alike = story([{ modesHz: [180, 270] }, { modesHz: [180.3, 270.2] }, { modesHz: [183.6, 275.4] }]);
    const [first, second, third] = alike.steps.map((step) => step.rounds[0]!);
    const step = (...rounds: readonly Round[]) => ({ ...alike.steps[0]!, rounds });
    expect(signatures(step(first!, second!))[0]!.disagreement).toBeUndefined();
    const two = signatures(step(first!, third!))[0]!.disagreement!;
    expect(two.apart).toBeCloseTo(0.02, 3);
    expect(two.round).toBeUndefined();
    expect(signatures(step(first!, third!, second!))[0]!.disagreement!.round).toBe(third);
    const aside = { ...third!, state: 'set-aside' as const };
    expect(signatures(step(first!, aside, second!))[0]!.disagreement).toBeUndefined();
  });

  test('a round of the closed box that is taken again gives way to the later one, a plate’s is kept beside it', () => {
    const box = { hold: 'box-open', bridge: 'glued', strung: false } as const;
    const told = (support: Support, other: Partial<Round> = {}) => {
      const [step] = story([{ modesHz: [180], stage: 'closed', support }]).steps;
      const [first] = step!.rounds;
      const again = { ...step!, rounds: [first!, { ...first!, id: 'again', ...other }] };
      return soundRounds(again).map(({ id }) => id);
    };
    const [first] = story([{ modesHz: [180] }]).steps[0]!.rounds;
    expect(told(box)).toEqual(['again']);
    // another state or spot is another round, and one set aside takes no place
    expect(told(box, { spot: 'upper-bout' })).toEqual([first!.id, 'again']);
    expect(told(box, { support: { ...box, hold: 'box-hole-blocked' } })).toEqual([first!.id, 'again']);
    expect(told(box, { support: { ...box, strung: true } })).toEqual([first!.id, 'again']);
    expect(told(box, { state: 'set-aside' })).toEqual([first!.id]);
    expect(told({ hold: 'at-node', bridge: 'off', strung: false })).toEqual([first!.id, 'again']);
  });

  test('a round set aside is not concluded from', () => {
    const record = story([{ modesHz: [180] }]);
    const step = { ...record.steps[0]!, rounds: [{ ...record.steps[0]!.rounds[0]!, state: 'set-aside' as const }] };
    expect(signatures(step)).toEqual([]);
  });

  test('two readings that agree are the inverse-variance mean; two that disagree are wider (Birge 1932)', () => {
    const agreed = birgeMean({ value: 10, sigma: 0.1 }, { value: 10, sigma: 0.1 });
    expect(agreed.value).toBe(10);
    expect(agreed.sigma).toBeCloseTo(0.1 / Math.SQRT2, 12);
    const apart = birgeMean({ value: 10, sigma: 0.1 }, { value: 11, sigma: 0.1 });
    expect(apart.value).toBeCloseTo(10.5, 12);
    // ratio |1| / hypot(0.1, 0.1), times 0.1 / sqrt 2: half the distance.
    expect(apart.sigma).toBeCloseTo(0.5, 12);
  });

  test('what is fixed to a piece, on either side, parts one measurement from another', () => {
    const one = inMould;
    for (const other of [
      { ...one, hold: 'at-node' as const },
      { ...one, bridge: 'glued' as const },
      { ...one, strung: true },
      { ...one, addedMassG: 5 },
      { ...one, addedMassOnBackG: 5 },
    ]) {
      expect(sameSupport(one, other)).toBe(false);
      expect(sameSupport(other, { ...other })).toBe(true);
    }
  });

  test('a mode that one of two rounds told from its neighbour is one mode; heard as a pair in both it stays one', () => {
    const record = story([{ modesHz: [180] }, { modesHz: [180.1] }]);
    const merged = (first: 'single' | 'pair', second: 'single' | 'pair') => {
      const rounds = record.steps.map((step, i) => {
        const round = step.rounds[0]!;
        const [mode] = round.fit!.modes;
        const resolution = i === 0 ? first : second;
        const levelDb = i === 0 ? -30 : -12;
        return { ...round, fit: { ...round.fit!, scatterKnown: false, modes: [{ ...mode!, resolution, levelDb }] } };
      });
      return signatures({ ...record.steps[0]!, rounds })[0]!;
    };
    const resolution = (first: 'single' | 'pair', second: 'single' | 'pair') =>
      merged(first, second).modes[0]!.resolution;
    expect([
      resolution('single', 'single'),
      resolution('single', 'pair'),
      resolution('pair', 'single'),
      resolution('pair', 'pair'),
    ]).toEqual(['single', 'single', 'single', 'pair']);
    expect(merged('single', 'single')).toMatchObject({ scatterKnown: false, modes: [{ levelDb: -12, rounds: 2 }] });
  });

  test('modes are in the order of their frequencies, whichever round heard them', () => {
    const record = story([{ modesHz: [350, 180] }, { modesHz: [90, 351] }]);
    const rounds = record.steps.flatMap((step) => step.rounds);
    const [signature] = signatures({ ...record.steps[0]!, rounds });
    expect(signature!.modes.map(({ frequencyHz }) => Math.round(frequencyHz.value))).toEqual([90, 180, 351]);
    expect(signature!.scatterKnown).toBe(true);
  });

  test('another stage, support, bridge or string state forbids comparing and is named', () => {
    const record = story([
      { modesHz: [180] },
      { modesHz: [170], stage: 'on-rims', support: { hold: 'at-node', bridge: 'off', strung: true } },
    ]);
    const [a, b] = record.steps.map((step) => signatures(step)[0]!);
    expect(obstacles(record.steps[0]!, a!, record.steps[1]!, b!).map((obstacle) => obstacle.kind)).toEqual([
      'stage',
      'hold',
      'bridge',
      'strings',
    ]);
  });

  test('humidity is named beside the move from a difference above 5 %RH, with its size', () => {
    const record = story([
      { modesHz: [180], humidityPercent: 46 },
      { modesHz: [179], humidityPercent: 53 },
      { modesHz: [179], humidityPercent: 51 },
    ]);
    const [a, b, c] = record.steps.map((step) => signatures(step)[0]!);
    const [note] = circumstances(record.steps[0]!, a!, record.steps[1]!, b!);
    expect(note).toMatchObject({ kind: 'air', humidityChangePercent: 7, tempChangeC: undefined });
    // Moisture 8.65 to 9.76 % (GTR-282 eq. 4-5 at 20 deg C); about -1 % in frequency per 1 % of moisture along the
    // grain and more across it (common practice), so between -0.4 and -1.6 % for a plate.
    if (note?.kind === 'air') {
      expect(note.frequencyPercent.value).toBeGreaterThan(-1.6);
      expect(note.frequencyPercent.value).toBeLessThan(-0.4);
    }
    expect(circumstances(record.steps[0]!, a!, record.steps[2]!, c!)).toEqual([]);
  });

  test('a mode that one step did not hear is found again at the next one', () => {
    const record = story([{ modesHz: [194, 271] }, { modesHz: [189] }, { modesHz: [186, 266] }]);
    const followed = tracks(record, 'braced', inMould);
    expect(followed.map((track) => track.points.map((point) => point.mode.frequencyHz.value))).toEqual([
      [194, 189, 186],
      [271, 266],
    ]);
    expect(followed.map((track) => track.name)).toEqual(['monopole', undefined]);
  });

  test('a name holds for the mode that it was given at its step, to 20 cents, the last one given first', () => {
    const record = story([{ modesHz: [194, 271] }, { modesHz: [189, 266] }]);
    const named = (...pins: readonly (readonly [stepId: string, hz: number])[]) =>
      tracks(
        {
          ...record,
          pins: pins.map(([stepId, frequencyHz], i) => ({ id: `p${i}`, stepId, mode: `n${i}`, frequencyHz })),
        },
        'braced',
        inMould,
      ).map(({ name }) => name);
    const cents = (hz: number, by: number) => hz * 2 ** (by / 1200);
    expect(named(['s1', 189])).toEqual(['n0', undefined]);
    expect(named(['s0', 189])).toEqual([undefined, undefined]);
    expect(named(['s1', 194])).toEqual([undefined, undefined]);
    expect(named(['s1', cents(266, 19)], ['s0', cents(194, -19)])).toEqual(['n1', 'n0']);
    expect(named(['s1', cents(266, 21)], ['s0', cents(194, -21)])).toEqual([undefined, undefined]);
    expect(named(['s0', 194], ['s1', 189])).toEqual(['n1', undefined]);
  });

  test('a reading said to be exact stands, and of two unlike ones the surer weighs more', () => {
    const [exact, other] = [
      { value: 10, sigma: 0 },
      { value: 11, sigma: 0.1 },
    ];
    expect(birgeMean(exact, other)).toEqual(exact);
    expect(birgeMean(other, exact)).toEqual(exact);
    // Weights 100 and 25: (100 x 10 + 25 x 10.1) / 125, sigma 1 / sqrt 125; they agree within their ±.
    const mean = birgeMean({ value: 10, sigma: 0.1 }, { value: 10.1, sigma: 0.2 });
    expect(mean.value).toBeCloseTo(10.02, 12);
    expect(mean.sigma).toBeCloseTo(1 / Math.sqrt(125), 12);
    // 1 apart, of 0.2236 together: widened by 4.472.
    const apart = birgeMean({ value: 11, sigma: 0.1 }, { value: 10, sigma: 0.2 });
    expect(apart.value).toBeCloseTo(10.8, 12);
    expect(apart.sigma).toBeCloseTo(1 / Math.sqrt(0.05) / Math.sqrt(125), 12);
  });

  test('modes of two rounds taken together keep what either heard, Q by its worth; a third round joins', () => {
    const record = story([{ modesHz: [180, 270] }, { modesHz: [180] }, { modesHz: [180, 350] }]);
    const qs = [40, 60, 50];
    const rounds = record.steps.map((step, i) => {
      const round = step.rounds[0]!;
      const modes = round.fit!.modes.map((mode) => ({ ...mode, q: { value: qs[i]!, sigma: 10 } }));
      return { ...round, fit: { ...round.fit!, scatterKnown: i === 1, modes } };
    });
    const [signature] = signatures({ ...record.steps[0]!, rounds });
    expect(signature!.stepId).toBe('s0');
    expect(signature!.support).toEqual(inMould);
    expect(signature!.scatterKnown).toBe(true);
    expect(signature!.spots).toEqual(['bridge-centre']);
    expect(signature!.modes.map(({ rounds: count, levelDb }) => [count, levelDb])).toEqual([
      [3, -20],
      [1, -20],
      [1, -20],
    ]);
    // 40 and 60 of one sigma: 50, widened by 20 / sqrt 200 to 10; with 50 of 10 again 50 and 7.07.
    expect(signature!.modes[0]!.q.value).toBeCloseTo(50, 9);
    expect(signature!.modes[0]!.q.sigma).toBeCloseTo(10 / Math.SQRT2, 9);
    expect(signature!.modes[1]!.q).toEqual({ value: 40, sigma: 10 });
  });

  test('each support of a step has its own signature, in the order they were taken, found by that support', () => {
    const free = { ...inMould, hold: 'at-node' as const };
    const told = story([{ modesHz: [180] }, { modesHz: [95], support: free }, { modesHz: [180.1], spot: 'waist' }]);
    const step = { ...told.steps[0]!, rounds: told.steps.flatMap(({ rounds }) => rounds) };
    expect(signatures(step).map(({ support, spots }) => [support.hold, spots])).toEqual([
      ['in-mould', ['bridge-centre', 'waist']],
      ['at-node', ['bridge-centre']],
    ]);
    expect(signatureUnder(step, free)!.modes[0]!.frequencyHz.value).toBe(95);
    expect(signatureUnder(step, { ...free, strung: true })).toBeUndefined();
  });

  test('a round still open, or not read, is not concluded from', () => {
    const [step] = story([{ modesHz: [180] }]).steps;
    const [round] = step!.rounds;
    const { fit: _, ...unread } = round!;
    for (const rounds of [[{ ...round!, state: 'open' as const }], [unread]]) {
      expect(soundRounds({ ...step!, rounds })).toEqual([]);
      expect(signatures({ ...step!, rounds })).toEqual([]);
    }
    expect(soundRounds(step!)).toEqual([round]);
  });

  test('modes are followed at their own stage and support only, ascending by where they stand last', () => {
    const free = { ...inMould, hold: 'at-node' as const };
    const record = story([
      { modesHz: [300, 100] },
      { modesHz: [150], support: free },
      { modesHz: [90, 290], stage: 'on-rims' },
      { modesHz: [200, 102] },
    ]);
    const lasts = tracks(record, 'braced', inMould).map(({ points }) => points.map(({ step }) => step.id));
    expect(lasts).toEqual([['s0', 's3'], ['s3'], ['s0']]);
    const [point] = tracks(record, 'on-rims', inMould)[0]!.points;
    expect(point).toMatchObject({
      step: { id: 's2' },
      signature: { stepId: 's2' },
      mode: { frequencyHz: { value: 90 } },
    });
    expect(tracks(record, 'strung', inMould)).toEqual([]);
  });

  test('two rounds that share several modes, or none, tell each of them once', () => {
    const both = (first: readonly number[], second: readonly number[]) => {
      const told = story([{ modesHz: first }, { modesHz: second }]);
      const rounds = told.steps.flatMap((step) => step.rounds);
      return signatures({ ...told.steps[0]!, rounds })[0]!.modes.map(({ frequencyHz, rounds: count }) => [
        frequencyHz.value,
        count,
      ]);
    };
    expect(both([100, 200, 300], [100, 200, 400])).toEqual([
      [100, 2],
      [200, 2],
      [300, 1],
      [400, 1],
    ]);
    expect(both([100, 200], [150, 250])).toEqual([
      [100, 1],
      [150, 1],
      [200, 1],
      [250, 1],
    ]);
    expect(both([], [150])).toEqual([[150, 1]]);
  });
});
