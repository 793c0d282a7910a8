// Wood taken off braces, and what it does to the modes. Small shavings follow the slopes; anything the maker would notice
// is solved again on the same mesh.
import { afterEvenCut, type BraceCut } from '../brace/cut.ts';
import { lineHeightMm, profileOf } from '../brace/profile.ts';
import type { BraceCase, PlateCase } from '../plate/plate-case.ts';
import { type PlateMode, type PlateModes, type PreparedPlate, plateModes } from '../plate/plate-modes.ts';
import { braceSensitivity } from '../plate/sensitivity.ts';
import { difference, type Estimate, estimate } from '../quantity/estimate.ts';
import type { Calibration } from './calibration.ts';
import { frequencySigmas, slopesOf } from './properties.ts';
import { followedModes } from './shape-match.ts';

/** Height left where a cut would go through, mm: the forecast never works with a brace of no height. */
const LEAST_HEIGHT_MM = 0.1;

/** The plate after cuts; other parts are shared with the plate before. */
export function cutPlate(plate: PlateCase, cuts: readonly BraceCut[]): PlateCase {
  const braces = (plate.braces ?? []).map((brace) =>
    cuts.filter(({ braceId }) => braceId === brace.id).reduce(cutBrace, brace),
  );
  return { ...plate, braces };
}

