// Where a mode keeps its energy, and hence how it answers to the wood and the size: the slopes of Rayleigh's quotient.
import { type BoardElastic, type BoardSize, type EnergyPart, type EnergyTerm, plateFactor } from './board-energy.ts';

/** Relative change of a frequency per relative change of one quantity, d ln f / d ln p. */
export interface Sensitivities {
  readonly eLong: number;
  readonly eCross: number;
  readonly g: number;
  readonly nu: number;
  readonly shearLong: number;
  readonly shearCross: number;
  readonly length: number;
  readonly width: number;
  /** at fixed mass, as on a scale */
  readonly thickness: number;
  readonly mass: number;
}

const NO_ENERGY: Readonly<Record<EnergyPart, number>> = {
  long: 0,
  cross: 0,
  coupling: 0,
  twist: 0,
  shearLong: 0,
  shearCross: 0,
};

/** Energy of one mode: shares that sum to 1, and the mean powers of 1/length and 1/width. */
export interface EnergyShares {
  readonly parts: Readonly<Record<EnergyPart, number>>;
  readonly byLength: number;
  readonly byWidth: number;
}

/** Shares of the strain energy by part, and its mean powers of length and width. */
export function energyShares(
  terms: readonly EnergyTerm[],
  displacement: readonly Float64Array[],
  stiffness: Readonly<Record<EnergyPart, number>>,
  size: BoardSize,
): EnergyShares {
  const parts = { ...NO_ENERGY };
  let byLength = 0;
  let byWidth = 0;
  let total = 0;
  for (const { part, aPower, bPower, rowField, columnField, matrix } of terms) {
    const left = displacement[rowField]!;
    const right = displacement[columnField]!;
    const n = left.length;
    let sum = 0;
    for (let r = 0; r < n; r++) {
      let row = 0;
      for (let c = 0; c < n; c++) row += matrix[r * n + c]! * right[c]!;
      sum += left[r]! * row;
    }
    const energy = (sum * stiffness[part]) / (size.lengthM ** aPower * size.widthM ** bPower);
    parts[part] += energy;
    byLength += aPower * energy;
    byWidth += bPower * energy;
    total += energy;
  }
  for (const part of Object.keys(parts) as EnergyPart[]) parts[part] /= total;
  return { parts, byLength: byLength / total, byWidth: byWidth / total };
}

export function sensitivities(
  elastic: BoardElastic,
  shares: EnergyShares,
  rotary: { readonly long: number; readonly cross: number },
): Sensitivities {
  const { parts } = shares;
  const plate = parts.long + parts.cross + parts.coupling;
  // mu = 1 - nu^2 E_R / E_L stands below all plate terms: d ln mu = q (d ln E_L - d ln E_R - 2 d ln nu)
  const mu = plateFactor(elastic);
  const q = (1 - mu) / mu;
  const shear = parts.shearLong + parts.shearCross;
  // ln f = 1/2 ln (U / T): half of every power. T grows with the mass, and its rotary share with (thickness / side)^2.
  return {
    eLong: (parts.long - q * plate) / 2,
    eCross: (parts.cross + parts.coupling + q * plate) / 2,
    g: parts.twist / 2,
    nu: (parts.coupling + 2 * q * plate) / 2,
    shearLong: parts.shearLong / 2,
    shearCross: parts.shearCross / 2,
    length: (1 - shares.byLength) / 2 + rotary.long,
    width: (1 - shares.byWidth) / 2 + rotary.cross,
    thickness: (3 * (plate + parts.twist) + shear - 2 * (rotary.long + rotary.cross)) / 2,
    mass: -1 / 2,
  };
}
