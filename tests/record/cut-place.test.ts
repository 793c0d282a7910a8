// How a cut is told: by landmarks of a top that is drawn so that every place is plain. The bar runs 300 mm from the tail to the neck at
// y = 0; another crosses it at 200 mm; the bridge plate reaches from 47 to 92 mm of x.
import { describe, expect, test } from 'vitest';
import { endsOf, type NamedCut, namedCuts, readingOf, readStretch, sideless } from '../../src/record/cut-place.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import type { Plan, PlanBrace } from '../../src/record/record.ts';
import { rectangular } from './small-record.ts';

const started = startPlan('right');
const bar = (id: string, name: string, from: readonly [number, number], to: readonly [number, number]): PlanBrace => ({
  ...started.braces[0]!,
  ...{ id, name },
  from: { xMm: from[0], yMm: from[1] },
  to: { xMm: to[0], yMm: to[1] },
});
const long = bar('long', 'Long bar', [30, 0], [330, 0]);
const cross = bar('cross', 'Cross bar', [230, -100], [230, 100]);
const plan: Plan = {
  ...started,
  outline: rectangular(400, 300),
  // The saddle at 400 - 320 - 3 = 77, a third of 45 ahead of it.
  ...{ scaleMm: 640, fretsToBody: 12, setbackTrebleMm: 3, setbackBassMm: 3 },
  bridgePlate: { ...started.bridgePlate, alongMm: 45, acrossMm: 140 },
  braces: [long, cross],
};
const told = (fromMm: number, toMm: number, braces: readonly PlanBrace[] = plan.braces, braceId = braces[0]!.id) =>
  namedCuts({ ...plan, braces: [...braces] }, 'right', [{ braceId, fromMm, toMm, offMm: 1 }])[0]!;
const crossing = { at: 'crossing' };
const edge = { at: 'bridge-plate' };
const end = (name: string) => ({ at: 'end', end: name });
const distance = (mm: number, from = 'tail') => ({ at: 'distance', mm, from });

describe('the ends of a brace', () => {
  const ends = (dx: number, dy: number, hand: 'right' | 'left' = 'right') =>
    endsOf({ from: { xMm: 10, yMm: 20 }, to: { xMm: 10 + dx, yMm: 20 + dy } }, hand);

  test('are tail and neck where it runs along, bass and treble where it lies across', () => {
    expect(ends(100, 30)).toEqual(['tail', 'neck']);
    expect(ends(-100, 30)).toEqual(['neck', 'tail']);
    // At a slope of 10 in 4 it still runs along.
    expect(ends(40, 100)).toEqual(['tail', 'neck']);
    expect(ends(-40, -100)).toEqual(['neck', 'tail']);
    expect(ends(39, 100)).toEqual(['bass', 'treble']);
    expect(ends(-39, 100)).toEqual(['bass', 'treble']);
    expect(ends(0, -100)).toEqual(['treble', 'bass']);
  });

  test('change sides with the hand, but not tail and neck', () => {
    expect(ends(0, 100, 'left')).toEqual(['treble', 'bass']);
    expect(ends(0, -100, 'left')).toEqual(['bass', 'treble']);
    expect(ends(100, 0, 'left')).toEqual(['tail', 'neck']);
  });
});

describe('places are read from the tail or the bass end', () => {
  test('of a brace that begins there as they are kept', () => {
    const reading = readingOf(long, 'right');
    expect(reading).toMatchObject({ end: 'tail', otherEnd: 'neck' });
    expect(reading.turned(20)).toBe(20);
    expect(reading.stretch(20, 50)).toEqual([20, 50]);
  });

  test.each([
    ['from the neck', bar('t', 'T', [330, 0], [30, 0]), 'tail', 'neck', 300],
    ['from the treble', bar('t', 'T', [230, 100], [230, -100]), 'bass', 'treble', 200],
  ] as const)('of one that is drawn %s from its other end', (_, brace, first, second, lengthMm) => {
    const reading = readingOf(brace, 'right');
    expect(reading).toMatchObject({ end: first, otherEnd: second });
    expect(reading.turned(20)).toBe(lengthMm - 20);
    expect(reading.stretch(20, 50)).toEqual([lengthMm - 50, lengthMm - 20]);
    expect(readStretch(reading, 20, 50)).toEqual([lengthMm - 50, lengthMm - 20]);
    expect(readStretch(reading, ...readStretch(reading, 20, 50))).toEqual([20, 50]);
    // Half a stretch stands as it was typed.
    expect(readStretch(reading, 20, undefined)).toEqual([20, undefined]);
    expect(readStretch(reading, undefined, 50)).toEqual([undefined, 50]);
    expect(readStretch(undefined, 20, 50)).toEqual([20, 50]);
  });
});

