// Strain energy of a flat board, term by term. Each term knows how it scales with the board's sides and thickness, so
// that one table gives the stiffness matrix and every sensitivity of a mode.
import { legendreProducts, type Order } from './legendre.ts';

/** A rectangular board; x runs along the grain. */
export interface BoardSize {
  /** along the grain, m */
  readonly lengthM: number;
  /** across, m */
  readonly widthM: number;
  readonly thicknessM: number;
}

/** Elastic constants of a board in its plane, and of its thickness where transverse shear is wanted. */
export interface BoardElastic {
  readonly eLongPa: number;
  readonly eCrossPa: number;
  readonly gPa: number;
  /** nu_LR; nu_RL follows as nu_LR E_cross / E_long */
  readonly nuLR: number;
  /** G_LT and G_RT, Pa; absent: the thin-plate theory of Kirchhoff */
  readonly shear?: { readonly longPa: number; readonly crossPa: number };
}

/** Where a mode keeps its energy. */
export type EnergyPart = 'long' | 'cross' | 'coupling' | 'twist' | 'shearLong' | 'shearCross';

/** Even or odd about the middle of the board, along x and along y. */
export type Parity = readonly [0 | 1, 0 | 1];

/** One product of two displacement derivatives: a dense block of the stiffness matrix in the unit square. */
export interface EnergyTerm {
  readonly part: EnergyPart;
  /** the term scales as length^-aPower width^-bPower */
  readonly aPower: number;
  readonly bPower: number;
  readonly rowField: number;
  readonly columnField: number;
  /** row-major, (n * n) x (n * n); function (i, j) sits at i * n + j */
  readonly matrix: Float64Array;
}

/** A derivative of one field: deflection 0, rotation along 1, rotation across 2. */
interface Derivative {
  readonly field: 0 | 1 | 2;
  readonly dx: Order;
  readonly dy: Order;
  readonly factor: number;
}
type Strain = readonly Derivative[];
const of = (field: 0 | 1 | 2, dx: Order, dy: Order, factor = 1): Derivative => ({ field, dx, dy, factor });

interface Theory {
  readonly fields: number;
  readonly energies: readonly (readonly [EnergyPart, Strain, Strain, number])[];
}

/** Source: Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells (1959) art. 85: curvatures of the deflection. */
const THIN: Theory = {
  fields: 1,
  energies: [
    ['long', [of(0, 2, 0)], [of(0, 2, 0)], 1],
    ['cross', [of(0, 0, 2)], [of(0, 0, 2)], 1],
    ['coupling', [of(0, 2, 0)], [of(0, 0, 2)], 2],
    ['twist', [of(0, 1, 1, 2)], [of(0, 1, 1, 2)], 1],
  ],
};

const TWIST: Strain = [of(1, 0, 1), of(2, 1, 0)];
const SHEAR_LONG: Strain = [of(0, 1, 0), of(1, 0, 0)];
const SHEAR_CROSS: Strain = [of(0, 0, 1), of(2, 0, 0)];

/** Source: R. D. Mindlin, J. Appl. Mech. 18 (1951) 31: rotations of the cross-section free of the slope. */
const SHEARING: Theory = {
  fields: 3,
  energies: [
    ['long', [of(1, 1, 0)], [of(1, 1, 0)], 1],
    ['cross', [of(2, 0, 1)], [of(2, 0, 1)], 1],
    ['coupling', [of(1, 1, 0)], [of(2, 0, 1)], 2],
    ['twist', TWIST, TWIST, 1],
    ['shearLong', SHEAR_LONG, SHEAR_LONG, 1],
    ['shearCross', SHEAR_CROSS, SHEAR_CROSS, 1],
  ],
};

/** A rotation is odd where the deflection it belongs to is even. */
const fieldParity = (field: number, [px, py]: Parity): Parity => [
  (field === 1 ? 1 - px : px) as 0 | 1,
  (field === 2 ? 1 - py : py) as 0 | 1,
];

/**
 * All terms of the strain energy for motions of one parity.
 * @param count   functions per direction, n; degrees parity, parity + 2, ... up to 2n
 * @param isThin  true: Kirchhoff, one field; false: Mindlin, deflection and two rotations
 */
export function energyTerms(count: number, parity: Parity, isThin: boolean): readonly EnergyTerm[] {
  const degrees = 2 * count;
  const products = legendreProducts(degrees);
  const theory = isThin ? THIN : SHEARING;
  const terms: EnergyTerm[] = [];
  for (const [part, left, right, weight] of theory.energies) {
    for (const p of left) {
      for (const q of right) {
        const [px, py] = fieldParity(p.field, parity);
        const [qx, qy] = fieldParity(q.field, parity);
        const alongX = products[p.dx]![q.dx]!;
        const alongY = products[p.dy]![q.dy]!;
        const scale = weight * p.factor * q.factor * 2 ** (p.dx + q.dx + p.dy + q.dy);
        const matrix = new Float64Array(count ** 4);
        let index = 0;
        for (let row = 0; row < count * count; row++) {
          const i = 2 * Math.floor(row / count) + px;
          const j = 2 * (row % count) + py;
          for (let column = 0; column < count * count; column++) {
            const k = 2 * Math.floor(column / count) + qx;
            const l = 2 * (column % count) + qy;
            matrix[index++] = scale * alongX[i * degrees + k]! * alongY[j * degrees + l]!;
          }
        }
        terms.push({
          part,
          aPower: p.dx + q.dx,
          bPower: p.dy + q.dy,
          rowField: p.field,
          columnField: q.field,
          matrix,
        });
      }
    }
  }
  return terms;
}

/** Shear correction factor of a rectangular section. Source: E. Reissner, J. Appl. Mech. 12 (1945) A69: 5/6. */
const SHEAR_FACTOR = 5 / 6;

/** 1 - nu_LR nu_RL, the stiffening of a plate over a strip. */
export function plateFactor(elastic: BoardElastic): number {
  return 1 - (elastic.nuLR ** 2 * elastic.eCrossPa) / elastic.eLongPa;
}

/**
 * The modulus-and-thickness factor of each energy part, N m (bending) or N/m (shear).
 * Source: as THIN and SHEARING: D_x = E_L h^3 / (12 mu), D_1 = nu_LR E_R h^3 / (12 mu), D_66 = G h^3 / 12, kappa G h.
 */
export function partStiffness(elastic: BoardElastic, thicknessM: number): Readonly<Record<EnergyPart, number>> {
  const bending = thicknessM ** 3 / 12;
  const mu = plateFactor(elastic);
  const shear = SHEAR_FACTOR * thicknessM;
  return {
    long: (elastic.eLongPa * bending) / mu,
    cross: (elastic.eCrossPa * bending) / mu,
    coupling: (elastic.nuLR * elastic.eCrossPa * bending) / mu,
    twist: elastic.gPa * bending,
    shearLong: shear * (elastic.shear?.longPa ?? 0),
    shearCross: shear * (elastic.shear?.crossPa ?? 0),
  };
}
