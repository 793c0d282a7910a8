// Faults of a recording that no ear at the bench can be trusted to notice: clipping and drop-outs.

/**
 * Whether the sound was clipped: its extreme is a plateau with a corner instead of a rounded top.
 * Near a rounded top the sound falls as the square of the distance, so at three half-widths it has fallen by nine times
 * the depth of the plateau; a cut-off wave falls far more (our derivation). A single sample at full scale, as
 * normalised files have it, is no plateau.
 * @param samples  (n,), full scale = 1
 * @param from, to the stretch to look at, indices
 */
export function isClipped(samples: Float32Array, from: number, to: number): boolean {
  let top = 0;
  let quantum = 1;
  for (let n = from; n < to; n++) {
    top = Math.max(top, Math.abs(samples[n]!));
    const step = n > from ? Math.abs(samples[n]! - samples[n - 1]!) : 0;
    if (step > 0) quantum = Math.min(quantum, step);
  }
  const depth = Math.max(0.002 * top, quantum);
  // in the coarse steps of 8 bits a few neighbours may share the top by chance
  const shortest = quantum > 0.002 * top ? 6 : 3;
  let corners = 0;
  for (let n = from; n < to; n++) {
    const sign = Math.sign(samples[n]!);
    if (sign * samples[n]! < top - depth) continue;
    let end = n;
    while (end < to && sign * samples[end]! >= top - depth) end++;
    const width = end - n;
    if (width >= shortest && n - width >= from && end + width <= to) {
      const fall = top - Math.max(sign * samples[n - width]!, sign * samples[end - 1 + width]!);
      if (fall > 30 * depth) corners++;
    }
    n = end;
  }
  // below full scale (clipped before the converter) one such top may be chance
  return corners >= (top >= 0.97 ? 1 : 2);
}

const SHORTEST_DROP_OUT = 64;

/**
 * Whether a stretch of sound was lost: 64 exact zeros or more with live sound on both sides. A live input does not give
 * such a run, and no counter of the browser tells of it. Digital silence before the strike or after the ring has one
 * dead side and is not a drop-out.
 * @param onsetIndex first sample of contact: silence that ends there is silence before a tap
 */
export function hasDropOut(samples: Float32Array, sampleRateHz: number, onsetIndex: number): boolean {
  const beside = Math.round(0.005 * sampleRateHz);
  let quantum = 1;
  for (const x of samples) if (x !== 0) quantum = Math.min(quantum, Math.abs(x));
  for (let n = 0; n < samples.length; n++) {
    if (samples[n] !== 0) continue;
    let end = n;
    while (end < samples.length && samples[end] === 0) end++;
    const endsAtStrike = Math.abs(end - onsetIndex) < beside;
    // a sound that passes slowly through zero is one step from it at the edges; a lost stretch is cut off anywhere
    const edge = Math.max(Math.abs(samples[n - 1] ?? 0), Math.abs(samples[end] ?? 0));
    if (
      end - n >= SHORTEST_DROP_OUT &&
      !endsAtStrike &&
      edge >= 3 * quantum &&
      isLive(samples, n - beside, n, quantum) &&
      isLive(samples, end, end + beside, quantum)
    ) {
      return true;
    }
    n = end;
  }
  return false;
}

/** Whether a stretch holds sound well above the steps of its number format; false where it leaves the recording. */
function isLive(samples: Float32Array, from: number, to: number, quantum: number): boolean {
  if (from < 0 || to > samples.length) return false;
  let sum = 0;
  for (let n = from; n < to; n++) sum += samples[n]! * samples[n]!;
  return Math.sqrt(sum / (to - from)) >= 4 * quantum;
}