function cutBrace(brace: BraceCase, cut: BraceCut): BraceCase {
  const lengthMm = Math.hypot(brace.to[0] - brace.from[0], brace.to[1] - brace.from[1]);
  const after = afterEvenCut(profileOf(brace.heightMm), lengthMm, cut);
  return {
    ...brace,
    heightMm: after.map(({ atMm, heightMm }) => [atMm, Math.max(LEAST_HEIGHT_MM, heightMm)] as const),
  };
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

interface ShavingForecast {
  readonly kind: 'forecast';
  readonly plate: PlateCase;
  readonly moves: readonly ModeMove[];
  readonly removedG: number;
  readonly modes: PlateModes;
}

export type ShavingAnswer = ShavingForecast | { readonly kind: 'unsolvable' };

/**
 * Model error of a move, as a share of it (one sigma), so wide that two sigma, or 0.15 Hz, hold 95 % of the moves of modes
 * 1 to 6 of all shaved solids in tests/reference (tests/plate/moves.test.ts).
 */
export const MOVE_ERROR_SHARE = 0.06;

/** How well a blade is stopped at a height: one sigma of what comes off a brace in one go, mm. Common practice, no source. */
export const CUT_SIGMA_MM = 0.1;

/**
 * What a shaving will do to each mode, by solving the plate again.
 * @param base        the plate before, with the lines of the prepared one
 * @param before      its modes
 * @param calibration  fitted to measurements; without it the moves carry the model error alone
 * @param slopesBefore `slopesOf` the plate before, if known already
 * @param spreadFactor how much wider than by themselves the moves are to be stated, from the record of past forecasts
 */
export function forecastShaving(
  prepared: PreparedPlate,
  base: PlateCase,
  before: PlateModes,
  cuts: readonly BraceCut[],
  calibration?: Calibration,
  slopesBefore: readonly (readonly number[])[] | undefined = calibration &&
    slopesOf(prepared, base, before.modes, calibration.parameters),
  spreadFactor = 1,
): ShavingAnswer {
  const plate = cutPlate(base, cuts);
  const after = plateModes(prepared, plate, { count: before.modes.length + 3, near: before.modes });
  if (after.kind !== 'modes') return { kind: 'unsolvable' };
  const partners = followedModes(prepared, before.modes, after.modes, 'heights');
  const afterModes = partners.map(({ mode }) => mode);
  const slopesAfter = calibration && slopesOf(prepared, plate, afterModes, calibration.parameters);
  const sigmas = moveSigmas(
    prepared,
    { plate: base, modes: before.modes, slopes: slopesBefore },
    { plate, modes: afterModes, slopes: slopesAfter },
    calibration,
  );
  const openHz = calibration && slopesBefore && frequencySigmas(slopesBefore, calibration);
  const moves = before.modes.map(({ frequencyHz }, mode): ModeMove => {
    const reached = afterModes[mode]!.frequencyHz;
    const sigma = spreadFactor * sigmas[mode]!;
    const start = estimate(frequencyHz, openHz?.[mode] ?? 0);
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

/** A plate with its modes, in the order of the modes before, and its `slopesOf` the fitted properties. */
export interface Solved {
  readonly plate: PlateCase;
  readonly modes: readonly PlateMode[];
  readonly slopes: readonly (readonly number[])[] | undefined;
}

/**
 * Spread of the move of each mode from one state of a top to the next, Hz: the error of the model, what the fit leaves open
 * of the woods (slopes after minus slopes before), and how well the cut was made.
 */
export function moveSigmas(
  prepared: PreparedPlate,
  before: Solved,
  after: Solved,
  calibration?: Calibration,
): readonly number[] {
  const slopes = after.slopes?.map((row, m) => row.map((slope, p) => slope - before.slopes![m]![p]!));
  const openHz = calibration && slopes && frequencySigmas(slopes, calibration);
  const cutHz = cutSigmas(prepared, before.plate, after);
  return after.modes.map(({ frequencyHz }, m) =>
    Math.hypot(openHz?.[m] ?? 0, MOVE_ERROR_SHARE * (frequencyHz - before.modes[m]!.frequencyHz), cutHz[m]!),
  );
}

/** Less than this is no cut, mm. */
const NO_CUT_MM = 0.02;

/** What an error of `CUT_SIGMA_MM`, common to all that was cut on a brace in one go, does to each mode, Hz. */
export function cutSigmas(
  prepared: PreparedPlate,
  before: PlateCase,
  { plate, modes }: Pick<Solved, 'plate' | 'modes'>,
): readonly number[] {
  const isCut = (brace: number, atMm: number): boolean =>
    lineHeightMm(before.braces![brace]!.heightMm, atMm) - lineHeightMm(plate.braces![brace]!.heightMm, atMm) >
    NO_CUT_MM;
  const cut = braceSensitivity(prepared, plate, modes).filter(({ brace, fromMm, toMm }) =>
    isCut(brace, (fromMm + toMm) / 2),
  );
  const braces = [...new Set(cut.map(({ brace }) => brace))];
  return modes.map((_, m) =>
    Math.hypot(
      ...braces.map(
        (brace) =>
          CUT_SIGMA_MM * cut.reduce((sum, stretch) => sum + (stretch.brace === brace ? stretch.hzPerMm[m]! : 0), 0),
      ),
    ),
  );
}

/** Whether a forecast and a later measurement of the same move agree within their stated spreads (two sigma). */
export function agrees(forecast: Estimate, measured: Estimate): boolean {
  const apart = difference(measured, forecast);
  return Math.abs(apart.value) <= 2 * apart.sigma;
}

/** Moves whose forecast is counted as right beforehand, so that one unlucky move does not decide alone. */
const PRIOR_MOVES = 4;

/**
 * How much wider than stated some spreads should have been; at least 1.
 * @param missed sum of the squares of what was missed, in stated sigmas
 * @param moves  how many were put to the test
 */
export const widening = (missed: number, moves: number): number =>
  Math.max(1, Math.sqrt((PRIOR_MOVES + missed) / (PRIOR_MOVES + moves)));

/** How much wider than stated the forecasts of a top should have been, from those that were put to the test; at least 1. */
export function spreadFactorOf(past: readonly { readonly forecast: Estimate; readonly measured: Estimate }[]): number {
  const foretold = past.filter(({ forecast }) => forecast.value !== 0);
  const missed = foretold.reduce((sum, { forecast, measured }) => {
    const apart = difference(measured, forecast);
    return sum + (apart.value / apart.sigma) ** 2;
  }, 0);
  return widening(missed, foretold.length);
}
