// The mode estimator: damped sinusoids in coloured noise, y = sum A exp(-a t) cos(2 pi f t + p) + noise with Q = pi f / a,
// one joint maximum-likelihood fit over all taps of a round: poles shared, amplitudes and phases free in every tap.

import { holdDisagreement, LOOKED_AT } from './agree/hold-disagreement.ts';
import { fitHeard, type JointFit } from './agree/joint-fit.ts';
import { disagreeing, ringsDown } from './agree/set-aside.ts';
import { FEWEST_TAPS } from './agree/tap-pattern.ts';
import { decimator } from './filter/decimate.ts';
import { hear } from './prepare/hearing.ts';
import { bandOf } from './prepare/reach.ts';
import { recorderFault } from './prepare/recorder.ts';
import { isTapRate, type Mode, type RoundFit, type Tap, type TapPlace } from './tap.ts';
import { withCompanions } from './tell/companion.ts';
import { reportedModes } from './tell/report.ts';
import { ANSWERING_ROOM, roomAnswer } from './tell/room-answer.ts';
import type { RoomPole } from './tell/room-poles.ts';

/** Name and version kept with every stored result. */
export const METHOD = 'joint-varpro 11';

/**
 * In so much of the decay it is asked whether a room answers, s: how a piece is held makes its taps scatter late rather than early.
 * Telling the modes of an answering room from this part alone found 76 and 82 % of those within 20 dB where the whole record, with
 * as many spurious modes, found 84 and 88 % (56 rounds each of tests/bench/rooms.ts, seeds from 734 and 735 million).
 */
const EARLY_S = 0.2;

/** Part of the work that is done when the taps were heard, and when their early part was fitted. */
const HEARD_PART = 0.15;
const EARLY_PART = 0.35;

/** A fit, and how loudly a room answers in its early part; undefined where none does. */
interface Fitted {
  readonly joint: JointFit | undefined;
  readonly early: number | undefined;
}

/** What a caller may ask of a fit. */
export interface FitOptions {
  /** called with the part done, 0 to 1; what it throws ends the fit at once, which is how a caller cancels it */
  readonly onProgress?: (fraction: number) => void;
  /** resonances of the room, see `roomPoles`: they stay in the model and are reported apart */
  readonly roomPoles?: readonly RoomPole[];
  /** lowest and highest frequency reported, Hz; without it chosen from the sound, see `bandOf` */
  readonly bandHz?: readonly [number, number];
  /** every hold counts, even one that the others do not bear out */
  readonly countsEveryHold?: boolean | undefined;
}

/** The modes of one tap. */
export const fitTap = (tap: Tap, options: FitOptions = {}): RoundFit => fitRound([[tap]], options);

/**
 * The modes of a piece from all taps of a round in one joint fit.
 *
 * Steps: decimate, take hum off, whiten with the noise heard before the taps, subspace guesses, variable projection with
 * modes added and shed by significance, taps that disagree set aside, the earliest start free of the contact chosen,
 * companions told, the room's pull taken off, uncertainty from Fisher information, the room, and the scatter of taps and
 * holds. Where the early part shows that a room answers, the taps' pattern tells whose a mode is, instead of how faint it is.
 * Beside them: what the recorder did. Where the holds scatter far beyond the usual each is read by itself, and one that the
 * others do not bear out is left out.
 * @param holds taps by hold (a hold: the piece picked up anew), 8000 to 192000 Hz; those of another sampling rate than
 *              most are set aside
 * @returns modes ascending in frequency; none where the sound does not ring down. sigma of each value is the half width
 *          of its 95 % interval over 1.96, with one hold without the scatter of holding (`scatterKnown` false)
 * @throws RangeError if a sampling rate lies outside 8000 to 192000 Hz, or an onset outside its tap
 */
export function fitRound(holds: readonly (readonly Tap[])[], options: FitOptions = {}): RoundFit {
  const together = fitTogether(holds, options);
  const isScattered = ({ frequencyHz }: Mode): boolean => frequencyHz.sigma > LOOKED_AT * frequencyHz.value;
  const isOdd = together.modes.length === 0 || together.modes.some(isScattered);
  if (options.countsEveryHold || !together.scatterKnown || !isOdd) return together;
  const alone = holds
    .map((taps, hold) => ({ hold, modes: fitTogether([taps], options).modes }))
    .filter(({ modes }) => modes.length > 0);
  const disagreement = holdDisagreement(alone);
  if (disagreement === undefined) return together;
  if (disagreement.hold === undefined) return { ...together, disagreement };
  const others = fitTogether(
    holds.map((taps, hold) => (hold === disagreement.hold ? [] : taps)),
    options,
  );
  const left = holds[disagreement.hold]!.map((_, tap) => ({ hold: disagreement.hold!, tap }));
  return { ...others, setAside: [...others.setAside, ...left], disagreement };
}

