// What could still be measured, ranked by how much it would narrow the move of the next pass.
import type { PlateCase } from '../plate/plate-case.ts';
import { type PlateModes, type PreparedPlate, plateModes } from '../plate/plate-modes.ts';
import type { Advice } from './advice.ts';
import type { Calibration } from './calibration.ts';
import { MODEL_ERROR_SHARE, massSlopes, type Parameter, slopesOf } from './properties.ts';
import { followedModes } from './shape-match.ts';
import { CUT_SIGMA_MM, cutPlate, cutSigmas, MOVE_ERROR_SHARE } from './shaving.ts';

/** Heights after the cut by caliper, the sticks of the braces tapped, the top on the scale, one mode more of those not tapped. */
type StillToMeasure =
  | { readonly what: 'heights' | 'sticks' | 'mass' }
  | { readonly what: 'mode'; readonly mode: number };

export type MeasureNext = StillToMeasure & {
  /** what is then left of the spread of the move, 0 to 1 */
  readonly left: number;
};

/** How well each is measured: a height by caliper, mm; a stick's E along and a mode, shares; a top on the scale, g. Common practice, no source. */
const HEIGHT_SIGMA_MM = 0.03;
const STICK_SHARE = 0.02;
const MASS_SIGMA_G = 0.5;
const READING_SHARE = 0.001;

/** What narrows less than this is not worth the walk. */
const WORTH_WHILE = 0.95;

/**
 * @param mode        the one whose move is asked for, of `before`
 * @param calibration what the fit leaves open; without one, what was stated beforehand
 * @returns what narrows the move by a twentieth or more, the most telling first; undefined where the plate has no answer
 * Source: linear update of a Gaussian covariance by one measurement, Tarantola 2005, Inverse Problem Theory, section 3.2.
 */
export function measureNext(
  prepared: PreparedPlate,
  base: PlateCase,
  before: PlateModes,
  way: Pick<Advice, 'shavings' | 'moves'>,
  mode: number,
  parameters: readonly Parameter[],
  calibration?: Pick<Calibration, 'covariance' | 'fits'>,
): readonly MeasureNext[] | undefined {
  const plate = cutPlate(base, way.shavings);
  const after = plateModes(prepared, plate, { count: before.modes.length + 3, near: before.modes });
  if (after.kind !== 'modes') return undefined;
  const partners = followedModes(prepared, before.modes, after.modes, 'heights').map((followed) => followed.mode);
  const slopes = slopesOf(prepared, base, before.modes, parameters);
  const [slopesAfter] = slopesOf(prepared, plate, [partners[mode]!], parameters);
  const moved = parameters.map((_, p) => slopesAfter![p]! - slopes[mode]![p]!);
  const covariance =
    calibration?.covariance ??
    parameters.map(({ relativeSigma }, p) => parameters.map((_, q) => (p === q ? relativeSigma ** 2 : 0)));
  const times = (row: readonly number[]): readonly number[] =>
    covariance.map((of) => of.reduce((sum, value, q) => sum + value * row[q]!, 0));
  const dot = (a: readonly number[], b: readonly number[]) => a.reduce((sum, value, i) => sum + value * b[i]!, 0);
  const openHz2 = dot(moved, times(moved));
  const bladeHz2 = cutSigmas(prepared, base, { plate, modes: partners })[mode]! ** 2;
  const allHz2 = openHz2 + bladeHz2 + (MOVE_ERROR_SHARE * way.moves[mode]!.move.value) ** 2;
  /** Variance that a measurement takes off: of this combination of the logarithms, to this spread. */
  const takenHz2 = (row: readonly number[], sigma: number): number =>
    dot(moved, times(row)) ** 2 / (dot(row, times(row)) + sigma ** 2);
  const heard = new Set(calibration?.fits.map((fit) => fit.mode) ?? []);
  const grams = massSlopes(prepared, base, parameters);
  const offers: readonly (readonly [StillToMeasure, takenHz2: number])[] = [
    [{ what: 'heights' }, bladeHz2 * (1 - (HEIGHT_SIGMA_MM / CUT_SIGMA_MM) ** 2)],
    [
      { what: 'sticks' },
      takenHz2(
        parameters.map(({ property }) => (property === 'brace eL' ? 1 : 0)),
        STICK_SHARE,
      ),
    ],
    [{ what: 'mass' }, takenHz2(grams, MASS_SIGMA_G)],
    ...before.modes.flatMap(({ frequencyHz }, other) =>
      heard.has(other)
        ? []
        : [
            [
              { what: 'mode', mode: other },
              takenHz2(slopes[other]!, Math.hypot(MODEL_ERROR_SHARE, READING_SHARE) * frequencyHz),
            ] as const,
          ],
    ),
  ];
  return offers
    .map(([offer, taken]): MeasureNext => ({ ...offer, left: Math.sqrt(Math.max(0, 1 - taken / allHz2)) }))
    .filter(({ left }) => left < WORTH_WHILE)
    .toSorted((a, b) => a.left - b.left);
}
