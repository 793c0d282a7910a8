import { describe, expect, test } from 'vitest';
import { randomFrom } from '../../src/demo/random.ts';
import { type HeardAt, pairMeasured } from '../../src/forecast/measured-match.ts';
import { tapPlaces } from '../../src/forecast/tap-places.ts';
import { isInside, type Point } from '../../src/plate/outline.ts';
import { mirroredPlan, startPlan } from '../../src/record/plan-edit.ts';
import { planOutline, saddleMm } from '../../src/record/plan-outline.ts';

const computed = [
  { name: 'monopole', frequencyHz: 190 },
  { name: 'long dipole', frequencyHz: 400 },
  { name: 'cross dipole', frequencyHz: 430 },
];

describe('measured modes and computed ones', () => {
  test('a name decides even where another frequency lies nearer', () => {
    const pairs = pairMeasured(computed, [
      { name: 'cross dipole', frequencyHz: 401 },
      { name: undefined, frequencyHz: 192 },
    ]);
    expect(pairs).toEqual([
      { computed: 0, measured: 1, by: 'frequency' },
      { computed: 2, measured: 0, by: 'name' },
    ]);
  });

  test('a name that nothing computed has is left alone and not called something else', () => {
    expect(pairMeasured(computed, [{ name: 'air', frequencyHz: 190 }])).toEqual([]);
  });

  test('no name on either side is no name in common', () => {
    const nameless = [{ name: undefined, frequencyHz: 190 }];
    expect(pairMeasured(nameless, [{ name: undefined, frequencyHz: 192 }])).toEqual([
      { computed: 0, measured: 0, by: 'frequency' },
    ]);
    expect(pairMeasured(nameless, [{ name: undefined, frequencyHz: 900 }])).toEqual([]);
  });

  test('a computed mode that has its name’s partner is no other’s', () => {
    const pairs = pairMeasured(computed, [
      { name: 'monopole', frequencyHz: 205 },
      { name: undefined, frequencyHz: 190 },
    ]);
    expect(pairs).toEqual([{ computed: 0, measured: 0, by: 'name' }]);
  });

  test('a name given twice decides nothing', () => {
    const pairs = pairMeasured(computed, [
      { name: 'monopole', frequencyHz: 190 },
      { name: 'monopole', frequencyHz: 400 },
    ]);
    expect(pairs.filter(({ by }) => by === 'name')).toEqual([]);
  });
});

/**
 * Shapes of a rectangle with hinged rim, the largest 1, sides 1. Source: A. W. Leissa, Vibration of Plates, NASA SP-160
 * (1969), eq. 4.19.
 */
const shape =
  (m: number, n: number) =>
  ([x, y]: Point): number =>
    Math.sin(m * Math.PI * x) * Math.sin(n * Math.PI * y);
const close = [
  { name: 'monopole', frequencyHz: 190, deflectionAt: shape(1, 1) },
  { name: 'long dipole', frequencyHz: 400, deflectionAt: shape(2, 1) },
  { name: 'cross dipole', frequencyHz: 414, deflectionAt: shape(1, 2) },
  { name: 'quadrupole', frequencyHz: 655, deflectionAt: shape(2, 2) },
  { name: 'long tripole', frequencyHz: 676, deflectionAt: shape(3, 1) },
];
/** Bridge centre, bridge bass and waist of such a top. */
const spots: readonly Point[] = [
  [0.35, 0.5],
  [0.35, 0.25],
  [0.6, 0.5],
];

