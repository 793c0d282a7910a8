// A plate is not one thickness: the caliper's points, their mean and spread, and what the unevenness does to the modulus.
import { pseudoInverseOfSymmetric, times } from '../algebra/small-matrix.ts';
import { type Estimate, estimate } from '../quantity/estimate.ts';
import type { TapKind } from './hold-guide.ts';
import { FREE_BAR_ROOT } from './simple-formula.ts';

/** One caliper point, mm from the lower left corner, x along the grain. */
export interface CaliperPoint {
  readonly xMm: number;
  readonly yMm: number;
  readonly thicknessMm: number;
}

/** A map that says enough, or why it does not. */
export type ThicknessMap =
  | {
      readonly kind: 'mapped';
      /** mean over the whole plate, with the doubt of the points (spread over root n) and of the caliper */
      readonly meanMm: Estimate;
      /** standard deviation from point to point */
      readonly spreadMm: number;
      readonly thinnest: CaliperPoint;
      readonly thickest: CaliperPoint;
      /** slope of the best plane, mm per 100 mm along and across: a sander's taper */
      readonly taperAlong: number;
      readonly taperAcross: number;
      /**
       * by how much each mode's modulus would be read too high (below nought: too low) if the mean were taken for a flat
       * plate, relative to the true one
       */
      readonly readsHigh: Readonly<Record<TapKind, Estimate>>;
    }
  | { readonly kind: 'too-few-points'; readonly need: number };

/** Points below which the mean says little. Source: common practice, no source: 9 to 15 points. */
const FEWEST_POINTS = 9;

/**
 * How far the first-order figure and the shapes of beams may be off, as a share of it, one sigma. Source: ours; against
 * beams solved with their own thickness (tests/wood/thickness-map.test.ts) it is off by less than a tenth.
 */
const SHAPE_SPREAD = 0.2;

/** First mode of a free beam: root and ratio of its shape. Source: Blevins 1979, Table 8-1, case 1 (from memory). */
const BEAM = { root: FREE_BAR_ROOT, ratio: 0.982502 };

/** Strips that the plate is summed over, each way. */
const STRIPS = 40;

/**
 * Mean, spread and taper of a plate from caliper points spread evenly over it.
 * @param points       9 or more, well spread, mm from the lower left corner
 * @param size         of the plate, mm
 * @param caliperSigma one sigma of the caliper, mm, common to all points
 * Source: means and the least-squares plane. Bias, our derivation: by Rayleigh's quotient f^2 is the mean of h^3 where the
 * mode bends over the mean of h where it moves, so that E read with the plain mean is too high by
 * (mean h^3 by curvature^2 / h0^3) / (mean h by motion^2 / h0). The thickness between the points is the best quadratic.
 */
export function mapThickness(
  points: readonly CaliperPoint[],
  size: { readonly lengthMm: number; readonly widthMm: number },
  caliperSigma: number,
): ThicknessMap {
  if (points.length < FEWEST_POINTS) return { kind: 'too-few-points', need: FEWEST_POINTS };
  const n = points.length;
  const mean = (of: (point: CaliperPoint) => number) => points.reduce((sum, point) => sum + of(point), 0) / n;
  const [x, y, h] = [mean((p) => p.xMm), mean((p) => p.yMm), mean((p) => p.thicknessMm)];
  const moment = (of: (point: CaliperPoint) => number) => n * mean(of);
  const xx = moment((p) => (p.xMm - x) ** 2);
  const yy = moment((p) => (p.yMm - y) ** 2);
  const xy = moment((p) => (p.xMm - x) * (p.yMm - y));
  const xh = moment((p) => (p.xMm - x) * (p.thicknessMm - h));
  const yh = moment((p) => (p.yMm - y) * (p.thicknessMm - h));
  const determinant = xx * yy - xy * xy;
  const isPlane = determinant > 0;
  const spreadMm = Math.sqrt(moment((p) => (p.thicknessMm - h) ** 2) / (n - 1));
  const surface = surfaceOf(points, size, h);
  const sorted = [...points].sort((p, q) => p.thicknessMm - q.thicknessMm);
  return {
    kind: 'mapped',
    meanMm: estimate(surface.mean, Math.hypot(spreadMm / Math.sqrt(n), caliperSigma)),
    spreadMm,
    thinnest: sorted[0]!,
    thickest: sorted.at(-1)!,
    taperAlong: isPlane ? (100 * (xh * yy - yh * xy)) / determinant : 0,
    taperAcross: isPlane ? (100 * (yh * xx - xh * xy)) / determinant : 0,
    readsHigh: surface.readsHigh,
  };
}

