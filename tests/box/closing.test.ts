// The box before it is closed, held against the published equations of two and three pistons.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { closedBox } from '../../src/box/closing.ts';
import { estimate } from '../../src/quantity/estimate.ts';

interface Check {
  readonly id: string;
  readonly expected: number;
}
const checks = readFileSync(path.join(import.meta.dirname, '../published/box-checks.json'), 'utf8')
  .split('\n')
  .filter((line) => line.includes('"id"'))
  .map((line): Check => JSON.parse(line.trim().replace(/,$/, '')));
const published = (id: string) => checks.find((check) => check.id === id)!.expected;

// Inputs of the published case: rho 1.2041, c 343.2, 16 litres, hole of 50 mm with L 0.088 m; Christensen & Vistisen 1980.
const exactly = (value: number) => estimate(value, 0);
const box = {
  air: { densityKgM3: 1.2041, soundSpeedMPerS: 343.2 },
  volumeM3: exactly(0.016),
  ownHz: exactly(published('box-two-f_h')),
};
const top = { frequencyHz: 170, pushedM2PerSqrtKg: 0.04 / Math.sqrt(0.08) };
const noBack = { frequencyHz: exactly(220), pushedM2PerSqrtKg: exactly(0) };
const back = { frequencyHz: exactly(220), pushedM2PerSqrtKg: exactly(0.035 / Math.sqrt(0.15)) };

test('with no back that moves it is the published box of top and air', () => {
  const { airHz, topHz } = closedBox([top], exactly(1), box, noBack);
  expect(airHz.value).toBeCloseTo(published('box-two-f_minus'), 5);
  expect(topHz.value).toBeCloseTo(published('box-two-f_plus'), 5);
});

test('with a back it is the published box of three pistons', () => {
  const { airHz, topHz } = closedBox([top], exactly(1), box, back);
  expect(airHz.value).toBeCloseTo(published('box-three-1'), 5);
  expect(topHz.value).toBeCloseTo(published('box-three-2'), 5);
});

test('all modes of the top are off by one share, and a mode that pushes nothing changes nothing', () => {
  const twist = { frequencyHz: 250, pushedM2PerSqrtKg: 0 };
  const drawn = { ...top, frequencyHz: 160 };
  const { airHz, topHz } = closedBox([twist, drawn], exactly(170 / 160), box, back);
  expect(airHz.value).toBeCloseTo(published('box-three-1'), 5);
  expect(topHz.value).toBeCloseTo(published('box-three-2'), 5);
});

test('a higher mode that pushes against the lowest softens the cushion: the top lies lower than alone', () => {
  // Static condensation: a mode far above gives way to the pressure as a spring a² / omega² more of compliance.
  const high = { frequencyHz: 3000, pushedM2PerSqrtKg: 1 };
  const { air, volumeM3, ownHz } = box;
  const compliance = volumeM3.value / (air.densityKgM3 * air.soundSpeedMPerS ** 2) + (1 / (2 * Math.PI * 3000)) ** 2;
  const softer = { air, volumeM3: exactly(compliance * air.densityKgM3 * air.soundSpeedMPerS ** 2), ownHz };
  // the same mass in the hole on the softer cushion
  const own = ownHz.value * Math.sqrt(volumeM3.value / softer.volumeM3.value);
  const wanted = closedBox([top], exactly(1), { ...softer, ownHz: exactly(own) }, noBack);
  const found = closedBox([top, high], exactly(1), box, noBack);
  expect(found.topHz.value / wanted.topHz.value).toBeCloseTo(1, 4);
  expect(found.airHz.value / wanted.airHz.value).toBeCloseTo(1, 4);
});

test('what is open of top, air and back is in the figures: a top known to 4 % is known to no less in the box', () => {
  const share = estimate(1, 0.04);
  const open = closedBox([top], share, { ...box, ownHz: estimate(129, 3), volumeM3: estimate(0.016, 0.0003) });
  expect(open.topHz.sigma).toBeGreaterThan(5);
  expect(open.topHz.sigma).toBeLessThan(9);
  const surer = closedBox([top], exactly(1), box, back);
  // only the air that the shapes push is left open, 8 %
  expect(surer.topHz.sigma).toBeGreaterThan(0.5);
  expect(surer.topHz.sigma).toBeLessThan(open.topHz.sigma / 2);
});
