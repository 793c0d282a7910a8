// Where the braces of a pattern come on a rectangular top, worked out by hand: 500 by 400 mm, lining 10, the hole from 290 to
// 390 mm, and, as the 12th fret halves a scale of 640, the saddle 320 mm behind the neck end, at 180.
import { describe, expect, test } from 'vitest';
import { heightAtMm } from '../../src/brace/profile.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { type BracingPattern, patternBraces, patterns } from '../../src/record/plan-patterns.ts';
import type { Plan, PlanBrace } from '../../src/record/record.ts';
import { once } from '../once.ts';
import { rectangular } from './small-record.ts';

const plan = once(
  (): Plan => ({
    ...startPlan('right'),
    outline: rectangular(500, 400),
    soundhole: { xMm: 340, yMm: 0, radiusMm: 50 },
    ...{ scaleMm: 640, fretsToBody: 12, setbackTrebleMm: 0, setbackBassMm: 0, liningMm: 10, braces: [] },
  }),
);
const closed = once((): Plan => {
  const { soundhole: _hole, ...rest } = plan();
  return rest;
});
const byId = (pattern: BracingPattern, of: Plan = plan()) =>
  new Map(patternBraces(pattern, of).map((brace) => [brace.id, brace]));
const lengthOf = ({ from, to }: PlanBrace) => Math.hypot(to.xMm - from.xMm, to.yMm - from.yMm);
const endsOf = ({ from, to }: PlanBrace) => [from.xMm, from.yMm, to.xMm, to.yMm];
/** Ends are drawn in whole millimetres. */
function expectEnds(brace: PlanBrace | undefined, expected: readonly number[]): void {
  endsOf(brace!).forEach((mm, i) => {
    expect(Math.abs(mm - expected[i]!), `${brace!.id}: ${endsOf(brace!)}`).toBeLessThanOrEqual(0.51);
  });
}
/** How far from the line of a brace a place lies. */
function offLine({ from, to }: PlanBrace, place: PlanBrace['from']): number {
  const [dx, dy] = [to.xMm - from.xMm, to.yMm - from.yMm];
  return Math.abs(dx * (place.yMm - from.yMm) - dy * (place.xMm - from.xMm)) / Math.hypot(dx, dy);
}

describe.each(patterns)('every brace of the pattern %s', (pattern) => {
  const drawn = once(() => patternBraces(pattern, plan()));

  test('has an id and a name of its own', () => {
    expect(new Set(drawn().map(({ id }) => id)).size).toBe(drawn().length);
    expect(new Set(drawn().map(({ name }) => name)).size).toBe(drawn().length);
    for (const { id, name } of drawn()) {
      expect(id).toMatch(/^[a-z]+(-[a-z0-9]+)*$/);
      expect(name).toMatch(/^[A-Z]/);
    }
  });

  test('is rounded, grows along itself, and lies on the wood between the linings', () => {
    for (const brace of drawn()) {
      expect(brace).toMatchObject({ section: 'rounded', grainDeg: 0 });
      for (const { xMm, yMm } of [brace.from, brace.to]) {
        expect(xMm).toBeGreaterThanOrEqual(0);
        expect(xMm).toBeLessThanOrEqual(500);
        expect(Math.abs(yMm)).toBeLessThanOrEqual(200);
      }
    }
  });

  test('is level in the middle and low at its ends', () => {
    for (const brace of drawn()) {
      const length = lengthOf(brace);
      const [first, middle, last] = [0, length / 2, length].map((at) => heightAtMm(brace.profile, at)) as [
        number,
        number,
        number,
      ];
      // Places are kept to a tenth of a millimetre, on a slope of a tenth and more.
      expect(Math.abs(last - first)).toBeLessThan(0.02);
      expect(first).toBeLessThan(middle / 2);
      expect(first).toBeGreaterThanOrEqual(2);
      // What is level is 56 in a hundred of the length.
      expect(heightAtMm(brace.profile, 0.23 * length)).toBe(middle);
      expect(heightAtMm(brace.profile, 0.77 * length)).toBe(middle);
      expect(heightAtMm(brace.profile, 0.2 * length)).toBeLessThan(middle);
      expect(heightAtMm(brace.profile, 0.8 * length)).toBeLessThan(middle);
    }
  });

  test('has its floor where it is level: 70 % of the height where it carries the strings, else 55 %', () => {
    for (const brace of drawn().filter(({ id }) => !id.startsWith('x-'))) {
      const length = lengthOf(brace);
      const height = heightAtMm(brace.profile, length / 2);
      expect(brace.floors).toHaveLength(1);
      const [floor] = brace.floors;
      expect(Math.abs(floor!.fromMm - 0.22 * length)).toBeLessThanOrEqual(0.5);
      expect(Math.abs(floor!.toMm - 0.78 * length)).toBeLessThanOrEqual(0.5);
      // Kept to a tenth of a millimetre.
      expect(Math.abs(floor!.heightMm - (brace.structural ? 0.7 : 0.55) * height)).toBeLessThanOrEqual(0.0501);
      expect(floor!.heightMm).toBe(Number(floor!.heightMm.toFixed(1)));
    }
  });

  test('the transverse brace lies a little neckward of the middle between hole and neck, from lining to lining', () => {
    const transverse = byId(pattern).get('transverse')!;
    expectEnds(transverse, [447, 190, 447, -190]);
    expect(transverse).toMatchObject({ name: 'Transverse brace', structural: true, widthMm: 10 });
    // The highest of all.
    for (const brace of drawn())
      expect(heightAtMm(brace.profile, lengthOf(brace) / 2)).toBeLessThanOrEqual(heightAtMm(transverse.profile, 190));
    // Without a hole it lies where one would be: from 62 to 80 % of the length.
    expectEnds(byId(pattern, closed()).get('transverse'), [452, 190, 452, -190]);
  });
});

