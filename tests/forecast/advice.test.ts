// What is advised, asked of a small top with known lines: held against shaving and solving it by other ways.
import { describe, expect, test } from 'vitest';
import { lineHeightMm } from '../../src/brace/profile.ts';
import { type Advice, type AdviceLimits, advise, type BraceFloor, type ModeTarget } from '../../src/forecast/advice.ts';
import { cutPlate } from '../../src/forecast/shaving.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { once } from '../once.ts';
import { smallTop, spruce } from '../plate/plates.ts';

const prepared = preparePlate(smallTop, 120);
const solvedOn = (on: typeof prepared, plate: PlateCase) => {
  const answer = plateModes(on, plate, { count: 3 });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  return answer;
};
const before = solvedOn(prepared, smallTop);
const hz = before.modes.map(({ frequencyHz }) => frequencyHz);
const lengthMm = [Math.hypot(170, 110), Math.hypot(70, 80)];
const floorsBelow = (...spareMm: readonly number[]): BraceFloor[] =>
  smallTop.braces!.map(({ id, heightMm }, i) => ({
    braceId: id,
    heightMm: heightMm.map(([s, h]) => [s, h - (spareMm[i] ?? spareMm[0]!)] as const),
  }));
const lower = (byHz: number, toleranceHz = 0.5, mode = 0): ModeTarget => ({
  mode,
  frequencyHz: hz[mode]! - byHz,
  toleranceHz,
});
const ask = (targets: readonly ModeTarget[], floors = floorsBelow(2.5), limits: AdviceLimits = {}) =>
  advise(prepared, smallTop, before, targets, floors, limits);
function advised(...asked: Parameters<typeof ask>): readonly Advice[] {
  const answer = ask(...asked);
  if (answer.kind !== 'advice') throw new Error(JSON.stringify(answer));
  return answer.alternatives;
}
const all = (alternatives: readonly Advice[]) => alternatives.flatMap(({ shavings }) => shavings);
const deepest = (alternatives: readonly Advice[]) => Math.max(...all(alternatives).map(({ offMm }) => offMm));

