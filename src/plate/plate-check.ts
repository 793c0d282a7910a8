// Looks a drawing over before it is solved: every fault is named with the part it belongs to, and what can still be solved
// is handed back without the faulty parts.
import { braceLengthMm, braceRectangle, sides } from './footprint.ts';
import {
  boundingBox,
  circlePolygon,
  counterClockwise,
  crossing,
  distance,
  isInside,
  type Point,
  selfCrossings,
  signedArea,
} from './outline.ts';
import type { BraceCase, PatchCase, PlateCase, WoodConstants } from './plate-case.ts';

/** What is wrong with a drawing. The faults of `outline` and `plate` leave nothing to solve. */
export type PlateFault =
  | {
      readonly part: 'outline';
      readonly because: 'too-few-points' | 'crosses-itself' | 'no-area' | 'absurd-size' | 'not-a-number';
    }
  | { readonly part: 'plate'; readonly because: 'thickness-not-positive' | 'absurd-thickness' | 'absurd-material' }
  | { readonly part: 'soundhole'; readonly because: 'outside-outline' | 'radius-not-positive' }
  | {
      readonly part: 'brace';
      readonly id: string;
      readonly because:
        | 'outside-outline'
        | 'reaches-over-rim'
        | 'no-length'
        | 'width-not-positive'
        | 'absurd-size'
        | 'no-heights'
        | 'height-not-positive'
        | 'heights-out-of-order'
        | 'absurd-material'
        | 'crosses-soundhole'
        | 'inside-soundhole';
    }
  | {
      readonly part: 'patch';
      readonly id: string;
      readonly because:
        | 'outside-outline'
        | 'inside-soundhole'
        | 'crosses-itself'
        | 'thickness-not-positive'
        | 'absurd-thickness'
        | 'absurd-material';
    };

/** A drawing looked over. */
export interface PlateCheck {
  readonly faults: readonly PlateFault[];
  /** The drawing without its faulty parts, or undefined when outline or plate are at fault. */
  readonly solvable: PlateCase | undefined;
}

/** Faults that are worth saying but do no harm: a brace over the rim is cut off there, one over the hole bridges it. */
const HARMLESS: ReadonlySet<PlateFault['because']> = new Set(['reaches-over-rim', 'crosses-soundhole']);

/** Whether the part at fault is solved all the same. */
export const isHarmless = ({ because }: PlateFault): boolean => HARMLESS.has(because);

/** Looks a drawing over. */
export function checkPlate(plate: PlateCase): PlateCheck {
  const fatal = [...outlineFaults(plate.outline), ...plateFaults(plate)];
  if (fatal.length > 0) return { faults: fatal, solvable: undefined };
  const outline = counterClockwise(plate.outline);
  const holeFaults = soundholeFaults(plate, outline);
  const hasHole = plate.soundhole !== undefined && holeFaults.length === 0;
  const braceFaults = (plate.braces ?? []).map((brace) => faultsOfBrace(brace, outline, hasHole ? plate : undefined));
  const patchFaults = (plate.patches ?? []).map((patch) => faultsOfPatch(patch, outline, hasHole ? plate : undefined));
  const isSound = (list: readonly PlateFault[]) => list.every(isHarmless);
  const { soundhole, braces, patches, ...rest } = plate;
  return {
    faults: [...holeFaults, ...braceFaults.flat(), ...patchFaults.flat()],
    solvable: {
      ...rest,
      ...(hasHole && soundhole && { soundhole }),
      ...(braces && { braces: braces.filter((_, i) => isSound(braceFaults[i]!)) }),
      ...(patches && { patches: patches.filter((_, i) => isSound(patchFaults[i]!)) }),
    },
  };
}

/** Sizes beyond which something else than a plate of an instrument was meant, mm: metres typed, or micrometres. */
const LONGEST_MM = 3000;
const SHORTEST_MM = 10;
const THICKEST_MM = 200;
const THINNEST_MM = 0.05;

const isAbsurdThickness = (mm: number): boolean => mm > THICKEST_MM || mm < THINNEST_MM;

/** Whether no instrument has an outline of this size. @param outline (n, 2), mm, finite */
export function hasAbsurdSize(outline: readonly Point[]): boolean {
  const [x0, y0, x1, y1] = boundingBox(outline);
  const sides = [x1 - x0, y1 - y0];
  return Math.max(...sides) > LONGEST_MM || Math.min(...sides) < SHORTEST_MM;
}

function outlineFaults(outline: readonly Point[]): PlateFault[] {
  if (!outline.flat().every(Number.isFinite)) return [{ part: 'outline', because: 'not-a-number' }];
  if (outline.length < 3) return [{ part: 'outline', because: 'too-few-points' }];
  // A rounded drawing may repeat its first point at the end; that is no crossing.
  const distinct = outline.filter((point, i) => distance(point, outline[(i + 1) % outline.length]!) > 1e-6);
  if (distinct.length < 3 || Math.abs(signedArea(distinct)) < 100) return [{ part: 'outline', because: 'no-area' }];
  if (hasAbsurdSize(distinct)) return [{ part: 'outline', because: 'absurd-size' }];
  return selfCrossings(distinct).length > 0 ? [{ part: 'outline', because: 'crosses-itself' }] : [];
}

function plateFaults({ thicknessMm, thicknessPointsMm, material }: PlateCase): PlateFault[] {
  const thicknesses = [thicknessMm, ...(thicknessPointsMm ?? []).map(([, , t]) => t)];
  const isPositive = thicknesses.every((t) => Number.isFinite(t) && t > 0);
  return [
    ...(isPositive ? [] : [{ part: 'plate', because: 'thickness-not-positive' } as const]),
    ...(isPositive && thicknesses.some(isAbsurdThickness)
      ? [{ part: 'plate', because: 'absurd-thickness' } as const]
      : []),
    ...(isAbsurd(material) ? [{ part: 'plate', because: 'absurd-material' } as const] : []),
  ];
}

