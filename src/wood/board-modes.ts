// Modes of a free rectangular board by the method of Rayleigh and Ritz: what its taps should sound, how its node lines
// run, and how each mode answers to the wood's constants and the board's size.
import { CholeskyDecomposition, EigenvalueDecomposition, Matrix } from 'ml-matrix';
import {
  type BoardElastic,
  type BoardSize,
  type EnergyPart,
  type EnergyTerm,
  energyTerms,
  type Parity,
  partStiffness,
  plateFactor,
} from './board-energy.ts';
import { legendreProducts, legendreValues } from './legendre.ts';
import { needPositive } from './positive.ts';

/** Number of node lines crossing the grain (m) and running along it (n): (2,0) long-grain bending, (1,1) twist. */
export interface Pattern {
  readonly m: number;
  readonly n: number;
}

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

/** One mode of a free board. */
export interface BoardMode {
  readonly frequencyHz: number;
  readonly pattern: Pattern;
  /** share of the motion in the product of free-bar shapes that `pattern` names, 0 to 1; below 0.8 two modes mix */
  readonly purity: number;
  /** share of the strain energy in each part; sums to 1 ('coupling' may be negative) */
  readonly energy: Readonly<Record<EnergyPart, number>>;
  readonly sensitivity: Sensitivities;
  readonly parity: Parity;
  /** deflection in orthonormal Legendre products of the unit square, (n * n), x index slow; mean square 1/4 */
  readonly shape: Float64Array;
}

/** Functions per direction and parity, and modes kept of each parity. */
export interface RitzSize {
  readonly functions: number;
  readonly perParity: number;
}

/**
 * Within 1.5e-3 of the limit for the lowest eight modes of a wooden board with transverse shear (the thin edge layer of
 * twist is what converges last), 1e-5 without; see tests/wood/board-modes.test.ts.
 */
export const RITZ_SIZE: RitzSize = { functions: 7, perParity: 5 };

const PARITIES: readonly Parity[] = [
  [0, 0],
  [0, 1],
  [1, 0],
  [1, 1],
];

/** Motions that cost no energy in each parity: rise (even, even), and the two tilts. */
const rigidModes = ([px, py]: Parity): number => (px === 1 && py === 1 ? 0 : 1);

/** Free-bar shapes of one parity as rows in the Legendre basis, ascending in node count. */
function barShapes(count: number, parity: 0 | 1): Float64Array[] {
  const products = legendreProducts(2 * count);
  const curvature = products[2]![2]!;
  const matrix = new Matrix(count, count);
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < count; j++) matrix.set(i, j, curvature[(2 * i + parity) * 2 * count + 2 * j + parity]!);
  }
  const { eigenvectorMatrix } = new EigenvalueDecomposition(matrix, { assumeSymmetric: true });
  return Array.from({ length: count }, (_, k) => Float64Array.from(eigenvectorMatrix.getColumn(k)));
}

/** Name each shape after the bar product it holds most of; every name is used once, the purest shape choosing first. */
function nameShapes(shapes: readonly Float64Array[], count: number, [px, py]: Parity) {
  const alongX = barShapes(count, px);
  const alongY = barShapes(count, py);
  const claims: { shape: number; pattern: Pattern; share: number }[] = [];
  shapes.forEach((shape, index) => {
    for (let k = 0; k < Math.min(count, 4); k++) {
      for (let l = 0; l < Math.min(count, 4); l++) {
        let overlap = 0;
        for (let i = 0; i < count; i++) {
          for (let j = 0; j < count; j++) overlap += alongX[k]![i]! * alongY[l]![j]! * shape[i * count + j]!;
        }
        claims.push({ shape: index, pattern: { m: 2 * k + px, n: 2 * l + py }, share: overlap ** 2 });
      }
    }
  });
  claims.sort((p, q) => q.share - p.share);
  const names = new Map<number, { pattern: Pattern; purity: number }>();
  const taken = new Set<string>();
  for (const { shape, pattern, share } of claims) {
    const key = `${pattern.m},${pattern.n}`;
    if (names.has(shape) || taken.has(key)) continue;
    taken.add(key);
    names.set(shape, { pattern, purity: share });
  }
  return shapes.map((_, index) => names.get(index)!);
}