/** Basis of the best quadratic, at places from -1 to 1 along and across. */
const quadratic = (u: number, v: number): readonly number[] => [1, u, v, u * u, u * v, v * v];

/** The best quadratic through the points, its mean over the plate, and how much too high each modulus is read with it. */
function surfaceOf(
  points: readonly CaliperPoint[],
  { lengthMm, widthMm }: { readonly lengthMm: number; readonly widthMm: number },
  meanMm: number,
): { readonly mean: number; readonly readsHigh: Readonly<Record<TapKind, Estimate>> } {
  const rows = points.map(({ xMm, yMm }) => quadratic((2 * xMm) / lengthMm - 1, (2 * yMm) / widthMm - 1));
  const unknowns = rows[0]!.map((_, i) => i);
  const normal = unknowns.map((i) => unknowns.map((j) => rows.reduce((sum, row) => sum + row[i]! * row[j]!, 0)));
  // Relative to the mean: points that do not tell a curvature leave it at nought.
  const relative = points.map(({ thicknessMm }) => thicknessMm / meanMm);
  const right = unknowns.map((i) => rows.reduce((sum, row, k) => sum + row[i]! * relative[k]!, 0));
  const surface = times(pseudoInverseOfSymmetric(normal, 1e-9 * points.length), right);
  const thickness = (row: readonly number[]) => row.reduce((sum, each, i) => sum + each * surface[i]!, 0);
  const left = Math.max(points.length - unknowns.length, 1);
  const roughness = Math.sqrt(rows.reduce((sum, row, k) => sum + (relative[k]! - thickness(row)) ** 2, 0) / left);

  const places = Array.from({ length: STRIPS }, (_, i) => (2 * i + 1) / STRIPS - 1);
  const grid = places.flatMap((u) => places.map((v) => ({ u, v, h: thickness(quadratic(u, v)) })));
  const weighted = (weight: (u: number, v: number) => number, of: (h: number) => number): number => {
    let [sum, whole] = [0, 0];
    for (const { u, v, h } of grid) {
      const share = weight(u, v);
      sum += share * of(h);
      whole += share;
    }
    return sum / whole;
  };
  const flat = weighted(
    () => 1,
    (h) => h,
  );
  // What the shape of the mode gives back by following the thickness is of this order.
  const secondOrder = weighted(
    () => 1,
    (h) => (h / flat - 1) ** 2,
  );
  const bias = (bends: (u: number, v: number) => number, moves: (u: number, v: number) => number): Estimate => {
    const value = weighted(bends, (h) => (h / flat) ** 3) / weighted(moves, (h) => h / flat) - 1;
    return estimate(value, Math.hypot(SHAPE_SPREAD * value, secondOrder, (3 * roughness) / Math.sqrt(points.length)));
  };
  const high = {
    'long-grain-bending': bias(
      (u) => beam(u).curvature ** 2,
      (u) => beam(u).motion ** 2,
    ),
    'cross-grain-bending': bias(
      (_, v) => beam(v).curvature ** 2,
      (_, v) => beam(v).motion ** 2,
    ),
    // A free plate twists evenly all over, and moves as the product of both places.
    twist: bias(
      () => 1,
      (u, v) => (u * v) ** 2,
    ),
  };
  return { mean: flat * meanMm, readsHigh: high };
}

/** Motion and curvature of the first mode of a free beam at a place from -1 to 1, to one scale each. */
function beam(place: number): { readonly motion: number; readonly curvature: number } {
  const at = (BEAM.root * (place + 1)) / 2;
  const even = [Math.cosh(at), Math.cos(at)] as const;
  const odd = [Math.sinh(at), Math.sin(at)] as const;
  return {
    motion: even[0] + even[1] - BEAM.ratio * (odd[0] + odd[1]),
    curvature: even[0] - even[1] - BEAM.ratio * (odd[0] - odd[1]),
  };
}
