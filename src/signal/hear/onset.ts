// The moment of first contact, to the sample: where whitened sound stops being what was heard before.
import { addAutocovariance, UNIT_WHITENER, type Whitener, whiten, whitenerFrom } from '../filter/whiten.ts';

const ORDER = 12;
const LEARN_S = 0.15;
const SHORTEST_S = 0.02;
const BACK_S = 0.012;

/**
 * The sample at which a sound begins, by the change of its variance after whitening with the spectrum of the 0.15 s
 * before, be that room or the ring of the tap before; where there are under 20 ms of it nothing is whitened.
 * AIC(k) = k ln var(e[0..k)) + (N - k) ln var(e[k..N)) is least at the onset. Source: N. Maeda, Zisin (J. Seismol. Soc.
 * Japan) 38 (1985) 365; after auto-regressive whitening as in R. Sleeman and T. van Eck, Phys. Earth Planet. Inter. 113
 * (1999) 265 (both from memory).
 * @param samples (n,), full scale = 1
 * @param coarse  a sample within 4 ms before to 10 ms after the onset
 * @param backS   how far before `coarse` the onset may lie, s, where more is known
 * @returns index of the first sample of contact, in [0, n)
 */
export function contactIndex(
  samples: Float32Array,
  sampleRateHz: number,
  coarse: number,
  backS: number = BACK_S,
): number {
  const from = Math.max(0, coarse - Math.round(backS * sampleRateHz));
  const to = Math.min(samples.length, coarse + Math.round(0.004 * sampleRateHz));
  const start = Math.max(0, from - Math.round(LEARN_S * sampleRateHz));
  const stretch = Float64Array.from(samples.subarray(start, to));
  const before = from - start;
  const whitener = before >= SHORTEST_S * sampleRateHz ? whitenerOf(stretch, before) : UNIT_WHITENER;
  const errors = whiten(whitener, stretch, 0, stretch.length, 1).subarray(before);
  let loudest = 0;
  for (const error of errors) loudest = Math.max(loudest, error * error);
  return from + varianceChange(errors, Math.max(1e-9 * loudest, Number.MIN_VALUE));
}

/** The whitener of the first samples of a stretch; none for digital silence. */
function whitenerOf(stretch: Float64Array, length: number): Whitener {
  const sums = new Float64Array(ORDER + 1);
  const count = addAutocovariance(sums, stretch, 0, length);
  const covariance = sums.map((sum) => sum / count);
  covariance[0]! *= 1 + 1e-9; // a pure tone before (hum, a ring) leaves no error to divide by
  return covariance[0]! > 0 ? whitenerFrom(covariance) : UNIT_WHITENER;
}

/**
 * Index at which the mean square of a row changes most credibly (least AIC), in [1, n).
 * @param floor mean square below which all is silence, > 0
 */
function varianceChange(errors: Float64Array, floor: number): number {
  const n = errors.length;
  let total = 0;
  for (const error of errors) total += error * error;
  let before = 0;
  let least = Number.POSITIVE_INFINITY;
  let at = 0;
  for (let k = 1; k < n; k++) {
    before += errors[k - 1]! ** 2;
    const after = Math.max(0, total - before);
    const criterion = k * Math.log(before / k + floor) + (n - k) * Math.log(after / (n - k) + floor);
    if (criterion < least) {
      least = criterion;
      at = k;
    }
  }
  return at;
}
