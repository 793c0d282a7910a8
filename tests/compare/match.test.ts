import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { assign } from '../../src/algebra/assignment.ts';
import { centsBetween, matchModes, withinStep } from '../../src/compare/match.ts';

describe('matching the modes of two measurements', () => {
  test('swapping the two measurements swaps the pairs', () => {
    const modes = fc.uniqueArray(fc.double({ min: 60, max: 900, noNaN: true }), { minLength: 0, maxLength: 7 });
    fc.assert(
      fc.property(modes, modes, (a, b) => {
        const swapped = matchModes(b, a).map(([j, i]) => [i, j] as const);
        expect(swapped.toSorted((x, y) => x[0] - y[0])).toEqual(matchModes(a, b));
      }),
    );
  });

  test('when thinner wood lowers every mode past its neighbour, each is still found again', () => {
    // A plate taken from 3.2 to 2.8 mm: every frequency goes with the thickness, -12.5 %, and 236 lands on 206.
    const before = [98, 172, 206, 236, 318, 420];
    const after = before.map((hz) => hz * 0.875);
    expect(matchModes(before, after)).toEqual(before.map((_, i) => [i, i]));
  });

  test('nearest first would pair wrongly here; the best whole does not', () => {
    // 205 is nearest to 200 of the other side, but then 195 would have to go with 190 and 210 would be left over.
    expect(matchModes([195, 205], [190, 200])).toEqual([
      [0, 0],
      [1, 1],
    ]);
  });

  test('no pairing is cheaper, by the general assignment (Kuhn 1955, Jonker and Volgenant 1987)', () => {
    const near = fc.uniqueArray(fc.double({ min: 100, max: 130, noNaN: true }), { maxLength: 7 });
    fc.assert(
      fc.property(near, near, (a, b) => {
        const square = (i: number, j: number) => (centsBetween(a[i]!, b[j]!) / withinStep.ownCents) ** 2;
        const price = (pairs: readonly (readonly [number, number])[]) =>
          pairs.reduce((sum, [i, j]) => sum + square(i, j) - 1, 0);
        const table = Float64Array.from({ length: a.length * b.length }, (_, k) => {
          const cost = square(Math.floor(k / b.length), k % b.length);
          return cost <= 1 ? cost : Infinity;
        });
        // Rounding of a few sums of order 1.
        expect(price(matchModes(a, b, withinStep))).toBeCloseTo(price(assign(table, a.length, b.length, 0.5)), 9);
      }),
    );
  });

  test('a mode that vanished and one that appeared are left without a partner', () => {
    expect(matchModes([100, 180, 350], [99, 178, 240])).toEqual([
      [0, 0],
      [1, 1],
    ]);
  });

  test('within a step a mode further away than a hold can move it is another mode', () => {
    expect(matchModes([180], [184], withinStep)).toEqual([]);
    expect(matchModes([180], [180.5], withinStep)).toEqual([[0, 0]]);
  });

  test('of two ways to shift all modes the smaller one is taken, where the modes fit neither better', () => {
    // In cents: one mode, and two that it might be, 50 below and 200 above.
    const hz = (cents: number) => 200 * 2 ** (cents / 1200);
    expect(matchModes([hz(0)], [hz(-50), hz(200)])).toEqual([[0, 0]]);
    expect(matchModes([hz(0)], [hz(-200), hz(50)])).toEqual([[0, 1]]);
  });

  test('a shift of all modes is looked for up to its edge', () => {
    // In cents: ten modes that went down by 250 together, and each by 80 up or down of its own.
    const hz = (cents: number) => 60 * 2 ** (cents / 1200);
    const before = Array.from({ length: 10 }, (_, i) => 700 * i);
    const after = before.map((cents, i) => cents - 250 + (i % 2 === 0 ? 80 : -80));
    expect(matchModes(before.map(hz), after.map(hz))).toEqual(before.map((_, i) => [i, i]));
  });

  test('an octave is 1200 cents (ISO 16 and common practice of equal temperament)', () => {
    expect(centsBetween(220, 440)).toBe(1200);
  });

  test('of two pairings that fit equally well it is the same one, whichever measurement comes first', () => {
    // In cents: every mode of the one side lies as far above one of the other as it lies below another.
    const hz = (cents: number) => 100 * 2 ** (cents / 1200);
    const ties = [
      [[0], [-50, 50]],
      [
        [0, 4950, 5050],
        [-50, 50, 5000],
      ],
    ] as const;
    for (const [a, b] of ties) {
      const there = matchModes(a.map(hz), b.map(hz));
      const back = matchModes(b.map(hz), a.map(hz)).map(([j, i]) => [i, j] as const);
      expect(there.length).toBeGreaterThan(0);
      expect(back.toSorted((x, y) => x[0] - y[0])).toEqual(there);
    }
  });

  test('the order in which modes are listed changes nothing, nor does a common factor', () => {
    const modes = fc.uniqueArray(fc.double({ min: 60, max: 900, noNaN: true }), { minLength: 0, maxLength: 6 });
    const asHz = (a: readonly number[], b: readonly number[], pairs: ReturnType<typeof matchModes>) =>
      pairs.map(([i, j]) => [a[i]!, b[j]!] as const).toSorted((x, y) => x[0] - y[0]);
    fc.assert(
      fc.property(modes, modes, (a, b) => {
        const [backA, backB] = [a.toReversed(), b.toReversed()];
        const found = asHz(a, b, matchModes(a, b, withinStep));
        expect(asHz(backA, backB, matchModes(backA, backB, withinStep))).toEqual(found);
        const twice = (hz: readonly number[]) => hz.map((one) => 2 * one);
        // Twice is exact, and 1200 cents more are so to the last digits.
        expect(matchModes(twice(a), twice(b), withinStep)).toEqual(matchModes(a, b, withinStep));
        const firsts = matchModes(a, b).map(([i]) => i);
        expect(firsts).toEqual(firsts.toSorted((x, y) => x - y));
      }),
    );
  });

  test('one mode is found again at up to its own and the common departure together, and no further', () => {
    const found = (cents: number) => matchModes([200], [200 * 2 ** (cents / 1200)]).length;
    // Alone a pair costs (x - s)^2 / 120^2 + (s / 250)^2 at the best s, x^2 / (120^2 + 250^2) on a grid of 10; two left alone 1.
    const reach = Math.hypot(120, 250);
    for (const side of [1, -1]) expect([reach - 2, reach + 2].map((cents) => found(side * cents))).toEqual([1, 0]);
    const within = (cents: number) => matchModes([200], [200 * 2 ** (cents / 1200)], withinStep).length;
    for (const side of [1, -1]) expect([29.9, 30.1].map((cents) => within(side * cents))).toEqual([1, 0]);
  });
});