describe('three ways to one target', () => {
  const ways = once(() => advised([lower(5)]));
  const named = (name: Advice['way']) => ways().find(({ way }) => way === name)!;

  test('are told in order, each another, and all reach it', () => {
    expect(ways().map(({ way }) => way)).toEqual(['least wood', 'evenly spread', 'one brace']);
    expect(new Set(ways().map(({ shavings }) => JSON.stringify(shavings))).size).toBe(3);
    for (const { reached, moves } of ways()) {
      expect(reached).toEqual([true]);
      expect(Math.abs(moves[0]!.after.value - (hz[0]! - 5))).toBeLessThan(0.5);
    }
  });

  test('least wood takes least, one brace touches one, evenly spread has the least steps along a brace', () => {
    expect(named('least wood').removedG).toBeLessThan(named('evenly spread').removedG);
    const offAt = ({ shavings }: Advice, id: string, s: number) =>
      shavings.find(({ braceId, fromMm, toMm }) => braceId === id && fromMm < s && toMm > s)?.offMm ?? 0;
    const stepsMm = (advice: Advice) =>
      smallTop.braces!.reduce((sum, { id }, i) => {
        const count = [7, 4][i]!;
        const off = Array.from({ length: count }, (_, k) => offAt(advice, id, ((k + 0.5) * lengthMm[i]!) / count));
        return sum + off.slice(1).reduce((steps, mm, k) => steps + Math.abs(mm - off[k]!), 0);
      }, 0);
    expect(stepsMm(named('evenly spread'))).toBeLessThan(0.5 * stepsMm(named('least wood')));
    expect(new Set(named('one brace').shavings.map(({ braceId }) => braceId)).size).toBe(1);
  });

  test.each(smallTop.braces!.map(({ id }) => [id] as const))(
    'the one brace is the one that alone comes there: %s',
    (id) => {
      // Where three modes come when a millimetre goes off that brace alone: only it can make all of that.
      const shaved = cutPlate(smallTop, [{ braceId: id, fromMm: 0, toMm: 300, offMm: 1 }]);
      const targets = solvedOn(prepared, shaved).modes.map(({ frequencyHz }, mode) => ({
        mode,
        frequencyHz,
        toleranceHz: 0.05 * Math.abs(frequencyHz - hz[mode]!) + 0.02,
      }));
      // A way that comes to the same as an earlier one is not told twice.
      const touched = advised(targets).map(({ shavings }) => [...new Set(shavings.map(({ braceId }) => braceId))]);
      expect(touched.filter((ids) => ids.length === 1)).toContainEqual([id]);
      for (const ids of touched) expect(ids).toContain(id);
    },
  );

  test('least wood takes less than a shaving of the same depth all over that lowers the mode as far', () => {
    const allOver = (offMm: number) =>
      solvedOn(
        prepared,
        cutPlate(
          smallTop,
          smallTop.braces!.map(({ id }) => ({ braceId: id, fromMm: 0, toMm: 300, offMm })),
        ),
      );
    let [low, high] = [0, 3];
    for (let i = 0; i < 8; i++) {
      const middle = (low + high) / 2;
      if (allOver(middle).modes[0]!.frequencyHz > named('least wood').moves[0]!.after.value) low = middle;
      else high = middle;
    }
    expect(named('least wood').removedG).toBeLessThan(0.9 * (before.massG - allOver(low).massG));
  });

  test('are whole tenths of a millimetre on stretches of the braces, one after the other', () => {
    for (const { shavings } of ways())
      shavings.forEach(({ braceId, fromMm, toMm, offMm }, i) => {
        expect(offMm * 10).toBeCloseTo(Math.round(offMm * 10), 9);
        expect(offMm).toBeGreaterThanOrEqual(0.1);
        const brace = smallTop.braces!.findIndex(({ id }) => id === braceId);
        // 30 mm as near as the length divides: 202.5 / 7 and 106.3 / 4
        const step = lengthMm[brace]! / [7, 4][brace]!;
        for (const place of [fromMm, toMm]) expect(place / step).toBeCloseTo(Math.round(place / step), 6);
        expect(fromMm).toBeGreaterThanOrEqual(0);
        expect(toMm).toBeGreaterThan(fromMm);
        const last = shavings[i - 1];
        if (last?.braceId !== braceId) return;
        expect(fromMm).toBeGreaterThan(last.toMm - 1e-6);
        // Neighbours of one depth are one shaving.
        if (fromMm < last.toMm + 1e-6) expect(offMm).not.toBe(last.offMm);
      });
  });

  test('come to what solving the shaved plate comes to, and weigh what goes', () => {
    for (const { shavings, moves, removedG } of ways()) {
      const after = solvedOn(prepared, cutPlate(smallTop, shavings));
      expect(moves[0]!.before.value).toBe(hz[0]);
      expect(moves[0]!.after.value).toBeCloseTo(after.modes[0]!.frequencyHz, 3);
      expect(removedG).toBeCloseTo(before.massG - after.massG, 6);
    }
  });
});

