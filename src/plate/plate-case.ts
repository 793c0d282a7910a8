// What a maker draws: a plate with its soundhole, braces, patches and support, in workshop units. Everything else in this
// folder is computed from it. The format is plain JSON and is also what the terminal reads.
// Axes (outline.ts states them in full): x along the grain toward the neck, y across, braces on the face of greater z.
import type { SectionShape } from '../brace/section.ts';
import type { Point } from './outline.ts';

/** Nine elastic constants, MPa (Poisson's ratios without unit), and density of one piece of wood. L, R, T as in wood science. */
export interface WoodConstants {
  readonly eL: number;
  readonly eR: number;
  readonly eT: number;
  readonly gLR: number;
  readonly gLT: number;
  readonly gRT: number;
  readonly nuLR: number;
  readonly nuLT: number;
  readonly nuRT: number;
  readonly densityKgM3: number;
}

/** A brace glued to the inner face; its grain runs along it. */
export interface BraceCase {
  readonly id: string;
  /** Ends of the centre line, mm. */
  readonly from: Point;
  readonly to: Point;
  readonly widthMm: number;
  /** [distance from `from`, height], mm, distances ascending, joined by straight lines. */
  readonly heightMm: readonly (readonly [number, number])[];
  readonly material: WoodConstants;
  /** Default rectangle. */
  readonly crossSection?: SectionShape;
  /** Which growth direction stands upright on the plate; default R (quartersawn brace stock). */
  readonly upright?: 'R' | 'T';
  /** Turn of the grain away from the brace, degrees; default 0. */
  readonly grainDeg?: number;
}

/** A flat piece glued on: a bridge plate inside, a bridge outside, a soundhole patch. Its growth rings stand upright to it. */
export interface PatchCase {
  readonly id: string;
  readonly polygon: readonly Point[];
  readonly thicknessMm: number;
  readonly material: WoodConstants;
  /** Angle of its grain to x, degrees, counter-clockwise in the drawing; default 0. */
  readonly grainDeg?: number;
  /** Default inside, the face the braces stand on. */
  readonly face?: 'inside' | 'outside';
}

/**
 * How the rim is held. `free`: not at all. `hinged`: the lower edge of the rim (the face without braces) is held in all
 * three directions. `clamped`: the whole rim face. The long form chooses the height of the hinge and adds a rotational
 * stiffness per length of rim, N m / rad per m, between a hinge (0) and a clamp (infinite).
 */
export type EdgeCase =
  | 'free'
  | 'hinged'
  | 'clamped'
  | {
      readonly kind: 'hinged';
      readonly pinnedAt?: 'lower-edge' | 'mid-surface';
      readonly rotationalStiffnessN?: number;
    };

/** A plate as drawn. */
export interface PlateCase {
  /** Closed polygon, mm, either orientation, last point joins the first. */
  readonly outline: readonly Point[];
  readonly soundhole?: { readonly xMm: number; readonly yMm: number; readonly radiusMm: number };
  readonly thicknessMm: number;
  /** Thickness measured at places, mm; between them by inverse distance squared. Absent: thicknessMm everywhere. */
  readonly thicknessPointsMm?: readonly (readonly [x: number, y: number, thickness: number])[];
  readonly material: WoodConstants;
  /** Angle of the plate's grain to x, degrees; default 0. */
  readonly grainDeg?: number;
  readonly braces?: readonly BraceCase[];
  readonly patches?: readonly PatchCase[];
  readonly edge?: EdgeCase;
}

/** The support in its long form. */
export interface EdgeSupport {
  readonly kind: 'free' | 'hinged' | 'clamped';
  readonly pinnedAt: 'lower-edge' | 'mid-surface';
  /** N m / rad per m of rim, which is N. */
  readonly rotationalStiffnessN: number;
}

/** The support of a case, with the defaults filled in. */
export function edgeSupportOf(plate: PlateCase): EdgeSupport {
  const edge = plate.edge ?? 'free';
  if (typeof edge === 'string') return { kind: edge, pinnedAt: 'lower-edge', rotationalStiffnessN: 0 };
  return {
    kind: 'hinged',
    pinnedAt: edge.pinnedAt ?? 'lower-edge',
    rotationalStiffnessN: edge.rotationalStiffnessN ?? 0,
  };
}
