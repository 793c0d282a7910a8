// A plate is not one thickness: the caliper's points, their mean and spread, and what the unevenness does to the modulus.
import { type Estimate, estimate } from '../quantity/estimate.ts';

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
      /** mean with the doubt of the points (spread over root n) and of the caliper */
      readonly meanMm: Estimate;
      /** standard deviation from point to point */
      readonly spreadMm: number;
      readonly thinnest: CaliperPoint;
      readonly thickest: CaliperPoint;
      /** slope of the best plane, mm per 100 mm along and across: a sander's taper */
      readonly taperAlong: number;
      readonly taperAcross: number;
      /** by how much E would be read too high if the mean were taken for a flat plate, % */
      readonly modulusBiasPercent: number;
    }
  | { readonly kind: 'too-few-points'; readonly need: number };

/** Points below which the mean says little. Source: common practice, no source: 9 to 15 points. */
const FEWEST_POINTS = 9;

/**
 * Mean, spread and taper of a plate from caliper points spread evenly over it.
 * @param points       9 or more, well spread
 * @param caliperSigma one sigma of the caliper, mm, common to all points
 * Source: means and the least-squares plane; bias, our derivation: stiffness goes with the mean of h^3, so E read with
 * the mean's cube is (mean h^3)/(mean h)^3 too high.
 */
export function mapThickness(points: readonly CaliperPoint[], caliperSigma: number): ThicknessMap {
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
  const sorted = [...points].sort((p, q) => p.thicknessMm - q.thicknessMm);
  return {
    kind: 'mapped',
    meanMm: estimate(h, Math.hypot(spreadMm / Math.sqrt(n), caliperSigma)),
    spreadMm,
    thinnest: sorted[0]!,
    thickest: sorted.at(-1)!,
    taperAlong: isPlane ? (100 * (xh * yy - yh * xy)) / determinant : 0,
    taperAcross: isPlane ? (100 * (yh * xx - xh * xy)) / determinant : 0,
    modulusBiasPercent: 100 * (mean((p) => p.thicknessMm ** 3) / h ** 3 - 1),
  };
}
