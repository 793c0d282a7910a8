// Brace sections: area, centroid, bending and torsion constants of the profiles braces are carved to, and the bending
// stiffness of a brace glued to its strip of plate. SI throughout.
import { needPositive } from './positive.ts';

/** The outline of a brace seen from its end: flat base on the plate, top as carved. */
export type SectionShape = 'rectangle' | 'parabola' | 'triangle' | 'half-ellipse';

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
 * Each profile as fractions of its box, width b by height h: area / (b h), centroid / h, I / (b h^3), lateral
 * I / (b^3 h), and k of J = A^4 / (k I_p).
 * Source: first four, closed forms by integration (width at height y: b, b sqrt(1 - y/h), b (1 - y/h),
 * b sqrt(1 - (y/h)^2)). k: Saint-Venant's form with k from our own solution of Prandtl's equation at h/b = 2; it
 * holds J within 5 % (triangle 10 %) for h/b from 1 to 3, see tests/wood/section.test.ts.
 */
const PROFILES: Readonly<Record<SectionShape, readonly [number, number, number, number, number]>> = {
  rectangle: [1, 1 / 2, 1 / 12, 1 / 12, 42],
  parabola: [2 / 3, 2 / 5, 8 / 175, 1 / 30, 41.2],
  triangle: [1 / 2, 1 / 3, 1 / 36, 1 / 48, 40.5],
  'half-ellipse': [Math.PI / 4, 4 / (3 * Math.PI), Math.PI / 16 - 4 / (9 * Math.PI), Math.PI / 64, 41.1],
};

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
 * Section constants of a brace of one profile.
 * @param shape   profile
 * @param widthM  width of the base, m, > 0
 * @param heightM height above the plate, m, > 0
 * @throws RangeError unless width and height are > 0
 * Source: see PROFILES and rectangleTorsionM4.
 */
export function sectionProperties(shape: SectionShape, widthM: number, heightM: number): SectionProperties {
  needPositive('sectionProperties', { widthM, heightM });
  const [area, centroid, vertical, lateral, k] = PROFILES[shape];
  const areaM2 = area * widthM * heightM;
  const inertiaM4 = vertical * widthM * heightM ** 3;
  const polarM4 = inertiaM4 + lateral * widthM ** 3 * heightM;
  const torsionM4 = shape === 'rectangle' ? rectangleTorsionM4(widthM, heightM) : areaM2 ** 4 / (k * polarM4);
  return { areaM2, centroidM: centroid * heightM, inertiaM4, torsionM4 };
}

/** One layer of a glued section: a section standing on a base line. */
export interface Layer {
  readonly section: Pick<SectionProperties, 'areaM2' | 'centroidM' | 'inertiaM4'>;
  /** height of the layer's base above the common zero line, m */
  readonly baseM: number;
  /** Young's modulus along the brace, Pa, > 0 */
  readonly modulusPa: number;
}

/** Bending stiffness of a glued section. */
export interface CompositeStiffness {
  readonly bendingNm2: number;
  /** neutral axis above the common zero line, m */
  readonly neutralM: number;
}

/**
 * Bending stiffness EI of layers glued together without slip.
 * @param layers at least one
 * @throws RangeError for an empty list
 * Source: parallel-axis theorem on the transformed section, any strength-of-materials text:
 * y = sum(E A y_i) / sum(E A), EI = sum(E I_i + E A (y_i - y)^2).
 */
export function compositeStiffness(layers: readonly Layer[]): CompositeStiffness {
  if (layers.length === 0) throw new RangeError('compositeStiffness: 0 layers, need at least 1');
  let stretch = 0;
  let moment = 0;
  for (const { section, baseM, modulusPa } of layers) {
    stretch += modulusPa * section.areaM2;
    moment += modulusPa * section.areaM2 * (baseM + section.centroidM);
  }
  const neutralM = moment / stretch;
  const bendingNm2 = layers.reduce((sum, { section, baseM, modulusPa }) => {
    const arm = baseM + section.centroidM - neutralM;
    return sum + modulusPa * (section.inertiaM4 + section.areaM2 * arm * arm);
  }, 0);
  return { bendingNm2, neutralM };
}

/** The strip of plate a brace takes with it. */
export interface PlateStrip {
  readonly widthM: number;
  readonly thicknessM: number;
  /** Young's modulus of the plate along the brace, Pa */
  readonly modulusPa: number;
}

/**
 * Bending stiffness of a brace glued to a strip of plate; call it at each station of a tapered or scalloped brace.
 * @param brace profile, size in m and Young's modulus along the brace, Pa; height 0 gives the bare strip
 * @param strip the plate under it
 * @throws RangeError for sizes that are not > 0 (brace height may be 0)
 * Source: see compositeStiffness; zero line at the free face of the strip.
 */
export function bracedStripStiffness(
  brace: {
    readonly shape: SectionShape;
    readonly widthM: number;
    readonly heightM: number;
    readonly modulusPa: number;
  },
  strip: PlateStrip,
): CompositeStiffness {
  const plate: Layer = {
    section: sectionProperties('rectangle', strip.widthM, strip.thicknessM),
    baseM: 0,
    modulusPa: strip.modulusPa,
  };
  if (brace.heightM === 0) return compositeStiffness([plate]);
  return compositeStiffness([
    plate,
    {
      section: sectionProperties(brace.shape, brace.widthM, brace.heightM),
      baseM: strip.thicknessM,
      modulusPa: brace.modulusPa,
    },
  ]);
}

/**
 * Young's modulus of a plate along a direction at an angle to the grain, Pa.
 * @param angleRad angle between the direction and the grain
 * @param plate    E along and across, in-plane shear modulus, Pa; nuLR = nu_LR
 * Source: R. M. Jones, Mechanics of Composite Materials (1999), transformed compliances:
 * 1/E = c^4/E_L + s^4/E_R + c^2 s^2 (1/G - 2 nu/E_L).
 */
export function modulusAtAnglePa(
  angleRad: number,
  plate: { readonly eLongPa: number; readonly eCrossPa: number; readonly gPa: number; readonly nuLR: number },
): number {
  const c2 = Math.cos(angleRad) ** 2;
  const s2 = 1 - c2;
  const compliance =
    (c2 * c2) / plate.eLongPa +
    (s2 * s2) / plate.eCrossPa +
    c2 * s2 * (1 / plate.gPa - (2 * plate.nuLR) / plate.eLongPa);
  return 1 / compliance;
}
