// What the listener knows of the hum: whether there is one far over the room, and the sound without it. A tap is noticed in
// what a follower leaves; it is judged by its sound with the hum taken off afresh, since a hum that stops or jumps rings in
// the follower as a struck thing does.
import { type BandEnergy, BandMeter, energiesOf } from '../filter/band.ts';
import type { Decimator } from '../filter/decimate.ts';
import { type FittedHum, subtractHum } from './hum-fit.ts';
import { HumFollower, humAt, humFilter, humOf, powerOf } from './hum-follower.ts';
import { decibels } from './room.ts';

/** Room in which a hum is looked for, hops of 1 ms. */
export const HUM_HOPS = 500;
/** What is heard again once a hum was found; the hops before let the bands' filters settle. */
export const HEARD_AGAIN_HOPS = 450;

const OVER = 10; // a hum that is not so far over the rest of the room, in power, is left in
const THERE = 0.5; // and one of less than this part of what is heard is none, or no more there
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
    this.filter = humFilter(sampleRateHz);
  }

  get isFollowing(): boolean {
    return this.follower !== undefined;
  }

  /** Mean square of the hum that is followed, dB re full scale. */
  get levelDb(): number {
    return decibels(this.follower === undefined ? 0 : powerOf(this.follower.hum));
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
    const isThere = hum !== undefined && powerOf(hum) > THERE * powerLeft;
    if (isNew && !isThere) return undefined;
    const meter = new BandMeter(this.sampleRateHz);
    const left = hum === undefined ? room : without(hum, room, 0);
    const energies = energiesOf(left, meter).slice(-HEARD_AGAIN_HOPS);
    if (!isSteady(energies) || (isNew && powerLeft < OVER * mean(energies))) return undefined;
    this.follower = isThere ? new HumFollower(hum, room.length, this.sampleRateHz) : undefined;
    return isThere ? { meter, energies, isNew } : undefined;
  }

  /**
   * A take without its hum.
   * @param quiet rows before the strike that hold nothing but the room
   * @returns undefined where no hum is followed, or there is too little quiet to read it from
   */
  takeOff(sound: Float32Array, [from, to]: readonly [number, number]): Float32Array | undefined {
    if (this.follower === undefined || to - from < READ_S * this.sampleRateHz) return undefined;
    const hum = humAt(sound.subarray(from, to), this.filter, this.follower.hum);
    return without(hum, sound, -from);
  }
}

/** A copy of a sound without a hum that goes on as it was fitted. @param from row of the hum's stretch with which it begins */
function without(hum: FittedHum, sound: Float32Array, from: number): Float32Array {
  const left = sound.slice();
  subtractHum(left, hum, from);
  return left;
}

const mean = (energies: readonly BandEnergy[]): number =>
  energies.reduce((sum, { low }) => sum + low, 0) / energies.length;

/** Whether a stretch held no more than a room: no strike, no ring. */
function isSteady(energies: readonly BandEnergy[]): boolean {
  const powers: number[] = [];
  for (let hop = 0; hop + 50 <= energies.length; hop += 50) powers.push(mean(energies.slice(hop, hop + 50)));
  return Math.max(...powers) <= UNSTEADY * Math.min(...powers);
}
