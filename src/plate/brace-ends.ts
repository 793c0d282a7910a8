// How much of a brace's height carries load near an end or a step: a corner that is cut square carries no stress, and the load
// reaches the top of the brace only by shear over its height.
import { braceLengthMm } from './footprint.ts';
import { crossing, type Point } from './outline.ts';
import type { BraceCase } from './plate-case.ts';

/**
 * Slope of the height that carries, times sqrt(E / G). Exact for the stretch problem: E u_xx + G u_zz = 0 over the height, the
 * glue line stretched evenly, the end free. Its energy is that of a brace shorter by 0.5428 h sqrt(E / G), where the layered
 * theory, whose brace turns by one angle over its height, loses 0.4642 h sqrt(E / G); a height of min(h, c d) at the distance d
 * from the end, c = 5.72 sqrt(G / E), takes off the difference. Our derivation; judged in tests/plate/ends.test.ts.
 */
const CARRYING_SLOPE = 5.72;

/**
 * Share of the height that carries at the least: what stands in a corner beyond the cut, seen along the brace, would else turn by
 * itself, a mode at 0 Hz. It moves no mode by more than 1e-5.
 */
const LEAST_CARRYING_SHARE = 0.01;

/**
 * The height of a brace that carries load, mm: the lower envelope, of a slope by its wood, of its profile and of the bare plate
 * beyond both ends. An end outside the outline is where the outline cuts it.
 * @returns height at a distance from the brace's first end, given the height that stands there
 */
export function carryingHeight(
  brace: BraceCase,
  outline: readonly Point[],
): (atMm: number, heightMm: number) => number {
  const { eL, gLR, gLT } = brace.material;
  const slope = CARRYING_SLOPE * Math.sqrt((brace.upright === 'T' ? gLT : gLR) / eL);
  const [firstMm, lastMm] = endsMm(brace, outline);
  return (atMm, heightMm) => {
    let height = Math.min(heightMm, slope * Math.max(0, atMm - firstMm), slope * Math.max(0, lastMm - atMm));
    for (const [placeMm, placeHeightMm] of brace.heightMm)
      height = Math.min(height, placeHeightMm + slope * Math.abs(atMm - placeMm));
    return Math.max(height, LEAST_CARRYING_SHARE * heightMm);
  };
}

/** Where a brace begins and ends on the plate, mm from its first end. */
function endsMm(brace: BraceCase, outline: readonly Point[]): readonly [number, number] {
  const lengthMm = braceLengthMm(brace);
  const cuts = outline.flatMap((point, i) => {
    const hit = crossing(brace.from, brace.to, point, outline[(i + 1) % outline.length]!);
    return hit === undefined ? [] : [hit[0] * lengthMm];
  });
  const middleMm = lengthMm / 2;
  return [
    Math.max(0, ...cuts.filter((at) => at < middleMm)),
    Math.min(lengthMm, ...cuts.filter((at) => at > middleMm)),
  ];
}
