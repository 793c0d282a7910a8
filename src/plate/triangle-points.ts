// The six-node triangle: shape functions at integration points.

/** Values and natural derivatives of the six shape functions at the points of an integration rule. */
export interface TrianglePoints {
  readonly count: number;
  /** Natural coordinates, (count,). */
  readonly xi: Float64Array;
  readonly eta: Float64Array;
  /** Weights that sum to 1/2, (count,). */
  readonly weights: Float64Array;
  /** (6 count,), point by point. */
  readonly values: Float64Array;
  readonly dXi: Float64Array;
  readonly dEta: Float64Array;
}

function tabulate(points: readonly (readonly [xi: number, eta: number, weight: number])[]): TrianglePoints {
  const count = points.length;
  const table = {
    count,
    xi: Float64Array.from(points, ([xi]) => xi),
    eta: Float64Array.from(points, ([, eta]) => eta),
    weights: Float64Array.from(points, ([, , weight]) => weight / 2),
    values: new Float64Array(6 * count),
    dXi: new Float64Array(6 * count),
    dEta: new Float64Array(6 * count),
  };
  points.forEach(([p, q], k) => {
    const r = 1 - p - q;
    table.values.set([r * (2 * r - 1), p * (2 * p - 1), q * (2 * q - 1), 4 * r * p, 4 * p * q, 4 * q * r], 6 * k);
    table.dXi.set([1 - 4 * r, 4 * p - 1, 0, 4 * (r - p), 4 * q, -4 * q], 6 * k);
    table.dEta.set([1 - 4 * r, 0, 4 * q - 1, -4 * p, 4 * p, 4 * (r - q)], 6 * k);
  });
  return table;
}

/**
 * Three points, exact for quadratics: full for bending, reduced for transverse shear, which keeps thin plates from locking.
 * Source: Strang and Fix 1973, An Analysis of the Finite Element Method, table 4.1.
 */
export const THREE_POINTS = tabulate([
  [1 / 6, 1 / 6, 1 / 3],
  [2 / 3, 1 / 6, 1 / 3],
  [1 / 6, 2 / 3, 1 / 3],
]);

const A = 0.445948490915965;
const B = 0.091576213509771;
const WA = 0.223381589678011;
const WB = 0.109951743655322;

/** Six points, exact for quartics: the mass. Source: Strang and Fix 1973 (Cowper), table 4.1. */
export const SIX_POINTS = tabulate([
  [A, A, WA],
  [1 - 2 * A, A, WA],
  [A, 1 - 2 * A, WA],
  [B, B, WB],
  [1 - 2 * B, B, WB],
  [B, 1 - 2 * B, WB],
]);
