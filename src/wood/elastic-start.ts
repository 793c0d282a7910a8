// What to expect of a board before it is tapped: the handbook's means with the spread of a single board.
import { type Estimate, estimate } from '../quantity/estimate.ts';
import type { BoardElastic } from './board-energy.ts';
import { type Species, speciesById } from './species.ts';

/**
 * E_L over the tabled bending modulus, which has shear deflection in it.
 * Source: FPL-GTR-282 chapter 5, text under Table 5-1 (from memory).
 */
export const E_LONG_OVER_MOE = 1.1;

/** Spread of one board about the species' mean, relative. Source: FPL-GTR-282 Table 5-6, clear wood (from memory). */
const BOARD_SPREAD = { moe: 0.22, gravity: 0.1 };

/**
 * Spread given to a tabled elastic ratio, relative: what a ratio scatters from board to board and with ring angle.
 * Source: ours; the two sets of ratios published for Sitka differ by 10 to 40 %.
 */
const RATIO_SPREAD = 0.3;

/** G_LT / E_L and G_RT / E_L: they let a plate bend a little by shear, and cannot be tapped. */
export interface ShearRatios {
  readonly longRatio: Estimate;
  readonly crossRatio: Estimate;
}

/** Elastic constants to start from, Pa, each with the spread of a single board. */
export interface ElasticStart {
  readonly eLongPa: Estimate;
  readonly eCrossPa: Estimate;
  readonly gPa: Estimate;
  readonly densityKgM3: Estimate;
  readonly nuLR: Estimate;
  /** undefined: leave the shear out (Kirchhoff), for quick searching */
  readonly shearRatios: ShearRatios | undefined;
  /** which figures are the family's and not this wood's own */
  readonly assumed: readonly ('gravity' | 'modulus' | 'ratios')[];
}

const STAND_IN: Readonly<Record<Species['family'], string>> = { softwood: 'sitka-spruce', hardwood: 'sugar-maple' };

/** G_RT / E_L where the table has none. Source: ours, between the tabled softwoods (0.003-0.011) and hardwoods (0.02). */
const G_RT_OVER_E_L_UNKNOWN = 0.02;

/** Ovendry mass grows by the water it holds. Source: FPL-GTR-282 eq. 4-12: rho = 1000 G (1 + M/100). */
export function densityKgM3(gravity: number, moisturePercent: number): number {
  return 1000 * gravity * (1 + moisturePercent / 100);
}

/**
 * Elastic constants to start a board from, at 12 % moisture: the wood's own row, else its family's stand-in.
 * @param species a wood of the list; undefined for free text, which takes the softwood stand-in
 * @returns estimates with the spread of a single board, and which figures are the stand-in's
 * Source: E_L = 1.10 MOE, ratios of Table 5-1, spread of Table 5-6.
 */
export function elasticStart(species: Species | undefined): ElasticStart {
  const standIn = speciesById(STAND_IN[species?.family ?? 'softwood'])!;
  const gravity = species?.gravity12 ?? standIn.gravity12!;
  const moe = species?.moe12Gpa ?? standIn.moe12Gpa!;
  const ratios = species?.ratios ?? standIn.ratios!;
  const poisson = species?.poisson ?? standIn.poisson!;
  const assumed: ('gravity' | 'modulus' | 'ratios')[] = [];
  if (species?.gravity12 === undefined) assumed.push('gravity');
  if (species?.moe12Gpa === undefined) assumed.push('modulus');
  if (species?.ratios === undefined) assumed.push('ratios');
  const eLong = E_LONG_OVER_MOE * moe.value * 1e9;
  const spread = (value: number, relative: number) => estimate(value, relative * value);
  const byRatio = (ratio: number) => spread(eLong * ratio, Math.hypot(BOARD_SPREAD.moe, RATIO_SPREAD));
  return {
    eLongPa: spread(eLong, BOARD_SPREAD.moe),
    eCrossPa: byRatio(ratios.eR.value),
    gPa: byRatio(ratios.gLR.value),
    densityKgM3: spread(densityKgM3(gravity.value, 12), BOARD_SPREAD.gravity),
    nuLR: spread(poisson.lr.value, 0.2),
    shearRatios: {
      longRatio: spread(ratios.gLT.value, RATIO_SPREAD),
      crossRatio: spread(ratios.gRT?.value ?? G_RT_OVER_E_L_UNKNOWN, RATIO_SPREAD),
    },
    assumed,
  };
}

/**
 * A board's constants with the shear through its thickness in the handbook's proportion to E_L.
 * @param ratios undefined leaves the shear out
 */
export function withShear(elastic: BoardElastic, ratios: ShearRatios | undefined): BoardElastic {
  if (ratios === undefined) return elastic;
  return {
    ...elastic,
    shear: {
      longPa: ratios.longRatio.value * elastic.eLongPa,
      crossPa: ratios.crossRatio.value * elastic.eLongPa,
    },
  };
}
