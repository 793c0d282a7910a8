// The pass that a record alone can size, and what it tells of the maker's blade: stories whose figures can be reckoned by hand.
import { describe, expect, test } from 'vitest';
import { weatherSpreadHz } from '../../src/compare/conditions.ts';
import { tracks } from '../../src/compare/tracks.ts';
import { bladeSpread, nextPassMeasured } from '../../src/forecast/measured-pass.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import type { Cut, InstrumentRecord } from '../../src/record/record.ts';
import { type Chapter, inMould, story } from '../compare/story.ts';
import { stepOf } from '../record/small-record.ts';

const target = { frequencyHz: 176, toleranceHz: 2 };
/** A story whose step i made the cuts given. */
const cutStory = (chapters: readonly Chapter[], cuts: readonly (readonly Partial<Cut>[])[]): InstrumentRecord => {
  const record = story(chapters);
  return {
    ...record,
    steps: record.steps.map((step, i) => ({
      ...step,
      cuts: (cuts[i] ?? []).map((cut, k) => ({ id: `c${i}-${k}`, brace: 'X lower legs', braceIds: [], ...cut })),
    })),
  };
};
const passOf = (record: InstrumentRecord, limits = {}) => {
  const { moves, ...pass } = nextPassMeasured(
    record,
    [{ track: tracks(record, 'braced', inMould)[0]!, target }],
    limits,
  );
  return { ...pass, moves: moves[0]! };
};
const fall = (hz: readonly number[], more: Partial<Chapter> = {}) => hz.map((value) => ({ modesHz: [value], ...more }));

describe('the next pass without a plan', () => {
  test('before any cut rests on what a slope may be, and dares little', () => {
    const { next, at, moves } = passOf(cutStory(fall([184]), []));
    expect([at, moves]).toEqual([undefined, []]);
    if (next.kind !== 'pass') throw new Error(next.kind);
    // 4 % of 184 Hz a mm, a tenth of it bend, and as much spread: the cut that would be right then, 1 mm, is too bold.
    const d = next.pass.depthMm;
    expect(next.pass.landsAt[0]!.value).toBeCloseTo(184 - 7.36 * d - 0.736 * d * d, 6);
    expect(next.pass.landsAt[0]!.sigma).toBeGreaterThan(7.36 * d);
    expect(d).toBeLessThan(0.8);
    expect(next.pass.chancePast).toBeLessThanOrEqual(0.1);
  });

  test('after two like passes rests on them, far surer than before', () => {
    const record = cutStory(fall([194, 189, 184]), [[], [{ offMm: 0.5 }], [{ offMm: 0.5 }]]);
    const { next, at, moves } = passOf(record);
    expect(at?.id).toBe('c2-0');
    expect(moves.map(({ hz, depthMm, endsNow }) => [hz.value, depthMm.value, endsNow])).toEqual([
      [-5, 0.5, false],
      [-5, 0.5, true],
    ]);
    expect(moves[0]!.hz.sigma).toBeCloseTo(Math.hypot(0.1, 0.1), 9);
    expect(moves[0]!.depthMm.sigma).toBeCloseTo(0.1, 9);
    if (next.kind !== 'pass') throw new Error(next.kind);
    // Ten hertz a mm: 8 Hz to the middle are 0.8 mm; the prior of 7.4 with as much spread has little say beside two cuts of
    // 0.5 mm, good to a fifth each (0.14 together, 1.4 Hz a mm).
    const [lands] = next.pass.landsAt;
    const perMm = (lands!.value - 184) / next.pass.depthMm;
    expect(perMm).toBeLessThan(-8.6);
    expect(perMm).toBeGreaterThan(-12);
    expect(lands!.sigma / next.pass.depthMm).toBeLessThan(3);
  });

  test('of two modes that are wanted together the nearer to its band bounds the pass of both', () => {
    const chapters = [194, 189, 184].map((hz) => ({ modesHz: [hz, 2 * hz] }));
    const record = cutStory(chapters, [[], [{ offMm: 0.5 }], [{ offMm: 0.5 }]]);
    const [low, high] = tracks(record, 'braced', inMould);
    const far = { track: low!, target };
    // The upper mode falls by 20 Hz a mm, and 5 Hz are left to the far edge of its band.
    const near = { track: high!, target: { frequencyHz: 366, toleranceHz: 3 } };
    const alone = nextPassMeasured(record, [far]).next;
    const both = nextPassMeasured(record, [far, near]);
    if (alone.kind !== 'pass') throw new Error(alone.kind);
    expect(both.moves.map((moves) => moves.map(({ hz }) => hz.value))).toEqual([
      [-5, -5],
      [-10, -10],
    ]);
    const depthMm = both.next.kind === 'pass' ? both.next.pass.depthMm : 0;
    expect(alone.pass.depthMm).toBeGreaterThanOrEqual(0.5);
    expect(depthMm).toBeLessThanOrEqual(0.2);
    expect(nextPassMeasured(record, [near, far]).next.kind).toBe(both.next.kind);
  });

  test('cuts elsewhere, cuts mixed with others and cuts without a depth tell nothing of this place', () => {
    const tell = (cuts: readonly (readonly Partial<Cut>[])[]) =>
      passOf(cutStory(fall([194, 189, 184]), cuts)).moves.map(({ hz, depthMm }) => [hz.value, depthMm.value]);
    const own = { offMm: 0.5, fromMm: 70, toMm: 180 };
    expect(tell([[], [{ ...own, brace: 'tone bar' }], [own]])).toEqual([[-5, 0.5]]);
    expect(tell([[], [own, { ...own, brace: 'tone bar' }], [own]])).toEqual([[-5, 0.5]]);
    expect(tell([[], [{ brace: 'X lower legs' }], [own]])).toEqual([[-5, 0.5]]);
    // 125 to 235 has 55 of 110 mm in common with 70 to 180, 126 to 236 has 54.
    expect(tell([[], [{ ...own, fromMm: 125, toMm: 235 }], [own]])).toHaveLength(2);
    expect(tell([[], [{ ...own, fromMm: 126, toMm: 236 }], [own]])).toHaveLength(1);
    expect(tell([[], [{ ...own, braceIds: ['x-treble'] }], [{ ...own, braceIds: ['x-bass'] }]])).toHaveLength(1);
    expect(tell([[], [own, own], [own]])).toEqual([
      [-5, 1],
      [-5, 0.5],
    ]);
  });

  test('what the air did, where it was noted, is taken out of a move', () => {
    const chapters = [45, 45, 55].map((humidityPercent, i) => ({ modesHz: [194 - 5 * i], humidityPercent }));
    const { moves } = passOf(cutStory(chapters, [[], [{ offMm: 0.5 }], [{ offMm: 0.5 }]]));
    expect(moves[0]!.hz.value).toBeCloseTo(-5, 9);
    // From 45 to 55 % moisture goes from 8.5 to 10.1 % (Wood Handbook), about a hundredth of the frequency for each, some say a
    // little more: the blade did less than was read, and less surely.
    expect(moves[1]!.hz.value).toBeGreaterThan(-5 + 0.012 * 189);
    expect(moves[1]!.hz.value).toBeLessThan(-5 + 0.022 * 189);
    expect(moves[1]!.hz.sigma).toBeGreaterThan(moves[0]!.hz.sigma);
    // A tenth of those ten from one set of taps to the next; moisture grows a little faster above 50 %.
    const tenth = weatherSpreadHz(189) / (moves[1]!.hz.value + 5);
    expect(tenth).toBeGreaterThan(0.08);
    expect(tenth).toBeLessThan(0.12);
  });

  test('never goes below a floor that was set in words, nor deeper than a usual pass', () => {
    const record = cutStory(fall([214, 209, 204]), [[], [{ offMm: 0.5 }], [{ offMm: 0.5, heightLeftMm: 10 }]]);
    const at = (heightMm: number) => {
      const { next } = passOf({ ...record, floors: [{ id: 'f', brace: 'X lower legs', heightMm }] });
      return next.kind === 'pass' ? next.pass.depthMm : next.because;
    };
    expect([8, 9.5, 9.7, 10, 11].map(at)).toEqual([0.8, 0.5, 0.3, 'floor', 'floor']);
  });

  test('a maker who takes less of a chance goes less deep', () => {
    const record = cutStory(fall([184]), []);
    const depth = (chancePast: number) => {
      const { next } = passOf(record, { chancePast });
      return next.kind === 'pass' ? next.pass.depthMm : 0;
    };
    expect(depth(0.0003)).toBeLessThan(depth(0.1));
  });
});

