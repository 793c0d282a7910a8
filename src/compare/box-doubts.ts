// Rounds of the box that were not taken as they are noted: each state is checked against all peaks of its round, named or not, and
// against the ruler.
import type { BoxFound } from '../box/inverse.ts';
import type { Estimate } from '../quantity/estimate.ts';
import type { CavityResult } from './box-cavity.ts';
import { isAirByRuler, type StateRound } from './box-evidence.ts';
import type { BoxState } from './box-state.ts';

export type BoxDoubt =
  /** with the hole blocked the air's peak is still there */
  | { readonly kind: 'hole-not-blocked'; readonly roundId: string; readonly airHz: Estimate }
  /** the air's peak is in the round of the blocked hole, and not in that of the box as it is */
  | { readonly kind: 'holes-exchanged'; readonly roundId: string }
  /** what is called the air lies where air in a box of these sizes cannot */
  | {
      readonly kind: 'air-not-by-ruler';
      readonly roundId: string;
      readonly state: BoxState;
      readonly calledHz: Estimate;
      readonly ownHz: Estimate;
    }
  /** with the back pressed every peak is where it was and rings as long */
  | { readonly kind: 'back-not-held'; readonly roundId: string }
  /** the top that follows from the lump is larger or heavier, or smaller, than any top in this outline */
  | {
      readonly kind: 'lump-misweighed';
      readonly looks: 'too-light' | 'too-heavy';
      readonly massKg: Estimate;
      readonly areaM2: Estimate;
    };

/** A peak that is still there lies within three sigma or this share of where it was. */
const SAME_SHARE = 0.01;
/** What is left of the air's peak through a card that is not tight is weaker than this beside the loudest peak, dB. */
const STILL_THERE_DB = 15;
/**
 * A whole top with braces and bridge weighs no more than the first, over its plan area, and as a piston it moves with a part of
 * it; with less than the second none does. Common practice, no source.
 */
const HEAVIEST_TOP_KG_M2 = 2.5;
const LIGHTEST_TOP_KG_M2 = 0.12;

/** What looks to have been done otherwise than noted, in the order of the rounds. */
export function roundDoubts(rounds: readonly StateRound[], cavity: CavityResult): readonly BoxDoubt[] {
  const open = rounds.find(({ state }) => state === 'open');
  return rounds.flatMap((round) => [
    ...(cavity.kind === 'cavity' ? airElsewhere(round, cavity.ownHz) : []),
    ...(cavity.kind === 'cavity' && open !== undefined ? exchanged(open, round, cavity.ownHz) : []),
    ...(open === undefined ? [] : [...stillOpen(open, round), ...backFree(open, round)]),
  ]);
}

const refuting: readonly BoxDoubt['kind'][] = ['hole-not-blocked', 'holes-exchanged', 'back-not-held'];

/** A round that a doubt takes its state from; nothing follows from it. */
export const isRefuted = (doubts: readonly BoxDoubt[], { round }: StateRound): boolean =>
  doubts.some(
    (doubt) => refuting.some((kind) => kind === doubt.kind) && 'roundId' in doubt && doubt.roundId === round.id,
  );

function airElsewhere({ round, state, peaks }: StateRound, ownHz: Estimate): readonly BoxDoubt[] {
  const air = peaks.find(({ label }) => label === 'air');
  if (state === 'blocked' || air === undefined || isAirByRuler(air.frequencyHz.value, ownHz)) return [];
  return [{ kind: 'air-not-by-ruler', roundId: round.id, state, calledHz: air.frequencyHz, ownHz }];
}

function exchanged(open: StateRound, shut: StateRound, ownHz: Estimate): readonly BoxDoubt[] {
  const hasAir = ({ peaks }: StateRound) => peaks.some(({ frequencyHz: { value } }) => isAirByRuler(value, ownHz));
  return shut.state === 'blocked' && hasAir(shut) && !hasAir(open)
    ? [{ kind: 'holes-exchanged', roundId: shut.round.id }]
    : [];
}

const loudestDb = ({ peaks }: StateRound): number => Math.max(...peaks.map(({ levelDb }) => levelDb));

const isAt = (a: Estimate, b: Estimate): boolean =>
  Math.abs(a.value - b.value) <= Math.max(3 * Math.hypot(a.sigma, b.sigma), SAME_SHARE * b.value);

function stillOpen(open: StateRound, shut: StateRound): readonly BoxDoubt[] {
  const air = open.peaks.find(({ label }) => label === 'air');
  if (shut.state !== 'blocked' || air === undefined) return [];
  const before = air.levelDb - loudestDb(open);
  const there = shut.peaks.find(({ frequencyHz }) => isAt(frequencyHz, air.frequencyHz));
  if (there === undefined || there.levelDb - loudestDb(shut) < before - STILL_THERE_DB) return [];
  return [{ kind: 'hole-not-blocked', roundId: shut.round.id, airHz: there.frequencyHz }];
}

const isAlike = (a: Estimate, b: Estimate): boolean => Math.abs(a.value - b.value) <= 2 * Math.hypot(a.sigma, b.sigma);

function backFree(open: StateRound, damped: StateRound): readonly BoxDoubt[] {
  if (damped.state !== 'back-damped' || !open.peaks.some(({ label }) => label === 'back')) return [];
  const named = open.peaks.filter(({ label }) => label !== 'other');
  const isUntouched = named.every((before) => {
    const now = damped.peaks.find(({ frequencyHz }) => isAlike(frequencyHz, before.frequencyHz));
    return now !== undefined && isAlike(now.q, before.q);
  });
  return isUntouched ? [{ kind: 'back-not-held', roundId: damped.round.id }] : [];
}

/** What follows from the lump, held against the outline. */
export function lumpDoubts(cavity: CavityResult, found: BoxFound | undefined): readonly BoxDoubt[] {
  if (cavity.kind !== 'cavity' || cavity.planAreaM2 === undefined || found?.kind !== 'solved') return [];
  const { effective } = found.top;
  if (effective === undefined) return [];
  const { massKg, areaM2 } = effective;
  const least = (of: Estimate) => of.value - 2 * of.sigma;
  const most = (of: Estimate) => of.value + 2 * of.sigma;
  const isTooMuch = least(areaM2) > cavity.planAreaM2 || least(massKg) > HEAVIEST_TOP_KG_M2 * cavity.planAreaM2;
  // A lump that was weighed too heavy makes all that follows from it as much too heavy.
  if (isTooMuch) return [{ kind: 'lump-misweighed', looks: 'too-heavy', massKg, areaM2 }];
  if (most(massKg) < LIGHTEST_TOP_KG_M2 * cavity.planAreaM2)
    return [{ kind: 'lump-misweighed', looks: 'too-light', massKg, areaM2 }];
  return [];
}
