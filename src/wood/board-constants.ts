// What a board is: density, stiffness along, across and in twist, speed of sound, radiation ratio, impedance and
// damping, from three tapped modes, a ruler and a scale.
import { solveLinear } from '../algebra/small-matrix.ts';
import { type Estimate, propagated } from '../quantity/estimate.ts';
import { type BoardFit, fitBoard, type NamedFrequency } from './board-fit.ts';
import { type BoardMode, boardModes, RITZ_SIZE, type RitzSize } from './board-modes.ts';
import { type BoardWarning, warnOf } from './board-warnings.ts';
import type { ElasticStart } from './elastic-start.ts';
import { type EntrySuspect, entrySuspects, likelyExchange } from './entry-check.ts';
import { TAP_PATTERNS, type TapKind } from './hold-guide.ts';
import { boardOf, type MeasuredBoard, type TappedMode } from './measured-board.ts';
import { radiationRatio, soundSpeedMS } from './radiation.ts';
import { simpleModuli } from './simple-formula.ts';
import { combined, type InputCode, type LogGradient, type Traced, traced } from './traced.ts';

/** Everything a board was measured by. */
export interface BoardTaps {
  readonly board: MeasuredBoard;
  readonly taps: Readonly<Partial<Record<TapKind, TappedMode>>>;
  /** how far a mode may lie from a flat board's because the board is not flat, relative frequency, one sigma */
  readonly unevenness?: Readonly<Partial<Record<TapKind, number>>>;
}

/** The bare formula beside the plate's answer. */
interface SimpleCheck {
  readonly gpa: number;
  /** simple over full: what the bare formula would have been wrong by */
  readonly ratio: number;
}

/** The numbers a maker chooses and thicknesses by. */
export interface BoardConstants {
  readonly densityKgM3: Traced;
  readonly eLongGpa: Traced;
  readonly eCrossGpa: Traced;
  readonly gGpa: Traced;
  readonly speedLongMS: Traced;
  readonly speedCrossMS: Traced;
  /** speed along the grain over density, m^4/(kg s) */
  readonly radiationRatio: Traced;
  /** density times speed along the grain, kg/(m^2 s) */
  readonly impedance: Traced;
}

/** Loss factors of the material, or undefined where a Q is missing. */
export interface LossFactors {
  readonly long: Estimate;
  readonly cross: Estimate;
  readonly twist: Estimate;
}

/** A reading of a board, or why there is none. */
export type BoardReading =
  | {
      readonly kind: 'read';
      readonly constants: BoardConstants;
      readonly loss: LossFactors | undefined;
      readonly simple: Readonly<Record<TapKind, SimpleCheck>>;
      readonly warnings: readonly BoardWarning[];
      readonly fit: BoardFit;
    }
  | { readonly kind: 'missing-taps'; readonly missing: readonly TapKind[] }
  | { readonly kind: 'not-wood'; readonly suspects: readonly EntrySuspect[] };

const INPUT_OF: Readonly<Record<TapKind, InputCode>> = {
  'long-grain-bending': 'long-tap',
  'cross-grain-bending': 'cross-tap',
  twist: 'twist-tap',
};
const KINDS = Object.keys(TAP_PATTERNS) as readonly TapKind[];

/**
 * The constants of a fit with their uncertainty traced to the inputs.
 * Source: definitions: c = sqrt(E / rho); radiation ratio c / rho and impedance rho c, U. Wegst, Am. J. Bot. 93 (2006).
 */
export function constantsOf(fit: BoardFit): BoardConstants {
  const { elastic, densityKgM3: rho, gradients } = fit;
  const { eLong, eCross, g, density } = gradients;
  const speed = (gradient: LogGradient) =>
    combined([
      [gradient, 0.5],
      [density, -0.5],
    ]);
  const speedLong = soundSpeedMS(elastic.eLongPa, rho);
  const radiation = combined([
    [speed(eLong), 1],
    [density, -1],
  ]);
  const impedance = combined([
    [speed(eLong), 1],
    [density, 1],
  ]);
  return {
    densityKgM3: traced(rho, density),
    eLongGpa: traced(elastic.eLongPa / 1e9, eLong),
    eCrossGpa: traced(elastic.eCrossPa / 1e9, eCross),
    gGpa: traced(elastic.gPa / 1e9, g),
    speedLongMS: traced(speedLong, speed(eLong)),
    speedCrossMS: traced(soundSpeedMS(elastic.eCrossPa, rho), speed(eCross)),
    radiationRatio: traced(radiationRatio(elastic.eLongPa, rho), radiation),
    impedance: traced(speedLong * rho, impedance),
  };
}

