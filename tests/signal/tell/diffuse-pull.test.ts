// The pull of a room's diffuse answer on the poles of a fit: the model against noise drawn and projected by brute force.
import { describe, expect, test } from 'vitest';
import { jointFit } from '../../../src/signal/agree/joint-fit.ts';
import { decimator } from '../../../src/signal/filter/decimate.ts';
import { answerCovariance, type BentMode, diffusePulls } from '../../../src/signal/tell/diffuse-pull.ts';
import { roomAnswer } from '../../../src/signal/tell/room-answer.ts';
import { trustedPoles } from '../../../src/signal/tell/scatter.ts';
import { normal, SIX_MODES, seeded, trueTap } from '../../bench/tap-signals.ts';

const ORDERS = 4;
const STEP = 0.02;
const LENGTH = 1500; // x to 30

/** Laguerre's polynomials of orders 1 to 4 at x. Source: Abramowitz & Stegun, table 22.10. */
const laguerre = (x: number): readonly number[] => [
  1 - x,
  (x * x - 4 * x + 2) / 2,
  (-(x ** 3) + 9 * x * x - 18 * x + 6) / 6,
  (x ** 4 - 16 * x ** 3 + 72 * x * x - 96 * x + 24) / 24,
];

/** Parts, along orders 1 to 4, of a random walk with increments of variance S exp((1 - k / a) x) dx. */
function partsOfWalk(c: number, density: number, random: () => number): { re: number; im: number }[] {
  const parts = Array.from({ length: ORDERS }, () => ({ re: 0, im: 0 }));
  const walk = { re: 0, im: 0 };
  for (let n = 0; n < LENGTH; n++) {
    const x = n * STEP;
    const size = Math.sqrt((density * STEP * Math.exp((2 - c) * x)) / 2);
    walk.re += size * normal(random);
    walk.im += size * normal(random);
    laguerre(x).forEach((value, k) => {
      parts[k]!.re += STEP * Math.exp(-x) * value * walk.re;
      parts[k]!.im += STEP * Math.exp(-x) * value * walk.im;
    });
  }
  return parts;
}

test('the parts of the answer have the covariance that the formula gives', () => {
  const random = seeded(11);
  // k / a of 0.7: a mode and a room of like decays
  const c = 1.7;
  const rounds = 1500;
  const sums = new Float64Array(ORDERS * ORDERS);
  for (let i = 0; i < rounds; i++) {
    const parts = partsOfWalk(c, 1, random);
    parts.forEach((a, k) => {
      parts.forEach((b, l) => {
        sums[k * ORDERS + l]! += (a.re * b.re + a.im * b.im) / rounds;
      });
    });
  }
  const formula = answerCovariance(c, ORDERS);
  for (let k = 0; k < ORDERS; k++) {
    for (let l = 0; l < ORDERS; l++) {
      // standard error of a covariance of complex Gaussians: root of half the product of variances over the rounds; five of them
      const error = Math.sqrt((formula[k * ORDERS + k]! * formula[l * ORDERS + l]!) / rounds);
      expect(Math.abs(sums[k * ORDERS + l]! - formula[k * ORDERS + l]!)).toBeLessThan(5 * error);
    }
  }
});

const SIX: readonly number[] = [8.8, 12, 10.7, 14.8, 14.3, 24];

/** Modes in a room: their true pulls, and what a fit with the given noise would have left of them. */
function round(energyDb: number, t60S: number, noise: number, random: () => number, decaysPerS = SIX) {
  const k = Math.log(1000) / t60S;
  return decaysPerS.map((decayPerS) => {
    const density = (10 ** (energyDb / 10) * k) / decayPerS;
    const parts = energyDb > -200 ? partsOfWalk(1 + k / decayPerS, density, random) : [];
    const noisy = Array.from({ length: ORDERS }, (_, i) => ({
      re: (parts[i]?.re ?? 0) + Math.sqrt(noise / 2) * normal(random),
      im: (parts[i]?.im ?? 0) + Math.sqrt(noise / 2) * normal(random),
      variance: noise,
    }));
    const mode: BentMode = { decayPerS, bends: noisy.slice(1), variance: noise };
    return { mode, pole: noisy[0]! };
  });
}

