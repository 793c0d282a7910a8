// Cross-sections that braces are carved to: flat base on the plate, top as carved. Each stands here once, with all that the
// plate, the drawing and the bench ask of it.
import { needPositive } from '../quantity/positive.ts';

/** Facts of one section of width 1 and height 1. */
interface UnitSection {
  /** share of the full width that is wood at a share of the height, 0 (the base) to 1 */
  readonly widthAt: (share: number) => number;
  /** integrals of 1, z and z^2 over the section, z from the base */
  readonly area: number;
  readonly first: number;
  readonly second: number;
  /** second moment about the upright middle line */
  readonly lateral: number;
  /**
   * k of Saint-Venant's form J = A^4 / (k I_p). Source: our own solution of Prandtl's equation at twice the width in height;
   * it holds J within 5 % (triangle 10 %) from one to three widths, see tests/brace/section.test.ts.
   */
  readonly torsion: number;
}

// Moments: elementary integrals of f, s f, s^2 f and f^3 / 12 with f the width below; tests/brace/section.test.ts integrates
// every one of them again.
const SECTIONS = {
  rectangle: { widthAt: () => 1, area: 1, first: 1 / 2, second: 1 / 3, lateral: 1 / 12, torsion: 42 },
  /** straight sides to half height, then half an ellipse */
  rounded: {
    widthAt: (s) => (s <= 0.5 ? 1 : Math.sqrt(Math.max(0, 1 - (2 * s - 1) ** 2))),
    area: 1 / 2 + Math.PI / 8,
    first: 1 / 8 + Math.PI / 16 + 1 / 12,
    second: 1 / 24 + (5 * Math.PI) / 128 + 1 / 12,
    lateral: (1 / 2 + (3 * Math.PI) / 32) / 12,
    torsion: 40.8,
  },
  parabola: {
    widthAt: (s) => Math.sqrt(Math.max(0, 1 - s)),
    area: 2 / 3,
    first: 4 / 15,
    second: 16 / 105,
    lateral: 1 / 30,
    torsion: 41.2,
  },
  'half-ellipse': {
    widthAt: (s) => Math.sqrt(Math.max(0, 1 - s * s)),
    area: Math.PI / 4,
    first: 1 / 3,
    second: Math.PI / 16,
    lateral: Math.PI / 64,
    torsion: 41.1,
  },
  triangle: {
    widthAt: (s) => Math.max(0, 1 - s),
    area: 1 / 2,
    first: 1 / 6,
    second: 1 / 12,
    lateral: 1 / 48,
    torsion: 40.5,
  },
} as const satisfies Readonly<Record<string, UnitSection>>;

/** The outline of a brace seen from its end. */
export type SectionShape = keyof typeof SECTIONS;

/** Every section there is, the usual ones first. */
export const sectionShapes = Object.keys(SECTIONS) as [SectionShape, ...SectionShape[]];

/** Facts of a section of width 1 and height 1. */
export const unitSection = (shape: SectionShape): UnitSection => SECTIONS[shape];

/** Constants of one section. */
export interface SectionProperties {
  readonly areaM2: number;
  /** height of the centroid above the base, m */
  readonly centroidM: number;
  /** second moment of area about the section's own centroid, bending in the vertical plane, m^4 */
  readonly inertiaM4: number;
  /** Saint-Venant torsion constant J, m^4 */
  readonly torsionM4: number;
}

/**
 * Torsion constant of a rectangular bar, m^4; sides in any order.
 * @throws RangeError unless both sides are > 0
 * Source: Roark's Formulas for Stress and Strain, solid rectangular section (from memory), within 0.5 % of the series.
 */
export function rectangleTorsionM4(widthM: number, heightM: number): number {
  needPositive('rectangleTorsionM4', { widthM, heightM });
  const long = Math.max(widthM, heightM);
  const short = Math.min(widthM, heightM);
  const ratio = short / long;
  return long * short ** 3 * (1 / 3 - 0.21 * ratio * (1 - ratio ** 4 / 12));
}

/**
 * Constants of a section of a brace.
 * @param widthM  width of the base, m, > 0
 * @param heightM height above the plate, m, > 0
 * @throws RangeError unless width and height are > 0
 * Source: parallel-axis theorem on the moments above; torsion as told there, a rectangle's by rectangleTorsionM4.
 */
export function sectionProperties(shape: SectionShape, widthM: number, heightM: number): SectionProperties {
  needPositive('sectionProperties', { widthM, heightM });
  const { area, first, second, lateral, torsion } = unitSection(shape);
  const areaM2 = area * widthM * heightM;
  const inertiaM4 = (second - first ** 2 / area) * widthM * heightM ** 3;
  const polarM4 = inertiaM4 + lateral * widthM ** 3 * heightM;
  const torsionM4 = shape === 'rectangle' ? rectangleTorsionM4(widthM, heightM) : areaM2 ** 4 / (torsion * polarM4);
  return { areaM2, centroidM: (first / area) * heightM, inertiaM4, torsionM4 };
}