/**
 * Loss factors along, across and in twist from the Q of three modes: each mode's loss is the mean of the material's,
 * weighted by where the mode keeps its energy.
 * @param modes (3,) modes of the fitted board
 * @param qs    (3,) their Q
 * Source: McIntyre & Woodhouse, Acustica 68 (1989): complex moduli, 1/Q = sum of energy share times loss factor.
 */
export function lossFactors(modes: readonly BoardMode[], qs: readonly Estimate[]): LossFactors {
  const shares = modes.map(({ energy }) => [
    energy.long,
    energy.cross + energy.coupling + energy.shearCross,
    energy.twist + energy.shearLong,
  ]);
  const nth = (index: number) =>
    propagated(
      (values) =>
        solveLinear(
          shares,
          values.map((q) => 1 / q),
        )[index]!,
      qs,
    ).result;
  return { long: nth(0), cross: nth(1), twist: nth(2) };
}

/**
 * Read a board from its three taps.
 * @param given sizes in mm, mass in g, frequencies in Hz, each with one sigma
 * @param start handbook values of the wood (`elasticStart`): plausibility, Poisson's ratio and thickness shear moduli
 * @param ritz  basis of the plate solver; the usual one is converged
 * @returns the constants with uncertainty and its origin, the loss factors, the bare formulas for comparison and what to
 *          beware of; or which taps are missing; or which entry is most likely wrong
 */
export function readBoard(given: BoardTaps, start: ElasticStart, ritz: RitzSize = RITZ_SIZE): BoardReading {
  const missing = KINDS.filter((kind) => given.taps[kind] === undefined);
  if (missing.length > 0) return { kind: 'missing-taps', missing };
  const taps = KINDS.map((kind) => given.taps[kind]!);
  const tapsHz = Object.fromEntries(KINDS.map((k, i) => [k, taps[i]!.frequencyHz.value])) as Record<TapKind, number>;
  const suspects = entrySuspects(given.board, tapsHz, start);
  if (suspects.length > 0) return { kind: 'not-wood', suspects };
  const exchange = likelyExchange(given.board, tapsHz, start);
  const observations: NamedFrequency[] = KINDS.map((kind, k) => ({
    pattern: TAP_PATTERNS[kind],
    frequencyHz: taps[k]!.frequencyHz,
    input: INPUT_OF[kind],
    unevenness: given.unevenness?.[kind] ?? 0,
  }));
  const { size, densityKgM3 } = boardOf(given.board);
  const frequencies = taps.map(({ frequencyHz }) => frequencyHz.value) as [number, number, number];
  const bare = simpleModuli(size, densityKgM3, frequencies);
  const from = [Math.log(bare.eLongPa), Math.log(bare.eCrossPa), Math.log(bare.gPa), start.nuLR.value] as const;
  const fit = fitBoard(given.board, observations, start, from, ritz);
  const qs = taps.map(({ q }) => q);
  const check = (simplePa: number, fullPa: number): SimpleCheck => ({ gpa: simplePa / 1e9, ratio: simplePa / fullPa });
  return {
    kind: 'read',
    constants: constantsOf(fit),
    loss: qs.every((q) => q !== undefined) ? lossFactors(fit.modes, qs as Estimate[]) : undefined,
    simple: {
      'long-grain-bending': check(bare.eLongPa, fit.elastic.eLongPa),
      'cross-grain-bending': check(bare.eCrossPa, fit.elastic.eCrossPa),
      twist: check(bare.gPa, fit.elastic.gPa),
    },
    warnings: [
      ...(exchange === undefined ? [] : [{ because: 'taps-look-exchanged' as const, ...exchange }]),
      ...warnOf(fit, size, boardModes(size, fit.elastic, densityKgM3, undefined, ritz), qs),
    ],
    fit,
  };
}
