// What a drawn top weighs, against boxes of wood: length times width times thickness times density.
import { describe, expect, test } from 'vitest';
import { startPlan } from '../../src/record/plan-edit.ts';
import { planMass } from '../../src/record/plan-mass.ts';
import type { Plan, PlanBrace } from '../../src/record/record.ts';

const started = startPlan('right');
const wood = { ...started.wood, densityKgM3: { value: 400, sigma: 0 } };
const corners = [
  { xMm: 0, yMm: -150 },
  { xMm: 500, yMm: -150 },
  { xMm: 500, yMm: 150 },
  { xMm: 0, yMm: 150 },
];
/** A board of 500 by 300 by 2 mm without hole or bridge plate: 120 g, its middle at 250. */
const board: Plan = {
  ...started,
  outline: { kind: 'points', source: 'a.svg', points: corners },
  soundhole: undefined,
  thicknessMm: 2,
  wood,
  braceWood: { ...wood, densityKgM3: { value: 500, sigma: 0 } },
  bridgePlate: { ...started.bridgePlate, thicknessMm: 0 },
  braces: [],
};
const bar = (id: string, from: readonly [number, number], to: readonly [number, number]): PlanBrace => ({
  ...started.braces[0]!,
  id,
  from: { xMm: from[0], yMm: from[1] },
  to: { xMm: to[0], yMm: to[1] },
  widthMm: 6,
  section: 'rectangle',
  profile: [
    { atMm: 0, heightMm: 10 },
    { atMm: Math.hypot(to[0] - from[0], to[1] - from[1]), heightMm: 10 },
  ],
});
const lengthwise = bar('a', [100, 0], [300, 0]);
const crosswise = bar('b', [200, -100], [200, 100]);

describe('the plate', () => {
  test('is its area by its thickness by its density, whichever way round it was drawn', () => {
    for (const points of [corners, corners.toReversed()]) {
      const { totalG, plateG, bridgePlateG, centre, bracesG } = planMass({
        ...board,
        outline: { kind: 'points', source: '', points },
      });
      expect(plateG).toBeCloseTo(120, 9);
      expect(totalG).toBeCloseTo(120, 9);
      expect(bridgePlateG).toBe(0);
      expect(bracesG.size).toBe(0);
      expect(centre[0]).toBeCloseTo(250, 9);
      expect(centre[1]).toBeCloseTo(0, 9);
    }
  });

  test('has its centre a third of the way up a triangle', () => {
    const points = [
      { xMm: 30, yMm: 60 },
      { xMm: 330, yMm: 60 },
      { xMm: 30, yMm: 360 },
    ];
    const { plateG, centre } = planMass({ ...board, outline: { kind: 'points', source: '', points } });
    expect(plateG).toBeCloseTo(300 * 150 * 2 * 400e-6, 9);
    expect(centre[0]).toBeCloseTo(130, 9);
    expect(centre[1]).toBeCloseTo(160, 9);
  });

  test('lacks the disc of its soundhole, and its centre draws away from it', () => {
    const { plateG, centre } = planMass({ ...board, soundhole: { xMm: 350, yMm: 20, radiusMm: 50 } });
    const discG = Math.PI * 2500 * 2 * 400e-6;
    expect(plateG).toBeCloseTo(120 - discG, 9);
    // Lever about the middle of the board: what is missing on one side is too much on the other.
    expect(centre[0] - 250).toBeCloseTo((-100 * discG) / (120 - discG), 9);
    expect(centre[1]).toBeCloseTo((-20 * discG) / (120 - discG), 9);
  });
});

test('the bridge plate weighs its own box, in its own wood, a third of it ahead of the saddle', () => {
  const bridgePlate = {
    ...started.bridgePlate,
    ...{ alongMm: 45, acrossMm: 150, thicknessMm: 2 },
    wood: { ...wood, densityKgM3: { value: 700, sigma: 0 } },
  };
  const plan = { ...board, bridgePlate, scaleMm: 640, fretsToBody: 12, setbackTrebleMm: 2, setbackBassMm: 4 };
  const { bridgePlateG, totalG, plateG, centre } = planMass(plan);
  expect(bridgePlateG).toBeCloseTo(45 * 150 * 2 * 700e-6, 9);
  expect(plateG).toBeCloseTo(120, 9);
  expect(totalG).toBeCloseTo(120 + bridgePlateG, 9);
  // The 12th fret halves the scale: the saddle is 320 mm and the mean setback behind the neck end at 500.
  const middle = 500 - 320 - 3 + 15 - 22.5;
  expect(centre[0]).toBeCloseTo((120 * 250 + bridgePlateG * middle) / totalG, 6);
  expect(centre[1]).toBeCloseTo(0, 9);
});