describe('the ladder', () => {
  test('has rungs below the hole, above, before and behind the saddle, from lining to lining', () => {
    const braces = byId('ladder');
    expect([...braces.keys()].toSorted()).toEqual(['ladder-1', 'ladder-2', 'ladder-3', 'ladder-4', 'transverse']);
    expectEnds(braces.get('ladder-1'), [278, 190, 278, -190]);
    expectEnds(braces.get('ladder-2'), [241, 190, 241, -190]);
    expectEnds(braces.get('ladder-3'), [138, 190, 138, -190]);
    expectEnds(braces.get('ladder-4'), [58, 190, 58, -190]);
    expectEnds(byId('ladder', closed()).get('ladder-1'), [298, 190, 298, -190]);
  });

  test('the two next to the hole carry the strings, and the last one is lower', () => {
    const rungs = [1, 2, 3, 4].map((n) => byId('ladder').get(`ladder-${n}`)!);
    expect(rungs.map(({ structural }) => structural)).toEqual([true, true, false, false]);
    const [one, two, three, four] = rungs.map((rung) => heightAtMm(rung.profile, 190));
    expect(one).toBe(two);
    expect(two).toBe(three);
    expect(four).toBeLessThan(three!);
    expect(rungs.map(({ name }) => name)).toEqual([1, 2, 3, 4].map((n) => `Ladder brace ${n}`));
  });
});

describe('the fan', () => {
  const fans = [1, 2, 3, 4, 5, 6, 7].map((n) => byId('fan').get(`fan-${n}`)!);

  test('is seven thin braces under a lower transverse one, counted from the bass', () => {
    expect(byId('fan').size).toBe(9);
    expectEnds(byId('fan').get('lower-transverse'), [278, 190, 278, -190]);
    expect(byId('fan').get('lower-transverse')).toMatchObject({ structural: true, name: 'Lower transverse brace' });
    expect(fans.map(({ name }) => name)).toEqual([1, 2, 3, 4, 5, 6, 7].map((n) => `Fan brace ${n}`));
    for (const fan of fans) expect(fan).toMatchObject({ structural: false, widthMm: 6 });
  });

  test('whose lines meet 60 mm beyond the neck end and pass the saddle 30 mm apart', () => {
    fans.forEach((fan, i) => {
      const k = i - 3;
      // From 22 mm below the hole, to 8 mm short of the lining, along the line from (560, 0) through (180, 30 k).
      const slope = (30 * k) / 380;
      const along = Math.hypot(1, slope);
      expectEnds(fan, [268, slope * 292, 18 / along, slope * (560 - 18 / along)]);
    });
  });

  test('is the same on both sides', () => {
    for (const i of [0, 1, 2]) {
      const [x0, y0, x1, y1] = endsOf(fans[i]!) as [number, number, number, number];
      expectEnds(fans[6 - i], [x0, -y0, x1, -y1]);
    }
    expect(endsOf(fans[3]!).filter((_, i) => i % 2 === 1)).toEqual([0, 0].map(() => expect.closeTo(0, 9)));
  });
});

