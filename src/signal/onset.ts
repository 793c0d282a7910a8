// The moment of first contact, to the sample: where whitened sound stops being room.

const ORDER = 12;

/**
 * The sample at which a sound begins, by the change of its variance after whitening with the room's own spectrum.
 * AIC(k) = k ln var(e[0..k)) + (N - k) ln var(e[k..N)) is least at the onset. Source: N. Maeda, Zisin (J. Seismol. Soc.
 * Japan) 38 (1985) 365; after auto-regressive whitening as in R. Sleeman and T. van Eck, Phys. Earth Planet. Inter. 113
 * (1999) 265 (both from memory).
 * @param samples  (n,), full scale = 1
 * @param coarse   a sample within 10 ms of the onset
 * @param roomFrom first sample of room before the sound; where there are under 20 ms of it nothing is whitened
 * @returns index of the first sample of contact, in [0, n)
 */
export function contactIndex(samples: Float32Array, sampleRateHz: number, coarse: number, roomFrom: number): number {
  const guard = Math.round(0.012 * sampleRateHz);
  const from = Math.max(0, coarse - guard);
  const to = Math.min(samples.length, coarse + Math.round(0.004 * sampleRateHz));
  const room = samples.subarray(Math.max(0, roomFrom), from);
  const predictor = room.length >= 0.02 * sampleRateHz ? linearPrediction(room) : new Float64Array(0);
  const errors = new Float64Array(to - from);
  let floor = 1e-14; // a millionth of an 8-bit step: what digital silence counts as
  for (let n = from; n < to; n++) {
    let error = samples[n]!;
    for (let k = 0; k < predictor.length && n - k - 1 >= 0; k++) error -= predictor[k]! * samples[n - k - 1]!;
    errors[n - from] = error * error;
    floor = Math.max(floor, 1e-9 * error * error);
  }
  return from + varianceChange(errors, floor);
}

/** Index at which the mean of a row of squares changes most credibly (least AIC), at least 1 from the ends. */
function varianceChange(squares: Float64Array, floor: number): number {
  const n = squares.length;
  let total = 0;
  for (const square of squares) total += square;
  let before = 0;
  let best = Number.POSITIVE_INFINITY;
  let at = 0;
  for (let k = 1; k < n; k++) {
    before += squares[k - 1]!;
    const criterion =
      k * Math.log(before / k + floor) + (n - k) * Math.log(Math.max(0, total - before) / (n - k) + floor);
    if (criterion < best) {
      best = criterion;
      at = k;
    }
  }
  return at;
}

/**
 * Coefficients that predict a sample from those before it, (order,).
 * Source: Levinson-Durbin recursion, e.g. J. Makhoul, Proc. IEEE 63 (1975) 561, eq. 38.
 */
function linearPrediction(room: Float32Array): Float64Array {
  const r = new Float64Array(ORDER + 1);
  for (let lag = 0; lag <= ORDER; lag++) {
    let sum = 0;
    for (let n = lag; n < room.length; n++) sum += room[n]! * room[n - lag]!;
    r[lag] = sum;
  }
  const a = new Float64Array(ORDER);
  let error = r[0]! * (1 + 1e-9);
  if (error <= 0) return new Float64Array(0);
  const before = new Float64Array(ORDER);
  for (let i = 0; i < ORDER; i++) {
    let reflection = r[i + 1]!;
    for (let k = 0; k < i; k++) reflection -= a[k]! * r[i - k]!;
    reflection /= error;
    before.set(a);
    a[i] = reflection;
    for (let k = 0; k < i; k++) a[k] = before[k]! - reflection * before[i - 1 - k]!;
    error *= 1 - reflection * reflection;
    if (error <= 0) break;
  }
  return a;
}
