// What the box is told that it cannot be, and what rounds may say of one another: each rule by the smallest pair of rounds that it is
// about, and each refusal by its words.
import { describe, expect, test } from 'vitest';
import { airDensity, airIn, soundSpeed } from '../../src/box/air.ts';
import { placeBetweenNotes } from '../../src/box/between-notes.ts';
import { outlineOfMeasures } from '../../src/box/body-outline.ts';
import { cavityVolumeM3 } from '../../src/box/cavity.ts';
import { shareByMass, shareByStopping } from '../../src/box/energy-share.ts';
import { boxModes, cushionPaPerM3, type Piston, pistonSystem } from '../../src/box/pistons.ts';
import { matchedThickness } from '../../src/box/replacement.ts';
import { boxResponse } from '../../src/box/response.ts';
import { observed, stateOf } from '../../src/box/round-observations.ts';
import { type BoxRound, blockingMovedNothing, contradictions, massMovedNothing } from '../../src/box/rounds.ts';
import { helmholtzHz, reamedTo, soundhole, tunedTo } from '../../src/box/soundhole.ts';
import { expectAfterStage } from '../../src/box/stage-jump.ts';
import { sumRule } from '../../src/box/sum-rule.ts';
import { changedBox } from '../../src/box/what-if.ts';
import { type PartPeak, whichPart } from '../../src/box/which-part.ts';
import { estimate } from '../../src/quantity/estimate.ts';
import { TUNINGS } from '../../src/strings/tuning.ts';
import { uncoupledFrequencies } from './uncoupled.ts';
import { AIR, THREE, TWO } from './workshop-box.ts';

const hz = (value: number, sigma = 0.3) => estimate(value, sigma);
const weather = { tempC: 20, humidityPercent: 50, pressurePa: 101_325 };

describe('air', () => {
  test.each([
    [{ tempC: -0.1 }, '-0.1 °C, need 0 to 40'],
    [{ tempC: 40.1 }, '40.1 °C, need 0 to 40'],
    [{ humidityPercent: -1 }, '-1 % humidity, need 0 to 100'],
    [{ humidityPercent: 100.1 }, '100.1 % humidity, need 0 to 100'],
    [{ pressurePa: 59_999 }, '59999 Pa, need 60000 to 110000'],
    [{ pressurePa: 110_001 }, '110001 Pa, need 60000 to 110000'],
  ])('of %j is refused by name', (wrong, message) => {
    expect(() => soundSpeed({ ...weather, ...wrong })).toThrow(`soundSpeed: ${message}`);
    expect(() => airDensity({ ...weather, ...wrong })).toThrow(`airDensity: ${message}`);
  });

  test('is known up to the edges of its ranges', () => {
    for (const tempC of [0, 40])
      for (const humidityPercent of [0, 100])
        for (const pressurePa of [60_000, 110_000]) {
          const { soundSpeedMPerS, densityKgM3 } = airIn({ tempC, humidityPercent, pressurePa });
          // c = sqrt(gamma p / rho) with gamma 1.40 of dry air and 1.33 of vapour: a few parts in a thousand.
          expect(soundSpeedMPerS / Math.sqrt((1.4 * pressurePa) / densityKgM3)).toBeGreaterThan(0.992);
          expect(soundSpeedMPerS / Math.sqrt((1.4 * pressurePa) / densityKgM3)).toBeLessThan(1.003);
        }
  });

  test('weighs what an ideal gas does, but for the few parts in ten thousand that it is none', () => {
    for (const tempC of [0, 15, 27, 40])
      for (const pressurePa of [70_000, 101_325]) {
        const dry = (pressurePa * 28.96546e-3) / (8.314472 * (tempC + 273.15));
        const found = airDensity({ tempC, humidityPercent: 0, pressurePa });
        // Z of dry air is 0.9994 at 0 C and one bar, 0.9998 at 40 C (CRC Handbook, from memory): it weighs more by that.
        expect(found / dry - 1).toBeGreaterThan(0.0001);
        expect(found / dry - 1).toBeLessThan(0.0007);
      }
    const excess = (tempC: number, pressurePa: number) =>
      airDensity({ tempC, humidityPercent: 0, pressurePa }) /
        ((pressurePa * 28.96546e-3) / (8.314472 * (tempC + 273.15))) -
      1;
    // Less so the warmer and the thinner it is: in proportion to its pressure.
    expect(excess(40, 101_325)).toBeLessThan(0.6 * excess(0, 101_325));
    expect(excess(20, 60_000) / excess(20, 100_000)).toBeCloseTo(0.6, 2);
  });

  test('damp air is lighter by what vapour weighs less: 18 for 29 of its share', () => {
    // Saturation pressure at 30 C 4247 Pa (any steam table).
    const share = 4247 / 101_325;
    const damp = airDensity({ tempC: 30, humidityPercent: 100, pressurePa: 101_325 });
    const dry = airDensity({ tempC: 30, humidityPercent: 0, pressurePa: 101_325 });
    expect(Math.abs(1 - damp / dry - share * (1 - 18.015 / 28.965))).toBeLessThan(3e-4);
  });
});