describe('over many rounds', () => {
  const judge = (energyDb: number, t60S: number, noise: number, decaysPerS = SIX) => {
    const random = seeded(23);
    let held = 0;
    let before = 0;
    let after = 0;
    let all = 0;
    for (let i = 0; i < 60; i++) {
      const modes = round(energyDb, t60S, noise, random, decaysPerS);
      diffusePulls(modes.map(({ mode }) => mode)).forEach(({ re, im, factor }, m) => {
        const { pole } = modes[m]!;
        // what the fit has on it is minus the walk's part along L1
        const error = pole.im - im;
        if (Math.abs(error) < 1.96 * Math.sqrt((factor * noise) / 2)) held++;
        before += pole.re ** 2 + pole.im ** 2;
        after += (pole.re - re) ** 2 + error ** 2;
        all++;
      });
    }
    return { held: held / all, better: before / after };
  };

  test('a room that is heard is taken off slow modes: the error falls to less than half, and the intervals hold', () => {
    const { held, better } = judge(-34, 0.35, 1e-6, [6, 6.5, 7, 7.5, 8, 8.5]);
    expect(better).toBeGreaterThan(4);
    expect(held).toBeGreaterThan(0.92);
    expect(held).toBeLessThan(0.985);
  });

  test('over rooms of every loudness the intervals hold what they say', () => {
    const random = seeded(31);
    const rounds = 150;
    const noise = 1e-4;
    let held = 0;
    for (let i = 0; i < rounds; i++) {
      const modes = round(-75 + 70 * random(), 0.25 * 4 ** random(), noise, random);
      diffusePulls(modes.map(({ mode }) => mode)).forEach(({ im, factor }, m) => {
        if (Math.abs(modes[m]!.pole.im - im) < 1.96 * Math.sqrt((factor * noise) / 2)) held++;
      });
    }
    // Modes of a round are pulled by one room, so rounds count: two to three standard errors of 150 rounds half dependent.
    expect(Math.abs(held / (6 * rounds) - 0.95)).toBeLessThan(0.03);
  });

  test('in a dead room hardly anything is changed', () => {
    const { held, better } = judge(-300, 0.4, 1e-5);
    expect(better).toBeGreaterThan(0.93);
    expect(held).toBeGreaterThan(0.94);
  });

  test('a mode bent by something of its own does not pull the others along', () => {
    const random = seeded(29);
    const dead = round(-300, 0.4, 1e-6, random).map(({ mode }) => mode);
    const calm = diffusePulls(dead);
    const bent = diffusePulls(
      dead.with(2, { ...dead[2]!, bends: dead[2]!.bends.map((bend) => ({ ...bend, re: bend.re + 0.05 })) }),
    );
    expect(bent[2]!.factor).toBeGreaterThan(50 * calm[2]!.factor);
    for (const m of [0, 1, 3, 4, 5]) expect(bent[m]!.factor).toBeLessThan(2 * calm[m]!.factor);
  });
});

test('a fit in a living room comes nearer to the truth in frequency and in decay', () => {
  let raw = 0;
  let told = 0;
  for (let i = 0; i < 4; i++) {
    const random = seeded(70 + i);
    const room = { tail: 0.02, t60S: 0.35, seed: 90 + i };
    const taps = Array.from({ length: 3 }, () => trueTap(SIX_MODES, 60, random, { room }).tap);
    const holdOf = taps.map(() => 0);
    const joint = jointFit(taps, holdOf, decimator(taps[0]!.sampleRateHz, 1200), 1200)!;
    const trusted = trustedPoles(joint, holdOf, roomAnswer(joint));
    for (const { frequencyHz, q } of SIX_MODES) {
      const decayPerS = (Math.PI * frequencyHz) / q;
      const { poles } = joint.fit[0]!;
      const away = poles.map((pole) => Math.abs(pole.frequencyHz - frequencyHz));
      const m = away.indexOf(Math.min(...away));
      const error = (hz: number, lnDecay: number): number =>
        ((2 * Math.PI * (hz - frequencyHz)) / decayPerS) ** 2 + (lnDecay - Math.log(decayPerS)) ** 2;
      const { stated } = trusted[m]!;
      raw += error(poles[m]!.frequencyHz, Math.log(poles[m]!.decayPerS));
      told += error(stated.frequencyHz.value, stated.lnDecay.value);
    }
  }
  expect(told).toBeLessThan(0.6 * raw);
});
