// Edits of a plan: what changes, what stays, and what stretches with it.
import { describe, expect, test } from 'vitest';
import {
  changeBrace,
  changeHand,
  changePlan,
  mirroredPlan,
  moveBraceEnd,
  snapped,
  startPlan,
  withPlan,
} from '../../src/record/plan-edit.ts';
import type { Plan, PlanBrace } from '../../src/record/record.ts';
import { recordOf } from './small-record.ts';

const plan = startPlan('right');
const record = withPlan(recordOf('i', []), plan);
const brace: PlanBrace = {
  ...plan.braces[0]!,
  from: { xMm: 300, yMm: 40 },
  to: { xMm: 240, yMm: -40 },
  profile: [
    { atMm: 0, heightMm: 3 },
    { atMm: 40, heightMm: 12 },
    { atMm: 100, heightMm: 3 },
  ],
  floors: [{ fromMm: 20, toMm: 60, heightMm: 9 }],
};

test('a record without a plan has none to change', () => {
  const bare = recordOf('i', []);
  expect(changePlan(bare, () => plan)).toBe(bare);
  expect(changeBrace(bare, 'x-bass', () => brace)).toBe(bare);
  expect(changeHand(bare)).toEqual({ ...bare, hand: 'left' });
});

test('one brace is changed, the others are the same', () => {
  const changed = changeBrace(record, 'tone-1', (known) => ({ ...known, widthMm: 9 })).plan!;
  expect(changed.braces.map(({ id, widthMm }) => (id === 'tone-1' ? 9 : widthMm))).toEqual(
    changed.braces.map(({ widthMm }) => widthMm),
  );
  expect(changed.braces.filter((one, i) => one !== plan.braces[i]).map(({ id }) => id)).toEqual(['tone-1']);
});

describe('places', () => {
  test.each([
    [100.4, 2.9, 100, 0],
    [100.5, -2.9, 101, 0],
    [99.6, 3, 100, 3],
    [-0.6, -3.2, -1, -3],
    [0, 12.7, 0, 13],
  ])('%f, %f is taken as %f, %f: whole millimetres, and near the centre line on it', (xMm, yMm, x, y) => {
    const found = snapped({ xMm, yMm });
    expect(found.xMm + 0).toBe(x);
    expect(found.yMm).toBe(y);
  });
});

describe('a brace with one end moved', () => {
  test('to twice its length stretches its heights and floors by two', () => {
    const moved = moveBraceEnd(brace, 'to', { xMm: 180, yMm: -120 });
    expect(moved).toMatchObject({ from: brace.from, to: { xMm: 180, yMm: -120 }, widthMm: brace.widthMm });
    expect(moved.profile).toEqual([
      { atMm: 0, heightMm: 3 },
      { atMm: 80, heightMm: 12 },
      { atMm: 200, heightMm: 3 },
    ]);
    expect(moved.floors).toEqual([{ fromMm: 40, toMm: 120, heightMm: 9 }]);
  });

  test('at its first end to half its length, places kept to a tenth of a millimetre', () => {
    const moved = moveBraceEnd(brace, 'from', { xMm: 270, yMm: 0.1 });
    expect(moved.to).toEqual(brace.to);
    // 30 and 40.1 mm: 50.08 mm long.
    expect(moved.profile.map(({ atMm }) => atMm)).toEqual([0, 20, 50.1]);
    expect(moved.floors).toEqual([{ fromMm: 10, toMm: 30, heightMm: 9 }]);
  });

  test('onto its other end, or drawn out of nothing, keeps its places', () => {
    const gone = moveBraceEnd(brace, 'to', brace.from);
    expect(gone).toEqual({ ...brace, to: brace.from });
    const nothing = { ...brace, to: brace.from };
    expect(moveBraceEnd(nothing, 'to', brace.to)).toEqual(brace);
  });
});

describe('the other hand', () => {
  test('turns what lies to one side, and leaves what lies on the line', () => {
    const drawn: Plan = {
      ...plan,
      outline: {
        kind: 'points',
        source: 'a.svg',
        points: [
          { xMm: 0, yMm: -100 },
          { xMm: 400, yMm: 0 },
          { xMm: 0, yMm: 120 },
        ],
      },
      soundhole: { xMm: 200, yMm: 15, radiusMm: 40 },
      braces: [
        { ...brace, grainDeg: 4 },
        { ...brace, id: 'c', grainDeg: 0, from: { xMm: 10, yMm: 0 }, to: { xMm: 90, yMm: 0 } },
      ],
    };
    const other = mirroredPlan(drawn);
    expect(other.outline).toEqual({
      kind: 'points',
      source: 'a.svg',
      points: [
        { xMm: 0, yMm: 100 },
        { xMm: 400, yMm: 0 },
        { xMm: 0, yMm: -120 },
      ],
    });
    expect(other.soundhole).toEqual({ xMm: 200, yMm: -15, radiusMm: 40 });
    expect(other.braces[0]).toEqual({
      ...brace,
      grainDeg: -4,
      from: { xMm: 300, yMm: -40 },
      to: { xMm: 240, yMm: 40 },
    });
    expect(other.braces[1]).toEqual(drawn.braces[1]);
    const { soundhole: _hole, ...closed } = drawn;
    expect('soundhole' in mirroredPlan(closed)).toBe(false);
  });

  test('goes with the hand of the record, there and back', () => {
    expect(changeHand({ ...record, hand: 'left' }).hand).toBe('right');
    expect(changeHand(record).plan).toEqual(mirroredPlan(plan));
    expect(startPlan('left')).toEqual(mirroredPlan(plan));
  });
});

test('the plan to start from is one of a usual steel-string top', () => {
  expect(plan.braces.length).toBeGreaterThan(4);
  expect(plan.soundhole!.yMm).toBe(0);
  // A hole of about 100 mm, two thirds up the body; scale, frets, spread and plates as makers commonly have them.
  expect(plan.soundhole!.xMm / 487).toBeCloseTo(0.676, 2);
  expect(2 * plan.soundhole!.radiusMm).toBe(98);
  expect(plan).toMatchObject({ scaleMm: 640, fretsToBody: 14, stringSpreadMm: 56, thicknessMm: 2.8 });
  expect(plan.setbackBassMm).toBeGreaterThan(plan.setbackTrebleMm);
  expect(
    [plan.wood, plan.braceWood, plan.bridge.wood, plan.bridgePlate.wood].map(({ speciesId }) => speciesId),
  ).toEqual(['sitka-spruce', 'sitka-spruce', 'indian-rosewood', 'sugar-maple']);
  for (const { alongMm, acrossMm, thicknessMm } of [plan.bridge, plan.bridgePlate]) {
    expect(acrossMm).toBeGreaterThan(alongMm);
    expect(alongMm).toBeGreaterThan(thicknessMm);
  }
  expect(plan.bridge.thicknessMm).toBeGreaterThan(plan.bridgePlate.thicknessMm);
  // A rim that hardly resists turning, and nobody knows how much.
  expect(plan.rimStiffnessN.sigma).toBe(plan.rimStiffnessN.value);
});
