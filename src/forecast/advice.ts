// Advice: the least wood off, where, to bring the modes toward their targets, never below a safe height.
import { boundedMinimum } from '../algebra/bounded-quadratic.ts';
import type { BraceCut } from '../brace/cut.ts';
import { spareMm as spareOnMm } from '../brace/floor.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { type PlateModes, type PreparedPlate, plateModes } from '../plate/plate-modes.ts';
import { braceSensitivity, type StretchSensitivity } from '../plate/sensitivity.ts';
import type { Calibration } from './calibration.ts';
import { mirrorPairs } from './mirror-pairs.ts';
import { slopesOf } from './properties.ts';
import { followedModes } from './shape-match.ts';
import { cutPlate, forecastShaving, type ModeMove } from './shaving.ts';

/** A mode (rank from 0) that is to come to a frequency; a mode without a target is left free. */
export interface ModeTarget {
  readonly mode: number;
  readonly frequencyHz: number;
  readonly toleranceHz: number;
}

/** Lowest height a brace may be shaved to: [distance, height] along it, mm, joined by straight lines. */
export interface BraceFloor {
  readonly braceId: string;
  readonly heightMm: readonly (readonly [number, number])[];
  /** it carries the strings: to be shaved last, and little */
  readonly carriesStrings?: boolean;
}

export interface AdviceLimits {
  /** Most to take off anywhere in one pass, mm, default 2. */
  readonly maxRemovalMm?: number;
  /** Braces that may be shaved; default all that have a floor. */
  readonly braceIds?: readonly string[];
  /** Length of the stretches considered, mm, default 30. */
  readonly stretchMm?: number;
}

/** One way to do it. */
export interface Advice {
  /**
   * How it was sought: over all braces with the least wood, evenly spread, on one brace (or mirrored pair) alone, or only on
   * those that do not carry the strings.
   */
  readonly way: 'least wood' | 'evenly spread' | 'one brace' | 'sparing';
  readonly shavings: readonly BraceCut[];
  readonly moves: readonly ModeMove[];
  readonly removedG: number;
  /** For each target, whether the forecast lies within its tolerance. */
  readonly reached: readonly boolean[];
  /** by the slopes of the plate as it stands, for each mode: the whole way, Hz, and 1 mm of error of the blade on each brace */
  readonly slopes: { readonly wayHz: readonly number[]; readonly bladeHzPerMm: readonly number[] };
  /** it takes wood off a brace that carries the strings */
  readonly shavesStructural: boolean;
}

export type AdviceAnswer =
  | { readonly kind: 'advice'; readonly alternatives: readonly Advice[] }
  | { readonly kind: 'nothing-to-do' }
  | { readonly kind: 'cannot'; readonly because: 'only-shaving-lowers' | 'no-wood-to-spare' | 'unsolvable' };

/** Removal below this is not worth picking up a plane for, mm; heights are advised in tenths. */
const LEAST_REMOVAL_MM = 0.1;
/** 6.0 less 5.4 comes out a hair below 0.6: what is there to a tenth is all of that tenth, mm. */
const ROUNDING_MM = 1e-9;
const PASSES = 4;
const STRETCH_MM = 30;
/** A way that leaves more than this share of the squared miss is no advice. */
const WORTH_WHILE = 0.7;
export const MOST_REMOVAL_MM = 2;

/**
 * Seeks shavings.
 * @param base        the plate as it stands, calibrated if possible
 * @param before      its modes
 * @param floors      braces without a floor are not touched
 * @param calibration for the spread of the moves
 * @param spreadFactor as in `forecastShaving`
 */