describe('how far it goes', () => {
  // All the wood there is at a depth lowers the mode by about three hertz a millimetre: a little more is asked.
  const beyond = (depthMm: number) => [lower(3.5 * depthMm, 0.7 * depthMm)];

  test('two millimetres at most, unless another depth is set', () => {
    expect(deepest(advised(beyond(2)))).toBe(2);
    expect(deepest(advised(beyond(0.7), floorsBelow(2.5), { maxRemovalMm: 0.7 }))).toBe(0.7);
  });

  test('to the whole tenth above the floor, whichever comes first', () => {
    const uneven = advised([lower(4.5, 0.5)], floorsBelow(1.39, 0.6));
    const on = (id: string) =>
      Math.max(...all(uneven).flatMap(({ braceId, offMm }) => (braceId === id ? [offMm] : [])));
    expect([on('slanted'), on('across')]).toEqual([1.3, 0.6]);
  });

  test('only where the floor leaves wood on the whole stretch', () => {
    // The slanted brace may be cut on its second half alone.
    const half = lengthMm[0]! / 2;
    const [slanted] = floorsBelow(2);
    const { heightMm } = smallTop.braces![0]!;
    const at = (s: number) => lineHeightMm(heightMm, s);
    const floor = [
      [0, at(0)],
      [half, at(half)],
      [half + 1, at(half + 1) - 2],
      [lengthMm[0]!, at(lengthMm[0]!) - 2],
    ] as const;
    const shavings = all(advised([lower(2)], [{ ...slanted!, heightMm: floor }]));
    expect(shavings.length).toBeGreaterThan(0);
    for (const { braceId, fromMm } of shavings) {
      expect(braceId).toBe('slanted');
      expect(fromMm).toBeGreaterThanOrEqual(half);
    }
  });

  test('a brace without a floor, or that is not asked about, is left alone', () => {
    const touched = (...asked: Parameters<typeof ask>) => new Set(all(advised(...asked)).map(({ braceId }) => braceId));
    expect(touched([lower(2)], floorsBelow(2).slice(0, 1))).toEqual(new Set(['slanted']));
    expect(touched([lower(1)], floorsBelow(2), { braceIds: ['across'] })).toEqual(new Set(['across']));
    expect(ask([lower(2)], floorsBelow(2), { braceIds: [] })).toEqual({ kind: 'cannot', because: 'no-wood-to-spare' });
    expect(ask([lower(2)], [])).toEqual({ kind: 'cannot', because: 'no-wood-to-spare' });
  });

  test('a tenth is worth a plane, less is not', () => {
    expect(ask([lower(2, 0.5)], floorsBelow(0.09))).toEqual({ kind: 'cannot', because: 'no-wood-to-spare' });
    const little = ask([lower(0.4, 0.1)], floorsBelow(0.11));
    expect(little.kind).toBe('advice');
    if (little.kind === 'advice') expect(deepest(little.alternatives)).toBe(0.1);
  });

  test('the stretches are as long as is asked', () => {
    for (const { fromMm, toMm, braceId } of all(advised([lower(3)], floorsBelow(2), { stretchMm: 50 }))) {
      const brace = smallTop.braces!.findIndex(({ id }) => id === braceId);
      const step = lengthMm[brace]! / [4, 2][brace]!;
      for (const place of [fromMm, toMm]) expect(place / step).toBeCloseTo(Math.round(place / step), 6);
    }
  });
});

