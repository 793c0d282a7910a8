// What a tap and a hold say of the modes by themselves, against fits of those taps alone.
import { describe, expect, test } from 'vitest';
import { wishOf } from '../../../src/signal/agree/agreement.ts';
import { readingsOf } from '../../../src/signal/agree/readings.ts';
import { noiseLevel } from '../../../src/signal/search/order.ts';
import { partOf, project } from '../../../src/signal/search/project.ts';
import { uncertainties } from '../../../src/signal/search/uncertainty.ts';
import { refine } from '../../../src/signal/search/varpro.ts';
import { jointOf, plainTap } from '../plain-taps.ts';

const modes = [
  { hz: 150, q: 40, size: 0.1, phase: 0.4 },
  { hz: 310, q: 55, size: 0.06, phase: -1 },
];
const taps = [1, 2, 3, 4].map((seed) => plainTap(modes, 1e-4, seed));
const joint = jointOf(taps);
const decays = joint.search.groups[0]!;
const common = joint.fit[0]!;

/** The poles of some taps fitted by themselves, and how well they are known at unit noise. */
function alone(which: readonly number[]) {
  const own = partOf(decays, which);
  const fit = refine(own, project(own, common.poles)!, joint.search.limits, 30);
  return { poles: fit.poles, known: uncertainties(own, fit, 1) };
}

test('two modes are fitted, and all taps together wish for nothing', () => {
  expect(common.poles).toHaveLength(2);
  const { step, chiSquare } = wishOf(decays, common, [0, 1, 2, 3]);
  // The fit ends within a twentieth of a standard deviation.
  expect(chiSquare).toBeLessThan(0.01);
  expect(step).toHaveLength(4);
});

describe.each([[[0]], [[2]], [[1, 3]]])('taps %j', (which) => {
  const { poles, known } = alone(which);
  const { step, covariance, chiSquare } = wishOf(decays, common, which);

  test('wish to go where they lie by themselves', () => {
    poles.forEach((pole, m) => {
      const from = common.poles[m]!;
      const [inFrequency, inDecay] = [step[2 * m]!, step[2 * m + 1]!];
      const sigma = (i: number): number => Math.sqrt(covariance[i * 5]!);
      // One Newton step from a tenth of a per cent away: what is left is of second order, a hundredth of a standard deviation.
      const frequencyStep = (2 * Math.PI * (pole.frequencyHz - from.frequencyHz)) / from.decayPerS;
      expect(Math.abs(inFrequency - frequencyStep)).toBeLessThan(0.03 * sigma(2 * m));
      expect(Math.abs(inDecay - Math.log(pole.decayPerS / from.decayPerS))).toBeLessThan(0.03 * sigma(2 * m + 1));
    });
  });

  test('know it as well as a fit of theirs alone does', () => {
    known.forEach(({ frequencyHz, lnDecay }, m) => {
      const scale = common.poles[m]!.decayPerS / (2 * Math.PI);
      expect((Math.sqrt(covariance[2 * m * 5]!) * scale) / frequencyHz.sigma).toBeCloseTo(1, 1);
      expect(Math.sqrt(covariance[(2 * m + 1) * 5]!) / lnDecay.sigma).toBeCloseTo(1, 1);
    });
    // As many degrees of freedom as steps: a value beyond 25 is one chance in ten thousand.
    expect(chiSquare / noiseLevel(joint.search, joint.fit)).toBeLessThan(25);
  });
});

test('a reading is the logarithm of frequency and of decay, its variance by the noise that is stated', () => {
  const noise = [2, 3];
  const { taps: readings, scatterIncluded } = readingsOf(joint, [0, 0, 0, 0], noise);
  expect(scatterIncluded).toBe(false);
  readings.forEach((reading, k) => {
    const { poles, known } = alone([k]);
    poles.forEach((pole, m) => {
      const [ofFrequency, ofDecay] = [reading[2 * m]!, reading[2 * m + 1]!];
      const sigma = Math.sqrt(noise[m]!) * (known[m]!.frequencyHz.sigma / pole.frequencyHz);
      expect(Math.sqrt(ofFrequency.variance) / sigma).toBeCloseTo(1, 1);
      expect(Math.sqrt(ofDecay.variance / noise[m]!) / known[m]!.lnDecay.sigma).toBeCloseTo(1, 1);
      expect(Math.abs(ofFrequency.value - Math.log(pole.frequencyHz))).toBeLessThan(0.05 * sigma);
      expect(Math.abs(ofDecay.value - Math.log(pole.decayPerS))).toBeLessThan(0.05 * known[m]!.lnDecay.sigma);
    });
  });
});

test('a hold reads what its taps read together, and knows it by the noise of taps together', () => {
  const { holds } = readingsOf(joint, [0, 1, 0, 1], [1, 1], [4, 4]);
  expect(holds).toHaveLength(2);
  [
    [0, 2],
    [1, 3],
  ].forEach((which, hold) => {
    const { poles, known } = alone(which);
    poles.forEach((pole, m) => {
      const { value, variance } = holds[hold]![2 * m]!;
      const sigma = known[m]!.frequencyHz.sigma / pole.frequencyHz;
      expect(Math.abs(value - Math.log(pole.frequencyHz))).toBeLessThan(0.05 * sigma);
      expect(Math.sqrt(variance / 4) / sigma).toBeCloseTo(1, 1);
    });
  });
});