export function advise(
  prepared: PreparedPlate,
  base: PlateCase,
  before: PlateModes,
  targets: readonly ModeTarget[],
  floors: readonly BraceFloor[],
  limits: AdviceLimits = {},
  calibration?: Calibration,
  spreadFactor = 1,
): AdviceAnswer {
  if (targets.every((target) => isReached(target, before.modes[target.mode]?.frequencyHz)))
    return { kind: 'nothing-to-do' };
  const stretches = stretchesOf(prepared, base, before, floors, limits);
  if (stretches.every(({ spareMm }) => spareMm < LEAST_REMOVAL_MM))
    return { kind: 'cannot', because: 'no-wood-to-spare' };
  const structural = new Set(floors.flatMap(({ braceId, carriesStrings }) => (carriesStrings ? [braceId] : [])));
  const known: Known = {
    spreadFactor,
    structural,
    ...(calibration && {
      calibration,
      slopes: slopesOf(prepared, base, before.modes, calibration.parameters),
    }),
  };
  const ways: Advice[] = [];
  for (const way of ['least wood', 'evenly spread'] as const) {
    const advice = seek(prepared, base, before, targets, stretches, limits, way, known);
    if (advice === undefined) return { kind: 'cannot', because: 'unsolvable' };
    ways.push(advice);
  }
  const alone = bestAlone(base, targets, before, stretches);
  if (alone !== undefined) {
    const only = stretches.map((s) => (alone.has(s.sensitivity.brace) ? s : { ...s, spareMm: 0 }));
    const advice = seek(prepared, base, before, targets, only, limits, 'one brace', known);
    if (advice !== undefined) ways.push(advice);
  }
  const sparing = stretches.map((s) => (structural.has(s.braceId) ? { ...s, spareMm: 0 } : s));
  const isOther = stretches.some(({ spareMm }, i) => spareMm !== sparing[i]!.spareMm);
  if (isOther && sparing.some(({ spareMm }) => spareMm >= LEAST_REMOVAL_MM)) {
    const advice = seek(prepared, base, before, targets, sparing, limits, 'sparing', known);
    if (advice !== undefined) ways.push(advice);
  }
  const missOf = (hz: (mode: number) => number) =>
    targets.reduce((sum, { mode, frequencyHz, toleranceHz }) => sum + ((frequencyHz - hz(mode)) / toleranceHz) ** 2, 0);
  const missNow = missOf((mode) => before.modes[mode]!.frequencyHz);
  const helps = ({ shavings, moves }: Advice) =>
    shavings.length > 0 && missOf((mode) => moves[mode]!.after.value) < WORTH_WHILE * missNow;
  const alternatives = distinct(ways.filter(helps));
  if (alternatives.length === 0) return { kind: 'cannot', because: 'only-shaving-lowers' };
  return { kind: 'advice', alternatives };
}

const isReached = ({ frequencyHz, toleranceHz }: ModeTarget, reachedHz: number | undefined): boolean =>
  reachedHz !== undefined && Math.abs(reachedHz - frequencyHz) <= toleranceHz;

/** What the spread of moves rests on: a calibration with the slopes of the plate as it stands, and the past. */
interface Known {
  readonly calibration?: Calibration;
  readonly slopes?: readonly (readonly number[])[];
  readonly spreadFactor: number;
  /** braces that carry the strings */
  readonly structural: ReadonlySet<string>;
}

interface Stretch {
  readonly sensitivity: StretchSensitivity;
  readonly braceId: string;
  /** Most that may go here, mm. */
  readonly spareMm: number;
}

function stretchesOf(
  prepared: PreparedPlate,
  base: PlateCase,
  before: PlateModes,
  floors: readonly BraceFloor[],
  { maxRemovalMm = MOST_REMOVAL_MM, braceIds, stretchMm = STRETCH_MM }: AdviceLimits,
): Stretch[] {
  return braceSensitivity(prepared, base, before.modes, stretchMm).map((sensitivity) => {
    const brace = base.braces![sensitivity.brace]!;
    const floor = floors.find(({ braceId }) => braceId === brace.id);
    const allowed = floor !== undefined && (braceIds === undefined || braceIds.includes(brace.id));
    const spareMm = allowed ? spareOnMm(brace.heightMm, floor.heightMm, sensitivity.fromMm, sensitivity.toMm) : 0;
    return {
      sensitivity,
      braceId: brace.id,
      spareMm: Math.min(maxRemovalMm, Math.floor((spareMm + ROUNDING_MM) * 10) / 10),
    };
  });
}

/** What wood costs, as squared tolerances per gram, and what unevenness costs per mm^2 between neighbours. */
const PRICES = {
  'least wood': { perGram: 0.2, perStep: 0.02 },
  'evenly spread': { perGram: 0.02, perStep: 0.6 },
  'one brace': { perGram: 0.05, perStep: 0.05 },
  sparing: { perGram: 0.05, perStep: 0.05 },
} as const;

/**
 * Solves the linear problem stretch by stretch, gathers neighbours into a few plain pieces, and brings those to the targets
 * by solving the plate again and correcting.
 */
