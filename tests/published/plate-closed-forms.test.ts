// Plates and beams with answers in books.
import { expect, test, vi } from 'vitest';
import { circlePolygon } from '../../src/plate/outline.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { errorsPercent, frequenciesOf, isotropic, rectangle, solvedOf, spruce } from '../plate/plates.ts';

// Solving solids' worth of cases takes seconds on a busy machine; correctness is tested, not speed.
vi.setConfig({ testTimeout: 120_000 });

const steel = isotropic(200_000, 0.3, 8000);
const midHinge = { kind: 'hinged', pinnedAt: 'mid-surface' } as const;

/** Frequency of an isotropic plate from its dimensionless number omega a^2 sqrt(rho h / D). */
function fromNumber(lambda: number, aMm: number, hMm: number): number {
  const d = (steel.eL * 1e6 * (hMm / 1000) ** 3) / (12 * (1 - 0.09));
  return ((lambda / (2 * Math.PI)) * Math.sqrt(d / (steel.densityKgM3 * (hMm / 1000)))) / (aMm / 1000) ** 2;
}

// Thickness / side = 1/300: transverse shear and soft corners lower thin-plate values by less than 0.2 %.
const square: PlateCase = { outline: rectangle(300, 300), thicknessMm: 1, material: steel };
const toHz = (numbers: readonly number[], aMm: number) => numbers.map((lambda) => fromNumber(lambda, aMm, 1));

test('a free square plate has the converged thin-plate frequencies (Leissa 1973, J. Sound Vib. 31, 257, converged Ritz)', () => {
  const expected = toHz([13.4682, 19.5961, 24.2702, 34.8009, 34.8009, 61.0932], 300);
  expect(errorsPercent(frequenciesOf(square), expected).largest).toBeLessThan(0.4);
});

test('a hinged square plate has omega a^2 sqrt(rho h / D) = pi^2 (m^2 + n^2) (Leissa 1969, NASA SP-160, eq. 4.20)', () => {
  const expected = toHz(
    [2, 5, 5, 8, 10, 10].map((k) => k * Math.PI ** 2),
    300,
  );
  expect(errorsPercent(frequenciesOf({ ...square, edge: midHinge }), expected).largest).toBeLessThan(0.7);
});

test('a clamped square plate has its first mode at 35.985 (Leissa 1969, table 4.22: 35.99)', () => {
  const found = frequenciesOf({ ...square, edge: 'clamped' })[0]!;
  expect(found / fromNumber(35.9852, 300, 1)).toBeCloseTo(1, 2);
});

// Roots of the characteristic equations with Bessel functions (Leissa 1969, eq. 2.1 to 2.17), found with SciPy, nu = 0.3.
const circle: PlateCase = { outline: circlePolygon(0, 0, 150, 120), thicknessMm: 1, material: steel };

test('a free circular plate has its modes at 5.358, 9.003 and 12.439', () => {
  const expected = toHz([5.35833, 5.35833, 9.00314, 12.43899, 12.43899], 150);
  expect(errorsPercent(frequenciesOf(circle), expected).largest).toBeLessThan(0.4);
});

test('a clamped circular plate has its modes at 10.216, 21.260, 34.877 and 39.771', () => {
  const expected = toHz([10.21583, 21.2604, 21.2604, 34.87704, 34.87704, 39.77115], 150);
  expect(errorsPercent(frequenciesOf({ ...circle, edge: 'clamped' }), expected).largest).toBeLessThan(0.6);
});

test('a hinged circular plate has its modes at 4.935, 13.898 and 25.613', () => {
  const expected = toHz([4.93515, 13.89817, 13.89817, 25.6133, 25.6133], 150);
  expect(errorsPercent(frequenciesOf({ ...circle, edge: midHinge }), expected).largest).toBeLessThan(0.8);
});

