// The room rings too: its own modes are in every tap and in a hand clap alike. A control clap lists them.
import { difference, type Estimate, estimate } from '../../quantity/estimate.ts';
import { jointFit } from '../agree/joint-fit.ts';
import { decimator } from '../filter/decimate.ts';
import type { Tap } from '../tap.ts';
import { trustedPoles } from './scatter.ts';

/** One resonance of the room. */
export interface RoomPole {
  readonly frequencyHz: Estimate;
  readonly q: Estimate;
}

/** A resonance whose Q is not known to this part is chance: the room's diffuse answer has no modes that one could name. */
const KNOWN_Q = 0.35;
/** Agreement of a pole with the room's: standard deviations, and what the clap's own dense fit may be off by. */
const WITHIN_SIGMAS = 3;
const OFF_BANDWIDTHS = 0.1;
const OFF_LN_Q = 0.15;

/**
 * The room's resonances from a hand clap (or a bursting balloon) in it, the piece put away.
 * @param clap   cut like a tap: the room's noise, the clap, the reverberation
 * @param topHz  listed up to here, Hz
 * @returns ascending in frequency; empty where nothing rings above the noise
 */
export function roomPoles(clap: Tap, topHz = 1200): RoomPole[] {
  const joint = jointFit([clap], [0], decimator(clap.sampleRateHz, topHz), topHz);
  if (joint === undefined) return [];
  return trustedPoles(joint, [0])
    .map(({ stated: { frequencyHz, lnDecay } }) => {
      const q = (Math.PI * frequencyHz.value) / Math.exp(lnDecay.value);
      return { frequencyHz, q: estimate(q, q * lnDecay.sigma) };
    })
    .filter(({ frequencyHz, q }) => frequencyHz.value <= topHz && q.sigma < KNOWN_Q * q.value)
    .sort((a, b) => a.frequencyHz.value - b.frequencyHz.value);
}

/** Whether a pole found in taps is one of the room's: frequency and Q both agree within their uncertainties. */
export function isOfRoom(room: RoomPole, frequencyHz: Estimate, lnQ: Estimate): boolean {
  const f = difference(frequencyHz, room.frequencyHz);
  const q = difference(lnQ, estimate(Math.log(room.q.value), room.q.sigma / room.q.value));
  const bandwidthHz = room.frequencyHz.value / room.q.value;
  return (
    Math.abs(f.value) < WITHIN_SIGMAS * f.sigma + OFF_BANDWIDTHS * bandwidthHz &&
    Math.abs(q.value) < WITHIN_SIGMAS * q.sigma + OFF_LN_Q
  );
}
