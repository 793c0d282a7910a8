// The ± that is stated, against the bound and against the scatter of the taps, by arithmetic of its own.
import { expect, test } from 'vitest';
import { HALF_WIDTH_95 } from '../../../src/quantity/estimate.ts';
import { studentHalfWidth95 } from '../../../src/quantity/quantile.ts';
import type { JointFit } from '../../../src/signal/agree/joint-fit.ts';
import { fitAt, noiseLevel, refineAll } from '../../../src/signal/search/order.ts';
import { partOf, project } from '../../../src/signal/search/project.ts';
import { uncertainties } from '../../../src/signal/search/uncertainty.ts';
import { refine } from '../../../src/signal/search/varpro.ts';
import { noiseAbout, trustedPoles } from '../../../src/signal/tell/scatter.ts';
import { jointOf, plainTap } from '../plain-taps.ts';

const mode = { hz: 200, q: 50, size: 0.1 };
const quiet = jointOf([11, 12, 13].map((seed) => plainTap([mode], 1e-4, seed)));

test('where taps agree and nothing but noise is left, the ± is that of the bound', () => {
  const { search, fit } = quiet;
  const level = noiseLevel(search, fit);
  // A chi-square of ten thousand degrees over its mean.
  expect(level).toBeLessThan(1.05);
  const [bound] = uncertainties(search.groups[0]!, fit[0]!, level);
  const [pole] = trustedPoles(quiet, [0, 0, 0]);
  for (const told of [pole!.stated, pole!.noiseOnly]) {
    expect(told.frequencyHz.sigma / bound!.frequencyHz.sigma).toBeCloseTo(1, 3);
    expect(told.lnDecay.sigma / bound!.lnDecay.sigma).toBeCloseTo(1, 3);
    expect(Math.abs(told.frequencyHz.value - bound!.frequencyHz.value)).toBeLessThan(0.01 * bound!.frequencyHz.sigma);
    expect(Math.abs(told.lnDecay.value - bound!.lnDecay.value)).toBeLessThan(0.01 * bound!.lnDecay.sigma);
  }
  expect(pole!.widened).toBe(1);
  expect(pole!.noise).toBeCloseTo(level, 9);
});

test('a room that may answer adds to the noise, alike in all taps, and widens by the root of what it adds', () => {
  const plain = noiseAbout(quiet, undefined);
  const answered = noiseAbout(quiet, 0.01);
  expect(plain.excess).toEqual([0]);
  expect(plain.pulls).toEqual([{ re: 0, im: 0, factor: 1 }]);
  expect(answered.excess[0]!).toBeGreaterThan(0);
  const [pole] = trustedPoles(quiet, [0, 0, 0], 0.01);
  expect(pole!.noise).toBeCloseTo(answered.level + 3 * answered.excess[0]!, 9);
  expect(pole!.widened).toBeCloseTo(Math.sqrt(pole!.noise / Math.max(answered.beside[0]!, answered.level)), 9);
  const [alone] = trustedPoles(quiet, [0, 0, 0]);
  const ratio = pole!.stated.frequencyHz.sigma / alone!.stated.frequencyHz.sigma;
  // Little is pulled off, so the value stays and the ± grows by the root of the noise.
  expect(ratio / Math.sqrt(pole!.noise / alone!.noise)).toBeCloseTo(1, 2);
});

test('an answer read from the early leftovers counts by its size: a tenth of it and 45 times its square', () => {
  // so loud that it is more than the pull that may be
  const answer = 0.3;
  const { excess } = noiseAbout(quiet, answer);
  const p = quiet.fit[0]!;
  const [a, b] = [p.amplitudes.map((c) => c[0]!), p.amplitudes.map((c) => c[1]!)];
  // Energy of the mode as the Gram matrix of its two columns has it.
  const energy = a.reduce(
    (sum, _, k) => sum + a[k]! ** 2 * p.gram[0]! + 2 * a[k]! * b[k]! * p.gram[1]! + b[k]! ** 2 * p.gram[5]!,
    0,
  );
  expect(excess[0]! / ((answer * (0.1 + 45 * answer) * energy) / 3)).toBeCloseTo(1, 2);
});

test('taps of one hold that scatter more than noise lets them widen the ± by the Birge ratio and Student’s t', () => {
  const shifts = [-0.004, -0.001, 0.002, 0.003];
  const taps = shifts.map((by, k) => plainTap([{ ...mode, hz: 200 * (1 + by), q: 50 * (1 + by) }], 1e-4, 20 + k));
  const found = jointOf(taps);
  // one set of poles for all, whatever the search would rather have
  const all = found.search.groups.flatMap((decays) => decays.taps);
  const energies = found.search.groups.flatMap((decays) => decays.energies);
  const decays = { ...found.search.groups[0]!, taps: all, energies };
  const search = { ...found.search, groups: [decays], elastic: false };
  const fit = refineAll(search, fitAt(search, [[{ frequencyHz: 200, decayPerS: (Math.PI * 200) / 50 }]]), 30);
  const joint: JointFit = { ...found, search, fit, partition: [[0, 1, 2, 3]] };
  const { level, excess } = noiseAbout(joint, undefined);
  const noise = level + excess[0]!;
  const readings = all.map((_, k) => {
    const own = partOf(decays, [k]);
    const alone = refine(own, project(own, fit[0]!.poles)!, search.limits, 30);
    const { frequencyHz } = uncertainties(own, alone, noise)[0]!;
    return { value: Math.log(frequencyHz.value), weight: (frequencyHz.value / frequencyHz.sigma) ** 2 };
  });
  const weight = readings.reduce((sum, one) => sum + one.weight, 0);
  const mean = readings.reduce((sum, one) => sum + one.weight * one.value, 0) / weight;
  const chiSquare = readings.reduce((sum, one) => sum + one.weight * (one.value - mean) ** 2, 0);
  const [{ stated, noiseOnly }] = trustedPoles(joint, [0, 0, 0, 0]) as [ReturnType<typeof trustedPoles>[number]];
  const birge = Math.sqrt(chiSquare / 3) * (studentHalfWidth95(3) / HALF_WIDTH_95);
  // The readings are Newton steps of half a per cent: some per cent of the scatter are of second order.
  expect(stated.frequencyHz.sigma / noiseOnly.frequencyHz.sigma / birge).toBeCloseTo(1, 1);
  expect(chiSquare / 3).toBeGreaterThan(4);
});