describe('refusals name what was given and what is needed', () => {
  const plate: Piston = { massKg: 0.1, stiffnessNPerM: 1e5, areaM2: 0.04, q: 30 };
  const measures = { lengthM: 0.5, lowerBoutM: 0.4, waistM: 0.25, upperBoutM: 0.3 };

  test.each(['massKg', 'stiffnessNPerM', 'q'] as const)('a plate without %s', (field) => {
    for (const value of [0, -1, Number.NaN]) {
      expect(() => pistonSystem({ ...THREE, top: { ...plate, [field]: value } })).toThrow(
        /^pistonSystem: top m .* need > 0$/,
      );
      expect(() => pistonSystem({ ...THREE, back: { ...plate, [field]: value } })).toThrow(/^pistonSystem: back m /);
    }
  });

  test('a plate may push no air, but not less than none; a box has a volume', () => {
    expect(boxModes({ ...TWO, hole: 'blocked', top: { ...plate, areaM2: 0 } })[0]!.frequencyHz).toBeCloseTo(
      Math.sqrt(1e6) / (2 * Math.PI),
      9,
    );
    expect(() => pistonSystem({ ...THREE, top: { ...plate, areaM2: -0.01 } })).toThrow(/^pistonSystem: top/);
    for (const volumeM3 of [0, -1, Number.NaN])
      expect(() => cushionPaPerM3(AIR, volumeM3)).toThrow(`cushionPaPerM3: volume ${volumeM3} m³, need > 0`);
  });

  test.each(['lengthM', 'lowerBoutM', 'waistM', 'upperBoutM'] as const)('an outline without %s', (field) => {
    for (const value of [0, -0.1, Number.NaN])
      expect(() => outlineOfMeasures({ ...measures, [field]: value })).toThrow(/^outlineOfMeasures: .*, need > 0$/);
  });

  test('a hole', () => {
    expect(() => soundhole(0, 0.003, 'flanged', 20)).toThrow('soundhole: radius 0 m, need > 0');
    expect(() => soundhole(0.05, -0.001, 'flanged', 20)).toThrow('soundhole: thickness -0.001 m, need >= 0');
    expect(soundhole(0.05, 0, 'flanged', 20).effectiveLengthM).toBeCloseTo(0.085, 9);
    expect(() => soundhole(0.05, 0.003, 'flanged', 0)).toThrow('soundhole: q 0, need > 0');
    const hole = soundhole(0.05, 0.003, 'flanged', 20);
    expect(() => reamedTo(hole, 0)).toThrow('reamedTo: radius 0 m, need > 0');
    expect(() => reamedTo({ ...hole, effectiveLengthM: 0.01 }, 0.04)).toThrow(
      /^reamedTo: effective length -.* m, need > 0/,
    );
    for (const volume of [0, Number.NaN])
      expect(() => helmholtzHz(AIR, volume, hole)).toThrow(`helmholtzHz: volume ${volume} m³, need > 0`);
    expect(helmholtzHz(AIR, 0.016, tunedTo(hole, 117, AIR, 0.016))).toBeCloseTo(117, 9);
  });

  test('notes', () => {
    const place = (value: number, frets: number, cents: number) =>
      placeBetweenNotes(estimate(value, 0), 440, TUNINGS[0]!, frets, cents);
    expect(() => place(0, 20, 15)).toThrow('placeBetweenNotes: 0 Hz, need > 0');
    expect(() => place(180, -1, 15)).toThrow('placeBetweenNotes: -1 frets, need >= 0');
    for (const cents of [-0.1, 50.1])
      expect(() => place(180, 20, cents)).toThrow(`placeBetweenNotes: warning within ${cents} cents, need 0 to 50`);
    expect(place(180, 0, 0).every(({ fret }) => fret === 0)).toBe(true);
    expect(place(180, 0, 50)).toHaveLength(6);
    // A4 itself, on the 5th fret of the 1st string, is near it however small the distance asked for.
    expect(place(440, 20, 0)[0]).toMatchObject({ fret: 5, note: 69, cents: { value: 0 }, warning: 'near' });
    // Beyond the last fret it is far from it: two octaves above the open string.
    expect(place(329.6276 * 4, 20, 15)[0]).toMatchObject({ fret: 20, warning: 'clear' });
  });

  test('shares, cavities, distances, changes and stages', () => {
    expect(() => shareByStopping([100, 200], [150, 250])).toThrow('shareByStopping: 2 stopped modes, need 1');
    expect(() => shareByMass([100, 200], [90])).toThrow('shareByMass: 1 modes with the mass, need 2');
    expect(() => boxResponse(THREE, [100], 0)).toThrow('boxResponse: distance 0 m, need > 0');
    const depths = { tailM: 0.1, neckM: 0.1, occupiedM3: 0 };
    expect(() =>
      cavityVolumeM3(
        [
          [0, 0],
          [1, 0],
        ],
        depths,
      ),
    ).toThrow('cavityVolumeM3: outline without area');
    expect(() =>
      cavityVolumeM3(
        [
          [0, 0],
          [1, 0],
          [2, 0],
        ],
        depths,
      ),
    ).toThrow('cavityVolumeM3: outline without area');
    const square = [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ] as const;
    expect(() => cavityVolumeM3(square, { ...depths, occupiedM3: 0.1 })).toThrow(/^cavityVolumeM3: .* m³, need > 0/);
    expect(cavityVolumeM3(square, depths)).toBeCloseTo(0.1, 9);
    expect(cavityVolumeM3(square.toReversed(), { ...depths, occupiedM3: 0.02 })).toBeCloseTo(0.08, 9);
    expect(() => changedBox(THREE, { depthChangeM: 0.01 })).toThrow('changedBox: depthChangeM without planAreaM2');
    expect(() => changedBox(THREE, { depthChangeM: -0.2, planAreaM2: 0.1 })).toThrow(/^changedBox: volume -/);
    expect(() => changedBox(THREE, { bridgeMassChangeKg: -0.08 })).toThrow(/^changedBox: volume .* top 0 kg/);
    for (const ratio of [0, -1, Number.NaN]) {
      expect(() => changedBox(THREE, { topStiffnessRatio: ratio })).toThrow(
        `changedBox: stiffness ratio ${ratio}, need > 0`,
      );
      expect(() => changedBox(THREE, { backStiffnessRatio: ratio })).toThrow(/^changedBox: stiffness ratio/);
    }
    expect(changedBox({ ...THREE, hole: 'blocked', back: 'held' }, { holeRadiusM: 0.06 })).toMatchObject({
      hole: 'blocked',
      back: 'held',
    });
    expect(() => expectAfterStage([{ fromHz: 0, toHz: 1 }], hz(100))).toThrow('expectAfterStage: 0 Hz, need > 0');
    expect(() => expectAfterStage([], hz(-3))).toThrow('expectAfterStage: -3 Hz, need > 0');
    expect(expectAfterStage([{ fromHz: 1, toHz: 2 }], hz(100))).toEqual({ kind: 'too-few', have: 1, need: 2 });
    const base = { frequencyHz: hz(100) };
    expect(() => whichPart({ base: [base], done: [] })).toThrow('whichPart: 1 base peaks, need 2');
  });
});