function soundholeFaults({ soundhole }: PlateCase, outline: readonly Point[]): PlateFault[] {
  if (soundhole === undefined) return [];
  const { xMm, yMm, radiusMm } = soundhole;
  if (!(radiusMm > 0)) return [{ part: 'soundhole', because: 'radius-not-positive' }];
  const isIn = circlePolygon(xMm, yMm, radiusMm, 48).every((point) => isInside(outline, point));
  return isIn ? [] : [{ part: 'soundhole', because: 'outside-outline' }];
}

function faultsOfBrace(brace: BraceCase, outline: readonly Point[], holed: PlateCase | undefined): PlateFault[] {
  const fault = (because: Extract<PlateFault, { part: 'brace' }>['because']): PlateFault => ({
    part: 'brace',
    id: brace.id,
    because,
  });
  if (!(braceLengthMm(brace) > 0)) return [fault('no-length')];
  if (!(brace.widthMm > 0)) return [fault('width-not-positive')];
  if (brace.heightMm.length === 0) return [fault('no-heights')];
  const found: PlateFault[] = [];
  if (!brace.heightMm.every(([, h]) => Number.isFinite(h) && h > 0)) found.push(fault('height-not-positive'));
  if (!brace.heightMm.every(([s], i) => Number.isFinite(s) && (i === 0 || s >= brace.heightMm[i - 1]![0])))
    found.push(fault('heights-out-of-order'));
  else if (
    brace.widthMm < THINNEST_MM ||
    [brace.widthMm, ...brace.heightMm.map(([, h]) => h)].some((mm) => mm > THICKEST_MM)
  )
    found.push(fault('absurd-size'));
  if (isAbsurd(brace.material)) found.push(fault('absurd-material'));
  const corners = braceRectangle(brace);
  const inside = corners.filter((corner) => isInside(outline, corner)).length;
  const crosses = sides(corners).some(([a, b]) => sides(outline).some(([c, d]) => crossing(a, b, c, d) !== undefined));
  if (inside === 0 && !crosses) found.push(fault('outside-outline'));
  else if (inside < corners.length) found.push(fault('reaches-over-rim'));
  const hole = holePolygon(holed);
  if (liesWithin(corners, hole)) found.push(fault('inside-soundhole'));
  else if (hole.length > 0) {
    const overlaps =
      corners.some((corner) => isInside(hole, corner)) ||
      sides(corners).some(([a, b]) => sides(hole).some(([c, d]) => crossing(a, b, c, d) !== undefined));
    if (overlaps) found.push(fault('crosses-soundhole'));
  }
  return found;
}

const holePolygon = (holed: PlateCase | undefined): Point[] =>
  holed?.soundhole === undefined
    ? []
    : circlePolygon(holed.soundhole.xMm, holed.soundhole.yMm, holed.soundhole.radiusMm, 48);

/** Whether a part touches no wood of the plate; a soundhole is convex, so that its corners tell. */
const liesWithin = (corners: readonly Point[], hole: readonly Point[]): boolean =>
  hole.length > 0 && corners.every((corner) => isInside(hole, corner));

function faultsOfPatch(patch: PatchCase, outline: readonly Point[], holed: PlateCase | undefined): PlateFault[] {
  const fault = (because: Extract<PlateFault, { part: 'patch' }>['because']): PlateFault => ({
    part: 'patch',
    id: patch.id,
    because,
  });
  const { polygon } = patch;
  if (polygon.length < 3 || selfCrossings(polygon).length > 0) return [fault('crosses-itself')];
  return [
    ...(patch.thicknessMm > 0 ? [] : [fault('thickness-not-positive')]),
    ...(patch.thicknessMm > 0 && isAbsurdThickness(patch.thicknessMm) ? [fault('absurd-thickness')] : []),
    ...(isAbsurd(patch.material) ? [fault('absurd-material')] : []),
    ...(polygon.some((point) => isInside(outline, point)) ? [] : [fault('outside-outline')]),
    ...(liesWithin(polygon, holePolygon(holed)) ? [fault('inside-soundhole')] : []),
  ];
}

/** Moduli of what is softer than cork and stiffer than diamond; densities of an aerogel and of osmium. */
const LEAST_MPA = 0.01;
const MOST_MPA = 1.3e6;
const LEAST_KG_M3 = 1;
const MOST_KG_M3 = 23_000;

/**
 * Whether constants cannot belong to a solid: a modulus or density not positive or beyond every material, or Poisson's ratios so large that some
 * deformation would cost no energy. Source: Lempriere 1968, AIAA J. 6, 2226 (positive definite compliance).
 */
function isAbsurd(wood: WoodConstants): boolean {
  const { eL, eR, eT, gLR, gLT, gRT, nuLR, nuLT, nuRT, densityKgM3 } = wood;
  if (![eL, eR, eT, gLR, gLT, gRT].every((mpa) => mpa >= LEAST_MPA && mpa <= MOST_MPA)) return true;
  if (!(densityKgM3 >= LEAST_KG_M3 && densityKgM3 <= MOST_KG_M3)) return true;
  if (![nuLR, nuLT, nuRT].every(Number.isFinite)) return true;
  const [a, b, c] = [(nuLR * nuLR * eR) / eL, (nuLT * nuLT * eT) / eL, (nuRT * nuRT * eT) / eR];
  const all = 1 - a - b - c - (2 * nuLR * nuLT * nuRT * eT) / eL;
  return !(a < 1 && b < 1 && c < 1 && all > 0);
}
