// Which mode of one measurement is which mode of another.
import { assign } from './assignment.ts';

/** How far two modes may lie apart and still be the same one, and how far all of them may have moved together. */
export interface MatchWindow {
  /** a mode's own departure from the common shift, cents */
  readonly ownCents: number;
  /** the common shift of all modes, cents */
  readonly commonCents: number;
}

/** Between two steps at the bench: a millimetre off the braces moves modes by up to 9 %, the thickness by more. */
export const betweenSteps: MatchWindow = { ownCents: 120, commonCents: 250 };
/** Between two rounds of one step nothing but the hold and the spot has changed. */
export const withinStep: MatchWindow = { ownCents: 30, commonCents: 0 };

/** Interval between two frequencies, cents (1200 an octave), positive where b is higher. */
export const centsBetween = (aHz: number, bHz: number): number => 1200 * Math.log2(bHz / aHz);

const gridCents = 10;

/**
 * Pairs the modes of two measurements, best as a whole and not nearest first: thinner wood lowers every mode, so the
 * pairing looks for the common shift (least departures, mildly in favour of no shift) under which the modes fit one
 * another best. A mode may have no partner: it appeared, or was not excited.
 * @param aHz frequencies, Hz, (n,)
 * @param bHz frequencies, Hz, (m,)
 * @returns pairs of indices [a, b], ascending in a; swapping the arguments swaps the pairs
 * Source: our derivation, see tests/compare/match.test.ts.
 */
export function matchModes(
  aHz: readonly number[],
  bHz: readonly number[],
  window: MatchWindow = betweenSteps,
): readonly (readonly [number, number])[] {
  // Of equally good pairings one must be taken; always solving in the same direction takes the same one.
  if (comesAfter(aHz, bHz))
    return pairUp(bHz, aHz, window)
      .map(([j, i]) => [i, j] as const)
      .toSorted((x, y) => x[0] - y[0]);
  return pairUp(aHz, bHz, window);
}

function comesAfter(a: readonly number[], b: readonly number[]): boolean {
  if (a.length !== b.length) return a.length > b.length;
  const differs = a.findIndex((value, i) => value !== b[i]);
  return differs >= 0 && a[differs]! > b[differs]!;
}

function pairUp(
  aHz: readonly number[],
  bHz: readonly number[],
  window: MatchWindow,
): readonly (readonly [number, number])[] {
  const steps = Math.floor(window.commonCents / gridCents);
  let best: readonly (readonly [number, number])[] = [];
  let bestScore = Infinity;
  for (let k = 0; k <= 2 * steps; k++) {
    // 0, +1, -1, +2, ...: of equally good shifts the smaller one is taken.
    const shift = gridCents * (k % 2 === 1 ? (k + 1) / 2 : -k / 2);
    const cost = new Float64Array(aHz.length * bHz.length);
    aHz.forEach((a, i) => {
      bHz.forEach((b, j) => {
        const own = (centsBetween(a, b) - shift) / window.ownCents;
        cost[i * bHz.length + j] = Math.abs(own) <= 1 ? own * own : Infinity;
      });
    });
    const pairs = assign(cost, aHz.length, bHz.length, 0.5);
    const unmatched = aHz.length + bHz.length - 2 * pairs.length;
    const common = window.commonCents === 0 ? 0 : shift / window.commonCents;
    const score = pairs.reduce((sum, [i, j]) => sum + cost[i * bHz.length + j]!, 0) + 0.5 * unmatched + common * common;
    if (score < bestScore - 1e-9) {
      bestScore = score;
      best = pairs;
    }
  }
  return best;
}
