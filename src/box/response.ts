// What a microphone and an accelerometer would see of the piston box when it is driven at the bridge.
import { type Box, pistonSystem } from './pistons.ts';

/** Curves over frequency, all (n,), per newton of force at the bridge. */
export interface BoxResponse {
  /** velocity of the top at the bridge, magnitude, m/s per N */
  readonly mobilityMPerNs: Float64Array;
  /** phase of that velocity before the force, rad */
  readonly mobilityPhaseRad: Float64Array;
  /** sound pressure level at the microphone, dB re 20 µPa per N */
  readonly soundLevelDb: Float64Array;
}

/** Reference of sound pressure level, Pa. Source: ISO 1683:2015. */
const HEARING_THRESHOLD_PA = 20e-6;

/**
 * Response of the box to a unit force on the top at the bridge.
 * (K + B a a^T + i omega R - omega² M) x = F by the rank-one (Sherman-Morrison) inverse; mobility i omega x_top / F; sound
 * of three simple sources much closer together than a wavelength: |p| = rho omega² |a^T x| / (4 pi r), free field.
 * @param frequenciesHz frequencies, (n,), Hz, > 0
 * @param distanceM     microphone to box, m, > 0; beyond the size of the box, below about 300 Hz
 * @throws RangeError if the distance is not > 0
 * Source: Christensen 1982, Acustica 50:159 (piston box driven at the bridge); simple source: Fletcher & Rossing 1998, The
 * Physics of Musical Instruments, section 7.1.
 */
export function boxResponse(box: Box, frequenciesHz: ArrayLike<number>, distanceM: number): BoxResponse {
  if (!(distanceM > 0)) throw new RangeError(`boxResponse: distance ${distanceM} m, need > 0`);
  const { massKg, stiffnessNPerM, resistanceNsPerM, areaM2, cushionPaPerM3: cushion } = pistonSystem(box);
  const n = frequenciesHz.length;
  const mobilityMPerNs = new Float64Array(n);
  const mobilityPhaseRad = new Float64Array(n);
  const soundLevelDb = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const omega = 2 * Math.PI * frequenciesHz[k]!;
    // d_i = K_i - omega² m_i + i omega r_i; g = sum a_i² / d_i; the top (first part) carries the force
    let gRe = 0;
    let gIm = 0;
    let topRe = 0;
    let topIm = 0;
    for (let i = massKg.length - 1; i >= 0; i--) {
      const re = stiffnessNPerM[i]! - omega * omega * massKg[i]!;
      const im = omega * resistanceNsPerM[i]!;
      const square = re * re + im * im;
      topRe = re / square;
      topIm = -im / square;
      gRe += areaM2[i]! ** 2 * topRe;
      gIm += areaM2[i]! ** 2 * topIm;
    }
    // 1 / (1 + B g): what the cushion leaves of the flow
    const heldRe = 1 + cushion * gRe;
    const heldIm = cushion * gIm;
    const heldSquare = heldRe * heldRe + heldIm * heldIm;
    const cushionRe = heldRe / heldSquare;
    const cushionIm = -heldIm / heldSquare;
    // flow displacement a^T x = (a_top / d_top) / (1 + B g)
    const flowRe = areaM2[0]! * (topRe * cushionRe - topIm * cushionIm);
    const flowIm = areaM2[0]! * (topRe * cushionIm + topIm * cushionRe);
    // x_top = 1/d_top - B (a_top / d_top) (a^T x)
    const xRe = topRe - cushion * areaM2[0]! * (topRe * flowRe - topIm * flowIm);
    const xIm = topIm - cushion * areaM2[0]! * (topRe * flowIm + topIm * flowRe);
    mobilityMPerNs[k] = omega * Math.hypot(xRe, xIm);
    mobilityPhaseRad[k] = Math.atan2(xRe, -xIm);
    const pressurePa = (box.air.densityKgM3 * omega * omega * Math.hypot(flowRe, flowIm)) / (4 * Math.PI * distanceM);
    soundLevelDb[k] = 20 * Math.log10(pressurePa / HEARING_THRESHOLD_PA);
  }
  return { mobilityMPerNs, mobilityPhaseRad, soundLevelDb };
}