test('drawn with 48 corners, of the same area, the hinged circular plate keeps its modes', () => {
  const corners = 48;
  const turn = (2 * Math.PI) / corners;
  const radius = 150 * Math.sqrt(turn / Math.sin(turn));
  const outline = circlePolygon(0, 0, radius, corners);
  const expected = toHz([4.93515, 13.89817, 13.89817, 25.6133, 25.6133], 150);
  expect(
    errorsPercent(frequenciesOf({ ...circle, outline, edge: midHinge }, undefined, 5), expected).largest,
  ).toBeLessThan(1.2);
});

test('a thin hinged orthotropic plate has the exact frequencies (Jones 1999, Mechanics of Composite Materials, eq. 5.70)', () => {
  const [a, b, h] = [0.4, 0.3, 0.0012];
  const mu = 1 - (spruce.nuLR ** 2 * spruce.eR) / spruce.eL;
  const plateD = (modulusMpa: number) => (modulusMpa * 1e6 * h ** 3) / 12;
  const [d11, d22, d12, d66] = [spruce.eL / mu, spruce.eR / mu, (spruce.nuLR * spruce.eR) / mu, spruce.gLR].map(plateD);
  const hz = (m: number, n: number) =>
    (Math.PI / 2) *
    Math.sqrt(
      (d11! * (m / a) ** 4 + 2 * (d12! + 2 * d66!) * ((m * n) / (a * b)) ** 2 + d22! * (n / b) ** 4) /
        (spruce.densityKgM3 * h),
    );
  const expected = [1, 2, 3]
    .flatMap((m) => [1, 2, 3, 4, 5].map((n) => hz(m, n)))
    .sort((p, q) => p - q)
    .slice(0, 8);
  // Shear moduli raised tenfold bring the plate to the thin limit that the formula describes.
  const thin = { ...spruce, gLT: spruce.gLT * 10, gRT: spruce.gRT * 10 };
  const found = frequenciesOf({ outline: rectangle(400, 300), thicknessMm: 1.2, material: thin, edge: midHinge }, 24);
  expect(errorsPercent(found, expected).largest).toBeLessThan(0.6);
});

test('a strip with a brace of its own width is the composite beam of the transformed section', () => {
  const soft = isotropic(2000, 0, 500);
  const stiff = isotropic(10_000, 0, 400);
  const [length, width, t, h] = [0.6, 0.012, 0.004, 0.008];
  const plate: PlateCase = {
    outline: rectangle(600, 12),
    thicknessMm: 4,
    material: soft,
    braces: [{ id: 'b', from: [0, 6], to: [600, 6], widthMm: 12, heightMm: [[0, 8]], material: stiff }],
  };
  const [ea1, ea2] = [2e9 * t * width, 10e9 * h * width];
  const centre = (ea1 * (t / 2) + ea2 * (t + h / 2)) / (ea1 + ea2);
  const ei = (ea1 * t * t) / 12 + ea1 * (centre - t / 2) ** 2 + (ea2 * h * h) / 12 + ea2 * (t + h / 2 - centre) ** 2;
  const mass = (500 * t + 400 * h) * width;
  // First root of the free-free beam, 4.73004; shear and rotary inertia take off 0.5 % at length / height = 50.
  const expected = (4.730040745 ** 2 / (2 * Math.PI * length ** 2)) * Math.sqrt(ei / mass);
  const bending = frequenciesOf(plate, 20, 4).reduce((best, f) =>
    Math.abs(f - expected) < Math.abs(best - expected) ? f : best,
  );
  expect(bending / expected).toBeGreaterThan(0.98);
  expect(bending / expected).toBeLessThan(1.002);
});

test('frequencies converge with the mesh at second order (Bathe, Brezzi and Cho 1989: MITC7 shear, quadratic bending)', () => {
  const plate: PlateCase = { outline: rectangle(400, 300), thicknessMm: 3, material: spruce };
  const [coarse, middle, fine] = [80, 40, 20].map((size) => solvedOf(plate, size, 6));
  const sum = (a: number[], b: number[]) => a.reduce((total, f, i) => total + Math.abs(f / b[i]! - 1), 0);
  // Differences of successive meshes shrink by 2^order.
  expect(Math.log2(sum(coarse!, middle!) / sum(middle!, fine!))).toBeGreaterThan(1.9);
});
