// The height at which a brace of another wood is as stiff as the present one, once both are glued to the same plate.
import { type BraceSection, bracedStripStiffness, type PlateStrip } from './glued-strip.ts';

/**
 * Height of a brace of another stick for the same bending stiffness on its strip of plate, m; profile and width kept.
 * @param brace     the present brace, m and Pa
 * @param strip     the plate under it
 * @param otherPa   modulus of the other stick along its grain, Pa, > 0
 * @returns height, m, to 1e-6; at most ten times the present one
 * Source: bracedStripStiffness solved for the height by bisection; it grows with height everywhere.
 */
export function equalGluedHeightM(brace: BraceSection, strip: PlateStrip, otherPa: number): number {
  const wanted = bracedStripStiffness(brace, strip).bendingNm2;
  let low = 0;
  let high = 10 * brace.heightM;
  while (high - low > 1e-6) {
    const middle = (low + high) / 2;
    const stiffness = bracedStripStiffness({ ...brace, heightM: middle, modulusPa: otherPa }, strip).bendingNm2;
    if (stiffness < wanted) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