describe('a cut is told', () => {
  test('by its brace, its depth and the landmarks at its ends', () => {
    expect(told(0, 200)).toEqual({ offMm: 1, brace: 'Long bar', isOnBothSides: false, place: [end('tail'), crossing] });
    expect(told(200, 300).place).toEqual([crossing, end('neck')]);
  });

  test('where a brace crosses several, by the name of the one it crosses, but for the crossing of the X', () => {
    const leg = bar('leg', 'Other leg', [230, 100], [230, -100]);
    const tone = { ...bar('tone', 'Tone bar', [130, 100], [130, -100]), structural: false };
    const place = (isStructural: boolean) =>
      told(100, 200, [{ ...long, structural: true }, { ...leg, structural: isStructural }, tone]).place;
    expect(place(true)).toEqual([{ at: 'crossing', of: 'Tone bar' }, crossing]);
    expect(place(false)).toEqual([
      { at: 'crossing', of: 'Tone bar' },
      { at: 'crossing', of: 'Other leg' },
    ]);
  });

  test.each([
    [7.9, 100, [end('tail'), distance(100)]],
    [8, 100, [distance(8), distance(100)]],
    [100.4, 292, [distance(100), distance(292)]],
    [100, 292.1, [distance(100), end('neck')]],
    [192.1, 207.9, [crossing, crossing]],
    [192, 208, [distance(192), distance(208)]],
    // From 17 to 62 mm along the bar, counted from its own end at x = 30.
    [24.9, 120, [edge, distance(120)]],
    [25, 54.1, [distance(25), edge]],
    [54, 69.9, [distance(54), edge]],
    [70, 120, [distance(70), distance(120)]],
  ])('from %f to %f mm as %j', (from, to, place) => {
    expect(told(from, to).place).toEqual(place);
  });

  test.each([
    [0, 300, true],
    [7.9, 292.1, true],
    [8, 300, false],
    [0, 292, false],
  ])('from %f to %f mm of 300: over the whole length %s', (from, to, isWhole) => {
    expect(told(from, to).place === 'whole-length').toBe(isWhole);
  });

  test('from the end that the brace is read from, whichever way it is drawn', () => {
    const turned = bar('turned', 'T', [330, 0], [30, 0]);
    // Drawn from the neck: 250 to 300 there is 0 to 50 from the tail; the crossing lies 100 mm from the neck.
    expect(told(250, 300, [turned]).place).toEqual([end('tail'), distance(50)]);
    expect(told(0, 102, [turned, cross]).place).toEqual([crossing, end('neck')]);
    expect(told(150, 180, [turned]).place).toEqual([distance(120), distance(150)]);
    expect(told(20, 60, [cross]).place).toEqual([distance(20, 'bass'), distance(60, 'bass')]);
  });

  test('a brace that begins on the bridge plate is not told by its edges, nor one of a top without outline', () => {
    const within = bar('w', 'W', [60, 0], [360, 0]);
    expect(told(32, 120, [within]).place).toEqual([distance(32), distance(120)]);
    const bare: Plan = { ...plan, outline: { kind: 'points', source: '', points: [] } };
    expect(namedCuts(bare, 'right', [{ braceId: 'long', fromMm: 17, toMm: 120, offMm: 1 }])[0]!.place).toEqual([
      distance(17),
      distance(120),
    ]);
  });

  test('only where its brace is drawn', () => {
    expect(namedCuts(plan, 'right', [{ braceId: 'gone', fromMm: 0, toMm: 50, offMm: 1 }])).toEqual([]);
  });
});

describe('the same cut on both sides', () => {
  const bass = bar('b', 'Finger brace, bass, upper', [100, -20], [100, -120]);
  const treble = bar('t', 'Finger brace, treble, upper', [100, 20], [100, 120]);
  const other = bar('o', 'Finger brace, treble, lower', [200, 20], [200, 120]);
  // One is drawn from its bass end, the other too: the same figures tell other ends, so that the whole length is cut here.
  const cut = (braceId: string, offMm = 1) => ({ braceId, fromMm: 0, toMm: 100, offMm });
  const cuts = (list: readonly ReturnType<typeof cut>[]): readonly NamedCut[] =>
    namedCuts({ ...plan, braces: [bass, treble, other] }, 'right', list);

  test('is told once, without a side', () => {
    expect(cuts([cut('b'), cut('t')])).toEqual([
      { offMm: 1, brace: 'Finger brace, upper', isOnBothSides: true, place: 'whole-length' },
    ]);
  });

  test.each([
    ['of another depth', [cut('b'), cut('t', 2)]],
    ['of a brace that is not its twin', [cut('b'), cut('o')]],
    ['of the same brace again', [cut('b'), cut('b')]],
    ['of another stretch', [cut('b'), { ...cut('t'), toMm: 50 }]],
  ])('but one %s is another', (_, list) => {
    expect(cuts(list).map(({ isOnBothSides }) => isOnBothSides)).toEqual([false, false]);
    expect(cuts(list).map(({ brace }) => brace)).toEqual(
      list.map(({ braceId }) => [bass, treble, other].find(({ id }) => id === braceId)!.name),
    );
  });

  test('twice on both sides is two, and a third one stands alone', () => {
    expect(cuts([cut('b'), cut('t'), cut('b'), cut('t'), cut('b')]).map(({ isOnBothSides }) => isOnBothSides)).toEqual([
      true,
      true,
      false,
    ]);
  });

  test.each([
    ['Finger brace, bass, upper', 'Finger brace, upper'],
    ['X brace, lower end treble', 'X brace, lower end'],
    ['Treble finger', 'finger'],
    ['BASS, side,', 'side'],
    ['Bassoon bar', 'Bassoon bar'],
    ['Bar , treble , bass', 'Bar'],
    ['Tone bar 1', 'Tone bar 1'],
  ])('%s is %s', (name, plain) => {
    expect(sideless(name)).toBe(plain);
  });
});