function seek(
  prepared: PreparedPlate,
  base: PlateCase,
  before: PlateModes,
  targets: readonly ModeTarget[],
  stretches: readonly Stretch[],
  limits: AdviceLimits,
  way: Advice['way'],
  known: Known,
): Advice | undefined {
  let sensitivities = stretches.map(({ sensitivity }) => sensitivity);
  let reachedHz = before.modes.map(({ frequencyHz }) => frequencyHz);
  let present: Float64Array = new Float64Array(stretches.length);
  const fine = linearBest(singlePieces(base, stretches), stretches, sensitivities, present, reachedHz, targets, way);
  const pieces = gathered(singlePieces(base, stretches), stretches, fine);
  for (let pass = 0; pass < PASSES; pass++) {
    present = linearBest(pieces, stretches, sensitivities, present, reachedHz, targets, way);
    if (pass === PASSES - 1) break;
    const plate = cutPlate(base, shavingsOf(stretches, present));
    const modes = plateModes(prepared, plate, { count: before.modes.length + 3, near: before.modes });
    if (modes.kind !== 'modes') return undefined;
    const partners = followedModes(prepared, before.modes, modes.modes, 'heights').map(({ mode }) => mode);
    reachedHz = partners.map(({ frequencyHz }) => frequencyHz);
    if (targets.every((target) => Math.abs(reachedHz[target.mode]! - target.frequencyHz) < 0.2 * target.toleranceHz))
      break;
    sensitivities = braceSensitivity(prepared, plate, partners, limits.stretchMm ?? STRETCH_MM);
  }
  const rounded = present.map((mm) => Math.round(mm * 10) / 10);
  const shavings = shavingsOf(stretches, rounded);
  const forecast = forecastShaving(
    prepared,
    base,
    before,
    shavings,
    known.calibration,
    known.slopes,
    known.spreadFactor,
  );
  if (forecast.kind !== 'forecast') return undefined;
  const { moves, removedG } = forecast;
  return {
    way,
    shavings,
    moves,
    removedG,
    reached: targets.map((t) => isReached(t, moves[t.mode]?.after.value)),
    slopes: slopesAlong(stretches, rounded),
    shavesStructural: shavings.some(({ braceId }) => known.structural.has(braceId)),
  };
}

/** What the slopes as they stand make of a way; the blade errs alike along a brace and by itself on each. */
function slopesAlong(stretches: readonly Stretch[], removal: Float64Array): Advice['slopes'] {
  const modes = stretches[0]?.sensitivity.hzPerMm.keys() ?? [];
  const sumOf = (mode: number, weight: (i: number) => number) =>
    stretches.reduce((sum, { sensitivity }, i) => sum + sensitivity.hzPerMm[mode]! * weight(i), 0);
  const braces = [...new Set(stretches.map(({ braceId }) => braceId))];
  const isCut = (i: number, braceId: string) => Number(removal[i]! > 0 && stretches[i]!.braceId === braceId);
  const ranks = [...modes];
  return {
    wayHz: ranks.map((mode) => sumOf(mode, (i) => removal[i]!)),
    bladeHzPerMm: ranks.map((mode) => Math.hypot(...braces.map((id) => sumOf(mode, (i) => isCut(i, id))))),
  };
}

/** Stretches shaved by the same amount, as indices; the first brace's come first. */
type Piece = readonly number[];

/** One piece for each stretch, together with its mirror image on the other side. */
function singlePieces(base: PlateCase, stretches: readonly Stretch[]): Piece[] {
  const groups = mirrorPairs(base.braces ?? []);
  const pieces = new Map<string, number[]>();
  stretches.forEach(({ sensitivity: { brace, fromMm } }, i) => {
    const group = groups.findIndex((members) => members.has(brace));
    const key = `${group} ${fromMm.toFixed(3)}`;
    pieces.set(key, [...(pieces.get(key) ?? []), i]);
  });
  return [...pieces.values()];
}

/** Shares of the largest removal on a brace from which a stretch counts as lightly or fully shaved. */
const LIGHT_SHARE = 0.25;
const FULL_SHARE = 0.6;

/** Joins neighbouring pieces that are shaved to a like degree; pieces hardly shaved are left out. */
function gathered(pieces: readonly Piece[], stretches: readonly Stretch[], removal: Float64Array): Piece[] {
  const braceOf = (piece: Piece) => stretches[piece[0]!]!.braceId;
  const most = new Map<string, number>();
  for (const piece of pieces) most.set(braceOf(piece), Math.max(most.get(braceOf(piece)) ?? 0, removal[piece[0]!]!));
  const levelOf = (piece: Piece): number => {
    const mm = removal[piece[0]!]!;
    const share = mm < LEAST_REMOVAL_MM / 2 ? 0 : mm / most.get(braceOf(piece))!;
    return share < LIGHT_SHARE ? 0 : share < FULL_SHARE ? 1 : 2;
  };
  const joined: { level: number; brace: string; members: number[]; end: number }[] = [];
  pieces.forEach((piece, k) => {
    const level = levelOf(piece);
    if (level === 0) return;
    const last = joined.at(-1);
    if (last !== undefined && last.level === level && last.brace === braceOf(piece) && last.end === k - 1) {
      last.members.push(...piece);
      last.end = k;
    } else joined.push({ level, brace: braceOf(piece), members: [...piece], end: k });
  });
  return joined.map(({ members }) => members);
}