interface Block {
  readonly stiffness: Matrix;
  readonly mass: Matrix;
  /** rotations that follow the deflection, rows of both rotation fields; null for a thin board */
  readonly rotations: Matrix | null;
}

/** Stiffness and mass of one parity per unit area, with the rotations of a shearing board eliminated. */
function assembleBlock(
  terms: readonly EnergyTerm[],
  size: BoardSize,
  elastic: BoardElastic,
  arealKgM2: number,
  count: number,
): Block {
  const block = count * count;
  const fields = elastic.shear === undefined ? 1 : 3;
  const order = fields * block;
  const full = Array.from({ length: order }, () => new Float64Array(order));
  const stiffness = partStiffness(elastic, size.thicknessM);
  for (const { part, aPower, bPower, rowField, columnField, matrix } of terms) {
    // Half of each product goes to either side of the diagonal, so that the sum is symmetric whatever the pairing.
    const factor = (0.5 * stiffness[part]) / (size.lengthM ** aPower * size.widthM ** bPower);
    for (let r = 0; r < block; r++) {
      const row = rowField * block + r;
      for (let c = 0; c < block; c++) {
        const value = factor * matrix[r * block + c]!;
        const column = columnField * block + c;
        full[row]![column]! += value;
        full[column]![row]! += value;
      }
    }
  }
  const whole = new Matrix(full);
  if (fields === 1) return { stiffness: whole, mass: Matrix.eye(block, block, arealKgM2), rotations: null };
  const deflection = whole.subMatrix(0, block - 1, 0, block - 1);
  const coupling = whole.subMatrix(block, order - 1, 0, block - 1);
  const rotation = whole.subMatrix(block, order - 1, block, order - 1);
  // Rotary inertia is 1e-3 of the whole: letting the rotations follow statically (Guyan 1965) costs less than 1e-6.
  const rotations = new CholeskyDecomposition(rotation).solve(coupling).mul(-1);
  const rotary = (arealKgM2 * size.thicknessM ** 2) / 12;
  return {
    stiffness: deflection.add(coupling.transpose().mmul(rotations)),
    mass: Matrix.eye(block, block, arealKgM2).add(rotations.transpose().mmul(rotations).mul(rotary)),
    rotations,
  };
}

/** Solve K v = lambda M v for symmetric K and positive definite M; ascending, v' M v = 1. */
function solveModes(stiffness: Matrix, mass: Matrix): { values: readonly number[]; vectors: Matrix } {
  const lower = new CholeskyDecomposition(mass).lowerTriangularMatrix;
  const inverse = invertLower(lower);
  const reduced = inverse.mmul(stiffness).mmul(inverse.transpose());
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(reduced, { assumeSymmetric: true });
  return { values: realEigenvalues, vectors: inverse.transpose().mmul(eigenvectorMatrix) };
}

function invertLower(lower: Matrix): Matrix {
  const n = lower.rows;
  const inverse = Matrix.zeros(n, n);
  for (let column = 0; column < n; column++) {
    for (let row = column; row < n; row++) {
      let sum = row === column ? 1 : 0;
      for (let k = column; k < row; k++) sum -= lower.get(row, k) * inverse.get(k, column);
      inverse.set(row, column, sum / lower.get(row, row));
    }
  }
  return inverse;
}

const NO_ENERGY: Readonly<Record<EnergyPart, number>> = {
  long: 0,
  cross: 0,
  coupling: 0,
  twist: 0,
  shearLong: 0,
  shearCross: 0,
};

