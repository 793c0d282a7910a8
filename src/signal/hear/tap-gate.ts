// The gate between "something was struck" and "this is a tap to measure by": each reason for refusal, in order.

import type { Refusal, Tap } from '../tap.ts';
import { hasDropOut, isClipped } from './fault.ts';
import { flatness } from './features.ts';
import { type Ring, ringShape } from './ring.ts';
import { breakOf } from './splice.ts';

/** One sound from its strike to the next, or to the end of what is kept. */
export interface Take {
  readonly tap: Tap;
  /** the samples of the tap as they are listened to: without the hum, where it was taken off */
  readonly heard: Float32Array;
  /** low-band and high-band energy from the strike on, one value a millisecond */
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** mean low-band energy of the room before */
  readonly roomPower: number;
  /** the ring was heard for as long as any take lasts, over a room that was known before: nothing cut it short */
  readonly isWhole: boolean;
  /** the audio clock showed that samples were lost in the ring */
  readonly isLossKnown?: boolean;
  /** times of further strikes within the take, s after the first */
  readonly strikes: readonly number[];
}

/** What was measured of a take, and the verdict. */
export interface Judgement {
  readonly ring: Ring;
  /** how much like noise it is, 0 to 1 */
  readonly flatness: number;
  /** undefined: a tap */
  readonly refusal: Refusal | undefined;
}

/** Where the gate stands open: set by the maker where the room or the sound card asks for it. */
export interface TapLimits {
  /** a take is a tap only this far above the room, dB */
  readonly loudEnoughDb: number;
  /** and only if no sample is louder than this, dB re full scale; 0 leaves it to the shape of clipped peaks */
  readonly loudestDb: number;
}

export const USUAL_LIMITS: TapLimits = { loudEnoughDb: 12, loudestDb: 0 };

/** Less of a ring than this, 1 ms a hop, tells nothing of its decay. */
const SHORTEST_HOPS = 120;

/**
 * Flatter than this is no struck thing, and less is enough where a sound stands little over the room, whose own bins then hide
 * what it is. Over 18 dB the flattest of 700 taps (tests/bench/struck.ts, listener-sounds.ts; seeds 1000 to 2260, 5500 to 5511)
 * has 0.036, the least flat of 251 claps, doors and syllables that nothing else keeps out 0.078; under 18 dB the flattest tap has
 * 0.019, the least flat syllable 0.036 (seeds 710000 to 740149, 890000 to 890044).
 */
const NOISY = 0.05;
const NOISY_QUIET = 0.03;
const QUIET_DB = 18;

/** A ring that is not over must have fallen so far, dB: one whole take of a slow piece is enough to read its decay by. */
const FALLEN_DB = 12;
const FALLEN_WHOLE_DB = 8;

/** Judge a take. Thresholds: our own, from the sounds of tests/bench/detection.ts. */
export function judge(take: Take, limits: TapLimits = USUAL_LIMITS): Judgement {
  const { tap } = take;
  const ring = ringShape(take.low, take.high, take.roomPower);
  const likeNoise = flatness(take.heard, tap.sampleRateHz, tap.onsetIndex);
  return { ring, flatness: likeNoise, refusal: refusalOf(take, ring, likeNoise, limits) };
}

function refusalOf(take: Take, ring: Ring, likeNoise: number, limits: TapLimits): Refusal | undefined {
  const { samples, sampleRateHz, onsetIndex } = take.tap;
  if (take.isLossKnown || hasDropOut(samples, sampleRateHz, onsetIndex)) return { because: 'drop-out' };
  if (ring.aboveRoomDb < limits.loudEnoughDb) return { because: 'too-quiet', aboveRoomDb: ring.aboveRoomDb };
  if (take.low.length < SHORTEST_HOPS) return { because: 'decay-cut-short' };
  const soundsLike = otherSound(ring, likeNoise > (ring.aboveRoomDb < QUIET_DB ? NOISY_QUIET : NOISY), take.strikes);
  if (soundsLike !== undefined) return { because: 'not-a-tap', soundsLike };
  const loudEnd = Math.min(samples.length, onsetIndex + Math.round(0.15 * sampleRateHz));
  if (isClipped(samples, onsetIndex, loudEnd) || isLouder(samples, onsetIndex, loudEnd, limits.loudestDb)) {
    return { because: 'clipped' };
  }
  if (ring.cutAtS !== undefined) return { because: 'decay-cut-short' };
  const broken = breakOf(take.heard, sampleRateHz, onsetIndex);
  if (broken?.because === 'damped') return { because: 'decay-cut-short' };
  if (broken?.because === 'spliced') return { because: 'spliced', afterS: broken.atS };
  const again = take.strikes[0] ?? broken?.atS;
  if (again !== undefined) return { because: 'struck-twice', afterS: again };
  if (ring.endAboveRoomDb > 6 && ring.fallDb < (take.isWhole ? FALLEN_WHOLE_DB : FALLEN_DB))
    return { because: 'decay-cut-short' };
  return undefined;
}

/** Whether a sample lies above a limit below full scale; at full scale there is nothing above. */
function isLouder(samples: Float32Array, from: number, to: number, limitDb: number): boolean {
  const limit = 10 ** (limitDb / 20);
  return limitDb < 0 && samples.subarray(from, to).some((x) => Math.abs(x) > limit);
}

/** What a sound is if it cannot be a tap. */
function otherSound(
  ring: Ring,
  noisy: boolean,
  strikes: readonly number[],
): 'speech' | 'clap' | 'scrape' | 'noise' | undefined {
  if (ring.fallDb < 4) return 'noise';
  // a second strike lifts the level too, but once and not far; a voice does it again and again
  const isDouble = strikes.length === 1 && !noisy && ring.swellDb < 10;
  const isFed = ring.swellDb > 6 || (ring.bulgeDb > 9 && ring.cutAtS === undefined);
  if (isFed && !isDouble) return noisy ? 'scrape' : 'speech';
  if (noisy) return 'clap';
  return undefined;
}
