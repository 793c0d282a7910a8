// The usual quick way, for comparison in the bench: the highest bin near a mode, a parabola through three bins, the
// half-power width. It is told where to look, which is an advantage no real use has.
import FFT from 'fft.js';
import type { Tap } from '../../src/signal/tap.ts';

/**
 * Interpolated peak and half-power Q near each given frequency, rectangular window over the decay.
 * Source: parabola on log magnitude, Smith & Serra, Proc. ICMC (1987); Q = f / (half-power width), any text on modal analysis.
 * @param searchHz half width of the search about each frequency
 */
export function pickPeaks(tap: Tap, frequenciesHz: readonly number[], searchHz: number): [number, number][] {
  const { samples, sampleRateHz, onsetIndex } = tap;
  const from = onsetIndex + Math.round(0.004 * sampleRateHz);
  const size = 2 ** Math.ceil(Math.log2(4 * (samples.length - from)));
  const input = new Float64Array(size);
  input.set(samples.subarray(from));
  const out = new Float64Array(2 * size);
  new FFT(size).realTransform(out, input);
  const binHz = sampleRateHz / size;
  const power = (k: number): number => out[2 * k]! ** 2 + out[2 * k + 1]! ** 2;
  return frequenciesHz.map((nearHz) => {
    let at = Math.round((nearHz - searchHz) / binHz);
    for (let k = at; k <= (nearHz + searchHz) / binHz; k++) if (power(k) > power(at)) at = k;
    const [a, b, c] = [at - 1, at, at + 1].map((k) => Math.log(power(k))) as [number, number, number];
    const frequencyHz = (at + (a - c) / (2 * (a - 2 * b + c))) * binHz;
    const halfPower = power(at) / 2;
    const crossing = (step: 1 | -1): number => {
      let k = at;
      while (k > 1 && k < size / 2 - 1 && power(k) > halfPower) k += step;
      const inner = power(k - step);
      return k - step * ((halfPower - power(k)) / (inner - power(k)));
    };
    return [frequencyHz, frequencyHz / ((crossing(1) - crossing(-1)) * binHz)];
  });
}
