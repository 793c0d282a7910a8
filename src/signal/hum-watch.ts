// What the listener knows of the hum: whether there is one far over the room, and the sound without it. A tap is noticed in
// what a follower leaves; it is judged by its sound with the hum taken off afresh, since a hum that stops or jumps rings in
// the follower as a struck thing does.
import { type BandEnergy, BandMeter, energiesOf } from './band.ts';
import { type Decimator, decimator } from './decimate.ts';
import { HumFollower, humAt, humOf, withoutHum } from './hum-follower.ts';
import { decibels } from './room.ts';

/** Room in which a hum is looked for, hops of 1 ms. */
export const HUM_HOPS = 500;
/** What is heard again once a hum was found; the hops before let the bands' filters settle. */
export const HEARD_AGAIN_HOPS = 450;

const TOP_HZ = 1000; // the listener's band is searched whole up to here
const OVER = 10; // a hum that is not so far over the rest of the room, in power, is left in
const GONE = 2; // and one that adds less than this to the room is no more there
const UNSTEADY = 8; // 50 ms of a room's low noise differ by less than this, 9 dB; a ring falls further
const READ_S = 0.2; // with less room before a tap its hum is not known well enough to be taken off

/** The last half second as it is without its hum, and the filters that go on from it. */
interface HeardAgain {
  readonly meter: BandMeter;
  readonly energies: readonly BandEnergy[];
  /** the hum was not followed before */
  readonly isNew: boolean;
}

/** Follows the hum of a stream, where there is one to follow. */
export class HumWatch {
  private readonly sampleRateHz: number;
  private readonly filter: Decimator;
  private follower: HumFollower | undefined;

  constructor(sampleRateHz: number) {
    this.sampleRateHz = sampleRateHz;
    this.filter = decimator(sampleRateHz, TOP_HZ);
  }

  get isFollowing(): boolean {
    return this.follower !== undefined;
  }

  /** Mean square of the hum that is followed, dB re full scale. */
  get levelDb(): number {
    return decibels(this.follower?.hum.amplitudes.reduce((sum, a) => sum + (a * a) / 2, 0) ?? 0);
  }

  /**
   * The next sample, without the hum that is followed.
   * @param isRinging the hum is foretold as it was: a mode beside one of its lines would else be followed too
   */
  step(x: number, isRinging: boolean): number {
    return this.follower === undefined ? x : this.follower.step(x, isRinging);
  }

  /**
   * Looks for a hum in the newest half second.
   * @param room      what was heard last, HUM_HOPS hops
   * @param powerLeft mean square of the low band in it, as it was heard
   * @returns what was heard, where a hum is now followed and nothing but the room lay beside it
   */
  look(room: Float32Array, powerLeft: number): HeardAgain | undefined {
    const hum = humOf(room, this.filter);
    const isNew = this.follower === undefined;
    const power = (): number => mean(energiesOf(room, new BandMeter(this.sampleRateHz)).slice(-HEARD_AGAIN_HOPS));
    if (hum === undefined) {
      if (!isNew && power() < GONE * powerLeft) this.follower = undefined;
      return undefined;
    }
    const meter = new BandMeter(this.sampleRateHz);
    const energies = energiesOf(withoutHum(room, this.sampleRateHz, hum, 0), meter).slice(-HEARD_AGAIN_HOPS);
    if (!isSteady(energies) || (isNew && power() < OVER * mean(energies))) return undefined;
    this.follower = new HumFollower(hum, room.length, this.sampleRateHz);
    return { meter, energies, isNew };
  }

  /**
   * A take without its hum.
   * @param quiet rows before the strike that hold nothing but the room
   * @returns undefined where no hum is followed, or there is too little quiet to read it from
   */
  takeOff(sound: Float32Array, [from, to]: readonly [number, number]): Float32Array | undefined {
    if (this.follower === undefined || to - from < READ_S * this.sampleRateHz) return undefined;
    const hum = humAt(sound.subarray(from, to), this.filter, this.follower.hum);
    return withoutHum(sound, this.sampleRateHz, hum, -from);
  }
}

const mean = (energies: readonly BandEnergy[]): number =>
  energies.reduce((sum, { low }) => sum + low, 0) / energies.length;

/** Whether a stretch held no more than a room: no strike, no ring. */
function isSteady(energies: readonly BandEnergy[]): boolean {
  const powers: number[] = [];
  for (let hop = 0; hop + 50 <= energies.length; hop += 50) powers.push(mean(energies.slice(hop, hop + 50)));
  return Math.max(...powers) < UNSTEADY * Math.min(...powers);
}
