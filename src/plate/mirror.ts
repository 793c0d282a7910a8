// The other hand: mirrors a plate about its centre line y = 0, so that asymmetric braces change sides.
import type { Point } from './outline.ts';
import type { BraceCase, PatchCase, PlateCase } from './plate-case.ts';

/** A point on the other side of the centre line. */
export const mirrorPoint = ([x, y]: Point): Point => [x, -y];

const mirrorBrace = (brace: BraceCase): BraceCase => ({
  ...brace,
  from: mirrorPoint(brace.from),
  to: mirrorPoint(brace.to),
  ...(brace.grainDeg === undefined ? {} : { grainDeg: -brace.grainDeg }),
});

const mirrorPatch = (patch: PatchCase): PatchCase => ({
  ...patch,
  polygon: patch.polygon.map(mirrorPoint),
  ...(patch.grainDeg === undefined ? {} : { grainDeg: -patch.grainDeg }),
});

/** The same plate for the other hand; mirroring twice gives the plate back. */
export function mirrored(plate: PlateCase): PlateCase {
  return {
    ...plate,
    outline: plate.outline.map(mirrorPoint),
    ...(plate.soundhole && { soundhole: { ...plate.soundhole, yMm: -plate.soundhole.yMm } }),
    ...(plate.thicknessPointsMm && {
      thicknessPointsMm: plate.thicknessPointsMm.map(([x, y, thickness]) => [x, -y, thickness] as const),
    }),
    ...(plate.grainDeg !== undefined && { grainDeg: -plate.grainDeg }),
    ...(plate.braces && { braces: plate.braces.map(mirrorBrace) }),
    ...(plate.patches && { patches: plate.patches.map(mirrorPatch) }),
  };
}

/**
 * Whether a plate must be mirrored to be seen with its heavier asymmetry on the treble side. Of a plate and its mirror
 * image exactly one answers yes (a symmetric plate answers no), which lets a mesh be made from one drawing for both hands.
 */
export function lookAtTreble(plate: PlateCase): boolean {
  const parts: readonly (readonly Point[])[] = [
    plate.outline,
    ...(plate.soundhole ? [[[plate.soundhole.xMm, plate.soundhole.yMm] as const]] : []),
    ...(plate.braces ?? []).map((brace) => [brace.from, brace.to]),
    ...(plate.patches ?? []).map((patch) => patch.polygon),
  ];
  // Odd moments of all points about the centre line, the first that does not vanish decides.
  const moments: ((p: Point) => number)[] = [([, y]) => y, ([x, y]) => x * y, ([x, y]) => x * x * y, ([, y]) => y ** 3];
  for (const moment of moments) {
    let sum = 0;
    let size = 0;
    for (const point of parts.flat()) {
      sum += moment(point);
      size += Math.abs(moment(point));
    }
    if (Math.abs(sum) > 1e-9 * size) return sum < 0;
  }
  return false;
}
