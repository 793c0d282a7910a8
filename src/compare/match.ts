// Which mode of one measurement is which mode of another.

/** How far two modes may lie apart and still be the same one, and how far all of them may have moved together. */
export interface MatchWindow {
  /** a mode's own departure from the common shift, cents */
  readonly ownCents: number;
  /** the common shift of all modes, cents */
  readonly commonCents: number;
}

/** Between two steps at the bench: a millimetre off the braces moves modes by up to 9 %, the thickness by more. */
const betweenSteps: MatchWindow = { ownCents: 120, commonCents: 250 };
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
  const a = sortedCents(aHz);
  const b = sortedCents(bHz);
  const alignment = new Alignment(a.cents, b.cents, window.ownCents);
  const steps = Math.floor(window.commonCents / gridCents);
  let bestShift = 0;
  let bestScore = Infinity;
  for (let k = 0; k <= 2 * steps; k++) {
    // 0, +1, -1, +2, ...: of equally good shifts the smaller one is taken.
    const shift = gridCents * (k % 2 === 1 ? (k + 1) / 2 : -k / 2);
    const common = window.commonCents === 0 ? 0 : shift / window.commonCents;
    // No larger shift can do better than leave only the surplus modes of one side unmatched.
    if (common * common + unmatchedCost * Math.abs(aHz.length - bHz.length) >= bestScore) break;
    const score = alignment.score(shift) + common * common;
    if (score < bestScore - 1e-9) {
      bestScore = score;
      bestShift = shift;
    }
  }
  return alignment
    .pairs(bestShift)
    .map(([i, j]) => [a.order[i]!, b.order[j]!] as const)
    .toSorted((x, y) => x[0] - y[0]);
}

/** Frequencies as cents above 1 Hz in ascending order, and which input each one was. */
function sortedCents(hz: readonly number[]): { readonly cents: Float64Array; readonly order: readonly number[] } {
  const order = hz.map((_, i) => i).sort((i, j) => hz[i]! - hz[j]!);
  const cents = new Float64Array(hz.length);
  for (let i = 0; i < order.length; i++) cents[i] = centsBetween(1, hz[order[i]!]!);
  return { cents, order };
}

/** Price of leaving a mode alone; a pair is made only where it costs less than leaving both alone. */
const unmatchedCost = 0.5;

/**
 * The cheapest pairing of two ascending series under a common shift. The price of a pair is convex in its departure,
 * so some cheapest pairing never crosses, and alignment by dynamic programming finds one in n m steps.
 * Source: Needleman and Wunsch 1970 (J. Mol. Biol. 48, 443); that it is the cheapest assignment is tested against
 * assignment.ts.
 */
class Alignment {
  private readonly a: Float64Array;
  private readonly b: Float64Array;
  private readonly ownCents: number;
  /** least cost of the first i of a with the first j of b, (n + 1) rows of (m + 1) */
  private readonly cost: Float64Array;

  constructor(a: Float64Array, b: Float64Array, ownCents: number) {
    this.a = a;
    this.b = b;
    this.ownCents = ownCents;
    const width = b.length + 1;
    this.cost = new Float64Array((a.length + 1) * width);
    for (let j = 0; j < width; j++) this.cost[j] = unmatchedCost * j;
    for (let i = 0; i <= a.length; i++) this.cost[i * width] = unmatchedCost * i;
  }

  score(shift: number): number {
    const { a, b, cost, ownCents } = this;
    const width = b.length + 1;
    for (let i = 1; i <= a.length; i++) {
      const expected = a[i - 1]! + shift;
      for (let j = 1; j < width; j++) {
        const at = i * width + j;
        const own = (b[j - 1]! - expected) / ownCents;
        const alone = Math.min(cost[at - width]!, cost[at - 1]!) + unmatchedCost;
        cost[at] = Math.min(alone, cost[at - width - 1]! + own * own);
      }
    }
    return cost[cost.length - 1]!;
  }

  pairs(shift: number): readonly (readonly [number, number])[] {
    this.score(shift);
    const { cost } = this;
    const width = this.b.length + 1;
    const pairs: [number, number][] = [];
    for (let i = this.a.length, j = this.b.length; i > 0 && j > 0; ) {
      const at = i * width + j;
      if (cost[at] === cost[at - width]! + unmatchedCost) i--;
      else if (cost[at] === cost[at - 1]! + unmatchedCost) j--;
      else pairs.push([--i, --j]);
    }
    return pairs;
  }
}
