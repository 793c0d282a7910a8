// Which measured mode is which computed one: by the maker's names first; then by frequency, and by which spots excite it
// where the top was tapped at two spots or more.
import { assign } from '../algebra/assignment.ts';
import { centsBetween } from '../compare/match.ts';
import type { Point } from '../plate/outline.ts';
import { levelEvidence, likeliestStrengths, type ShapedLevel, type Strengths } from './spot-levels.ts';

/** How loud a mode rang when the top was tapped at a place. */
export interface HeardAt {
  readonly at: Point;
  /** dB, any reference that is the same for every place */
  readonly levelDb: number;
  /** the mode was not heard there: it rang at most so loud */
  readonly isAtMost?: true;
}

/** A mode as computed. */
export interface ComputedMode {
  readonly name: string | undefined;
  readonly frequencyHz: number;
  /** deflection at a place, the largest 1; undefined off the plate */
  readonly deflectionAt?: (at: Point) => number | undefined;
  /** size of the slope of the deflection at a place, per mm; taken as level where it is not told */
  readonly steepnessAt?: (at: Point) => number | undefined;
}

/** A mode as tapped. */
export interface HeardMode {
  readonly name: string | undefined;
  readonly frequencyHz: number;
  readonly heardAt?: readonly HeardAt[];
}

export interface MeasuredPair {
  /** index of the computed mode */
  readonly computed: number;
  /** index of the measured mode */
  readonly measured: number;
  readonly by: 'name' | 'frequency' | 'spots';
}

/**
 * Pairs computed with measured modes. A name that stands once on both sides decides; the rest is paired as a whole by the
 * likelihood of its frequencies and levels, where near enough.
 * @returns pairs in ascending order of the computed mode
 */
export function pairMeasured(
  computed: readonly ComputedMode[],
  measured: readonly HeardMode[],
): readonly MeasuredPair[] {
  const pairs: MeasuredPair[] = [];
  measured.forEach(({ name }, m) => {
    if (name === undefined || measured.filter((other) => other.name === name).length > 1) return;
    const c = computed.findIndex((mode) => mode.name === name);
    if (c >= 0) pairs.push({ computed: c, measured: m, by: 'name' });
  });
  const freeComputed = computed.flatMap((mode, c) => (pairs.some((pair) => pair.computed === c) ? [] : [{ mode, c }]));
  // A mode that the maker has named is not called something else for its frequency's sake.
  const freeMeasured = measured.flatMap((mode, m) => (mode.name === undefined ? [{ mode, m }] : []));
  const likely = likeliest(
    freeComputed.map(({ mode }) => mode),
    freeMeasured.map(({ mode }) => mode),
  );
  for (const [i, j] of likely) {
    const { mode, m } = freeMeasured[j]!;
    const { mode: shape, c } = freeComputed[i]!;
    pairs.push({ computed: c, measured: m, by: levelsOf(shape, mode).length > 1 ? 'spots' : 'frequency' });
  }
  return pairs.toSorted((a, b) => a.computed - b.computed);
}

/** Spread of a mode's frequency about the common shift of all, and of that shift, cents: what unmeasured woods leave open. */
const OWN_CENTS = 60;
const COMMON_CENTS = 125;
const MOST_SHIFT_CENTS = 350;
const SHIFT_STEP_CENTS = 10;
/** Three spreads of both: no likeness at a few spots makes a pair of what lies farther apart. */
const FARTHEST_CENTS = 3 * Math.hypot(OWN_CENTS, COMMON_CENTS);
/** Price of leaving a mode alone, chi squared: a pair by frequency alone is made within twice the spread. */
const ALONE = 2;
/** Rounds of pairing and of telling how hard each spot was tapped. */
const PASSES = 3;

/**
 * Beyond so many spreads a frequency speaks less loudly than a normal spread would have it: some pieces are far from their
 * drawing. Chosen on the choosing seeds of tests/bench/pairing.ts.
 */
const TAIL_FROM = 1.2;

/** Chi squared of a normal spread, with straight tails. Source: Huber 1964, Ann. Math. Statist. 35, 73. */
const oddness = (z: number): number => (Math.abs(z) < TAIL_FROM ? z * z : TAIL_FROM * (2 * Math.abs(z) - TAIL_FROM));

/** The pairing of greatest likelihood under the best common shift of all frequencies. */
function likeliest(
  computed: readonly ComputedMode[],
  measured: readonly HeardMode[],
): readonly (readonly [number, number])[] {
  const apart = computed.map((c) => measured.map((m) => centsBetween(c.frequencyHz, m.frequencyHz)));
  const levels = computed.map((c) => measured.map((m) => levelsOf(c, m)));
  let strengths: Strengths = new Map();
  let best: readonly (readonly [number, number])[] = [];
  // Once paired, what all modes of a place have in common is the strength of its taps; it says nothing of shapes.
  for (let pass = 0; pass < PASSES; pass++) {
    const evidence = levels.map((row) => row.map((of) => levelEvidence(of, strengths)));
    // The assignment wants costs above nought: as much is added to a pair as to the two that are left alone in its stead.
    const most = Math.max(0, ...evidence.flat());
    const alonePrice = ALONE + most / 2;
    let least = Number.POSITIVE_INFINITY;
    for (let shift = -MOST_SHIFT_CENTS; shift <= MOST_SHIFT_CENTS; shift += SHIFT_STEP_CENTS) {
      const costs = apart.flatMap((row, c) =>
        row.map((cents, m) =>
          Math.abs(cents) > FARTHEST_CENTS
            ? Number.POSITIVE_INFINITY
            : oddness((cents - shift) / OWN_CENTS) + most - evidence[c]![m]!,
        ),
      );
      const pairs = assign(Float64Array.from(costs), computed.length, measured.length, alonePrice);
      const alone = computed.length + measured.length - 2 * pairs.length;
      const cost =
        pairs.reduce((sum, [c, m]) => sum + costs[c * measured.length + m]!, alonePrice * alone) +
        (shift / COMMON_CENTS) ** 2;
      if (cost >= least) continue;
      least = cost;
      best = pairs;
    }
    strengths = likeliestStrengths(
      best.map(([c, m]) => levels[c]![m]!),
      strengths,
    );
  }
  return best;
}

function levelsOf({ deflectionAt, steepnessAt }: ComputedMode, { heardAt }: HeardMode): readonly ShapedLevel[] {
  if (deflectionAt === undefined || heardAt === undefined) return [];
  return heardAt.flatMap(({ at, levelDb, isAtMost }) => {
    const deflection = deflectionAt(at);
    if (deflection === undefined) return [];
    const shape = { deflection, steepnessPerMm: steepnessAt?.(at) ?? 0 };
    return [{ place: at.join(), levelDb, isAtMost: isAtMost === true, shape }];
  });
}
