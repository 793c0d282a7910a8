// What cuts weigh and what a piece weighs after them: a level bar of 6 by 12 mm and 500 kg/m^3, so that 1 mm off 104 mm, of which 4 are
// run-out at each end, is 0.3 g.
import { describe, expect, test } from 'vitest';
import {
  cutMade,
  cutsMade,
  planAtStep,
  planNow,
  profileAfter,
  removals,
  together,
  weightAt,
} from '../../src/record/cuts.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import type { Cut, InstrumentRecord, Plan, PlanBrace, Step } from '../../src/record/record.ts';
import { recordOf, stepOf } from './small-record.ts';

const started = startPlan('right');
const barOf = (id: string): PlanBrace => ({
  ...started.braces[0]!,
  ...{ id, name: id, section: 'rectangle', widthMm: 6 },
  from: { xMm: 50, yMm: 0 },
  to: { xMm: 350, yMm: 0 },
  profile: [
    { atMm: 0, heightMm: 12 },
    { atMm: 300, heightMm: 12 },
  ],
});
const plan: Plan = {
  ...started,
  braceWood: { ...started.braceWood, densityKgM3: { value: 500, sigma: 0 } },
  braces: [barOf('a'), barOf('b'), { ...barOf('c'), profile: [] }],
};
const cut = (id: string, more: Partial<Cut> = {}): Cut => ({
  ...{ id, brace: 'a bar', braceIds: ['a'], fromMm: 100, toMm: 204, offMm: 1 },
  ...more,
});
const inWords = (id: string, more: Partial<Cut> = {}): Cut => ({ id, brace: 'some bar', braceIds: [], ...more });
const recordWith = (steps: readonly Step[], of: Plan | undefined = plan): InstrumentRecord => ({
  ...recordOf('i', []),
  steps,
  ...(of === undefined ? {} : { plan: of }),
});

describe('one cut', () => {
  const made = (one: Cut, of: Plan | undefined = plan) => cutMade(of, stepOf('s'), one);

  test('weighs its wood, is as deep as told, and leaves the lowest place of its stretch', () => {
    const found = made(cut('x'));
    expect(found.on.map(({ brace, massOffG }) => [brace.id, massOffG])).toEqual([['a', expect.closeTo(0.3, 9)]]);
    expect(found.massOffG).toBeCloseTo(0.3, 9);
    expect(found).toMatchObject({ isWeighed: false, heightOffMm: 1, heightLeftMm: 11 });
  });

  test('of several braces weighs all of them together', () => {
    const found = made(cut('x', { braceIds: ['a', 'b'] }));
    expect(found.on).toHaveLength(2);
    expect(found.massOffG).toBeCloseTo(0.6, 9);
  });

  test('leaves the least of what is left and takes the most of what is taken where braces differ', () => {
    const low = { ...barOf('b'), profile: [{ atMm: 0, heightMm: 7 }] };
    const heights = [
      { atMm: 100, heightMm: 9 },
      { atMm: 200, heightMm: 8 },
    ];
    const { fromMm: _from, toMm: _to, offMm: _off, ...bare } = cut('x', { braceIds: ['a', 'b'], heights });
    const found = made(bare, { ...plan, braces: [barOf('a'), low] });
    // 4 mm off the higher one; the lower one stays 7.
    expect(found).toMatchObject({ heightOffMm: 4, heightLeftMm: 7 });
  });

  test('is what the maker weighed and measured, where he did', () => {
    expect(made(cut('x', { weighedG: 0.4, heightLeftMm: 10.8 }))).toMatchObject({
      massOffG: 0.4,
      isWeighed: true,
      heightLeftMm: 10.8,
    });
  });

  test.each([
    ['named in words only', inWords('x')],
    ['of a brace that is gone', cut('x', { braceIds: ['gone'] })],
    ['of a brace without heights', cut('x', { braceIds: ['c'] })],
  ])('%s takes nothing off the plan and tells no mass', (_, one) => {
    const found = made(one);
    expect(found.on).toEqual([]);
    expect(found.massOffG).toBeUndefined();
    expect(found.heightLeftMm).toBeUndefined();
    expect(found.heightOffMm).toBe(one.offMm);
    expect(made(one, undefined).on).toEqual([]);
  });

  test('on a plate without a plan is in words', () => {
    expect(cutMade(undefined, stepOf('s'), cut('x'))).toMatchObject({ on: [], massOffG: undefined, heightOffMm: 1 });
  });

  test.each(['fromMm', 'toMm', 'offMm'] as const)('of which %s is not known leaves the brace as it is', (field) => {
    const { [field]: _, ...less } = cut('x');
    expect(profileAfter(barOf('a'), less)).toEqual(barOf('a').profile);
    expect(made(less).massOffG).toBe(0);
  });

  test('over an unknown stretch is judged by the whole brace', () => {
    const { fromMm: _from, toMm: _to, offMm: _off, ...bare } = cut('x');
    const drawn = [
      {
        braceId: 'a',
        profile: [
          { atMm: 0, heightMm: 12 },
          { atMm: 300, heightMm: 4 },
        ],
      },
    ];
    expect(made({ ...bare, drawn })).toMatchObject({ heightLeftMm: 4, heightOffMm: 8 });
    // Drawn for another brace it is none of this one's.
    expect(made({ ...bare, drawn: [{ ...drawn[0]!, braceId: 'b' }] }).heightOffMm).toBe(0);
  });

  test('that would add wood weighs nothing', () => {
    const drawn = [{ braceId: 'a', profile: [{ atMm: 0, heightMm: 14 }] }];
    expect(made(cut('x', { drawn })).massOffG).toBe(0);
  });
});