test('each part alone is told for the parts that can move', () => {
  expect(Object.keys(uncoupledFrequencies(THREE)).toSorted()).toEqual(['airHz', 'backHz', 'topHz']);
  expect(Object.keys(uncoupledFrequencies(TWO)).toSorted()).toEqual(['airHz', 'topHz']);
  expect(Object.keys(uncoupledFrequencies({ ...TWO, hole: 'blocked' }))).toEqual(['topHz']);
  expect(boxModes({ ...TWO, hole: 'blocked' })).toHaveLength(1);
});

const open: BoxRound = { hole: 'open', back: 'free', peaksHz: { air: hz(98), top: hz(181), back: hz(226) } };
const blocked: BoxRound = { hole: 'blocked', back: 'free', peaksHz: { top: hz(177), back: hz(225) } };
const held: BoxRound = { hole: 'open', back: 'held', peaksHz: { air: hz(101), top: hz(190) } };
const mass = estimate(0.02, 1e-4);
const heavy: BoxRound = { ...open, addedAtBridgeKg: mass, peaksHz: { air: hz(96), top: hz(168), back: hz(225) } };
const reasons = (...rounds: BoxRound[]) => contradictions(rounds).map(({ because }) => because);
const withTop = (round: BoxRound, top: number): BoxRound => ({ ...round, peaksHz: { ...round.peaksHz, top: hz(top) } });

