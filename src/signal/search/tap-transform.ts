// Sums of a tap against z^n, the one thing in a fit that touches every sample. As a fit settles its poles hardly move, so
// the sums are expanded once about a pole and read from the expansion for every pole nearby.

import type { Pole } from '../pole.ts';
import type { PoleTerms } from './atoms.ts';

/** Terms of the expansion (even), and how far from its middle it is used, in decay rates: the rest is below 1e-15 of the sum. */
const TERMS = 12;
const REACH = 0.05;
/** Terms that give the sums at the middle itself: all that is worth its time where a pole is only passing. */
const PASSING = 2;
/** Samples worked on at a time: few enough to stay in the processor's nearest memory. */
const CHUNK = 256;

/** Sums of one tap about one pole z: sum of y[n] z^n (n a / rate)^k for k = 0, 1 .., re and im interleaved. */
interface Expansion {
  readonly pole: Pole;
  readonly moments: Float64Array;
}

/** Expansions made so far, by tap: the whitened rows of a fit never change. */
const expansions = new WeakMap<Float64Array, Expansion[]>();

const chunkRe = new Float64Array(CHUNK);
const chunkIm = new Float64Array(CHUNK);

/**
 * Inner products of whitened taps with one pole's columns, told tap by tap as f Re, f Im, d Re, d Im: beyond the first rows
 * sum y f = A S0 and sum y d = A S1 + A1 S0 with the sums of {@link seriesAt}.
 */
export function columnProducts(
  { pole, rows, constants: k, head, columns }: PoleTerms,
  sampleRateHz: number,
  taps: readonly Float64Array[],
  tell: (tap: number, fRe: number, fIm: number, dRe: number, dIm: number) => void,
): void {
  const { fRe, fIm, dRe, dIm } = columns;
  const aRe = k[2]!;
  const aIm = k[3]!;
  const about = expansionsAt(taps, pole, sampleRateHz, head, rows);
  const sums = new Float64Array(4);
  taps.forEach((tap, at) => {
    seriesAt(about[at]!, pole, sampleRateHz, sums);
    const s0Re = sums[0]!;
    const s0Im = sums[1]!;
    const s1Re = sums[2]!;
    const s1Im = sums[3]!;
    let ofRe = aRe * s0Re - aIm * s0Im;
    let ofIm = aRe * s0Im + aIm * s0Re;
    let slopeRe = aRe * s1Re - aIm * s1Im + k[4]! * s0Re - k[5]! * s0Im;
    let slopeIm = aRe * s1Im + aIm * s1Re + k[4]! * s0Im + k[5]! * s0Re;
    for (let n = 0; n < head; n++) {
      const y = tap[n]!;
      ofRe += y * fRe[n]!;
      ofIm += y * fIm[n]!;
      slopeRe += y * dRe[n]!;
      slopeIm += y * dIm[n]!;
    }
    tell(at, ofRe, ofIm, slopeRe, slopeIm);
  });
}

/**
 * S0 = sum of y[n] z^n and S1 = sum of n y[n] z^n over the rows of an expansion, z = exp((-decay + 2 pi i f) / rate).
 * With z = z0 exp(d a0 / rate) the sums are power series in d: S0 = sum_k m_k d^k / k!, S1 = (rate / a0) sum_k m_(k+1) d^k / k!.
 * @param out S0 re, S0 im, S1 re, S1 im
 * Source: our derivation (Taylor); tests/signal/search/atoms.test.ts adds the rows one by one.
 */
function seriesAt({ pole: middle, moments }: Expansion, pole: Pole, sampleRateHz: number, out: Float64Array): void {
  const scale = middle.decayPerS > 0 ? 1 / middle.decayPerS : 0;
  const dRe = (middle.decayPerS - pole.decayPerS) * scale;
  const dIm = 2 * Math.PI * (pole.frequencyHz - middle.frequencyHz) * scale;
  out.fill(0);
  let re = 1;
  let im = 0;
  const terms = moments.length / 2;
  for (let k = 0; k < terms; k++) {
    const mRe = moments[2 * k]!;
    const mIm = moments[2 * k + 1]!;
    out[0]! += re * mRe - im * mIm;
    out[1]! += re * mIm + im * mRe;
    if (k + 1 === terms) break;
    const nRe = moments[2 * k + 2]!;
    const nIm = moments[2 * k + 3]!;
    out[2]! += re * nRe - im * nIm;
    out[3]! += re * nIm + im * nRe;
    const next = (re * dRe - im * dIm) / (k + 1);
    im = (re * dIm + im * dRe) / (k + 1);
    re = next;
  }
  out[2]! *= sampleRateHz * scale;
  out[3]! *= sampleRateHz * scale;
}

