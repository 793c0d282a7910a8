// Transverse shear of the six-node triangle. Taken straight from the quadratic fields it makes thin plates too stiff
// (shear locking); here it is replaced by the field of lower order that agrees with it along the sides and on average, so
// that neighbours agree about the shear along their common side.
import type { TrianglePoints } from './triangle-points.ts';

// Covariant assumed field, 8 parameters: g_xi = a1 + b1 xi + c1 eta + eta (d xi + e eta),
// g_eta = a2 + b2 xi + c2 eta - xi (d xi + e eta). Sampled by 8 functionals: the tangential shear at two Gauss points of
// each side, and the means of g_xi and g_eta over the element.
// Source: Bathe, Brezzi and Cho 1989, Computers and Structures 32, 797 (MITC7), here without its bubble.

const GAUSS = [0.5 - Math.sqrt(3) / 6, 0.5 + Math.sqrt(3) / 6] as const;

/** A sampling point of the shear: where, and how much of g_xi and g_eta it takes. */
interface Sample {
  readonly functional: number;
  readonly xi: number;
  readonly eta: number;
  readonly ofXi: number;
  readonly ofEta: number;
}

const SAMPLES: readonly Sample[] = [
  ...GAUSS.map((g, k) => ({ functional: k, xi: g, eta: 0, ofXi: 1, ofEta: 0 })),
  ...GAUSS.map((g, k) => ({ functional: 2 + k, xi: 0, eta: g, ofXi: 0, ofEta: 1 })),
  ...GAUSS.map((g, k) => ({ functional: 4 + k, xi: 1 - g, eta: g, ofXi: -1, ofEta: 1 })),
  ...[0, 1].flatMap((component) =>
    Array.from({ length: 3 }, (_, k) => ({
      functional: 6 + component,
      xi: [1 / 6, 2 / 3, 1 / 6][k]!,
      eta: [1 / 6, 1 / 6, 2 / 3][k]!,
      ofXi: (1 - component) / 3,
      ofEta: component / 3,
    })),
  ),
];

const basis = (xi: number, eta: number): readonly [number[], number[]] => [
  [1, xi, eta, 0, 0, 0, xi * eta, eta * eta],
  [0, 0, 0, 1, xi, eta, -xi * xi, -xi * eta],
];

/** Parameters of the assumed field from the eight functionals: an 8 x 8 matrix, inverted once. */
const PARAMETERS = inverse(sampledBasis());

function sampledBasis(): number[][] {
  const matrix = Array.from({ length: 8 }, () => new Array<number>(8).fill(0));
  for (const { functional, xi, eta, ofXi, ofEta } of SAMPLES) {
    const [px, pe] = basis(xi, eta);
    for (let k = 0; k < 8; k++) matrix[functional]![k]! += ofXi * px[k]! + ofEta * pe[k]!;
  }
  return matrix;
}

function inverse(matrix: number[][]): number[][] {
  const n = matrix.length;
  const work = matrix.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let c = 0; c < n; c++) {
    let pivot = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(work[r]![c]!) > Math.abs(work[pivot]![c]!)) pivot = r;
    [work[c], work[pivot]] = [work[pivot]!, work[c]!];
    const factor = work[c]![c]!;
    work[c] = work[c]!.map((v) => v / factor);
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const times = work[r]![c]!;
      work[r] = work[r]!.map((v, k) => v - times * work[c]![k]!);
    }
  }
  return work.map((row) => row.slice(n));
}

/** The shape functions at all sampling points, tabulated once. */
const TABLE = SAMPLES.map(({ xi: p, eta: q }) => {
  const r = 1 - p - q;
  return {
    values: [r * (2 * r - 1), p * (2 * p - 1), q * (2 * q - 1), 4 * r * p, 4 * p * q, 4 * q * r],
    dXi: [1 - 4 * r, 4 * p - 1, 0, 4 * (r - p), 4 * q, -4 * q],
    dEta: [1 - 4 * r, 0, 4 * q - 1, -4 * p, 4 * p, 4 * (r - q)],
  };
});

/**
 * Shear rows of one element.
 * @param x    node coordinates, m, (6,)
 * @param y    node coordinates, m, (6,)
 * @param rule integration points at which the shear is wanted
 * @param sideTurns by how much the tangent is to be turned at the ends of the sides 01, 02 and 12, rad, (6,); evenly
 *              from one to the other in between
 * @param rows overwritten: for point k and node i six numbers, (gamma_x, gamma_y) from (w, theta_x, theta_y),
 *             at 36 k + 6 i, w first, gamma_x before gamma_y
 */
export function shearRows(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  rule: TrianglePoints,
  sideTurns: Float64Array,
  rows: Float64Array,
): void {
  functionals.fill(0);
  for (let s = 0; s < SAMPLES.length; s++) {
    const { functional, ofXi, ofEta } = SAMPLES[s]!;
    const { values, dXi, dEta } = TABLE[s]!;
    const tangentX = ofXi * sum(dXi, 0, x) + ofEta * sum(dEta, 0, x);
    const tangentY = ofXi * sum(dXi, 0, y) + ofEta * sum(dEta, 0, y);
    const [near, far] = [sideTurns[s] ?? 0, sideTurns[s ^ 1] ?? 0];
    const turn = near + (far - near) * GAUSS[0];
    const alongX = tangentX * Math.cos(turn) - tangentY * Math.sin(turn);
    const alongY = tangentX * Math.sin(turn) + tangentY * Math.cos(turn);
    for (let i = 0; i < 6; i++) {
      const to = 18 * functional + 3 * i;
      functionals[to]! += ofXi * dXi[i]! + ofEta * dEta[i]!;
      functionals[to + 1]! += values[i]! * alongX;
      functionals[to + 2]! += values[i]! * alongY;
    }
  }
  parameters.fill(0);
  for (let p = 0; p < 8; p++)
    for (let f = 0; f < 8; f++) {
      const factor = PARAMETERS[p]![f]!;
      if (factor === 0) continue;
      for (let m = 0; m < 18; m++) parameters[18 * p + m]! += factor * functionals[18 * f + m]!;
    }
  for (let k = 0; k < rule.count; k++) {
    const xXi = sum(rule.dXi, 6 * k, x);
    const yXi = sum(rule.dXi, 6 * k, y);
    const xEta = sum(rule.dEta, 6 * k, x);
    const yEta = sum(rule.dEta, 6 * k, y);
    const jacobian = xXi * yEta - xEta * yXi;
    const [px, pe] = basis(rule.xi[k]!, rule.eta[k]!);
    for (let m = 0; m < 18; m++) {
      let gXi = 0;
      let gEta = 0;
      for (let f = 0; f < 8; f++) {
        gXi += px[f]! * parameters[18 * f + m]!;
        gEta += pe[f]! * parameters[18 * f + m]!;
      }
      const at = 36 * k + 2 * m;
      rows[at] = (yEta * gXi - yXi * gEta) / jacobian;
      rows[at + 1] = (xXi * gEta - xEta * gXi) / jacobian;
    }
  }
}

/** Work space: the f-th functional, then the p-th parameter, of a unit motion of each node, at 18 f + 3 i + motion. */
const functionals = new Float64Array(8 * 18);
const parameters = new Float64Array(8 * 18);

function sum(a: ArrayLike<number>, from: number, b: ArrayLike<number>): number {
  let total = 0;
  for (let i = 0; i < 6; i++) total += a[from + i]! * b[i]!;
  return total;
}
