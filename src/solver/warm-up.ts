// The first reading of a worker would take a second, because the engine has not compiled the code yet. A few readings of
// made-up taps while the person still reaches for the piece make the first real one as quick as the rest.
import { fitRound } from '../signal/round.ts';
import type { Tap } from '../signal/tap.ts';

const RATE_HZ = 48_000;
const ONSET = 0.5 * RATE_HZ;
const MODES = [
  [97, 36, 0.1],
  [176, 44, 0.08],
  [203, 52, 0.05],
  [208, 48, 0.04],
  [341, 60, 0.03],
] as const;
/** Readings after which no further one is quicker. */
const READINGS = 3;

/** Reads taps that nobody made, for the compiler's sake. */
export function warmUp(): void {
  for (let reading = 0; reading < READINGS; reading++) fitRound([[tap(reading), tap(reading + 1)]]);
}

/** A few modes in noise (a linear congruential sequence: any will do) and a hum of 50 Hz. */
function tap(seed: number): Tap {
  const samples = new Float32Array(1.7 * RATE_HZ);
  let state = seed + 1;
  for (let n = 0; n < samples.length; n++) {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) | 0;
    const s = (n - ONSET) / RATE_HZ;
    let x = 1e-12 * state + 0.002 * Math.sin(100 * Math.PI * s);
    if (s >= 0)
      for (const [hz, q, size] of MODES)
        x += size * Math.exp((-Math.PI * hz * s) / q) * Math.cos(2 * Math.PI * hz * s + seed);
    samples[n] = x;
  }
  return { samples, sampleRateHz: RATE_HZ, onsetIndex: ONSET };
}