describe('rounds are compared only where they differ in one thing', () => {
  test('holding the back moves each mode between its neighbours', () => {
    expect(reasons(open, held)).toEqual([]);
    expect(reasons(open, { ...held, peaksHz: { air: hz(95), top: hz(190) } })).toEqual(['held-below-free']);
    expect(reasons(open, { ...held, peaksHz: { air: hz(101), top: hz(230) } })).toEqual(['held-above-free']);
    // In whatever order they were taken.
    expect(reasons({ ...held, peaksHz: { air: hz(101), top: hz(230) } }, open)).toEqual(['held-above-free']);
  });

  test.each([
    [
      'with the hole blocked in one of two held rounds',
      [open, { ...held, hole: 'blocked', peaksHz: { top: hz(400) } }],
    ],
    ['with a mass on the bridge in one of them', [open, withTop({ ...blocked, addedAtBridgeKg: mass }, 186)]],
    ['with a mass on the back in one of them', [open, withTop({ ...blocked, addedAtBackKg: mass }, 186)]],
    ['with a mass in the other', [{ ...open, addedAtBridgeKg: mass }, withTop(blocked, 186)]],
    ['with a peak too few', [open, { ...blocked, peaksHz: { top: hz(186) } }]],
    ['with masses on both', [{ ...open, addedAtBackKg: mass }, withTop({ ...open, addedAtBridgeKg: mass }, 190)]],
    ['with the mass while the hole is blocked', [open, { ...withTop(blocked, 200), addedAtBridgeKg: mass }]],
    ['with the mass while the back is held', [open, { ...withTop(held, 400), addedAtBridgeKg: mass }]],
    ['with a peak too few under the mass', [open, { ...heavy, peaksHz: { air: hz(99.9), top: hz(190) } }]],
  ] as [string, BoxRound[]][])('not %s', (_, rounds) => {
    expect(reasons(...rounds)).toEqual([]);
  });

  test('a mass on the back lowers as well', () => {
    expect(reasons(open, { ...heavy, addedAtBridgeKg: undefined, addedAtBackKg: mass } as unknown as BoxRound)).toEqual(
      [],
    );
    const { addedAtBridgeKg: _, ...bare } = withTop(heavy, 184);
    expect(reasons(open, { ...bare, addedAtBackKg: mass })).toEqual(['mass-raised']);
  });

  test('the air above either plate is refused, a plate above the other is not', () => {
    expect(reasons({ ...open, peaksHz: { air: hz(200), top: hz(181), back: hz(226) } })).toEqual(['air-above-plate']);
    expect(reasons({ ...open, peaksHz: { air: hz(240), top: hz(181), back: hz(226) } })).toEqual([
      'air-above-plate',
      'air-above-plate',
    ]);
    expect(reasons({ ...open, peaksHz: { air: hz(98), top: hz(226), back: hz(181) } })).toEqual([]);
    // Four sigma of the difference, 4 x 0.3 sqrt 2 = 1.7 Hz.
    expect(reasons({ ...open, peaksHz: { air: hz(182.6), top: hz(181), back: hz(226) } })).toEqual([]);
    expect(reasons({ ...open, peaksHz: { air: hz(182.8), top: hz(181), back: hz(226) } })).toEqual(['air-above-plate']);
  });
});

