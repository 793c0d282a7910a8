// The bending stiffness of a brace glued to the strip of plate that goes along with it. SI throughout.
import { type SectionProperties, type SectionShape, sectionProperties } from './section.ts';

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

/** A brace where it is cut across. */
export interface BraceSection {
  readonly shape: SectionShape;
  readonly widthM: number;
  readonly heightM: number;
  /** along the brace, Pa */
  readonly modulusPa: number;
}

/**
 * Bending stiffness of a brace glued to a strip of plate; call it at each station of a tapered or scalloped brace.
 * @param brace profile, size in m and Young's modulus along the brace, Pa; height 0 gives the bare strip
 * @param strip the plate under it
 * @throws RangeError for sizes that are not > 0 (brace height may be 0)
 * Source: see compositeStiffness; zero line at the free face of the strip.
 */
export function bracedStripStiffness(brace: BraceSection, strip: PlateStrip): CompositeStiffness {
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