describe('the lattice', () => {
  const braces = once(() => byId('lattice'));
  const sticks = once(() =>
    ['a', 'b'].map((side) => [1, 2, 3, 4, 5, 6].map((n) => braces().get(`lattice-${side}${n}`)!)),
  );

  test('is six thin sticks each way under a lower transverse brace', () => {
    expect(braces().size).toBe(14);
    expectEnds(braces().get('lower-transverse'), [280, 190, 280, -190]);
    expect(braces().get('lower-transverse')!.structural).toBe(true);
    expect(
      sticks()
        .flat()
        .map(({ name }) => name),
    ).toEqual(['A', 'B'].flatMap((side) => [1, 2, 3, 4, 5, 6].map((n) => `Lattice ${side}${n}`)));
    for (const stick of sticks().flat()) expect(stick).toMatchObject({ structural: false, widthMm: 4 });
  });

  test('at 38 degrees to the centre line, one way the mirror image of the other', () => {
    sticks()[0]!.forEach((stick, i) => {
      const [x0, y0, x1, y1] = endsOf(stick) as [number, number, number, number];
      // Ends in whole millimetres turn a stick of 150 mm and more by less than a third of a degree.
      expect(Math.abs((Math.atan2(y0 - y1, x0 - x1) * 180) / Math.PI - 38)).toBeLessThan(0.4);
      expectEnds(sticks()[1]![i], [x0, -y0, x1, -y1]);
    });
  });

  test('they are evenly spread about a place a little behind the saddle, and end 16 mm below the hole', () => {
    const middle = { xMm: 170, yMm: 0 };
    const off = sticks()[0]!.map((stick) => offLine(stick, middle));
    for (const i of [0, 1, 2]) expect(Math.abs(off[i]! - off[5 - i]!)).toBeLessThan(1);
    // 60 mm along both axes by 0.55: 33 (sin 38 + cos 38) across the stick.
    const step = 33 * (Math.sin((38 * Math.PI) / 180) + Math.cos((38 * Math.PI) / 180));
    for (const i of [3, 4]) expect(Math.abs(off[i + 1]! - off[i]! - step)).toBeLessThan(1);
    expect(Math.abs(off[3]! - step / 2)).toBeLessThan(1);
    for (const stick of sticks().flat()) expect(Math.max(stick.from.xMm, stick.to.xMm)).toBeLessThanOrEqual(274);
    expect(
      sticks()
        .flat()
        .filter(({ from }) => from.xMm === 274).length,
    ).toBeGreaterThan(4);
  });

  test('end 4 mm short of the lining where nothing else ends them', () => {
    for (const { to } of sticks().flat()) {
      // 14 mm along the stick from the rim: 14 sin 38 = 8.6 from a side, 14 cos 38 = 11.0 from the tail.
      const fromRim = Math.min(200 - Math.abs(to.yMm) - 8.6, to.xMm - 11);
      expect(Math.abs(fromRim)).toBeLessThan(0.7);
    }
  });
});

