// Synthetic taps with known truth: a plate's modes struck by a finger of finite contact time, heard as sound pressure.
// The physics: each mode is a damped oscillator driven by the contact force at the tap spot; the far sound pressure of
// a vibrating surface follows its acceleration (Rayleigh integral; Fahy & Gardonio 2007, section 3.3).
import type { Random } from './random.ts';

/** One mode of an invented piece. */
export interface PieceMode {
  readonly frequencyHz: number;
  readonly q: number;
  /** amplitude of the ring for an ideal impulse at an antinode, full scale = 1 */
  readonly level: number;
  /** half waves along and across the piece, 1 or more; absent: the same amplitude wherever it is tapped */
  readonly halfWaves?: readonly [number, number];
}

/** Where a piece is tapped, as shares of its length and width, 0 to 1. */
export type Spot = readonly [number, number];

/** How one tap is made. */
export interface Strike {
  /** time of first contact, s, need not fall on a sample */
  readonly onsetS: number;
  /** contact time, s: about 0.003 for a finger pad, 0.001 for a knuckle (common practice, no source) */
  readonly contactS: number;
  /** strength against a normal tap, 1 = as the mode levels say */
  readonly strength: number;
  readonly spot: Spot;
  /** peak of the contact's own rustle (skin on wood, broadband) over the strongest mode; 0 for none */
  readonly rustle: number;
}

/**
 * The share of a mode's antinode amplitude found at a spot of a rectangular plate with hinged rim, -1 to 1.
 * Source: A. W. Leissa, Vibration of Plates, NASA SP-160 (1969), eq. 4.19: W = sin(m pi x / a) sin(n pi y / b).
 */
export function shapeAt(mode: PieceMode, spot: Spot): number {
  if (mode.halfWaves === undefined) return 1;
  return Math.sin(mode.halfWaves[0] * Math.PI * spot[0]) * Math.sin(mode.halfWaves[1] * Math.PI * spot[1]);
}

/** What the free ring of one struck mode is, extrapolated back to first contact. */
export interface RingTruth {
  readonly frequencyHz: number;
  readonly q: number;
  /** amplitude at first contact, full scale = 1 */
  readonly amplitude: number;
}

/**
 * The pole s and the state of one mode at the end of a half-sine contact force of unit impulse.
 * Closed form of z(t) = integral of e^(s (t - u)) f(u) du with f = (pi / 2 T) sin(pi u / T): our derivation, checked
 * against numerical integration in tests/demo/tap-synth.test.ts.
 */
function contactResponse(mode: PieceMode, contactS: number) {
  const omega0 = 2 * Math.PI * mode.frequencyHz;
  const alpha = omega0 / (2 * mode.q);
  // the frequency of a mode is that of its ring (damped), so that truth and estimate speak of the same number
  const beta = Math.PI / contactS;
  const sqRe = alpha * alpha - omega0 * omega0 + beta * beta;
  const sqIm = -2 * alpha * omega0;
  const scale = beta / 2 / (sqRe * sqRe + sqIm * sqIm);
  /** z at time t of the contact, as [re, im] */
  const during = (t: number): [number, number] => {
    const decay = Math.exp(-alpha * t);
    const re = beta * (decay * Math.cos(omega0 * t) - Math.cos(beta * t)) + alpha * Math.sin(beta * t);
    const im = beta * decay * Math.sin(omega0 * t) - omega0 * Math.sin(beta * t);
    return [(re * sqRe + im * sqIm) * scale, (im * sqRe - re * sqIm) * scale];
  };
  return { omega: omega0, alpha, during, end: during(contactS) };
}

/** The free ring of each mode after a strike: the truth an estimator is held against. */
export function ringTruth(modes: readonly PieceMode[], strike: Strike): RingTruth[] {
  return modes.map((mode) => {
    const { omega, alpha, end } = contactResponse(mode, strike.contactS);
    const weight = (mode.level * strike.strength * Math.abs(shapeAt(mode, strike.spot))) / omega;
    const growth = (alpha * alpha + omega * omega) / omega;
    return {
      frequencyHz: mode.frequencyHz,
      q: mode.q,
      amplitude: weight * growth * Math.hypot(...end) * Math.exp(alpha * strike.contactS),
    };
  });
}

/**
 * Add one tap to a sound: p(t) = sum of w_m q_m''(t) with q'' = f - 2 a q' - (a^2 + w^2) q, a = pi f / Q, the
 * acceleration of each mode under the contact force; after contact exactly a sum of damped sinusoids. The force is a
 * half sine: F. Goldsmith-type contact, W. Goldsmith, Impact (1960), section 4.2 (from memory).
 * @param sound        added to in place, (n,)
 * @param sampleRateHz Hz
 */
export function addTap(
  sound: Float64Array,
  sampleRateHz: number,
  modes: readonly PieceMode[],
  strike: Strike,
  chance: Random,
): void {
  const first = Math.max(0, Math.ceil(strike.onsetS * sampleRateHz));
  const beta = Math.PI / strike.contactS;
  let strongest = 0;
  for (const mode of modes) {
    const shape = shapeAt(mode, strike.spot);
    const { omega, alpha, during, end } = contactResponse(mode, strike.contactS);
    const weight = (mode.level * strike.strength * shape) / omega;
    strongest = Math.max(strongest, Math.abs(weight * omega));
    const stiffness = alpha * alpha + omega * omega;
    let n = first;
    for (; n < sound.length; n++) {
      const t = n / sampleRateHz - strike.onsetS;
      if (t > strike.contactS) break;
      const [re, im] = during(t);
      const displacement = im / omega;
      const velocity = re - alpha * displacement;
      const force = (beta / 2) * Math.sin(beta * t);
      sound[n] = sound[n]! + weight * (force - 2 * alpha * velocity - stiffness * displacement);
    }
    // free ring: the state turns by the pole once a sample
    const turn = Math.exp(-alpha / sampleRateHz);
    const turnRe = turn * Math.cos(omega / sampleRateHz);
    const turnIm = turn * Math.sin(omega / sampleRateHz);
    const rest = n / sampleRateHz - strike.onsetS - strike.contactS;
    const grown = Math.exp(-alpha * rest);
    let re = grown * (end[0] * Math.cos(omega * rest) - end[1] * Math.sin(omega * rest));
    let im = grown * (end[0] * Math.sin(omega * rest) + end[1] * Math.cos(omega * rest));
    for (; n < sound.length; n++) {
      const displacement = im / omega;
      const velocity = re - alpha * displacement;
      sound[n] = sound[n]! - weight * (2 * alpha * velocity + stiffness * displacement);
      const turned = re * turnRe - im * turnIm;
      im = re * turnIm + im * turnRe;
      re = turned;
    }
  }
  const last = Math.min(sound.length, Math.floor((strike.onsetS + strike.contactS) * sampleRateHz) + 1);
  for (let n = first; n < last; n++) {
    const press = Math.max(0, Math.sin(beta * (n / sampleRateHz - strike.onsetS)));
    sound[n] = sound[n]! + strike.rustle * strongest * press * 0.4 * chance.normal();
  }
}

/**
 * The nearest sound a 16-bit file can hold, without dither.
 * @returns (n,), full scale = 1, clipped to the range of the format
 */
export function quantised(sound: Float64Array, bits: 8 | 16 | 24 = 16): Float32Array {
  const full = 2 ** (bits - 1);
  return Float32Array.from(sound, (x) => Math.max(-full, Math.min(full - 1, Math.round(x * full))) / full);
}
