// The rounds a maker takes on a closed box, each in one known state, and what they may not say about one another. The
// rules are those of vibration itself (a held part, a blocked hole or an added mass can move modes only so far), so a
// breach means a wrong label or a round noted under the wrong state, whatever the guitar.
import type { Estimate } from '../quantity/estimate.ts';
import type { Part } from './pistons.ts';

/** One round of taps on the closed box in a known state, with the peaks as the maker labels them. */
export interface BoxRound {
  readonly hole: 'open' | 'blocked';
  /** `held`: pressed against the body or damped by hand until it no longer answers */
  readonly back: 'free' | 'held';
  /** lump fixed at the bridge for this round, kg, > 0; absent: none */
  readonly addedAtBridgeKg?: Estimate;
  /** lump fixed at the centre of the back for this round, kg, > 0; absent: none */
  readonly addedAtBackKg?: Estimate;
  /** peaks read, Hz */
  readonly peaksHz: Readonly<Partial<Record<Part, Estimate>>>;
}

/** One peak of one round, so that a sentence can name it. */
export interface RoundPeak {
  /** index of the round as given */
  readonly round: number;
  readonly part: Part;
  readonly frequencyHz: Estimate;
}

/**
 * Why a pair of measurements cannot both be right.
 * - `air-while-blocked`, `back-while-held`: a peak of a part that cannot move in this state; rounds noted in the wrong order
 * - `air-above-plate`: in one round the air is labelled above a plate
 * - `blocked-below-open`: with the hole blocked, a mode lies below the one that was under it with the hole open
 * - `blocked-above-open`: with the hole blocked, a mode lies above the open box's; blocking can only lower it
 * - `held-below-free`, `held-above-free`: the same for the back held and free
 * - `mass-raised`: an added mass raised a mode
 * - `mass-lowered-too-far`: an added mass brought a mode below the next lower one of the bare box
 */
type ContradictionReason =
  | 'air-while-blocked'
  | 'back-while-held'
  | 'air-above-plate'
  | 'blocked-below-open'
  | 'blocked-above-open'
  | 'held-below-free'
  | 'held-above-free'
  | 'mass-raised'
  | 'mass-lowered-too-far';

export interface Contradiction {
  readonly because: ContradictionReason;
  readonly peak: RoundPeak;
  /** the peak it contradicts; absent where the state itself is contradicted */
  readonly against?: RoundPeak;
}

/** How many standard deviations of the difference a breach must exceed before it counts. */
const BREACH_SIGMAS = 4;

/** The peaks of a round, ascending. */
export function roundPeaks(rounds: readonly BoxRound[], round: number): readonly RoundPeak[] {
  const peaks = Object.entries(rounds[round]!.peaksHz) as [Part, Estimate][];
  return peaks
    .map(([part, frequencyHz]) => ({ round, part, frequencyHz }))
    .sort((a, b) => a.frequencyHz.value - b.frequencyHz.value);
}

/**
 * Every pair of peaks that cannot both be right, beyond four standard deviations of their difference.
 * @param rounds rounds as labelled, any order
 * Source: a constraint interlaces the frequencies, an added mass lowers each and never past the next: Rayleigh 1894, Theory
 * of Sound sections 88 and 92a; Courant & Hilbert 1953, vol. I chapter I section 4.
 */
export function contradictions(rounds: readonly BoxRound[]): readonly Contradiction[] {
  const found: Contradiction[] = [];
  rounds.forEach((round, i) => {
    const peaks = roundPeaks(rounds, i);
    for (const peak of peaks) {
      if (peak.part === 'air' && round.hole === 'blocked') found.push({ because: 'air-while-blocked', peak });
      if (peak.part === 'back' && round.back === 'held') found.push({ because: 'back-while-held', peak });
    }
    const air = peaks.find(({ part }) => part === 'air');
    for (const plate of peaks)
      if (air && plate.part !== 'air' && isBelow(plate, air))
        found.push({ because: 'air-above-plate', peak: air, against: plate });
    rounds.forEach((other, j) => {
      if (isSameBut(round, other, 'hole') && round.hole === 'blocked')
        found.push(...notBetween(peaks, roundPeaks(rounds, j), 'blocked-below-open', 'blocked-above-open'));
      if (isSameBut(round, other, 'back') && round.back === 'held')
        found.push(...notBetween(peaks, roundPeaks(rounds, j), 'held-below-free', 'held-above-free'));
      if (hasMass(round) && !hasMass(other) && round.hole === other.hole && round.back === other.back)
        found.push(...notLowered(peaks, roundPeaks(rounds, j)));
    });
  });
  return found;
}