describe('several targets', () => {
  test('are each told reached or not', () => {
    // The second mode is to stay, within little; the third cannot rise.
    const [best] = advised([lower(3), { mode: 2, frequencyHz: hz[2]! + 30, toleranceHz: 20 }]);
    expect(best!.reached).toEqual([true, false]);
  });

  test('the one of the narrower tolerance is served before the other', () => {
    const wishes = (first: number, second: number) => [lower(0, first), lower(10, second, 1)];
    const moved = (targets: readonly ModeTarget[]) => advised(targets)[0]!.moves.map(({ move }) => move.value);
    const [loose, tight] = [moved(wishes(4, 0.5)), moved(wishes(0.5, 4))];
    expect(Math.abs(tight[0]!)).toBeLessThan(Math.abs(loose[0]!));
    expect(Math.abs(loose[1]! + 10)).toBeLessThan(Math.abs(tight[1]! + 10));
  });

  test('all within their tolerance, its edge among them: nothing to do', () => {
    const near = (byHz: number): ModeTarget => ({ mode: 1, frequencyHz: hz[1]! + byHz, toleranceHz: 1 });
    for (const by of [-0.999, 0, 0.999]) expect(ask([near(by), lower(0)])).toEqual({ kind: 'nothing-to-do' });
    const edge: ModeTarget = { mode: 0, frequencyHz: hz[0]! - 1, toleranceHz: hz[0]! - (hz[0]! - 1) };
    expect(ask([edge])).toEqual({ kind: 'nothing-to-do' });
    expect(ask([near(0), lower(3)]).kind).toBe('advice');
    expect(ask([near(-1.5)]).kind).toBe('advice');
  });

  test('a mode that is to rise by itself is not to be had by shaving', () => {
    expect(ask([lower(-5)])).toEqual({ kind: 'cannot', because: 'only-shaving-lowers' });
  });

  test('shaving that would leave most of the miss is no advice', () => {
    // Seven tenths of the squared miss is 0.84 of the miss: the wood there is must lower the mode by a sixth of it.
    const [most] = advised([lower(3, 0.5)], floorsBelow(0.4));
    const byHz = -most!.moves[0]!.move.value;
    const targets = (times: number) => [lower(times * byHz, 0.5)];
    expect(ask(targets(5.7), floorsBelow(0.4)).kind).toBe('advice');
    expect(ask(targets(6.8), floorsBelow(0.4))).toEqual({ kind: 'cannot', because: 'only-shaving-lowers' });
  });
});

test('a record of missed forecasts widens the moves that are told', () => {
  const sigmas = [1, 2].map((factor) => {
    const answer = advise(prepared, smallTop, before, [lower(3)], floorsBelow(2), {}, undefined, factor);
    if (answer.kind !== 'advice') throw new Error(answer.kind);
    return answer.alternatives[0]!.moves[0]!.move.sigma;
  });
  expect(sigmas[1]! / sigmas[0]!).toBeCloseTo(2, 9);
});

describe('a top with two mirrored legs', () => {
  const leg = (id: string, side: 1 | -1) => ({
    id,
    from: [40, 15 * side] as const,
    to: [200, 80 * side] as const,
    widthMm: 8,
    heightMm: [
      [0, 9],
      [172.7, 12],
    ] as const,
    material: spruce,
  });
  const mirrored: PlateCase = {
    ...smallTop,
    outline: [
      [0, -100],
      [260, -100],
      [260, 100],
      [0, 100],
    ],
    braces: [leg('bass', 1), leg('treble', -1)],
  };
  const on = preparePlate(mirrored, 120);
  const now = solvedOn(on, mirrored);
  const floors = mirrored.braces!.map(({ id, heightMm }) => ({
    braceId: id,
    heightMm: heightMm.map(([s, h]) => [s, h - 2] as const),
  }));
  const wish = { mode: 0, frequencyHz: now.modes[0]!.frequencyHz - 3, toleranceHz: 0.5 };

  test('is shaved alike on both, the two as one brace', () => {
    const answer = advise(on, mirrored, now, [wish], floors);
    if (answer.kind !== 'advice') throw new Error(answer.kind);
    for (const { shavings, reached } of answer.alternatives) {
      const of = (id: string) =>
        shavings.filter(({ braceId }) => braceId === id).map(({ fromMm, toMm, offMm }) => [fromMm, toMm, offMm]);
      expect(of('bass').length).toBeGreaterThan(0);
      expect(of('treble')).toEqual(of('bass'));
      expect(reached).toEqual([true]);
    }
  });

  test('what one leg has to spare the other may take, and no more', () => {
    const uneven = [
      floors[0]!,
      { ...floors[1]!, heightMm: mirrored.braces![1]!.heightMm.map(([s, h]) => [s, h - 0.5] as const) },
    ];
    const answer = advise(on, mirrored, now, [{ ...wish, toleranceHz: 2 }], uneven);
    if (answer.kind !== 'advice') throw new Error(answer.kind);
    expect(deepest(answer.alternatives)).toBeLessThanOrEqual(0.5);
  });
});