describe('a brace', () => {
  test('weighs length by width by height by density, and pulls the centre to its own', () => {
    const { bracesG, totalG, centre } = planMass({ ...board, braces: [bar('a', [50, 30], [250, 30])] });
    expect(bracesG.get('a')).toBeCloseTo(6, 9);
    expect(totalG).toBeCloseTo(126, 9);
    expect(centre[0]).toBeCloseTo((120 * 250 + 6 * 150) / 126, 9);
    expect(centre[1]).toBeCloseTo((6 * 30) / 126, 9);
  });

  test.each([
    ['a triangle is half its box (any table of areas)', 'triangle', 1 / 2],
    ['a parabola two thirds', 'parabola', 2 / 3],
  ] as const)('%s', (_, section, share) => {
    const { bracesG } = planMass({ ...board, braces: [{ ...lengthwise, section }] });
    expect(bracesG.get('a')).toBeCloseTo(6 * share, 9);
  });

  test('tapered to nothing is a wedge, heavy at its high end', () => {
    const wedge = {
      ...lengthwise,
      profile: [
        { atMm: 0, heightMm: 20 },
        { atMm: 200, heightMm: 0 },
      ],
    };
    const { bracesG, centre, totalG } = planMass({ ...board, braces: [wedge] });
    expect(bracesG.get('a')).toBeCloseTo(6, 6);
    // The centre of a wedge lies a third of its length from its high end.
    expect((totalG * centre[0] - 120 * 250) / 6).toBeCloseTo(100 + 200 / 3, 1);
  });

  test('is planed to nothing where its height is below nothing', () => {
    const profile = [
      { atMm: 0, heightMm: 10 },
      { atMm: 200, heightMm: -10 },
    ];
    const { bracesG } = planMass({ ...board, braces: [{ ...lengthwise, profile }] });
    expect(bracesG.get('a')).toBeCloseTo((100 / 2) * 10 * 6 * 500e-6, 6);
  });

  test('counts only as far as it lies on the plate', () => {
    expect(planMass({ ...board, braces: [bar('a', [400, 10], [600, 10])] }).bracesG.get('a')).toBeCloseTo(3, 9);
    expect(planMass({ ...board, braces: [bar('a', [10, 100], [10, 200])] }).bracesG.get('a')).toBeCloseTo(1.5, 9);
  });

  test('shorter than a slice still weighs what it is, and without length or height it is none', () => {
    const of = (brace: PlanBrace) => planMass({ ...board, braces: [brace] }).bracesG.get('a');
    expect(of(bar('a', [100, 0], [100.5, 0]))).toBeCloseTo(0.5 * 60 * 500e-6, 9);
    expect(of(bar('a', [100, 0], [100, 0]))).toBe(0);
    expect(of({ ...lengthwise, profile: [] })).toBe(0);
  });
});

describe('braces that cross', () => {
  const both = (a: PlanBrace, b: PlanBrace) => planMass({ ...board, braces: [a, b] });

  test('share the wood of the half-lap by halves', () => {
    const { bracesG, totalG } = both(lengthwise, crosswise);
    // Both would fill 6 by 6 by 10 mm: 0.18 g.
    expect(bracesG.get('a')).toBeCloseTo(6 - 0.09, 9);
    expect(bracesG.get('b')).toBeCloseTo(6 - 0.09, 9);
    expect(totalG).toBeCloseTo(132 - 0.18, 9);
  });

  test('share only as much as the lower one is high', () => {
    const low = { ...crosswise, profile: crosswise.profile.map((point) => ({ ...point, heightMm: 4 })) };
    const { bracesG } = both(lengthwise, low);
    expect(bracesG.get('a')).toBeCloseTo(6 - (6 * 6 * 4 * 500e-6) / 2, 9);
    expect(bracesG.get('b')).toBeCloseTo(2.4 - (6 * 6 * 4 * 500e-6) / 2, 9);
  });

  test('at the height that each has where they cross', () => {
    const rising = {
      ...lengthwise,
      profile: [
        { atMm: 0, heightMm: 0 },
        { atMm: 200, heightMm: 8 },
      ],
    };
    const quarter = bar('b', [150, -100], [150, 100]);
    // A quarter of the way up: 2 mm high.
    expect(both(rising, quarter).bracesG.get('b')).toBeCloseTo(6 - (6 * 6 * 2 * 500e-6) / 2, 9);
    expect(both(quarter, rising).bracesG.get('b')).toBeCloseTo(6 - (6 * 6 * 2 * 500e-6) / 2, 9);
  });

  test('at a slant share a longer piece: a rhomb of width by width over the sine', () => {
    // A slope of 3 in 4: sine 3/5, 200 mm long.
    const slanted = bar('b', [120, -60], [280, 60]);
    expect(both(lengthwise, slanted).bracesG.get('a')).toBeCloseTo(6 - (36 * 10 * 500e-6) / 2 / 0.6, 9);
  });

  test('move the centre away from the place where they do', () => {
    const a = bar('a', [100, 60], [300, 60]);
    const b = bar('b', [120, -40], [120, 100]);
    const { centre, totalG } = both(a, b);
    // 6 g at (200, 60), 4.2 g at (120, 30), and 0.18 g too much at (120, 60).
    expect(centre[0]).toBeCloseTo((120 * 250 + 6 * 200 + 4.2 * 120 - 0.18 * 120) / totalG, 6);
    expect(centre[1]).toBeCloseTo((6 * 60 + 4.2 * 30 - 0.18 * 60) / totalG, 6);
  });

  test('share nothing where they pass each other, where one has no height, and with themselves', () => {
    expect(both(lengthwise, bar('b', [400, -50], [400, 50])).bracesG.get('a')).toBeCloseTo(6, 9);
    expect(both(lengthwise, { ...crosswise, profile: [] }).bracesG.get('a')).toBeCloseTo(6, 9);
    expect(both(lengthwise, bar('b', [100, 20], [300, 20])).bracesG.get('a')).toBeCloseTo(6, 9);
  });
});
