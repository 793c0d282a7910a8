// Closed forms of the two-piston model: Woodhouse, Euphonics sections 4.2.1 and 4.2.2.
import { expect, test } from 'vitest';
import { boxModes } from '../../src/box/pistons.ts';
import { helmholtzHz, soundhole } from '../../src/box/soundhole.ts';
import { uncoupledFrequencies } from '../box/uncoupled.ts';
import { AIR, THREE, TWO } from '../box/workshop-box.ts';
import checks from './box-checks.json' with { type: 'json' };

const expected = (id: string): number => checks.find((check) => check.id === id)!.expected;
const frequencies = (box: typeof TWO) => boxModes(box).map((mode) => mode.frequencyHz);

test('the air alone rings at the Helmholtz frequency with either end correction', () => {
  expect(helmholtzHz(AIR, 0.016, soundhole(0.05, 0.003, 'flanged', 25))).toBeCloseTo(expected('box-helmholtz'), 6);
  // Rayleigh's conductivity of a thin plate; value from memory of the source
  expect(helmholtzHz(AIR, 0.016, soundhole(0.05, 0.003, 'thin-plate', 25))).toBeCloseTo(expected('box-helmholtz-c'), 6);
});

test('top and air alone and coupled stand where the closed form of the two-piston model puts them', () => {
  const { topHz, airHz } = uncoupledFrequencies(TWO);
  expect(topHz).toBeCloseTo(expected('box-two-f_p'), 6);
  expect(airHz).toBeCloseTo(expected('box-two-f_h'), 6);
  const [low, high] = frequencies(TWO);
  expect(low).toBeCloseTo(expected('box-two-f_minus'), 6);
  expect(high).toBeCloseTo(expected('box-two-f_plus'), 6);
});

test('the published products and sums of the two-piston frequencies hold', () => {
  const [low, high] = frequencies(TWO) as [number, number];
  const { topHz, airHz } = uncoupledFrequencies(TWO);
  expect(low ** 2 + high ** 2 - topHz ** 2 - airHz! ** 2).toBeCloseTo(expected('box-two-sumrule'), 6);
  const product = (high ** 2 - airHz! ** 2) * (airHz! ** 2 - low ** 2);
  expect(product / expected('box-two-fph4')).toBeCloseTo(1, 9);
});

test('top, back and air stand where an independent solution of the three masses puts them', () => {
  frequencies(THREE).forEach((hz, k) => {
    expect(hz).toBeCloseTo(expected(`box-three-${k + 1}`), 6);
  });
});
