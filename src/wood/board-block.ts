// The matrices of one parity and their eigenvectors: stiffness, mass, and the rotations a shearing board hides.
import { symmetricEigen } from '../algebra/symmetric-eigen.ts';
import { type BoardElastic, type BoardSize, type EnergyTerm, partStiffness } from './board-energy.ts';
import { factorLower, innerProducts, solveLowerColumns, solveUpperColumns, transposed } from './dense.ts';

/** One parity's matrices per unit area. */
export interface Block {
  readonly stiffness: Float64Array;
  readonly mass: Float64Array;
  /** rotations that follow each deflection, (2 block * block), both fields below each other; undefined for a thin board */
  readonly rotations: Float64Array | undefined;
}

/** Stiffness and mass of one parity per unit area, with the rotations of a shearing board eliminated. */
export function assembleBlock(
  terms: readonly EnergyTerm[],
  size: BoardSize,
  elastic: BoardElastic,
  arealKgM2: number,
  block: number,
): Block {
  const turning = elastic.shear === undefined ? 0 : 2 * block;
  const stiffness = new Float64Array(block * block);
  const coupling = new Float64Array(turning * block);
  const rotation = new Float64Array(turning * turning);
  const parts = partStiffness(elastic, size.thicknessM);
  const add = (row: number, column: number, value: number) => {
    if (row < block && column < block) stiffness[row * block + column]! += value;
    else if (row >= block && column >= block) rotation[(row - block) * turning + column - block]! += value;
    else if (row >= block) coupling[(row - block) * block + column]! += value;
  };
  for (const { part, aPower, bPower, rowField, columnField, matrix } of terms) {
    // Half of each product goes to either side of the diagonal, so that the sum is symmetric whatever the pairing.
    const factor = (0.5 * parts[part]) / (size.lengthM ** aPower * size.widthM ** bPower);
    for (let r = 0; r < block; r++) {
      const row = rowField * block + r;
      for (let c = 0; c < block; c++) {
        const value = factor * matrix[r * block + c]!;
        add(row, columnField * block + c, value);
        add(columnField * block + c, row, value);
      }
    }
  }
  const mass = new Float64Array(block * block);
  for (let k = 0; k < block; k++) mass[k * block + k] = arealKgM2;
  if (turning === 0) return { stiffness, mass, rotations: undefined };
  // phi = -K_phi^-1 K_phi,w w; what is left of the stiffness is K_w - X' X with X = L^-1 K_phi,w.
  factorLower(rotation, turning);
  solveLowerColumns(rotation, turning, coupling, block);
  innerProducts(coupling, turning, block).forEach((each, k) => {
    stiffness[k]! -= each;
  });
  solveUpperColumns(rotation, turning, coupling, block);
  // Rotary inertia is 1e-3 of the whole: letting the rotations follow statically (Guyan 1965) costs less than 1e-6.
  const rotary = (arealKgM2 * size.thicknessM ** 2) / 12;
  innerProducts(coupling, turning, block).forEach((each, k) => {
    mass[k]! += rotary * each;
  });
  return { stiffness, mass, rotations: coupling.map((each) => -each) };
}

/** Solve K v = lambda M v for symmetric K and positive definite M (destroyed); ascending, vectors as rows. */
export function solveModes(
  stiffness: Float64Array,
  mass: Float64Array,
  n: number,
): { readonly values: Float64Array; readonly vectors: Float64Array } {
  factorLower(mass, n);
  solveLowerColumns(mass, n, stiffness, n);
  const reduced = transposed(stiffness, n);
  solveLowerColumns(mass, n, reduced, n);
  const { values, vectors } = symmetricEigen(reduced, n);
  const columns = transposed(vectors, n);
  solveUpperColumns(mass, n, columns, n);
  return { values, vectors: transposed(columns, n) };
}