/**
 * Whether no peak of the round with the mass moved by two standard deviations from the same state without it, so that the
 * mass says nothing; undefined where there is no such pair to compare.
 */
export function massMovedNothing(rounds: readonly BoxRound[], round: number): boolean | undefined {
  const heavy = rounds[round]!;
  if (!hasMass(heavy)) return undefined;
  const bare = rounds.find((r) => !hasMass(r) && r.hole === heavy.hole && r.back === heavy.back);
  if (!bare) return undefined;
  const pairs = (Object.entries(heavy.peaksHz) as [Part, Estimate][]).flatMap(([part, peak]) => {
    const before = bare.peaksHz[part];
    return before ? [[before, peak] as const] : [];
  });
  if (pairs.length === 0) return undefined;
  return pairs.every(([before, after]) => before.value - after.value < 2 * Math.hypot(before.sigma, after.sigma));
}

/**
 * Where every peak of a round with the hole blocked lies within two standard deviations of one of the same box with the hole
 * open, so that the blocking says nothing: whether the lowest peak is still there too; undefined where some peak moved, or there
 * is no such pair. A hole that is closed takes the air's peak away and lowers every plate that presses on the air.
 */
export function blockingMovedNothing(
  rounds: readonly BoxRound[],
  round: number,
): { readonly airStays: boolean } | undefined {
  const shut = rounds[round]!;
  const open = rounds.findIndex((other) => isSameBut(shut, other, 'hole'));
  if (shut.hole !== 'blocked' || open < 0) return undefined;
  const peaks = roundPeaks(rounds, round);
  const before = roundPeaks(rounds, open);
  const isAt = (a: RoundPeak, b: RoundPeak) =>
    Math.abs(a.frequencyHz.value - b.frequencyHz.value) < 2 * Math.hypot(a.frequencyHz.sigma, b.frequencyHz.sigma);
  if (peaks.length === 0 || !peaks.every((peak) => before.some((was) => isAt(peak, was)))) return undefined;
  return { airStays: isAt(peaks[0]!, before[0]!) };
}

export function hasMass(round: BoxRound): boolean {
  return round.addedAtBridgeKg !== undefined || round.addedAtBackKg !== undefined;
}

function isSameBut(a: BoxRound, b: BoxRound, state: 'hole' | 'back'): boolean {
  if (hasMass(a) || hasMass(b)) return false;
  return a[state] !== b[state] && (state === 'hole' ? a.back === b.back : a.hole === b.hole);
}

function isBelow(a: RoundPeak, b: RoundPeak): boolean {
  const sigma = Math.hypot(a.frequencyHz.sigma, b.frequencyHz.sigma);
  return a.frequencyHz.value < b.frequencyHz.value - BREACH_SIGMAS * sigma;
}

/** With one part stopped, each mode must lie between its two neighbours of the free box; needs all peaks of both. */
function notBetween(
  stopped: readonly RoundPeak[],
  free: readonly RoundPeak[],
  below: ContradictionReason,
  above: ContradictionReason,
): readonly Contradiction[] {
  if (free.length !== stopped.length + 1) return [];
  return stopped.flatMap((peak, i) => [
    ...(isBelow(peak, free[i]!) ? [{ because: below, peak, against: free[i]! }] : []),
    ...(isBelow(free[i + 1]!, peak) ? [{ because: above, peak, against: free[i + 1]! }] : []),
  ]);
}

function notLowered(heavy: readonly RoundPeak[], bare: readonly RoundPeak[]): readonly Contradiction[] {
  if (heavy.length !== bare.length) return [];
  return heavy.flatMap((peak, i) => [
    ...(isBelow(bare[i]!, peak) ? [{ because: 'mass-raised' as const, peak, against: bare[i]! }] : []),
    ...(i > 0 && isBelow(peak, bare[i - 1]!)
      ? [{ because: 'mass-lowered-too-far' as const, peak, against: bare[i - 1]! }]
      : []),
  ]);
}
