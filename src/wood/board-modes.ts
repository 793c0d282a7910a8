// Modes of a free rectangular board by the method of Rayleigh and Ritz: what its taps should sound, how its node lines
// run, and how each mode answers to the wood's constants and the board's size.
import { needPositive } from '../quantity/positive.ts';
import { assembleBlock, solveModes } from './board-block.ts';
import {
  type BoardElastic,
  type BoardSize,
  type EnergyPart,
  energyTerms,
  type Parity,
  partStiffness,
  plateFactor,
} from './board-energy.ts';
import { energyShares, type Sensitivities, sensitivities } from './board-sensitivity.ts';
import { legendreValues } from './legendre.ts';
import { nameShapes, type Pattern } from './pattern-names.ts';

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
  const block = functions * functions;
  const { stiffness, mass, rotations } = assembleBlock(terms, size, elastic, arealKgM2, block);
  const { values, vectors } = solveModes(stiffness, mass, block);
  const skip = rigidModes(parity);
  const kept = Array.from({ length: Math.min(perParity, block - skip) }, (_, k) => k + skip);
  const shapes = kept.map((k) => {
    const shape = vectors.slice(k * block, (k + 1) * block);
    const norm = Math.hypot(...shape);
    return shape.map((each) => each / norm);
  });
  const names = nameShapes(shapes, functions, parity);
  const parts = partStiffness(elastic, size.thicknessM);
  return kept.map((k, index) => {
    const shape = shapes[index]!;
    const displacement = [shape];
    const rotary = { long: 0, cross: 0 };
    if (rotations !== undefined) {
      const turned = new Float64Array(2 * block);
      for (let r = 0; r < 2 * block; r++) {
        for (let c = 0; c < block; c++) turned[r]! += rotations[r * block + c]! * shape[c]!;
      }
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