/** Shares of the strain energy by part, and its mean powers of length and width. */
function energyShares(
  terms: readonly EnergyTerm[],
  displacement: readonly Float64Array[],
  stiffness: Readonly<Record<EnergyPart, number>>,
  size: BoardSize,
) {
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

function sensitivities(
  elastic: BoardElastic,
  shares: ReturnType<typeof energyShares>,
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

/** Modes of one parity. */
function parityModes(
  size: BoardSize,
  elastic: BoardElastic,
  densityKgM3: number,
  parity: Parity,
  { functions, perParity }: RitzSize,
): BoardMode[] {
  const terms = energyTerms(functions, parity, elastic.shear === undefined);
  const arealKgM2 = densityKgM3 * size.thicknessM;
  const { stiffness, mass, rotations } = assembleBlock(terms, size, elastic, arealKgM2, functions);
  const { values, vectors } = solveModes(stiffness, mass);
  const block = functions * functions;
  const skip = rigidModes(parity);
  const kept = Array.from({ length: Math.min(perParity, block - skip) }, (_, k) => k + skip);
  const shapes = kept.map((k) => {
    const shape = Float64Array.from(vectors.getColumn(k));
    const norm = Math.hypot(...shape);
    return shape.map((each) => each / norm);
  });
  const names = nameShapes(shapes, functions, parity);
  const parts = partStiffness(elastic, size.thicknessM);
  return kept.map((k, index) => {
    const shape = shapes[index]!;
    const displacement = [shape];
    const rotary = { long: 0, cross: 0 };
    if (rotations !== null) {
      const turned = Float64Array.from(rotations.mmul(Matrix.columnVector(shape)).getColumn(0));
      displacement.push(turned.slice(0, block), turned.slice(block));
      const kinetic = displacement.map((field) => field.reduce((sum, each) => sum + each * each, 0));
      const inertia = size.thicknessM ** 2 / 12;
      const total = 1 + inertia * (kinetic[1]! + kinetic[2]!);
      rotary.long = (inertia * kinetic[1]!) / total;
      rotary.cross = (inertia * kinetic[2]!) / total;
    }
    const shares = energyShares(terms, displacement, parts, size);
    return {
      frequencyHz: Math.sqrt(values[k]!) / (2 * Math.PI),
      ...names[index]!,
      energy: shares.parts,
      sensitivity: sensitivities(elastic, shares, rotary),
      parity,
      shape,
    };
  });
}

/**
 * The lowest modes of a free rectangular board, ascending.
 * @param size        length along the grain, width, thickness, m, > 0
 * @param elastic     moduli in Pa; with `shear` Mindlin's theory (wood across the grain needs it), without Kirchhoff's
 * @param densityKgM3 > 0
 * @param parities    which symmetries to solve; all four if not given
 * @param ritz        functions and modes per symmetry
 * @returns perParity modes of each parity, rigid motions left out; exact for the numbers given (upper bounds)
 * @throws RangeError for a size, modulus or density that is not > 0
 * Source: method of Ritz (1909) in Legendre products, after McIntyre & Woodhouse, Acustica 68 (1989) for the choice of
 * constants; sensitivities by Rayleigh's quotient (energy shares).
 */
export function boardModes(
  size: BoardSize,
  elastic: BoardElastic,
  densityKgM3: number,
  parities: readonly Parity[] = PARITIES,
  ritz: RitzSize = RITZ_SIZE,
): readonly BoardMode[] {
  needPositive('boardModes', {
    ...size,
    eLongPa: elastic.eLongPa,
    eCrossPa: elastic.eCrossPa,
    gPa: elastic.gPa,
    densityKgM3,
  });
  if (plateFactor(elastic) <= 0) throw new RangeError(`boardModes: nuLR ${elastic.nuLR}, need nu^2 < E_L / E_R`);
  return parities
    .flatMap((parity) => parityModes(size, elastic, densityKgM3, parity, ritz))
    .sort((p, q) => p.frequencyHz - q.frequencyHz);
}

/** Deflection of a mode at a point of the unit square, x and y in [-1, 1]. */
export function deflectionAt(mode: Pick<BoardMode, 'shape' | 'parity'>, x: number, y: number): number {
  const count = Math.round(Math.sqrt(mode.shape.length));
  const alongX = legendreValues(2 * count, x);
  const alongY = legendreValues(2 * count, y);
  let sum = 0;
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < count; j++) {
      sum += mode.shape[i * count + j]! * alongX[2 * i + mode.parity[0]]! * alongY[2 * j + mode.parity[1]]!;
    }
  }
  return sum;
}