describe('a mass that says nothing', () => {
  test('is one that moved no peak by two sigma of the difference, 0.85 Hz', () => {
    const little: BoxRound = { ...heavy, peaksHz: { air: hz(98), top: hz(180.2), back: hz(226) } };
    expect(massMovedNothing([open, little], 1)).toBe(true);
    expect(massMovedNothing([open, withTop(little, 180.1)], 1)).toBe(false);
    // One peak that moved is enough, and one that rose is none.
    expect(massMovedNothing([open, withTop(little, 185)], 1)).toBe(true);
  });

  test.each([
    ['of a round without mass', [open, open], 1],
    ['without a bare round', [heavy, heavy], 1],
    ['with a bare round of another hole', [blocked, heavy], 1],
    ['with a bare round of another back', [held, heavy], 1],
    [
      'without a peak of the same part',
      [
        { ...open, peaksHz: { air: hz(98) } },
        { ...heavy, peaksHz: { top: hz(168) } },
      ],
      1,
    ],
  ] as [string, BoxRound[], number][])('cannot be told %s', (_, rounds, round) => {
    expect(massMovedNothing(rounds, round)).toBeUndefined();
  });
});

describe('a blocking that says nothing', () => {
  const shut = (...peaks: number[]): BoxRound => ({
    hole: 'blocked',
    back: 'free',
    peaksHz: Object.fromEntries(peaks.map((value, i) => [(['top', 'back', 'air'] as const)[i]!, hz(value)])),
  });

  test('is one whose every peak is still there, with or without the air', () => {
    expect(blockingMovedNothing([open, shut(181.5, 226.5)], 1)).toEqual({ airStays: false });
    expect(blockingMovedNothing([open, shut(98.5, 181, 226)], 1)).toEqual({ airStays: true });
    // 0.85 Hz is two sigma.
    expect(blockingMovedNothing([open, shut(181.84, 226)], 1)).toEqual({ airStays: false });
    expect(blockingMovedNothing([open, shut(181.86, 226)], 1)).toBeUndefined();
    expect(blockingMovedNothing([open, shut(181, 220)], 1)).toBeUndefined();
  });

  test.each([
    ['of the open round', [shut(181, 226), open], 1],
    ['without an open one', [shut(181, 226), held], 0],
    ['without a peak', [open, shut()], 1],
    ['under a mass', [open, { ...shut(181, 226), addedAtBridgeKg: mass }], 1],
    ['against one under a mass', [heavy, shut(168, 225)], 1],
  ] as [string, BoxRound[], number][])('cannot be told %s', (_, rounds, round) => {
    expect(blockingMovedNothing(rounds, round)).toBeUndefined();
  });
});

describe('the sum rule', () => {
  // 3-4-5: open squares 98^2 + 181^2 + 226^2, blocked 177^2 + 225^2.
  const hole2 = 98 ** 2 + 181 ** 2 + 226 ** 2 - 177 ** 2 - 225 ** 2;

  test('gives the air’s own resonance from the squares of the peaks, with its doubt', () => {
    const found = sumRule([open, blocked], hz(Math.sqrt(hole2), 1))!;
    expect(found.impliedHoleHz.value).toBeCloseTo(Math.sqrt(hole2), 9);
    const sigma2 = 2 * 0.3 * Math.hypot(98, 181, 226, 177, 225);
    expect(found.impliedHoleHz.sigma).toBeCloseTo(sigma2 / (2 * Math.sqrt(hole2)), 9);
    expect(found.residualHz2.value).toBeCloseTo(0, 6);
    expect(found.residualHz2.sigma).toBeCloseTo(Math.hypot(sigma2, 2 * Math.sqrt(hole2)), 6);
    expect(found.labelsDoubtful).toBe(false);
    expect(sumRule([blocked, open], hz(140, 0.1))!.residualHz2.value).toBeCloseTo(hole2 - 140 ** 2, 6);
    expect(sumRule([blocked, open], hz(140, 0.1))!.labelsDoubtful).toBe(true);
  });

  test('where the blocked squares are more, implies nothing but still has a doubt', () => {
    const high = { ...blocked, peaksHz: { top: hz(220), back: hz(240) } };
    const { impliedHoleHz } = sumRule([open, high], hz(110))!;
    expect(impliedHoleHz.value).toBe(0);
    expect(impliedHoleHz.sigma).toBeCloseTo(Math.sqrt(2 * 0.3 * Math.hypot(98, 181, 226, 220, 240)), 6);
  });

  test.each([
    ['an open round alone', [open]],
    ['two open rounds', [open, held]],
    ['another state of the back', [held, blocked]],
    ['a peak too many', [open, { ...blocked, peaksHz: { ...blocked.peaksHz, air: hz(98) } }]],
    ['a mass', [open, { ...blocked, addedAtBackKg: mass }]],
    ['a mass on the open one', [heavy, blocked]],
  ] as [string, BoxRound[]][])('needs a pair: with %s there is none', (_, rounds) => {
    expect(sumRule(rounds, hz(110))).toBeUndefined();
  });
});

