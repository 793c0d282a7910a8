// Mains hum at the rate of the recording: read from a stretch of room, followed or foretold from sample to sample.
import { type Decimator, decimate, decimator, gainAt } from '../filter/decimate.ts';
import { type FittedHum, fitHum, type Hum, MAINS_HZ, mainsOf, type RowRanges } from './hum-fit.ts';

/** Hum is modelled up to here, and the modes that a listener goes by lie below, Hz. */
const TOP_HZ = 1000;
const SHORTEST_S = 0.15;
/** How fast the follower gives way to what it finds, s: it is a notch of 1 / (pi 0.3) = 1 Hz about each harmonic. */
const GIVES_WAY_S = 0.3;

/** Hum is strongest in these; a tone that happens to lie on a higher line is none. */
const LOWEST_LINES = 4;

/** The filter through which hum is fitted, for a rate of recording. */
export const humFilter = (sampleRateHz: number): Decimator => decimator(sampleRateHz, TOP_HZ);

/** Harmonics looked for: those that lie among the modes. */
const HARMONICS = Array.from({ length: 20 }, (_, i) => i + 1);

/**
 * The hum that a stretch of room would hold, if it is of either grid, its phase counted in samples of the stretch. Whether
 * there is one is for its power to say.
 */
export function humOf(room: Float32Array, filter: Decimator): FittedHum | undefined {
  const { samples, sampleRateHz } = decimate(room, room.length - 1 - filter.half, filter);
  if (samples.length < SHORTEST_S * sampleRateHz) return undefined;
  const all: RowRanges = [[0, samples.length]];
  const hums = MAINS_HZ.flatMap((mainsHz) => {
    const harmonics = HARMONICS.filter((k) => k * mainsHz < TOP_HZ);
    return mainsOf(samples, sampleRateHz, { mainsHz, harmonics }, all) ?? [];
  }).map((hum) => humAt(room, filter, hum));
  const [hum] = hums.toSorted((a, b) => powerOf(b) - powerOf(a));
  return hum !== undefined && powerOf(hum, LOWEST_LINES) > powerOf(hum) / 2 ? hum : undefined;
}

/** Mean square of a hum, or of its lowest lines. */
export const powerOf = ({ amplitudes }: FittedHum, lines = HARMONICS.length): number =>
  amplitudes.subarray(0, 2 * lines).reduce((sum, a) => sum + (a * a) / 2, 0);

/** A hum of known frequency as it is in a stretch of room, phase and amplitudes read anew. */
export function humAt(room: Float32Array, filter: Decimator, hum: Hum): FittedHum {
  const last = room.length - 1 - filter.half;
  const { samples, onset, sampleRateHz } = decimate(room, last, filter);
  const seen = fitHum(samples, sampleRateHz, hum, [[0, samples.length]]);
  return {
    ...seen,
    angle: seen.angle / filter.factor,
    centre: last + (seen.centre - onset) * filter.factor,
    amplitudes: seen.amplitudes.map((a, i) => a / gainAt(filter, ((i >> 1) + 1) * hum.mainsHz)),
  };
}

/** Follows a hum and gives what is left of the stream without it. */
export class HumFollower {
  readonly hum: FittedHum;
  private readonly gain: number;
  /** turned once a sample, by harmonic: cos and sin of where it stands, and of its turn */
  private readonly stands: Float64Array;
  private readonly turns: Float64Array;
  /** amplitudes of cos and sin, by harmonic */
  private readonly amplitudes: Float64Array;

  /**
   * @param hum  as found in a stretch
   * @param from sample of that stretch with which the stream begins
   */
  constructor(hum: FittedHum, from: number, sampleRateHz: number) {
    const { harmonics, angle, centre } = hum;
    this.hum = hum;
    this.gain = 2 / (GIVES_WAY_S * sampleRateHz);
    this.stands = Float64Array.from(harmonics.flatMap((k) => circle(k * angle * (from - centre))));
    this.turns = Float64Array.from(harmonics.flatMap((k) => circle(k * angle)));
    this.amplitudes = Float64Array.from(harmonics.flatMap((k) => [...hum.amplitudes.subarray(2 * k - 2, 2 * k)]));
  }

  /**
   * The next sample without its hum. Least mean squares on the quadratures of each harmonic.
   * Source: B. Widrow et al., Proc. IEEE 63 (1975) 1692, section VI (from memory): a notch of half width gain / 2.
   * @param isForetold the hum goes on as it was, whatever is heard
   */
  step(x: number, isForetold: boolean): number {
    const { stands, turns, amplitudes } = this;
    const giveWay = isForetold ? 0 : this.gain;
    let left = x;
    for (let i = 0; i < stands.length; i++) left -= amplitudes[i]! * stands[i]!;
    for (let i = 0; i < stands.length; i += 2) {
      const c = stands[i]!;
      const s = stands[i + 1]!;
      amplitudes[i]! += giveWay * left * c;
      amplitudes[i + 1]! += giveWay * left * s;
      stands[i] = c * turns[i]! - s * turns[i + 1]!;
      stands[i + 1] = s * turns[i]! + c * turns[i + 1]!;
    }
    return left;
  }
}

const circle = (x: number): [number, number] => [Math.cos(x), Math.sin(x)];
