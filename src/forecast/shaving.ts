// Wood taken off braces, and what it does to the modes. Small shavings follow the slopes; anything the maker would notice
// is solved again on the same mesh.
import { braceHeightMm } from '../plate/glued-part.ts';
import type { BraceCase, PlateCase } from '../plate/plate-case.ts';
import { type PlateMode, type PlateModes, type PreparedPlate, plateModes } from '../plate/plate-modes.ts';
import { difference, type Estimate, estimate } from '../quantity/estimate.ts';
import { type Calibration, frequencySigmas, slopesOf } from './calibration.ts';
import { matched } from './shape-match.ts';

/** Wood taken off one stretch of one brace, mm. */
export interface Shaving {
  readonly braceId: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly removeMm: number;
}

/** Height left where a shaving would go through, mm: the forecast never works with a brace of no height. */
const LEAST_HEIGHT_MM = 0.1;

/** The plate after shaving; other parts are shared with the plate before. */
export function shaved(plate: PlateCase, shavings: readonly Shaving[]): PlateCase {
  const braces = (plate.braces ?? []).map((brace) =>
    shavings.filter(({ braceId }) => braceId === brace.id).reduce(shavedBrace, brace),
  );
  return { ...plate, braces };
}

function shavedBrace(brace: BraceCase, { fromMm, toMm, removeMm }: Shaving): BraceCase {
  const lowered = (height: number) => Math.max(LEAST_HEIGHT_MM, height - removeMm);
  const heightMm: (readonly [number, number])[] = [
    ...brace.heightMm.filter(([s]) => s < fromMm),
    [fromMm, braceHeightMm(brace, fromMm)],
    [fromMm, lowered(heightBeyondMm(brace, fromMm))],
    ...brace.heightMm.filter(([s]) => s > fromMm && s < toMm).map(([s, h]) => [s, lowered(h)] as const),
    [toMm, lowered(braceHeightMm(brace, toMm))],
    [toMm, heightBeyondMm(brace, toMm)],
    ...brace.heightMm.filter(([s]) => s > toMm),
  ];
  return { ...brace, heightMm };
}

/** Height just beyond a place: differs from `braceHeightMm`, the height just before it, where an earlier shaving stopped. */
function heightBeyondMm(brace: BraceCase, distanceMm: number): number {
  const there = brace.heightMm.filter(([s]) => s === distanceMm).at(-1);
  return there?.[1] ?? braceHeightMm(brace, distanceMm);
}

/** One mode before and after. */
export interface ModeMove {
  /** Rank before, from 0. */
  readonly mode: number;
  readonly before: Estimate;
  readonly after: Estimate;
  readonly move: Estimate;
  /** Likeness of the two shapes, 0..1: below 0.6 the mode has changed its nature and the move is a name only. */
  readonly likeness: number;
}

export interface ShavingForecast {
  readonly kind: 'forecast';
  readonly plate: PlateCase;
  readonly moves: readonly ModeMove[];
  readonly removedG: number;
  readonly modes: PlateModes;
}

export type ShavingAnswer = ShavingForecast | { readonly kind: 'unsolvable' };

/**
 * Model error of a move, as a share of it (one sigma). Source: shaving series of the solid models in tests/reference,
 * shifts of modes 1 to 6.
 */
export const MOVE_ERROR_SHARE = 0.08;

/**
 * What a shaving will do to each mode, by solving the plate again.
 * @param base        the plate before, with the lines of the prepared one
 * @param before      its modes
 * @param calibration  fitted to measurements; without it the moves carry the model error alone
 * @param slopesBefore `slopesOf` the plate before, if known already
 */
export function forecastShaving(
  prepared: PreparedPlate,
  base: PlateCase,
  before: PlateModes,
  shavings: readonly Shaving[],
  calibration?: Calibration,
  slopesBefore: readonly (readonly number[])[] | undefined = calibration &&
    slopesOf(prepared, base, before.modes, calibration.parameters),
): ShavingAnswer {
  const plate = shaved(base, shavings);
  const after = plateModes(prepared, plate, { count: before.modes.length + 3 });
  if (after.kind !== 'modes') return { kind: 'unsolvable' };
  const partners = matched(prepared, before.modes, after.modes);
  const afterModes = partners.map(({ partner }) => after.modes[partner]!);
  const spread = calibration && slopesBefore && spreads(prepared, plate, afterModes, slopesBefore, calibration);
  const moves = before.modes.map(({ frequencyHz }, mode): ModeMove => {
    const reached = afterModes[mode]!.frequencyHz;
    const sigma = Math.hypot(spread?.move[mode] ?? 0, MOVE_ERROR_SHARE * (reached - frequencyHz));
    const start = estimate(frequencyHz, spread?.before[mode] ?? 0);
    return {
      mode,
      before: start,
      after: estimate(reached, Math.hypot(start.sigma, sigma)),
      move: estimate(reached - frequencyHz, sigma),
      likeness: partners[mode]!.likeness,
    };
  });
  return {
    kind: 'forecast',
    plate,
    moves,
    removedG: before.massG - after.massG,
    modes: { ...after, modes: afterModes },
  };
}

/** Spread of each frequency and of each move from what the calibration leaves open: slopes after minus slopes before. */
function spreads(
  prepared: PreparedPlate,
  plate: PlateCase,
  after: readonly PlateMode[],
  slopesBefore: readonly (readonly number[])[],
  calibration: Calibration,
): { readonly before: readonly number[]; readonly move: readonly number[] } {
  const slopesAfter = slopesOf(prepared, plate, after, calibration.parameters);
  const change = slopesAfter.map((row, m) => row.map((slope, p) => slope - slopesBefore[m]![p]!));
  return { before: frequencySigmas(slopesBefore, calibration), move: frequencySigmas(change, calibration) };
}

/** Whether a forecast and a later measurement of the same move agree within their stated spreads (two sigma). */
export function agrees(forecast: Estimate, measured: Estimate): boolean {
  const apart = difference(measured, forecast);
  return Math.abs(apart.value) <= 2 * apart.sigma;
}