describe('peaks as modes', () => {
  test('a state is what moves and what lies on it', () => {
    expect(stateOf(open, true)).toEqual({ backMoves: true, airMoves: true, bridgeLumpKg: 0, backLumpKg: 0 });
    expect(stateOf(open, false).backMoves).toBe(false);
    expect(stateOf(held, true).backMoves).toBe(false);
    expect(stateOf({ ...blocked, addedAtBackKg: mass }, true)).toMatchObject({ airMoves: false, backLumpKg: 0.02 });
    expect(stateOf(heavy, true).bridgeLumpKg).toBe(0.02);
  });

  test('are counted from the lowest; where some are missing, by the order of the fullest round', () => {
    const some: BoxRound = { ...open, peaksHz: { back: hz(224) } };
    const noTop: BoxRound = { ...blocked, peaksHz: { back: hz(225) } };
    const { observations, peaks } = observed([some, open, noTop, held], true);
    expect(observations.map(({ mode, frequencyHz }) => [mode, frequencyHz])).toEqual([
      [2, 224],
      ...[
        [0, 98],
        [1, 181],
        [2, 226],
      ],
      // Without the air the back is the second.
      [1, 225],
      ...[
        [0, 101],
        [1, 190],
      ],
    ]);
    expect(peaks.map(({ round }) => round)).toEqual([0, 1, 1, 1, 2, 3, 3]);
    expect(observations[0]).toMatchObject({ sigmaHz: 0.3, state: stateOf(some, true) });
    expect(() => observed([{ ...open, peaksHz: { top: hz(181, 0) } }], true)).toThrow(
      'solveBox: sigma of top in round 0, need > 0',
    );
  });
});

describe('which peak is which, one doing at a time', () => {
  const peak = (value: number, more: Partial<PartPeak> = {}): PartPeak => ({ frequencyHz: hz(value, 0.05), ...more });
  const base = [peak(100), peak(180), peak(230)];

  test('a hand on the back that stops its peak, or only dulls it, tells the same part', () => {
    const withQ = (q: readonly number[]) => base.map((one, i) => ({ ...one, q: hz(q[i]!, 0.5) }));
    const dulled = withQ([40, 38, 12]);
    const found = whichPart({ base: withQ([40, 40, 40]), done: [{ doing: 'back-damped', peaks: dulled }] });
    expect(found.unused).toEqual([]);
    // Loss is f / Q: 230 (1/12 - 1/40) of all that was added is the back's.
    const added = [0, 180 * (1 / 38 - 1 / 40), 230 * (1 / 12 - 1 / 40)];
    const sum = added[1]! + added[2]!;
    found.verdicts.forEach(({ shares, evidence }, k) => {
      expect(shares.back!.value).toBeCloseTo(added[k]! / sum, 6);
      expect(evidence.map(({ doing, part }) => [doing, part])).toEqual([['back-damped', 'back']]);
    });
    expect(found.verdicts.map(({ behavesLike }) => behavesLike)).toEqual(['undecided', 'undecided', 'back']);
  });

  test.each([
    ['before', 0],
    ['after', 1],
  ])('a Q that is wanting %s leaves the damping out', (_, where) => {
    const full = base.map((one) => ({ ...one, q: hz(40) }));
    const lacking = full.map((one, i) => (i === 1 ? peak(180) : one));
    const [before, after] = where === 0 ? [lacking, full] : [full, lacking];
    expect(whichPart({ base: before, done: [{ doing: 'back-damped', peaks: after }] }).unused).toEqual([
      { doing: 'back-damped', because: 'q-wanting', have: 3, need: 3 },
    ]);
  });

  test.each([
    ['before', 0],
    ['after', 1],
  ])('a level that is wanting %s leaves the tap on the back out', (_, where) => {
    const loud = base.map((one) => ({ ...one, levelDb: -20 }));
    const lacking = loud.map((one, i) => (i === 1 ? peak(180) : one));
    const heavier = { doing: 'mass-at-bridge' as const, peaks: [peak(99), peak(170), peak(229)] };
    const [before, after] = where === 0 ? [lacking, loud] : [loud, lacking];
    const { unused } = whichPart({ base: before, done: [{ doing: 'tapped-on-back', peaks: after }, heavier] });
    expect(unused).toEqual([{ doing: 'tapped-on-back', because: 'level-wanting', have: 3, need: 3 }]);
  });

  test('counts that do not fit are told with what was needed', () => {
    const four = [...base, peak(300)];
    const wrong = (['hole-blocked', 'mass-at-bridge', 'back-damped', 'tapped-on-back'] as const).map((doing) => ({
      doing,
      peaks: four,
    }));
    expect(whichPart({ base, done: wrong }).unused).toEqual([
      { doing: 'hole-blocked', because: 'peak-count', have: 4, need: 2 },
      { doing: 'mass-at-bridge', because: 'peak-count', have: 4, need: 3 },
      { doing: 'back-damped', because: 'peak-count', have: 4, need: 2 },
      { doing: 'tapped-on-back', because: 'peak-count', have: 4, need: 3 },
    ]);
  });

  test('two doings on one part are weighed by their doubts', () => {
    // The same hand on the back twice, once read four times as well: 16 to 1.
    const dulled = (sigma: number, q: number) => ({
      doing: 'back-damped' as const,
      peaks: base.map((one, i) => ({ ...one, q: hz(i === 2 ? q : i === 1 ? 35 : 40, sigma) })),
    });
    const before = base.map((one) => ({ ...one, q: hz(40, 0.01) }));
    const alone = (...done: ReturnType<typeof dulled>[]) => whichPart({ base: before, done }).verdicts[2]!.shares.back!;
    const [sharp, blunt] = [alone(dulled(0.1, 20)), alone(dulled(0.4, 10))];
    const both = alone(dulled(0.1, 20), dulled(0.4, 10));
    const weights = [1 / sharp.sigma ** 2, 1 / blunt.sigma ** 2];
    expect(both.value).toBeCloseTo(
      (sharp.value * weights[0]! + blunt.value * weights[1]!) / (weights[0]! + weights[1]!),
      9,
    );
    expect(both.sigma).toBeCloseTo(1 / Math.sqrt(weights[0]! + weights[1]!), 9);
  });
});

