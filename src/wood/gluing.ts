// May I glue today, and what will the top do when the season turns.
import { type Estimate, estimate } from '../quantity/estimate.ts';
import { type Climate, equilibriumMoisturePercent, moistureOf, widthChangePerPercent } from './moisture.ts';

/** Humidities a maker glues within, %RH. */
export interface GluingWindow {
  readonly lowPercent: number;
  readonly highPercent: number;
}

/** Source: common practice, no source. */
export const USUAL_GLUING_WINDOW: GluingWindow = { lowPercent: 40, highPercent: 50 };

/** Whether today's air is right, and what it really is. */
export interface GluingVerdict {
  readonly kind: 'glue' | 'wait-too-damp' | 'wait-too-dry' | 'unsure';
  /** the reading with the hygrometer's offset taken off, %RH */
  readonly humidityPercent: Estimate;
  /** of wood at rest in it, with the doubt of the hygrometer and of the formula */
  readonly moisturePercent: Estimate;
}

/**
 * Today's reading against the maker's window.
 * @param readingPercent what the hygrometer shows, %RH
 * @param offsetPercent  what this hygrometer reads too high (negative: too low), with its sigma from the last check
 * @returns 'unsure' where the offset's sigma spans an edge of the window
 */
export function gluingGate(
  readingPercent: number,
  offsetPercent: Estimate,
  tempC: number,
  window: GluingWindow = USUAL_GLUING_WINDOW,
): GluingVerdict {
  const humidityPercent = estimate(readingPercent - offsetPercent.value, offsetPercent.sigma);
  const { value, sigma } = humidityPercent;
  const straddles = (edge: number) => Math.abs(value - edge) < sigma;
  const isInside = value >= window.lowPercent && value <= window.highPercent;
  const outside = value > window.highPercent ? 'wait-too-damp' : 'wait-too-dry';
  const sure = isInside ? 'glue' : outside;
  return {
    kind: straddles(window.lowPercent) || straddles(window.highPercent) ? 'unsure' : sure,
    humidityPercent,
    moisturePercent: moistureOf(humidityPercent, tempC),
  };
}

/** A brace across the grain on its share of the plate; moduli along the brace. */
export interface CrossBracedStrip {
  readonly plate: { readonly thicknessM: number; readonly stripWidthM: number; readonly eCrossPa: number };
  readonly brace: { readonly heightM: number; readonly widthM: number; readonly eLongPa: number };
  /** radial shrinkage green to ovendry of the plate (quartersawn), % */
  readonly fullShrinkagePercent: number;
}

/**
 * Curvature a change of moisture bends into a cross-braced plate, 1/m; positive domes the outside up (plate grows).
 * @param strip          brace and its strip of plate
 * @param moistureChange % moisture since gluing
 * Source: our derivation after S. Timoshenko, J. Opt. Soc. Am. 11 (1925) 233 (bimetal strip) with unequal widths: the
 * plate wants to grow by the strain C dM, the brace along its grain does not; force balance and equal curvature give
 * kappa = strain (h_p + h_b)/2 / [ (EI_p + EI_b)(1/EA_p + 1/EA_b) + (h_p + h_b)^2 / 4 ].
 */
export function warpCurvature(strip: CrossBracedStrip, moistureChange: number): number {
  const { plate, brace } = strip;
  const strain = widthChangePerPercent(strip.fullShrinkagePercent) * moistureChange;
  const stretch = (e: number, width: number, height: number) => e * width * height;
  const eaPlate = stretch(plate.eCrossPa, plate.stripWidthM, plate.thicknessM);
  const eaBrace = stretch(brace.eLongPa, brace.widthM, brace.heightM);
  const bending = (eaPlate * plate.thicknessM ** 2 + eaBrace * brace.heightM ** 2) / 12;
  const arm = (plate.thicknessM + brace.heightM) / 2;
  return (strain * arm) / (bending * (1 / eaPlate + 1 / eaBrace) + arm * arm);
}

/** What the dome is expected to do in one air. */
export interface DomeChange {
  readonly humidityPercent: number;
  /** change of the arch in the middle of the span, mm; positive: the outside domes higher */
  readonly riseMm: Estimate;
}

/**
 * What the estimate is worth, relative. Source: ours: brace spacing, runout, glue creep and the rest of the bracing move
 * it by a factor of two either way; a free strip bends more than a top held by its rim.
 */
const DOME_SPREAD = 0.5;

/**
 * How the arch of a cross-braced plate changes between the air it was glued in and drier or damper air.
 * @param strip   the main cross brace and its share of plate
 * @param spanM   length of the brace, m
 * @param glued   air at gluing
 * @param others  humidities of interest, %RH, at the same temperature
 * @returns rise in mid-span with a wide sigma: an expectation, not a measurement
 * Source: see warpCurvature; rise = kappa L^2 / 8.
 */
export function domeChanges(
  strip: CrossBracedStrip,
  spanM: number,
  glued: Climate,
  others: readonly number[] = [30, 60],
): readonly DomeChange[] {
  const atGluing = equilibriumMoisturePercent(glued);
  return others.map((humidityPercent) => {
    const change = equilibriumMoisturePercent({ tempC: glued.tempC, humidityPercent }) - atGluing;
    const rise = (1000 * warpCurvature(strip, change) * spanM ** 2) / 8;
    return { humidityPercent, riseMm: estimate(rise, Math.abs(DOME_SPREAD * rise)) };
  });
}