/** The expansion of each tap to read a pole's sums from; those that are missing are made in one pass over the rows. */
function expansionsAt(
  taps: readonly Float64Array[],
  pole: Pole,
  sampleRateHz: number,
  from: number,
  to: number,
): readonly Expansion[] {
  const missing: number[][] = [[], []];
  // taps of one group have been asked for the same poles, one after the other
  let place = -1;
  const found = taps.map((y, k) => {
    const alike = place >= 0 ? expansions.get(y)?.[place] : undefined;
    const first = place >= 0 ? expansions.get(taps[0]!)![place]! : undefined;
    if (alike !== undefined && alike.pole === first!.pole && alike.moments.length === first!.moments.length)
      return alike;
    const one = knownAt(y, pole);
    if (typeof one === 'number') missing[one === PASSING ? 0 : 1]!.push(k);
    else if (k === 0) place = expansions.get(y)!.lastIndexOf(one);
    return one;
  });
  missing.forEach((which, long) => {
    if (which.length === 0) return;
    const ys = which.map((k) => taps[k]!);
    const moments = momentsOf(ys, pole, sampleRateHz, from, to, long === 0 ? PASSING : TERMS);
    which.forEach((k, i) => {
      const made = { pole, moments: moments[i]! };
      found[k] = made;
      expansions.get(taps[k]!)!.push(made);
    });
  });
  return found as Expansion[];
}

/** A tap's expansion in reach of a pole, else how many terms to make: few here, many where the pole has been before. */
function knownAt(y: Float64Array, pole: Pole): Expansion | number {
  const known = expansions.get(y);
  if (known === undefined) {
    expansions.set(y, []);
    return PASSING;
  }
  let terms = PASSING;
  for (let i = known.length - 1; i >= 0; i--) {
    const one = known[i]!;
    const turn = 2 * Math.PI * (one.pole.frequencyHz - pole.frequencyHz);
    const fall = one.pole.decayPerS - pole.decayPerS;
    const apart = turn * turn + fall * fall;
    if (apart === 0) return one;
    if (apart > (REACH * one.pole.decayPerS) ** 2) continue;
    if (one.moments.length === 2 * TERMS) return one;
    terms = TERMS;
  }
  return terms;
}

/** z^n and the decays past at the rows of one chunk: the same for all taps. */
const chunkZRe = new Float64Array(CHUNK);
const chunkZIm = new Float64Array(CHUNK);

/** The moments of each tap about a pole, see {@link Expansion}. */
function momentsOf(
  taps: readonly Float64Array[],
  pole: Pole,
  sampleRateHz: number,
  from: number,
  to: number,
  terms: number,
): Float64Array[] {
  const moments = taps.map(() => new Float64Array(2 * terms));
  const step = pole.decayPerS / sampleRateHz;
  const angle = (2 * Math.PI * pole.frequencyHz) / sampleRateHz;
  const size = Math.exp(-step);
  const zRe = size * Math.cos(angle);
  const zIm = size * Math.sin(angle);
  for (let start = from; start < to; start += CHUNK) {
    const count = Math.min(CHUNK, to - start);
    // begun anew in every chunk, so that rounding does not add up
    let re = Math.exp(-step * start) * Math.cos(angle * start);
    let im = Math.exp(-step * start) * Math.sin(angle * start);
    for (let i = 0; i < count; i++) {
      chunkZRe[i] = re;
      chunkZIm[i] = im;
      const next = re * zRe - im * zIm;
      im = re * zIm + im * zRe;
      re = next;
    }
    taps.forEach((y, k) => {
      addChunk(moments[k]!, y, start, count, step, terms);
    });
  }
  return moments;
}

/** Adds one chunk of a tap to its moments. */
function addChunk(
  moments: Float64Array,
  y: Float64Array,
  start: number,
  count: number,
  step: number,
  terms: number,
): void {
  let evenRe = 0;
  let evenIm = 0;
  let oddRe = 0;
  let oddIm = 0;
  for (let i = 0; i < count; i++) {
    const x = y[start + i]!;
    const t = (start + i) * step;
    const wRe = x * chunkZRe[i]!;
    const wIm = x * chunkZIm[i]!;
    evenRe += wRe;
    evenIm += wIm;
    oddRe += wRe * t;
    oddIm += wIm * t;
    if (terms > PASSING) {
      chunkRe[i] = wRe * t * t;
      chunkIm[i] = wIm * t * t;
    }
  }
  add(moments, 0, evenRe, evenIm, oddRe, oddIm);
  for (let k = 2; k < terms; k += 2) {
    evenRe = 0;
    evenIm = 0;
    oddRe = 0;
    oddIm = 0;
    for (let i = 0; i < count; i++) {
      const t = (start + i) * step;
      const wRe = chunkRe[i]!;
      const wIm = chunkIm[i]!;
      const uRe = wRe * t;
      const uIm = wIm * t;
      evenRe += wRe;
      evenIm += wIm;
      oddRe += uRe;
      oddIm += uIm;
      chunkRe[i] = uRe * t;
      chunkIm[i] = uIm * t;
    }
    add(moments, k, evenRe, evenIm, oddRe, oddIm);
  }
}

/** Adds to the moments k (even) and k + 1. */
function add(moments: Float64Array, k: number, evenRe: number, evenIm: number, oddRe: number, oddIm: number): void {
  moments[2 * k]! += evenRe;
  moments[2 * k + 1]! += evenIm;
  moments[2 * k + 2]! += oddRe;
  moments[2 * k + 3]! += oddIm;
}
