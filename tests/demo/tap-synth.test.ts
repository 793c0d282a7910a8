import { describe, expect, it } from 'vitest';
import { randomFrom } from '../../src/demo/random.ts';
import { addTap, type PieceMode, quantised, ringTruth, type Strike, shapeAt } from '../../src/demo/tap-synth.ts';

const mode: PieceMode = { frequencyHz: 180, q: 40, level: 0.2 };
const strike: Strike = { onsetS: 0.01, contactS: 0.002, strength: 1, spot: [0.5, 0.5], rustle: 0 };
const RATE = 48_000;

function tapped(changes: Partial<Strike> = {}, modes: readonly PieceMode[] = [mode]): Float64Array {
  const sound = new Float64Array(RATE / 4);
  addTap(sound, RATE, modes, { ...strike, ...changes }, randomFrom(1));
  return sound;
}

/** q'' of q'' + 2 a q' + (a^2 + w^2) q = f by the classical Runge-Kutta method in steps of 1/8 sample: no closed form. */
function integrated(until: number): number[] {
  const omega = 2 * Math.PI * mode.frequencyHz;
  const alpha = (Math.PI * mode.frequencyHz) / mode.q;
  const beta = Math.PI / strike.contactS;
  const force = (t: number) => (t >= 0 && t <= strike.contactS ? (beta / 2) * Math.sin(beta * t) : 0);
  const acceleration = (t: number, q: number, v: number) => force(t) - 2 * alpha * v - (alpha ** 2 + omega ** 2) * q;
  const h = 1 / RATE / 8;
  let [q, v] = [0, 0];
  const out: number[] = [];
  for (let step = 0; step < until * 8; step++) {
    const t = step * h;
    if (step % 8 === 0) out.push((mode.level / omega) * acceleration(t, q, v));
    const [q1, v1] = [v, acceleration(t, q, v)];
    const [q2, v2] = [v + (h / 2) * v1, acceleration(t + h / 2, q + (h / 2) * q1, v + (h / 2) * v1)];
    const [q3, v3] = [v + (h / 2) * v2, acceleration(t + h / 2, q + (h / 2) * q2, v + (h / 2) * v2)];
    const [q4, v4] = [v + h * v3, acceleration(t + h, q + h * q3, v + h * v3)];
    q += (h / 6) * (q1 + 2 * q2 + 2 * q3 + q4);
    v += (h / 6) * (v1 + 2 * v2 + 2 * v3 + v4);
  }
  return out;
}

describe('a synthetic tap', () => {
  it('is the motion that numerical integration of the struck oscillator gives', () => {
    const sound = tapped();
    integrated(2000).forEach((expected, n) => {
      // Runge-Kutta of order 4 errs by some 1e-8 here; where the force ends it has a corner
      expect(sound[n + 480]!).toBeCloseTo(expected, 6);
    });
  });

  it('rings after contact as a damped sinusoid of the stated frequency, Q and amplitude', () => {
    const sound = tapped();
    const [truth] = ringTruth([mode], strike);
    const pole = (Math.PI * mode.frequencyHz) / mode.q;
    const step = (2 * Math.PI * mode.frequencyHz) / RATE;
    for (const n of [600, 2000, 6000]) {
      // x[n+1] + e^(-2a) x[n-1] = 2 e^(-a) cos(w) x[n] for one damped sinusoid
      const decay = Math.exp(-pole / RATE);
      expect(sound[n + 1]! + decay ** 2 * sound[n - 1]!).toBeCloseTo(2 * decay * Math.cos(step) * sound[n]!, 12);
      const quadrature = (sound[n + 1]! / decay - sound[n]! * Math.cos(step)) / Math.sin(step);
      const amplitude = Math.hypot(sound[n]!, quadrature) * Math.exp(pole * (n / RATE - strike.onsetS));
      expect(amplitude / truth!.amplitude).toBeCloseTo(1, 9);
    }
  });

  it('of very short contact rings at the level of its mode, and a longer contact excites less', () => {
    // |s|^2 / w^2 = 1 + 1 / (4 Q^2) for the acceleration of a damped mode
    const ideal = mode.level * (1 + 1 / (4 * mode.q ** 2));
    expect(ringTruth([mode], { ...strike, contactS: 1e-7 })[0]!.amplitude).toBeCloseTo(ideal, 6);
    expect(ringTruth([{ ...mode, frequencyHz: 700 }], { ...strike, contactS: 0.002 })[0]!.amplitude).toBeLessThan(0.06);
  });

  it('is silent before contact, and nothing of a mode is heard when it is tapped on its node line', () => {
    expect(
      tapped()
        .subarray(0, 480)
        .every((x) => x === 0),
    ).toBe(true);
    const dipole: PieceMode = { ...mode, halfWaves: [2, 1] };
    expect(shapeAt(dipole, [0.25, 0.5])).toBeCloseTo(1, 12);
    expect(Math.max(...tapped({}, [dipole]).map(Math.abs))).toBeLessThan(1e-12);
  });

  it('is rounded to the steps of its file format and clipped at its ends', () => {
    expect([...quantised(Float64Array.of(0.5, 2, -2, 1e-6))]).toEqual([0.5, 32_767 / 32_768, -1, 0]);
    expect([...quantised(Float64Array.of(0.5, 2), 8)]).toEqual([0.5, 127 / 128]);
  });
});
