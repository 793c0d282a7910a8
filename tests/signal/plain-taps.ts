// Taps of modes whose every number is known, in white noise: a sum of decays and nothing else.
import { type JointFit, jointFit } from '../../src/signal/agree/joint-fit.ts';
import { decimator } from '../../src/signal/filter/decimate.ts';
import type { Tap } from '../../src/signal/tap.ts';
import { normal, seeded } from '../bench/tap-signals.ts';

export const RATE_HZ = 16_000;
const ONSET = 0.5 * RATE_HZ;

/** One mode: size and phase at the onset. */
export interface PlainMode {
  readonly hz: number;
  readonly q: number;
  readonly size: number;
  readonly phase?: number;
}

/** A tap of half a second of room and a second of decay. @param noise standard deviation, full scale = 1 */
export function plainTap(modes: readonly PlainMode[], noise: number, seed: number): Tap {
  const random = seeded(seed);
  const samples = Float32Array.from({ length: 1.5 * RATE_HZ }, (_, n) => {
    const t = (n - ONSET) / RATE_HZ;
    let sum = noise * normal(random);
    if (t < 0) return sum;
    for (const { hz, q, size, phase = 0 } of modes)
      sum += size * Math.exp((-Math.PI * hz * t) / q) * Math.cos(2 * Math.PI * hz * t + phase);
    return sum;
  });
  return { samples, sampleRateHz: RATE_HZ, onsetIndex: ONSET };
}

/** Their joint fit, the band of a plate. */
export const jointOf = (taps: readonly Tap[], holdOf: readonly number[] = taps.map(() => 0)): JointFit =>
  jointFit(taps, holdOf, decimator(RATE_HZ, 1200), 1200)!;
