// The bare formulas makers use: each mode as if the others were not there. Shown as a check, never as the answer.
import type { BoardSize } from './board-energy.ts';

/** First root of cos(x) cosh(x) = 1. Source: any text on the free-free bar; computed. */
export const FREE_BAR_ROOT = 4.730040744862704;

/** E = c rho f^2 L^4 / h^2 of a free bar: c = 48 pi^2 / root^4 (ASTM E1876 prints 0.9465). */
export const BAR_FACTOR = (48 * Math.PI ** 2) / FREE_BAR_ROOT ** 4;

/** Moduli by the bare formulas, Pa. */
export interface SimpleModuli {
  readonly eLongPa: number;
  readonly eCrossPa: number;
  readonly gPa: number;
}

/**
 * E along, E across and G of a board, each from its own mode alone.
 * @param frequenciesHz long-grain bending, cross-grain bending, twist
 * @returns Pa; off by up to 8 % near the aspect (E_L/E_R)^(1/4), and G 8 to 12 % low
 * Source: free-free bar, ASTM E1876; twist by Rayleigh with w = x y, McIntyre & Woodhouse, J. Catgut Acoust. Soc. 42
 * (1984): G = (pi^2 / 12) rho f^2 a^2 b^2 / h^2 (re-derived).
 */
export function simpleModuli(
  { lengthM, widthM, thicknessM }: BoardSize,
  densityKgM3: number,
  [longHz, crossHz, twistHz]: readonly [number, number, number],
): SimpleModuli {
  const perHz2 = densityKgM3 / thicknessM ** 2;
  return {
    eLongPa: BAR_FACTOR * perHz2 * longHz ** 2 * lengthM ** 4,
    eCrossPa: BAR_FACTOR * perHz2 * crossHz ** 2 * widthM ** 4,
    gPa: (Math.PI ** 2 / 12) * perHz2 * (twistHz * lengthM * widthM) ** 2,
  };
}