/** Bounded least squares around the present removal: targets in tolerances, wood by the gram, steps between neighbours. */
function linearBest(
  pieces: readonly Piece[],
  stretches: readonly Stretch[],
  sensitivities: readonly StretchSensitivity[],
  present: Float64Array,
  reachedHz: readonly number[],
  targets: readonly ModeTarget[],
  way: Advice['way'],
): Float64Array {
  const n = pieces.length;
  const result = new Float64Array(stretches.length);
  if (n === 0) return result;
  const { perGram, perStep } = PRICES[way];
  const hessian = Array.from({ length: n }, () => new Float64Array(n));
  const gradient = new Float64Array(n);
  for (const { mode, frequencyHz, toleranceHz } of targets) {
    const slopes = pieces.map(
      (piece) => piece.reduce((sum, i) => sum + sensitivities[i]!.hzPerMm[mode]!, 0) / toleranceHz,
    );
    const linearNow = slopes.reduce((sum, slope, k) => sum + slope * present[pieces[k]![0]!]!, 0);
    const wanted = (frequencyHz - reachedHz[mode]!) / toleranceHz + linearNow;
    for (let k = 0; k < n; k++) {
      gradient[k]! += slopes[k]! * wanted;
      for (let l = 0; l < n; l++) hessian[k]![l]! += slopes[k]! * slopes[l]!;
    }
  }
  for (let k = 0; k < n; k++) {
    gradient[k]! -= perGram * pieces[k]!.reduce((sum, i) => sum + stretches[i]!.sensitivity.gramsPerMm, 0);
    hessian[k]![k]! += 1e-4;
    if (k === 0 || stretches[pieces[k - 1]![0]!]!.braceId !== stretches[pieces[k]![0]!]!.braceId) continue;
    hessian[k]![k]! += perStep;
    hessian[k - 1]![k - 1]! += perStep;
    hessian[k]![k - 1]! -= perStep;
    hessian[k - 1]![k]! -= perStep;
  }
  const upper = Float64Array.from(pieces, (piece) => Math.min(...piece.map((i) => stretches[i]!.spareMm)));
  const best = boundedMinimum(hessian, gradient, new Float64Array(n), upper);
  pieces.forEach((piece, k) => {
    for (const i of piece) result[i] = best[k]!;
  });
  return result;
}

/** The brace, or mirrored pair of braces, that alone comes nearest to the targets by its slopes. */
function bestAlone(
  base: PlateCase,
  targets: readonly ModeTarget[],
  before: PlateModes,
  stretches: readonly Stretch[],
): ReadonlySet<number> | undefined {
  const reachedHz = before.modes.map(({ frequencyHz }) => frequencyHz);
  const misses = mirrorPairs(base.braces ?? []).map((group) => {
    const only = stretches.map((s) => (group.has(s.sensitivity.brace) ? s : { ...s, spareMm: 0 }));
    const slopes = stretches.map(({ sensitivity }) => sensitivity);
    const removal = linearBest(
      singlePieces(base, only),
      only,
      slopes,
      new Float64Array(stretches.length),
      reachedHz,
      targets,
      'one brace',
    );
    const miss = targets.reduce((sum, { mode, frequencyHz, toleranceHz }) => {
      const moved = slopes.reduce((total, { hzPerMm }, i) => total + hzPerMm[mode]! * removal[i]!, 0);
      return sum + ((frequencyHz - reachedHz[mode]! - moved) / toleranceHz) ** 2;
    }, 0);
    return { group, miss };
  });
  misses.sort((p, q) => p.miss - q.miss);
  return misses[0]?.group;
}

/** Stretches with the same removal side by side become one shaving. */
function shavingsOf(stretches: readonly Stretch[], removal: Float64Array): BraceCut[] {
  const shavings: BraceCut[] = [];
  stretches.forEach(({ braceId, sensitivity: { fromMm, toMm } }, i) => {
    const offMm = removal[i]!;
    if (offMm < LEAST_REMOVAL_MM / 2) return;
    const last = shavings.at(-1);
    const continues = last?.braceId === braceId && Math.abs(last.toMm - fromMm) < 1e-6 && last.offMm === offMm;
    if (continues) shavings[shavings.length - 1] = { ...last, toMm };
    else shavings.push({ braceId, fromMm, toMm, offMm });
  });
  return shavings;
}

/** Leaves out alternatives that say the same as an earlier one. */
function distinct(ways: readonly Advice[]): Advice[] {
  return ways.filter(
    (way, i) => !ways.slice(0, i).some((other) => JSON.stringify(other.shavings) === JSON.stringify(way.shavings)),
  );
}
