// Shapes from taps: with one microphone at rest, the amplitude of a mode over the tapped spots is its shape, up to the strength
// of each tap. First the amplitudes, with their sign, at poles that are known already: no tap is asked to be like another.
import { inverseOfPositive, times } from '../algebra/small-matrix.ts';
import { decimate, decimator, gainAt } from '../signal/filter/decimate.ts';
import type { Pole } from '../signal/pole.ts';
import type { Tap, Wave } from '../signal/tap.ts';

/** What the modes sound with in one tap. */
export interface TapWaves {
  /** cosine and sine of each mode at the onset, full scale = 1, (modes,) */
  readonly waves: readonly Wave[];
  /** of cosine and sine of each mode in turn, (2 modes, 2 modes) */
  readonly covariance: readonly (readonly number[])[];
}

/** A finger's contact is over by then, s (1.5 to 4 ms; common practice, no source). */
const AFTER_CONTACT_S = 0.006;
/** Later there is more noise than ring in a plate of Q 30 and more from 60 Hz on, s. */
const LISTENED_S = 0.6;
/** Room above the highest pole for the filter, share. */
const BAND_OVER_POLES = 1.25;
/** The noise is read beside a mode at these steps, in widths of its line. */
const BESIDE = [-4, -3, 3, 4] as const;

/**
 * Amplitudes of known modes in every tap, by linear least squares on the decimated sound; the noise is read from what is left
 * beside each mode. An error of the onset turns all phases of a tap by 2 pi f tau: `measuredShapes` finds it.
 * @param poles of the modes, (modes,), none above the band of the sound
 * @throws RangeError if two poles are the same, or if a tap is too short for them
 * Source: linear least squares with known poles, Golub & Pereyra, SIAM J. Numer. Anal. 10 (1973) 413.
 */
export const amplitudesAt = (taps: readonly Tap[], poles: readonly Pole[]): TapWaves[] =>
  taps.map((tap) => amplitudesOf(tap, poles));

function amplitudesOf(tap: Tap, poles: readonly Pole[]): TapWaves {
  const topHz = BAND_OVER_POLES * Math.max(...poles.map(({ frequencyHz }) => frequencyHz));
  const filter = decimator(tap.sampleRateHz, topHz);
  const sound = decimate(tap.samples, tap.onsetIndex, filter);
  const rateHz = sound.sampleRateHz;
  const from = Math.ceil(AFTER_CONTACT_S * rateHz + filter.half / filter.factor);
  const last = Math.min(Math.ceil(LISTENED_S * rateHz), sound.samples.length - sound.onset);
  const columns = 2 * poles.length;
  if (!(last - from > 2 * columns))
    throw new RangeError(`amplitudesAt: ${last - from} samples of ring, need more than ${2 * columns}`);
  const ring = Array.from({ length: last - from }, (_, i) => sound.samples[sound.onset + from + i]!);
  const atoms = poles.flatMap((pole) => atomsOf(pole, from, ring.length, rateHz));
  const gram = atoms.map((a) => atoms.map((b) => dot(a, b)));
  const inverse = inverseOfPositive(gram);
  const found = times(
    inverse,
    atoms.map((atom) => dot(atom, ring)),
  );
  const left = ring.map((y, i) => y - atoms.reduce((sum, atom, c) => sum + found[c]! * atom[i]!, 0));
  const listenedS = ring.length / rateHz;
  const noise = poles.map((pole) => Math.sqrt(noiseBeside(pole, left, from, rateHz, listenedS)));
  const gains = poles.map(({ frequencyHz }) => gainAt(filter, frequencyHz));
  return {
    waves: poles.map((_, k) => ({ cosine: found[2 * k]! / gains[k]!, sine: found[2 * k + 1]! / gains[k]! })),
    covariance: inverse.map((row, a) =>
      row.map((each, b) => {
        const [p, q] = [a >> 1, b >> 1];
        return (each * noise[p]! * noise[q]!) / (gains[p]! * gains[q]!);
      }),
    ),
  };
}

function atomsOf({ frequencyHz, decayPerS }: Pole, from: number, count: number, rateHz: number): Float64Array[] {
  const [cosine, sine] = [new Float64Array(count), new Float64Array(count)];
  for (let i = 0; i < count; i++) {
    const timeS = (from + i) / rateHz;
    const decay = Math.exp(-decayPerS * timeS);
    cosine[i] = decay * Math.cos(2 * Math.PI * frequencyHz * timeS);
    sine[i] = decay * Math.sin(2 * Math.PI * frequencyHz * timeS);
  }
  return [cosine, sine];
}

/** Variance per sample of white noise as loud as what is left beside a mode. */
function noiseBeside(pole: Pole, left: readonly number[], from: number, rateHz: number, listenedS: number): number {
  const widthHz = pole.decayPerS / Math.PI + 1 / listenedS;
  const powers = BESIDE.flatMap((step) =>
    atomsOf({ ...pole, frequencyHz: pole.frequencyHz + step * widthHz }, from, left.length, rateHz).map(
      (atom) => dot(atom, left) ** 2 / dot(atom, atom),
    ),
  );
  return powers.reduce((sum, power) => sum + power, 0) / powers.length;
}

function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
