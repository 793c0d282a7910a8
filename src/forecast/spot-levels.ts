// What the levels of a mode at several spots say of its shape. A finger lands some millimetres beside its spot, so that what
// it excites scatters with the steepness of the shape there: little on a crest, and beside a node line by tens of decibels,
// downward only. How hard each spot was tapped is not known, nor how loud the mode is heard: both are told from all levels.
// Source: Rice 1945, Bell Syst. Tech. J. 24, 46 (size of a quantity that scatters about a mean), here of one real dimension.
import { normalCdf, upperNormal } from '../quantity/quantile.ts';

/** A shape at a place. */
interface ShapeAt {
  /** deflection, the largest of the shape 1 */
  readonly deflection: number;
  /** size of its slope there, per mm */
  readonly steepnessPerMm: number;
}

/** A level at a place of a shape. */
export interface ShapedLevel {
  /** name of the place */
  readonly place: string;
  readonly levelDb: number;
  /** it was not heard there: it rang at most so loud */
  readonly isAtMost: boolean;
  readonly shape: ShapeAt;
}

/** How far a finger lands beside the spot it is meant for, mm, in each direction: 3 to 5. Our estimate, no source. */
const FINGER_MM = 4;
/**
 * By how much a piece's shape differs from the drawing's, share of the largest deflection. Chosen, as the next and ODD_SHARE, on
 * the choosing seeds of tests/bench/pairing.ts; half or twice as much costs a point or two.
 */
const DRAWING_SHARE = 0.13;
/** What is left of a level beside shape and strength, dB: contact time, reading. */
const LEVEL_DB = 3;
/** Spread of the strength of a spot's taps, dB: 30 % a tap. */
const STRENGTH_DB = 2.6;
/** A shape of which nothing is known, share of the largest deflection. */
const ANY_SHAPE = 0.45;
/** How often a level is of something else than the shape: a slip, a neighbour's wing. */
const ODD_SHARE = 0.06;
/** A deflection is never quite nought: the finger is broad. */
const LEAST = 0.01;

/** Normal deviates of equal weight. */
const DEVIATES = Array.from({ length: 8 }, (_, j) => upperNormal((j + 0.5) / 16)).flatMap((z) => [z, -z]);

const LOWEST_DB = -60;
const HIGHEST_DB = 20;

/** Likelihood of a level, and of one at most as high, by whole dB from LOWEST_DB on. */
interface LevelTable {
  readonly at: Float64Array;
  readonly atMost: Float64Array;
}

function tableOf(mean: number, sigma: number, odd?: LevelTable): LevelTable {
  const crests = DEVIATES.map((z) => 20 * Math.log10(Math.max(LEAST, Math.abs(mean + sigma * z))));
  const size = HIGHEST_DB - LOWEST_DB + 1;
  const at = new Float64Array(size);
  const atMost = new Float64Array(size);
  const share = odd === undefined ? 0 : ODD_SHARE;
  for (let i = 0; i < size; i++) {
    let [density, below] = [0, 0];
    for (const db of crests) {
      const z = (LOWEST_DB + i - db) / LEVEL_DB;
      density += Math.exp(-0.5 * z * z);
      below += normalCdf(z);
    }
    at[i] = ((1 - share) * density) / crests.length + share * (odd?.at[i] ?? 0);
    atMost[i] = ((1 - share) * below) / crests.length + share * (odd?.atMost[i] ?? 0);
  }
  return { at, atMost };
}

const anyShape = tableOf(0, ANY_SHAPE);
const known = new Map<string, LevelTable>();

function tableFor({ deflection, steepnessPerMm }: ShapeAt): LevelTable {
  const sigma = Math.hypot(DRAWING_SHARE, FINGER_MM * steepnessPerMm);
  const [w, s] = [Math.round(50 * Math.abs(deflection)), Math.round(100 * sigma)];
  const key = `${w} ${s}`;
  const table = known.get(key) ?? tableOf(w / 50, s / 100, anyShape);
  known.set(key, table);
  return table;
}

function read({ at, atMost }: LevelTable, db: number, isAtMost: boolean): number {
  const i = Math.round(db) - LOWEST_DB;
  const table = isAtMost ? atMost : at;
  return Math.max(1e-12, table[Math.max(0, Math.min(table.length - 1, i))]!);
}

/** Strength of each place's taps, dB. */
export type Strengths = ReadonlyMap<string, number>;

/**
 * How much likelier the levels are of this shape than of one of which nothing is known: twice the logarithm, so that it
 * compares with chi squared. The loudness of the mode is whatever it may be; a single level says nothing.
 */
export function levelEvidence(levels: readonly ShapedLevel[], strengths: Strengths): number {
  if (levels.length < 2 || levels.every(({ isAtMost }) => isAtMost)) return 0;
  const [own, any] = overLoudness(levels, strengths);
  return 2 * Math.log(own.sum / any.sum);
}

/** Likelihood summed over how loud the mode is, of the shape and of any; and the mean loudness, dB. */
function overLoudness(levels: readonly ShapedLevel[], strengths: Strengths) {
  const loudest = Math.max(...levels.map(({ levelDb, isAtMost }) => (isAtMost ? Number.NEGATIVE_INFINITY : levelDb)));
  const tables = levels.map(({ shape }) => tableFor(shape));
  const own = { sum: 0, loudness: 0 };
  const any = { sum: 0, loudness: 0 };
  for (let loudness = loudest - 15; loudness <= loudest + 45; loudness++) {
    let [p, q] = [1, 1];
    levels.forEach(({ place, levelDb, isAtMost }, i) => {
      const db = levelDb - (strengths.get(place) ?? 0) - loudness;
      p *= read(tables[i]!, db, isAtMost);
      q *= read(anyShape, db, isAtMost);
    });
    own.sum += p;
    own.loudness += p * loudness;
    any.sum += q;
  }
  return [own, any] as const;
}

/** The likeliest strengths of the taps at each place, given which levels are of which shapes. @param modes levels of each paired mode */
export function likeliestStrengths(modes: readonly (readonly ShapedLevel[])[], before: Strengths): Strengths {
  const heard = modes.flatMap((levels) => {
    if (levels.length < 2 || levels.every(({ isAtMost }) => isAtMost)) return [];
    const [{ sum, loudness }] = overLoudness(levels, before);
    return levels.map((level) => ({ ...level, loudnessDb: loudness / sum }));
  });
  return new Map(
    [...new Set(heard.map(({ place }) => place))].map((place) => {
      const here = heard.filter((level) => level.place === place);
      let best = { strength: 0, score: Number.NEGATIVE_INFINITY };
      for (let strength = -12; strength <= 12; strength++) {
        const score = here.reduce(
          (sum, { shape, levelDb, isAtMost, loudnessDb }) =>
            sum + Math.log(read(tableFor(shape), levelDb - strength - loudnessDb, isAtMost)),
          -0.5 * (strength / STRENGTH_DB) ** 2,
        );
        if (score > best.score) best = { strength, score };
      }
      return [place, best.strength];
    }),
  );
}