function fitTogether(holds: readonly (readonly Tap[])[], options: FitOptions): RoundFit {
  const places: TapPlace[] = holds.flatMap((taps, hold) => taps.map((_, tap) => ({ hold, tap })));
  const taps = holds.flat();
  checkTaps(taps);
  const rateHz = usualRateHz(taps);
  const ringing = [...taps.keys()].filter((k) => taps[k]!.sampleRateHz === rateHz && ringsDown(taps[k]!));
  const recorder = recorderFault(ringing.map((k) => taps[k]!));
  const pick = (which: readonly number[]): RoundFit => ({
    modes: [],
    used: which.map((k) => places[k]!),
    setAside: places.filter((_, k) => !which.includes(k)),
    scatterKnown: new Set(which.map((k) => places[k]!.hold)).size > 1,
    method: METHOD,
    ...(recorder !== undefined && { recorder }),
  });
  if (ringing.length === 0) return pick([]);
  const bandHz = options.bandHz ?? bandOf(ringing.map((k) => taps[k]!));
  const filter = decimator(rateHz, bandHz[1]);
  const progress = options.onProgress ?? (() => {});
  const fitOf = (which: readonly number[]): Fitted => {
    const hearing = hear(
      which.map((k) => taps[k]!),
      filter,
    );
    progress(HEARD_PART);
    const holdOf = which.map((k) => places[k]!.hold);
    const fit = (from: number, to: number, earlyS?: number, mayRingApart?: boolean): JointFit | undefined =>
      fitHeard(hearing, holdOf, bandHz[1], (fraction) => progress(from + fraction * (to - from)), earlyS, mayRingApart);
    if (which.length < FEWEST_TAPS) return { joint: fit(0, 1), early: undefined };
    const first = fit(HEARD_PART, EARLY_PART, EARLY_S);
    const answer = first === undefined ? 0 : roomAnswer(first);
    const early = answer > ANSWERING_ROOM ? answer : undefined;
    return { joint: fit(EARLY_PART, 1, undefined, early === undefined), early };
  };
  let which: readonly number[] = ringing;
  let { joint, early } = fitOf(which);
  const odd =
    joint === undefined
      ? []
      : disagreeing(
          joint,
          which.map((k) => places[k]!.hold),
        );
  if (odd.length > 0) {
    which = which.filter((_, i) => !odd.includes(i));
    ({ joint, early } = fitOf(which));
  }
  if (joint === undefined) return pick(which);
  // What the room answers curves a mode as a companion would.
  if (early === undefined) joint = withCompanions(joint);
  const holdOf = which.map((k) => places[k]!.hold);
  const { ofRoom, ...reported } = reportedModes(joint, holdOf, bandHz, options.roomPoles ?? [], early);
  progress(1);
  return {
    ...pick(which),
    ...reported,
    ...(ofRoom.length > 0 && { ofRoom }),
    ...(joint.hearing.noise.isRungOver && { isRungOver: true }),
  };
}

/** The rate that most taps have: another microphone in mid-round may have brought one of its own. Of equals, the first. */
function usualRateHz(taps: readonly Tap[]): number {
  const having = (rateHz: number) => taps.filter((tap) => tap.sampleRateHz === rateHz).length;
  return taps
    .map((tap) => tap.sampleRateHz)
    .reduce((usual, rateHz) => (having(rateHz) > having(usual) ? rateHz : usual), taps[0]?.sampleRateHz ?? 0);
}

function checkTaps(taps: readonly Tap[]): void {
  for (const { samples, sampleRateHz, onsetIndex } of taps) {
    if (!isTapRate(sampleRateHz)) {
      throw new RangeError(`fitRound: sampling rate ${sampleRateHz} Hz, need 8000 to 192000`);
    }
    if (!(onsetIndex >= 0 && onsetIndex < samples.length)) {
      throw new RangeError(`fitRound: onset ${onsetIndex}, need an index inside ${samples.length} samples`);
    }
  }
}
