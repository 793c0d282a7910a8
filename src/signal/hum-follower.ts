// Mains hum at the rate of the recording: read from a stretch of room, followed or foretold from sample to sample.
import { type Decimator, decimate, gainAt } from './decimate.ts';
import { type FittedHum, findHum, fitHum, type Hum, mainsOf } from './hum.ts';

/** How fast the follower gives way to what it finds, s: it is a notch of 1 / (pi 0.3) = 1 Hz about each harmonic. */
const GIVES_WAY_S = 0.3;

/** The hum of a stretch of room, its phase counted in samples of the stretch; undefined where there is none. */
export function humOf(room: Float32Array, filter: Decimator): FittedHum | undefined {
  const { samples, sampleRateHz } = decimate(room, room.length - 1 - filter.half, filter);
  const found = findHum(samples, sampleRateHz, 0.45 * sampleRateHz);
  const hum = found && mainsOf(samples, sampleRateHz, found, [[0, samples.length]]);
  return hum && humAt(room, filter, hum);
}

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

/**
 * A stretch of sound without a hum that goes on as it was fitted.
 * @param from sample of the hum's own stretch with which this one begins
 */
export function withoutHum(samples: Float32Array, sampleRateHz: number, hum: FittedHum, from: number): Float32Array {
  const follower = new HumFollower(hum, from, sampleRateHz);
  return samples.map((x) => follower.step(x, true));
}

const circle = (x: number): [number, number] => [Math.cos(x), Math.sin(x)];