test('peaks are taken in order of frequency, however they are given', () => {
  const peak = (value: number): PartPeak => ({ frequencyHz: hz(value, 0.05) });
  const told = (base: readonly number[], heavier: readonly number[]) =>
    whichPart({ base: base.map(peak), done: [{ doing: 'mass-at-bridge', peaks: heavier.map(peak) }] });
  const inOrder = told([100, 180, 230], [99, 170, 229]);
  expect(told([230, 100, 180], [170, 229, 99])).toEqual(inOrder);
  expect(inOrder.verdicts.map(({ frequencyHz }) => frequencyHz.value)).toEqual([100, 180, 230]);
});

test('a body is halfway between bout and waist midway between them, level at both', () => {
  const points = outlineOfMeasures({ lengthM: 1, lowerBoutM: 0.8, waistM: 0.5, upperBoutM: 0.6 });
  const halfAt = (x: number) =>
    points
      .filter(([, y]) => y >= 0)
      .reduce((best, point) => (Math.abs(point[0] - x) < Math.abs(best[0] - x) ? point : best))[1];
  // Stations are 1.3 % of the length apart there; the steepest side falls by 0.74 of a length.
  expect(Math.abs(halfAt((0.28 + 0.6) / 2) - 0.325)).toBeLessThan(0.01);
  expect(Math.abs(halfAt((0.6 + 0.83) / 2) - 0.275)).toBeLessThan(0.01);
  expect(halfAt(0.28)).toBeCloseTo(0.4, 2);
  expect(halfAt(0.6)).toBeCloseTo(0.25, 2);
  expect(halfAt(0.83)).toBeCloseTo(0.3, 2);
});

test.each(['thickness', 'densityKgM3', 'eLongGpa', 'eCrossGpa'] as const)(
  'a top without %s is matched to nothing',
  (field) => {
    const wood = { densityKgM3: hz(400), eLongGpa: hz(11), eCrossGpa: hz(0.8) };
    const lacking = field === 'thickness' ? wood : { ...wood, [field]: hz(0) };
    const thickness = field === 'thickness' ? hz(0) : hz(2.8);
    expect(() => matchedThickness(lacking, thickness, wood, 'both')).toThrow('matchedThickness: 0, need > 0');
    expect(matchedThickness(wood, hz(2.8), wood, 'both').value).toBeCloseTo(2.8, 9);
  },
);
