// Which measured mode is which computed one: by the maker's names first; then by frequency, and by which spots excite it
// where the top was tapped at two spots or more.
import { assign } from '../algebra/assignment.ts';
import { centsBetween } from '../compare/match.ts';
import type { Point } from '../plate/outline.ts';

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
const MOST_SHIFT_CENTS = 250;
const SHIFT_STEP_CENTS = 10;
/** Price of leaving a mode alone, chi squared: a pair by frequency alone is made within twice the spread. */
const ALONE = 2;
/** Spread of a level: the finger's strength and a centimetre of its place. Our estimate, no source. */
const LEVEL_SIGMA_DB = 5;
/** A node line is never hit quite: the finger is as broad as this share of the largest deflection. */
const LEAST_DEFLECTION = 0.06;

/** The pairing of greatest likelihood under the best common shift of all frequencies. */
function likeliest(
  computed: readonly ComputedMode[],
  measured: readonly HeardMode[],
): readonly (readonly [number, number])[] {
  const apart = computed.map((c) => measured.map((m) => centsBetween(c.frequencyHz, m.frequencyHz)));
  const strengths = new Map<string, number>();
  let best: readonly (readonly [number, number])[] = [];
  // Once paired, what all modes of a place have in common is the strength of its taps; it says nothing of shapes.
  for (const _pass of [1, 2]) {
    const levels = computed.map((c) => measured.map((m) => levelMisfit(levelsOf(c, m), strengths)));
    let least = Number.POSITIVE_INFINITY;
    for (let shift = -MOST_SHIFT_CENTS; shift <= MOST_SHIFT_CENTS; shift += SHIFT_STEP_CENTS) {
      const costs = apart.flatMap((row, c) =>
        row.map((cents, m) => Math.max(0, ((cents - shift) / OWN_CENTS) ** 2 + levels[c]![m]!)),
      );
      const pairs = assign(Float64Array.from(costs), computed.length, measured.length, ALONE);
      const alone = computed.length + measured.length - 2 * pairs.length;
      const cost =
        pairs.reduce((sum, [c, m]) => sum + costs[c * measured.length + m]!, ALONE * alone) +
        (shift / COMMON_CENTS) ** 2;
      if (cost >= least) continue;
      least = cost;
      best = pairs;
    }
    commonStrengths(
      best.map(([c, m]) => levelsOf(computed[c]!, measured[m]!)),
      strengths,
    );
  }
  return best;
}

/** What a level leaves over beside the shape at its place: the strength of the mode and of the taps, dB. */
interface Level {
  readonly place: string;
  readonly overDb: number;
  readonly isAtMost: boolean;
}

function levelsOf({ deflectionAt }: ComputedMode, { heardAt }: HeardMode): readonly Level[] {
  if (deflectionAt === undefined || heardAt === undefined) return [];
  return heardAt.flatMap(({ at, levelDb, isAtMost }) => {
    const w = deflectionAt(at);
    if (w === undefined) return [];
    const shapeDb = 20 * Math.log10(Math.max(Math.abs(w), LEAST_DEFLECTION));
    return [{ place: at.join(), overDb: levelDb - shapeDb, isAtMost: isAtMost === true }];
  });
}

/**
 * How badly levels at several places agree with one strength of the mode: chi squared, less what chance alone makes of it.
 * A place where the mode was not heard counts only where it should have been.
 */
function levelMisfit(levels: readonly Level[], strengths: ReadonlyMap<string, number>): number {
  const over = levels.map((level) => ({ ...level, overDb: level.overDb - (strengths.get(level.place) ?? 0) }));
  const heard = over.filter(({ isAtMost }) => !isAtMost).map(({ overDb }) => overDb);
  if (levels.length < 2 || heard.length === 0) return 0;
  const mean = heard.reduce((sum, db) => sum + db, 0) / heard.length;
  const scatter = heard.reduce((sum, db) => sum + (db - mean) ** 2, 0);
  const silent = over.reduce(
    (sum, { isAtMost, overDb }) => sum + (isAtMost ? Math.max(0, mean - overDb) ** 2 / (1 + 1 / heard.length) : 0),
    0,
  );
  return (scatter + silent) / LEVEL_SIGMA_DB ** 2 - (heard.length - 1);
}

/** Mean of what the paired modes leave over at each place, each mode's own strength taken off, dB. */
function commonStrengths(paired: readonly (readonly Level[])[], strengths: Map<string, number>): void {
  const left = new Map<string, number[]>();
  for (const levels of paired) {
    const heard = levels.filter(({ isAtMost }) => !isAtMost);
    const mean = heard.reduce((sum, { overDb }) => sum + overDb, 0) / heard.length;
    for (const { place, overDb } of heard) left.set(place, [...(left.get(place) ?? []), overDb - mean]);
  }
  for (const [place, list] of left) {
    // A place heard by few modes is not trusted to tell its strength: shrunk toward none.
    strengths.set(place, list.reduce((sum, db) => sum + db, 0) / (list.length + 1));
  }
}
