// The room's noise is not white. An autoregressive model of it, read before the tap, turns it white; a decaying
// sinusoid stays one under such a filter (only its amplitude changes), so the fit that follows is the maximum-likelihood one.

/** Whitens noise of one colour. Row n of the output is sum_j a_j y[n - j] / sigma, with fewer terms while n < order. */
export interface Whitener {
  readonly order: number;
  /**
   * prediction-error filters of order 0..order, (order + 1, order + 1) row-major, each already divided by its own
   * error's standard deviation: the first rows of a record use the lower orders, so that no row is lost
   */
  readonly filters: Float64Array;
}

/** The whitener that changes nothing but the scale. */
export const UNIT_WHITENER: Whitener = { order: 0, filters: Float64Array.of(1) };

/**
 * Whitener from the autocovariance of the noise, by the Levinson-Durbin recursion; the lower-order filters it passes
 * on its way are the rows of the inverse Cholesky factor of the noise's covariance matrix.
 * @param covariance autocovariance at lags 0..order, (order + 1,), covariance[0] > 0
 * Source: Brockwell & Davis, Time Series: Theory and Methods, 2nd ed., proposition 5.2.1.
 */
export function whitenerFrom(covariance: Float64Array): Whitener {
  const order = covariance.length - 1;
  const width = order + 1;
  const filters = new Float64Array(width * width);
  const a = new Float64Array(width);
  const previous = new Float64Array(width);
  a[0] = 1;
  let variance = covariance[0]!;
  filters[0] = 1 / Math.sqrt(variance);
  for (let m = 1; m <= order; m++) {
    let dot = 0;
    for (let j = 0; j < m; j++) dot += a[j]! * covariance[m - j]!;
    const reflection = -dot / variance;
    previous.set(a);
    for (let j = 1; j <= m; j++) a[j] = previous[j]! + reflection * previous[m - j]!;
    variance *= Math.max(1e-9, 1 - reflection * reflection);
    const scale = 1 / Math.sqrt(variance);
    for (let j = 0; j <= m; j++) filters[m * width + j] = a[j]! * scale;
  }
  return { order, filters };
}

/**
 * Whitens a stretch of samples, exact from its first row.
 * @param samples series, `from` .. `from + count` inside it
 * @param scale   multiplies the result (1 / the noise level of this tap relative to the whitener's)
 */
export function whiten(w: Whitener, samples: Float64Array, from: number, count: number, scale: number): Float64Array {
  const width = w.order + 1;
  const out = new Float64Array(count);
  for (let n = 0; n < count; n++) {
    const m = Math.min(n, w.order);
    let sum = 0;
    for (let j = 0; j <= m; j++) sum += w.filters[m * width + j]! * samples[from + n - j]!;
    out[n] = sum * scale;
  }
  return out;
}

/** Power gain of a whitener at a frequency: 1 / (the noise's power there), per row. */
export function powerGain({ order, filters }: Whitener, sampleRateHz: number): (frequencyHz: number) => number {
  return (frequencyHz) => {
    let re = 0;
    let im = 0;
    for (let j = 0; j <= order; j++) {
      const angle = (2 * Math.PI * frequencyHz * j) / sampleRateHz;
      re += filters[order * (order + 1) + j]! * Math.cos(angle);
      im -= filters[order * (order + 1) + j]! * Math.sin(angle);
    }
    return re * re + im * im;
  };
}

/**
 * Adds a stretch's biased autocovariance sums to `sums`; returns how many samples went in.
 * @param sums lags 0..order, (order + 1,)
 */
export function addAutocovariance(sums: Float64Array, x: Float64Array, from: number, to: number): number {
  for (let lag = 0; lag < sums.length; lag++) {
    let sum = 0;
    for (let n = from + lag; n < to; n++) sum += x[n]! * x[n - lag]!;
    sums[lag]! += sum;
  }
  return to - from;
}