describe('the spread of the blade', () => {
  const plan = startPlan('right');
  const tone = plan.braces.find(({ id }) => id === 'tone-1')!;
  const level = {
    ...tone,
    profile: [
      { atMm: 0, heightMm: 9 },
      { atMm: 150, heightMm: 9 },
    ],
  };
  const drawn = { ...plan, braces: plan.braces.map((brace) => (brace.id === 'tone-1' ? level : brace)) };
  const withCuts = (cuts: readonly Partial<Cut>[]): InstrumentRecord => ({
    ...story([{ modesHz: [180] }]),
    plan: drawn,
    steps: cuts.map((cut, i) =>
      stepOf(`s${i}`, {
        cuts: [{ id: `c${i}`, brace: 'tone bar', braceIds: ['tone-1'], fromMm: 20, toMm: 100, ...cut }],
      }),
    ),
  });

  test('is the usual one where nothing was measured after a cut, or no depth was meant', () => {
    expect(bladeSpread(withCuts([]))).toBeCloseTo(0.1, 12);
    expect(bladeSpread(withCuts([{ offMm: 0.5 }]))).toBeCloseTo(0.1, 12);
    expect(bladeSpread(withCuts([{ heights: [{ atMm: 60, heightMm: 8 }] }]))).toBeCloseTo(0.1, 12);
    expect(bladeSpread({ ...withCuts([{ offMm: 0.5, heightLeftMm: 8 }]), plan: undefined } as never)).toBeCloseTo(
      0.1,
      12,
    );
  });

  test('is what heights after cuts show, beside four cuts of the usual spread', () => {
    // 9 mm, half a mm meant, 8.2 on the mean of two places: 0.3 too deep.
    const deep = {
      offMm: 0.5,
      heights: [
        { atMm: 40, heightMm: 8.1 },
        { atMm: 80, heightMm: 8.3 },
      ],
    };
    expect(bladeSpread(withCuts([deep]))).toBeCloseTo(Math.sqrt((4 * 0.01 + 0.09) / 5), 9);
    // By the lowest height left, 8.7: 0.2 too shallow.
    expect(bladeSpread(withCuts([{ offMm: 0.5, heightLeftMm: 8.7 }]))).toBeCloseTo(Math.sqrt((4 * 0.01 + 0.04) / 5), 9);
  });

  test('a cut on two braces with one height tells of neither', () => {
    expect(bladeSpread(withCuts([{ offMm: 0.5, heightLeftMm: 7, braceIds: ['tone-1', 'tone-2'] }]))).toBeCloseTo(
      0.1,
      12,
    );
  });
});
