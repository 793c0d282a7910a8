// A tap as it was heard: the unit that everything else is made of. Nothing here filters or scales the sound; what the
// microphone gave is what is kept.
import type { Estimate } from '../quantity/estimate.ts';

/** Sampling rates that the listener and the estimator are made for, Hz. */
export const leastRateHz = 8000;
export const mostRateHz = 192_000;

/** Whether sound of this rate can be listened to and read. */
export const isTapRate = (sampleRateHz: number): boolean => sampleRateHz >= leastRateHz && sampleRateHz <= mostRateHz;

/** One tap cut out of a recording, with the room's noise before it. */
export interface Tap {
  /** sound pressure as recorded, (n,), full scale = 1, no filter, no gain */
  readonly samples: Float32Array;
  /** sampling rate, Hz, 8000 to 192000 */
  readonly sampleRateHz: number;
  /** index of the first sample of contact; about 0.5 s of room noise lies before it where the recording had it */
  readonly onsetIndex: number;
}

/** Why a sound was not kept as a tap. */
export type Refusal =
  | { readonly because: 'clipped' }
  | { readonly because: 'too-quiet'; readonly aboveRoomDb: number }
  | { readonly because: 'struck-twice'; readonly afterS: number }
  | { readonly because: 'decay-cut-short' }
  | { readonly because: 'drop-out' }
  /** some of the ring is missing and what was left was joined */
  | { readonly because: 'spliced'; readonly afterS: number }
  | { readonly because: 'not-a-tap'; readonly soundsLike: 'speech' | 'clap' | 'scrape' | 'noise' };

/** What the listener says of one sound, in the order heard. */
export type TapVerdict =
  | { readonly kind: 'accepted'; readonly timeS: number; readonly tap: Tap; readonly aboveRoomDb: number }
  | { readonly kind: 'refused'; readonly timeS: number; readonly refusal: Refusal; readonly tap: Tap };

/** What a mode sounds with at the onset of one tap, full scale = 1. */
export interface Wave {
  readonly cosine: number;
  readonly sine: number;
}

/** One mode of a piece as read from the taps of a round. */
export interface Mode {
  readonly frequencyHz: Estimate;
  readonly q: Estimate;
  /** level at the onset, root mean square over the taps, dB re full scale */
  readonly levelDb: number;
  /** amplitude at the onset of each used tap, full scale = 1, in the order of `RoundFit.used` */
  readonly amplitudes: readonly number[];
  /**
   * the same with its sign: y(t) = exp(-pi f t / Q) (cosine cos(2 pi f t) + sine sin(2 pi f t)), t from the onset of each used
   * tap; absent for a pair, which has none of its own, and in what older programs stored
   */
  readonly waves?: readonly Wave[];
  /** `pair`: two modes too close to be told apart by these taps; the frequency is their common centre */
  readonly resolution: 'single' | 'pair';
  /** probability that it is the piece's and not the room's answer to it; absent where no room answers, and with fewer than three taps */
  readonly ofPiece?: number;
}

/** Which tap of a round: hold (the piece picked up anew) and the tap within it, both from 0. */
export interface TapPlace {
  readonly hold: number;
  readonly tap: number;
}

/**
 * The taps of a round by hold, as a fit takes them; a hold without a tap is empty.
 * @param taps each with its hold, in the order they were made; one whose sound is not here is left out
 */
export function tapsByHold(taps: readonly (readonly [hold: number, tap: Tap | undefined])[]): Tap[][] {
  const holds: Tap[][] = [];
  for (const [hold, tap] of taps) {
    while (holds.length <= hold) holds.push([]);
    if (tap !== undefined) holds[hold]!.push(tap);
  }
  return holds;
}

/**
 * What a recorder was found to do to the sound. How long anything rings cannot be read through a gain or a suppressor; a lossy coder
 * leaves that as it is and writes noise of its own, which may pass for a faint mode.
 */
export const RECORDER_FAULTS = ['gain-control', 'noise-suppression', 'lossy-coding'] as const;
export type RecorderFault = (typeof RECORDER_FAULTS)[number];

/** Whether a Q can be read through a recorder. */
export const leavesQ = (recorder: RecorderFault | undefined): boolean =>
  recorder === undefined || recorder === 'lossy-coding';

/** Sigma over value of a Q that may be any: the interval reaches far below zero, and beside a known one it has no weight. */
const MAY_BE_ANY = 100;

/** A Q as far as it is known: through a recorder that changes how things ring it may be any. */
const qThrough = (recorder: RecorderFault | undefined, q: Estimate): Estimate =>
  leavesQ(recorder) ? q : { value: q.value, sigma: MAY_BE_ANY * q.value };

/** The modes of a fit with each Q as far as it is known; whoever shows or counts a Q takes them from here. */
export const knownModes = <M extends { readonly q: Estimate }>(fit: {
  readonly modes: readonly M[];
  readonly recorder?: RecorderFault | undefined;
}): readonly M[] => fit.modes.map((mode) => ({ ...mode, q: qThrough(fit.recorder, mode.q) }));

/** Holds of a round that do not ring alike. */
export interface HoldDisagreement {
  /** how far the modes lie apart, relative in frequency, root mean square over the modes of both sides: of the odd one from the nearest other, else of the farthest two */
  readonly apart: number;
  /** the one that the others do not bear out; absent where nobody can tell which it is: of two, or of several that all differ */
  readonly hold?: number | undefined;
}

/** The modes of one round: all taps of all holds in one joint fit. */
export interface RoundFit {
  /** ascending in frequency */
  readonly modes: readonly Mode[];
  readonly used: readonly TapPlace[];
  /** taps that disagree with the others and were left out of the fit */
  readonly setAside: readonly TapPlace[];
  /** modes that are the room's own, told by a control clap, and left out of `modes`; absent where there are none */
  readonly ofRoom?: readonly Mode[];
  /** energy of the room's answer over the piece's, dB; present where it is too loud for more than the strongest modes */
  readonly roomAnswerDb?: number;
  /** the tap before still rang before every tap, so that the room's noise is not known and weak modes are lost; else absent */
  readonly isRungOver?: true;
  /** what the recorder did to the sound; absent where nothing was found or nothing can be decided */
  readonly recorder?: RecorderFault;
  /** holds that do not ring alike; absent where they agree. The taps of one that was left out are among `setAside` */
  readonly disagreement?: HoldDisagreement;
  /** true where at least two holds were given, so that sigma holds the scatter of holding the piece anew */
  readonly scatterKnown: boolean;
  /** name and version of the method, kept with every result that is stored */
  readonly method: string;
}