describe('the cuts of a record', () => {
  const steps = [
    stepOf('1', { cuts: [cut('x')] }),
    stepOf('2'),
    stepOf('3', { cuts: [cut('y'), cut('z', { braceIds: ['b'], offMm: 2 }), inWords('w', { weighedG: 0.2 })] }),
  ];
  const record = recordWith(steps);

  test('come in order, each on what the ones before it left', () => {
    expect(cutsMade(record).map(({ cut: one, step, heightLeftMm }) => [step.id, one.id, heightLeftMm])).toEqual([
      ['1', 'x', 11],
      ['3', 'y', 10],
      ['3', 'z', 10],
      ['3', 'w', undefined],
    ]);
  });

  test('add up by step, with what was weighed', () => {
    const [first, second, third] = removals(record);
    expect(first).toEqual({ stepId: '1', massOffG: expect.closeTo(0.3, 9), heightOffMm: 1 });
    expect(second).toEqual({ stepId: '2', massOffG: undefined, heightOffMm: undefined });
    expect(third).toEqual({ stepId: '3', massOffG: expect.closeTo(0.3 + 0.6 + 0.2, 9), heightOffMm: 3 });
  });

  test('sums leave out what is not known', () => {
    expect(together([])).toEqual({ massOffG: undefined, heightOffMm: undefined });
    expect(
      together([
        { massOffG: 1, heightOffMm: undefined },
        { massOffG: undefined, heightOffMm: 0.5 },
        { massOffG: 2, heightOffMm: 0.25 },
      ]),
    ).toEqual({ massOffG: 3, heightOffMm: 0.75 });
  });

  test('the plan at a step has the cuts up to it, on whatever plan is asked', () => {
    const lowest = (of: Plan, id: string) =>
      Math.min(...of.braces.find((one) => one.id === id)!.profile.map(({ heightMm }) => heightMm));
    expect(['1', '2', '3'].map((id) => lowest(planAtStep(record, plan, id), 'a'))).toEqual([11, 11, 10]);
    expect(['1', '2', '3'].map((id) => lowest(planAtStep(record, plan, id), 'b'))).toEqual([12, 12, 10]);
    expect(planAtStep(record, plan, 'unknown')).toBe(plan);
    expect(planNow(record, plan)).toEqual(planAtStep(record, plan, '3'));
    const other = { ...plan, braces: [{ ...barOf('a'), profile: [{ atMm: 0, heightMm: 20 }] }] };
    expect(lowest(planNow(record, other), 'a')).toBe(18);
    expect(planNow(record, plan).braces[2]).toEqual(plan.braces[2]);
  });
});

describe('the weight at a step', () => {
  const steps = (cuts: readonly Cut[], first: Partial<Step> = { massG: 200 }) => [
    stepOf('0'),
    stepOf('1', { cuts: [cut('before', { weighedG: 9 })], ...first }),
    stepOf('2', { cuts }),
    stepOf('3'),
  ];

  test('is the last one weighed less what was cut since, and not what was cut before', () => {
    const record = recordWith(steps([cut('x'), inWords('w', { weighedG: 0.5 })]));
    expect(weightAt(record, '3')).toEqual({
      kind: 'carried',
      massG: expect.closeTo(200 - 0.8, 9),
      // Only what was worked out is in doubt: 15 % of 0.3 g.
      sigmaG: expect.closeTo(0.045, 9),
      weighedAt: 2,
      weighedG: 200,
      offG: expect.closeTo(0.8, 9),
    });
    expect(weightAt(record, '1')).toEqual({ kind: 'weighed', massG: 200 });
  });

  test('the doubts of several cuts add as squares', () => {
    const record = recordWith(steps([cut('x', { offMm: 3 }), cut('y', { braceIds: ['b'], offMm: 4 })]));
    // 0.9 and 1.2 g: 15 % of the hypotenuse, 1.5 g.
    expect(weightAt(record, '3')).toMatchObject({ sigmaG: expect.closeTo(0.225, 9), offG: expect.closeTo(2.1, 9) });
  });

  test('is the same as weighed where nothing was cut', () => {
    expect(weightAt(recordWith(steps([])), '3')).toEqual({
      ...{ kind: 'carried', massG: 200, sigmaG: 0, weighedAt: 2, weighedG: 200, offG: 0 },
    });
  });

  test.each([
    ['of a step that is not there', recordWith(steps([])), 'gone'],
    ['before it was ever weighed', recordWith(steps([])), '0'],
    ['never weighed', recordWith(steps([], {})), '3'],
    ['weighed in another stage', recordWith(steps([], { massG: 200, stage: 'joined' })), '3'],
    ['after a cut that tells no mass', recordWith(steps([inWords('w')])), '3'],
    ['after one that does and one that does not', recordWith(steps([cut('x'), inWords('w')])), '3'],
  ])('is not known %s', (_, record, step) => {
    expect(weightAt(record, step)).toBeUndefined();
  });
});
