import { expect, it } from 'vitest';
import { randomFrom } from '../../src/demo/random.ts';

it('the same seed gives the same chance, another seed another', () => {
  const row = (seed: number) => Array.from({ length: 5 }, randomFrom(seed).uniform);
  expect(row(7)).toEqual(row(7));
  expect(row(7)).not.toEqual(row(8));
});

it('uniform and normal chance have the moments of their names', () => {
  const chance = randomFrom(1);
  const n = 40_000;
  const moments = (draw: () => number) => {
    const draws = Array.from({ length: n }, draw);
    const mean = draws.reduce((sum, x) => sum + x, 0) / n;
    return [
      mean,
      draws.reduce((sum, x) => sum + (x - mean) ** 2, 0) / n,
      draws.reduce((sum, x) => sum + x ** 4, 0) / n,
    ];
  };
  // four standard errors: 0.29/200, 0.075/200; normal 1/200, 1.41/200, 9.8/200
  const [mean, variance] = moments(chance.uniform);
  expect(Math.abs(mean! - 0.5)).toBeLessThan(0.006);
  expect(Math.abs(variance! - 1 / 12)).toBeLessThan(0.0015);
  const [zero, one, three] = moments(chance.normal);
  expect(Math.abs(zero!)).toBeLessThan(0.02);
  expect(Math.abs(one! - 1)).toBeLessThan(0.03);
  expect(Math.abs(three! - 3)).toBeLessThan(0.2);
});