describe('the X', () => {
  const braces = once(() => byId('x'));
  const legs = () => ['x-treble', 'x-bass'].map((id) => braces().get(id)!) as [PlanBrace, PlanBrace];

  test('crosses 34 mm below the hole on the centre line, at 44 degrees, from lining to lining', () => {
    const [treble, bass] = legs();
    const reach = 200 / Math.tan((44 * Math.PI) / 180);
    const inX = 10 * Math.cos((44 * Math.PI) / 180);
    const inY = 10 * Math.sin((44 * Math.PI) / 180);
    const [top, foot, y] = [256 + reach - inX, 256 - reach + inX, 200 - inY];
    expectEnds(bass, [top, y, foot, -y]);
    expectEnds(treble, [top, -y, foot, y]);
    for (const leg of [treble, bass]) expect(leg).toMatchObject({ structural: true, widthMm: 8 });
    expect([treble.name, bass.name]).toEqual(['X brace, lower end treble', 'X brace, lower end bass']);
  });

  test('keeps its whole height at the crossing, and two thirds of it along the lower legs', () => {
    const [treble, bass] = legs();
    for (const leg of [treble, bass]) {
      const length = lengthOf(leg);
      const height = heightAtMm(leg.profile, length / 2);
      // It crosses in the middle of the legs here.
      const [crossing, lower] = leg.floors;
      expect(leg.floors).toHaveLength(2);
      expect(crossing!.heightMm).toBe(height);
      expect((crossing!.fromMm + crossing!.toMm) / 2 / length).toBeCloseTo(0.5, 2);
      expect((crossing!.toMm - crossing!.fromMm) / length).toBeCloseTo(0.06, 2);
      expect(lower!.fromMm).toBe(crossing!.toMm);
      expect(lower!.toMm / length).toBeCloseTo(0.85, 2);
      expect(lower!.heightMm / height).toBeCloseTo(0.68, 2);
    }
  });

  test('tone bars spring from the treble leg, 8 mm clear of it, and end on the bass side behind the saddle', () => {
    const [treble] = legs();
    for (const [id, name, share, endX, endY] of [
      ['tone-1', 'Tone bar 1', 0.3, 84, -84],
      ['tone-2', 'Tone bar 2', 0.62, 32, -46],
    ] as const) {
      const bar = braces().get(id)!;
      expect([bar.to.xMm, bar.to.yMm]).toEqual([endX, endY]);
      expect(bar).toMatchObject({ name, structural: false, widthMm: 7 });
      // On the lower leg, so far down from the crossing.
      const spring = { xMm: 256 + share * (treble.to.xMm - 256), yMm: share * treble.to.yMm };
      expect(Math.abs(Math.hypot(bar.from.xMm - spring.xMm, bar.from.yMm - spring.yMm) - 8)).toBeLessThan(1.1);
      expect(offLine({ ...bar, from: { ...spring } }, bar.from)).toBeLessThan(1);
    }
  });

  test('finger braces lie between the lower legs and the rim, alike on both sides', () => {
    const [treble] = legs();
    for (const [n, word, share, turn] of [
      [1, 'upper', 0.22, 112],
      [2, 'lower', 0.48, 124],
    ] as const) {
      const finger = braces().get(`finger-treble-${n}`)!;
      const other = braces().get(`finger-bass-${n}`)!;
      expect([finger.name, other.name]).toEqual([`Finger brace, treble, ${word}`, `Finger brace, bass, ${word}`]);
      const [x0, y0, x1, y1] = endsOf(finger) as [number, number, number, number];
      expectEnds(other, [x0, -y0, x1, -y1]);
      const spring = { xMm: 256 + share * (treble.to.xMm - 256), yMm: share * treble.to.yMm };
      expect(Math.abs(Math.hypot(x0 - spring.xMm, y0 - spring.yMm) - 9)).toBeLessThan(1.1);
      const direction = (Math.atan2(y1 - spring.yMm, x1 - spring.xMm) * 180) / Math.PI;
      expect(Math.abs(direction - turn)).toBeLessThan(1);
      // 12 mm along itself from the rim.
      expect(Math.abs(200 - y1 - 12 * Math.sin((turn * Math.PI) / 180))).toBeLessThan(0.6);
      expect(finger).toMatchObject({ structural: false, widthMm: 6 });
    }
  });
});

test.each([
  ['that is not there yet', []],
  [
    'that the X reaches beyond',
    [
      [200, -5],
      [230, -5],
      [230, 5],
      [200, 5],
    ],
  ],
])('an outline %s gets no brace that ends nowhere', (_, corners) => {
  const points = corners.map(([xMm, yMm]) => ({ xMm: xMm!, yMm: yMm! }));
  const odd: Plan = { ...closed(), outline: { kind: 'points', source: '', points } };
  for (const pattern of patterns) {
    const braces = patternBraces(pattern, odd);
    expect(braces.length).toBeGreaterThan(1);
    for (const brace of braces)
      for (const mm of endsOf(brace)) expect(Number.isFinite(mm), `${pattern} ${brace.id}`).toBe(true);
  }
});

test('of a lattice only the sticks that meet the outline are drawn', () => {
  const small: Plan = { ...plan(), outline: rectangular(500, 90) };
  const sticks = patternBraces('lattice', small).filter(({ id }) => id.startsWith('lattice'));
  expect(sticks.length).toBeGreaterThan(0);
  expect(sticks.length).toBeLessThanOrEqual(12);
  for (const { id, from, to } of sticks)
    for (const { xMm, yMm } of [from, to]) {
      expect(Math.abs(yMm), id).toBeLessThanOrEqual(45);
      expect(xMm >= 0 && xMm <= 500, id).toBe(true);
    }
  // A top so short that the outer sticks pass beside it.
  const short: Plan = { ...plan(), outline: rectangular(200, 60), soundhole: { xMm: 150, yMm: 0, radiusMm: 10 } };
  const few = patternBraces('lattice', short).filter(({ id }) => id.startsWith('lattice'));
  expect(few.length).toBeLessThan(12);
});