describe('spots that excite a mode', () => {
  const heard = (mode: (typeof close)[number], frequencyHz: number, at = spots) => ({
    name: undefined,
    frequencyHz,
    heardAt: at.map(
      (place): HeardAt => ({
        at: place,
        levelDb: 20 * Math.log10(Math.max(0.05, Math.abs(mode.deflectionAt(place)))) - 20,
      }),
    ),
  });
  const truthOf = (pairs: ReturnType<typeof pairMeasured>) =>
    pairs.map(({ computed, measured }) => [computed, measured]);

  test('tell two modes apart whose frequencies stand the other way round', () => {
    // The long dipole of this top lies at 416 Hz and its cross dipole at 399.
    const swapped = [heard(close[2]!, 399), heard(close[1]!, 416)];
    const pairs = pairMeasured(close.slice(1, 3), swapped);
    expect(truthOf(pairs)).toEqual([
      [0, 1],
      [1, 0],
    ]);
    expect(pairs.map(({ by }) => by)).toEqual(['spots', 'spots']);
    // One spot says nothing of shapes: the frequencies decide, and it is said so.
    const single = pairMeasured(close.slice(1, 3), [
      heard(close[2]!, 399, spots.slice(0, 1)),
      heard(close[1]!, 416, []),
    ]);
    expect(single.map(({ computed, measured, by }) => [computed, measured, by])).toEqual([
      [0, 0, 'frequency'],
      [1, 1, 'frequency'],
    ]);
  });

  test('a mode that was silent at a spot where it should be loud is not taken for it', () => {
    const [centre, bass, waist] = spots as readonly [Point, Point, Point];
    const silent = {
      name: undefined,
      frequencyHz: 407,
      heardAt: [
        { at: bass, levelDb: -20 },
        { at: centre, levelDb: -50, isAtMost: true as const },
        { at: waist, levelDb: -50, isAtMost: true as const },
      ],
    };
    // 407 Hz lies right between; only the cross dipole rests along the middle of the plate.
    expect(truthOf(pairMeasured(close.slice(1, 3), [silent]))).toEqual([[1, 0]]);
  });

  test('a mode that was silent wherever was tapped is paired by its frequency', () => {
    const silent = {
      ...heard(close[0]!, 195),
      heardAt: spots.map((at) => ({ at, levelDb: -50, isAtMost: true as const })),
    };
    expect(truthOf(pairMeasured(close, [silent]))).toEqual([[0, 0]]);
  });

  test('by how much one mode may be off: twice what its own spread and that of all leave, more where three spots agree', () => {
    const off = (cents: number, at: readonly Point[]) =>
      pairMeasured(close.slice(0, 1), [heard(close[0]!, 190 * 2 ** (cents / 1200), at)]).length;
    // Least over the shift s of ((d - s) / 60)^2 + (s / 125)^2: 3.79 at 270 cents, 4.38 at 290. Alone: 4.
    expect([off(270, []), off(290, []), off(-270, []), off(-290, [])]).toEqual([1, 0, 1, 0]);
    expect([off(290, spots), off(-290, spots)]).toEqual([1, 1]);
    // No likeness bridges three spreads of both, sqrt(60^2 + 125^2) = 139 cents each.
    expect([off(420, spots), off(-420, spots)]).toEqual([0, 0]);
  });

  test('a level near a node line leaves a true mode paired: the finger landed a hair beside its spot', () => {
    const beside: Point = [0.35, 0.51];
    const steep = close.map((mode) => ({ ...mode, steepnessAt: () => 0.02 }));
    const [, , cross] = close;
    const clean = heard(cross!, 414, [beside, [0.35, 0.25], [0.6, 0.2]]);
    const fainter = clean.heardAt.map((one, i) => ({ ...one, levelDb: one.levelDb - (i === 0 ? 20 : 0) }));
    expect(truthOf(pairMeasured(steep.slice(1, 3), [{ ...clean, heardAt: fainter }]))).toEqual([[1, 0]]);
  });

  test('a spot where the mode was at most loud enough to be missed says nothing', () => {
    const [monopole] = close;
    const loud = heard(monopole!, 190, spots);
    const silent = { at: [0.5, 0.4] as const, levelDb: 10, isAtMost: true as const };
    expect(pairMeasured([monopole!], [{ ...loud, heardAt: [...loud.heardAt, silent] }])).toHaveLength(1);
  });

  test.each([
    [
      [0, -12, -5],
      [190, 430, 390, 655, 676],
    ],
    [
      [4, -12, -5],
      [190, 416, 399, 680, 650],
    ],
  ])('how hard each spot was tapped says nothing of shapes: %j dB', (strengthsDb, frequenciesHz) => {
    const tapped = close.map((mode, i) => {
      const even = heard(mode, frequenciesHz[i]!);
      return { ...even, heardAt: even.heardAt.map((one, k) => ({ ...one, levelDb: one.levelDb + strengthsDb[k]! })) };
    });
    expect(truthOf(pairMeasured(close, tapped))).toEqual([0, 1, 2, 3, 4].map((mode) => [mode, mode]));
  });

  test('over 200 invented tops three spots name nine in ten of the modes that frequency alone confuses', () => {
    const chance = randomFrom(31);
    const wrong = { spots: 0, frequency: 0 };
    let modes = 0;
    for (let top = 0; top < 200; top++) {
      const shift = 1 + 0.03 * chance.normal();
      const strengths = spots.map(() => 4 * chance.normal());
      const tapped = close.map((mode) => {
        const clean = heard(mode, mode.frequencyHz * shift * (1 + 0.03 * chance.normal()));
        const loudness = 6 * chance.normal();
        return {
          ...clean,
          heardAt: clean.heardAt.map(({ at, levelDb }, i) => ({
            at,
            levelDb: levelDb + loudness + strengths[i]! + 3 * chance.normal(),
          })),
        };
      });
      modes += close.length;
      const misnamed = (list: Parameters<typeof pairMeasured>[1]) =>
        pairMeasured(close, list).filter(({ computed: c, measured }) => c !== measured).length;
      wrong.spots += misnamed(tapped);
      wrong.frequency += misnamed(tapped.map(({ name, frequencyHz }) => ({ name, frequencyHz })));
    }
    expect(wrong.frequency / modes).toBeGreaterThan(0.1);
    expect(wrong.spots).toBeLessThan(0.1 * wrong.frequency);
  });

  test('the spots of the bench lie on the drawn top, the bass end of the bridge on the side of the hand', () => {
    const plan = startPlan('right');
    const outline = planOutline(plan);
    const places = tapPlaces(plan, 'right');
    for (const [spot, place] of places)
      expect({ spot, inside: isInside(outline, place) }).toEqual({ spot, inside: true });
    const [x, y] = places.get('bridge-bass')!;
    expect(x).toBe(saddleMm(plan, outline));
    expect(Math.abs(y)).toBeLessThan(plan.bridge.acrossMm / 2);
    expect(tapPlaces(mirroredPlan(plan), 'left').get('bridge-bass')).toEqual([x, -y]);
    expect(places.get('waist')![0]).toBeGreaterThan(places.get('lower-bout-centre')![0]);
    expect(places.get('waist')![0]).toBeLessThan(places.get('upper-bout')![0]);
  });
});
