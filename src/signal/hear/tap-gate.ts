// The gate between "something was struck" and "this is a tap to measure by": each reason for refusal, in order.

import type { Refusal, Tap } from '../tap.ts';
import { hasDropOut, isClipped } from './fault.ts';
import { flatness } from './features.ts';
import { type Ring, ringShape } from './ring.ts';
import { type Break, breakOf } from './splice.ts';

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
  /** where the ring does not go on as it was sooner than this after the strike it is spoilt; later the take ends there, s */
  readonly apartS: number;
}

/** What was measured of a take, and the verdict. */
export interface Judgement {
  /** the tap, ended where its ring did not go on as it was */
  readonly tap: Tap;
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

export const USUAL_TAP_LIMITS: TapLimits = { loudEnoughDb: 12, loudestDb: 0 };

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

/** A level that swells or bulges by more than this is fed, dB. */
const FED_SWELL_DB = 6;
const FED_BULGE_DB = 9;
/** A hand takes up to 50 ms to lie on the piece, and a level is the mean of 40 ms: the ring is kept up to so long before, s. */
const BEFORE_HAND_S = 0.05;
/** A level that bulges by less than this until it gives way dies freely, dB: no voice does so for a third of a second. */
const STRAIGHT_DB = 3;

/**
 * Judge a take. What breaks its ring late, a hammer put down or some lost samples, says nothing of the ring before: the take ends
 * there, as it would by the next strike, and is a tap if it is one without the rest.
 * Thresholds: our own, from the sounds of tests/bench/detection.ts.
 */
export function judge(take: Take, limits: TapLimits = USUAL_TAP_LIMITS): Judgement {
  const { tap } = take;
  const ring = ringShape(take.low, take.high, take.roomPower);
  const likeNoise = flatness(take.heard, tap.sampleRateHz, tap.onsetIndex);
  const as = (refusal: Refusal | undefined): Judgement => ({ tap, ring, flatness: likeNoise, refusal });
  const fault = faultOf(take, ring, likeNoise, limits);
  if (fault !== undefined) {
    const givesWayS = givesWayAt(take, ring);
    if (givesWayS === undefined) return as(fault);
    const ended = judge({ ...endedAt(take, givesWayS), isWhole: true }, limits);
    const { fallDb, bulgeDb } = ended.ring;
    if (ended.refusal === undefined && (fallDb >= FALLEN_DB || bulgeDb < STRAIGHT_DB)) return ended;
    return as(ended.refusal?.because === 'decay-cut-short' && bulgeDb < STRAIGHT_DB ? ended.refusal : fault);
  }
  const broken = breakOf(take.heard, tap.sampleRateHz, tap.onsetIndex);
  const spoilt = spoiltBy(take, broken);
  if (broken !== undefined && broken.atS >= take.apartS && take.strikes.length === 0) {
    const ended = judge(endedAt(take, broken.atS), limits);
    // a touch before it is worse; where too little is left to be a tap the break is the reason
    return ended.refusal === undefined || 'afterS' in ended.refusal ? ended : as(spoilt);
  }
  if (spoilt !== undefined) return as(spoilt);
  const isCutShort = ring.endAboveRoomDb > 6 && ring.fallDb < (take.isWhole ? FALLEN_WHOLE_DB : FALLEN_DB);
  return as(isCutShort ? { because: 'decay-cut-short' } : undefined);
}

/**
 * Where a ring gives way that died until then: a hand was laid on the piece, s; undefined where it does not, or too early.
 * A voice gives way as well, but until then it was held up: what is left of it has not fallen far enough, nor in a straight line.
 */
function givesWayAt(take: Take, { swellDb, bulgeDb, bulgeAtS, cutAtS }: Ring): number | undefined {
  const atS = (cutAtS ?? (swellDb <= FED_SWELL_DB && bulgeDb > FED_BULGE_DB ? bulgeAtS : 0)) - BEFORE_HAND_S;
  return atS >= take.apartS && take.strikes.length === 0 && !take.isLossKnown ? atS : undefined;
}

/** What is wrong with a take whatever its ring does later. */
function faultOf(take: Take, ring: Ring, likeNoise: number, limits: TapLimits): Refusal | undefined {
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
  return ring.cutAtS === undefined ? undefined : { because: 'decay-cut-short' };
}

/** Why a take is no tap by a break of its ring, or by further strikes. */
function spoiltBy({ strikes }: Take, broken: Break | undefined): Refusal | undefined {
  if (broken?.because === 'damped') return { because: 'decay-cut-short' };
  if (broken?.because === 'spliced') return { because: 'spliced', afterS: broken.atS };
  const again = strikes[0] ?? broken?.atS;
  return again === undefined ? undefined : { because: 'struck-twice', afterS: again };
}

/** The take up to a time after its contact. */
function endedAt(take: Take, atS: number): Take {
  const { samples, sampleRateHz, onsetIndex } = take.tap;
  const end = onsetIndex + Math.floor(atS * sampleRateHz);
  const hops = Math.floor(1000 * atS);
  return {
    ...take,
    tap: { ...take.tap, samples: samples.slice(0, end) },
    heard: take.heard.subarray(0, end),
    low: take.low.subarray(0, hops),
    high: take.high.subarray(0, hops),
    isWhole: false,
  };
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
  const isFed = ring.swellDb > FED_SWELL_DB || (ring.bulgeDb > FED_BULGE_DB && ring.cutAtS === undefined);
  if (isFed && !isDouble) return noisy ? 'scrape' : 'speech';
  if (noisy) return 'clap';
  return undefined;
}
