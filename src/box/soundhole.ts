// The soundhole: a plug of air that swings in and out on the spring of the air in the box.
import { type Estimate, estimate } from '../quantity/estimate.ts';
import type { Air } from './air.ts';

/** The round hole as a piston of air. */
export interface Soundhole {
  /** m, > 0 */
  readonly radiusM: number;
  /** length of the swinging plug of air, end corrections included, m, > 0 */
  readonly effectiveLengthM: number;
  /** growth of the effective length per metre of radius, 1.57 to 1.7: what a wider hole adds at its two mouths */
  readonly endCorrectionRatio: number;
  /** sharpness of the air resonance alone, all its losses in it, > 0 */
  readonly q: number;
}

/**
 * How far the swinging air stands out at the two mouths together, in radii of the hole.
 * `flanged`: each mouth a long pipe's end in a wide wall, 2 x 0.85 (rounded 8 / 3 pi).
 * `thin-plate`: a hole in a plate much thinner than the hole is wide, conductivity 2 r, hence pi / 2.
 * Source: flanged: Woodhouse, Euphonics section 4.2.1, after Rayleigh 1896, Theory of Sound section 307;
 * thin plate: Rayleigh 1896 section 306.
 */
const END_CORRECTION_RATIO = { flanged: 1.7, 'thin-plate': Math.PI / 2 } as const;

export type EndCorrection = keyof typeof END_CORRECTION_RATIO;

/**
 * A soundhole from ruler and caliper: L = t + correction x r.
 * @param radiusM    radius of the hole, m, > 0
 * @param thicknessM thickness of the top at the rim of the hole, rosette patch included, m, >= 0
 * @param q          sharpness of the air resonance alone, > 0
 * @throws RangeError if a size is not in range
 */
export function soundhole(radiusM: number, thicknessM: number, end: EndCorrection, q: number): Soundhole {
  if (!(radiusM > 0)) throw new RangeError(`soundhole: radius ${radiusM} m, need > 0`);
  if (!(thicknessM >= 0)) throw new RangeError(`soundhole: thickness ${thicknessM} m, need >= 0`);
  if (!(q > 0)) throw new RangeError(`soundhole: q ${q}, need > 0`);
  const endCorrectionRatio = END_CORRECTION_RATIO[end];
  return { radiusM, effectiveLengthM: thicknessM + endCorrectionRatio * radiusM, endCorrectionRatio, q };
}

/** Open area of the hole, m². */
export function holeAreaM2({ radiusM }: Soundhole): number {
  return Math.PI * radiusM * radiusM;
}

/**
 * The air's own resonance with walls that do not move: f = c / (2 pi) sqrt(S / (V L)), Hz.
 * A real box reads lower, because its top and back give way.
 * @throws RangeError if the volume is not > 0
 * Source: Helmholtz 1863; Woodhouse, Euphonics section 4.2.1.
 */
export function helmholtzHz(air: Air, volumeM3: number, hole: Soundhole): number {
  if (!(volumeM3 > 0)) throw new RangeError(`helmholtzHz: volume ${volumeM3} m³, need > 0`);
  return (air.soundSpeedMPerS / (2 * Math.PI)) * Math.sqrt(holeAreaM2(hole) / (volumeM3 * hole.effectiveLengthM));
}

/**
 * The air's own resonance from sizes alone, as an estimate: the two end corrections are taken as the ends of a uniform
 * spread, and the volume's uncertainty is added.
 * @param volumeM3 air volume, m³
 * @returns Hz
 * Source: uniform spread: JCGM 100:2008 (GUM) section 4.3.7; f ~ V^(-1/2).
 */
export function helmholtzEstimate(air: Air, volumeM3: Estimate, radiusM: number, thicknessM: number): Estimate {
  const lowHz = helmholtzHz(air, volumeM3.value, soundhole(radiusM, thicknessM, 'flanged', 1));
  const highHz = helmholtzHz(air, volumeM3.value, soundhole(radiusM, thicknessM, 'thin-plate', 1));
  const middleHz = (lowHz + highHz) / 2;
  const endSigma = (highHz - lowHz) / Math.sqrt(12);
  return estimate(middleHz, Math.hypot(endSigma, (middleHz * volumeM3.sigma) / (2 * volumeM3.value)));
}

/** The same hole with its effective length set so that the air alone rings at the measured frequency. */
export function tunedTo(hole: Soundhole, frequencyHz: number, air: Air, volumeM3: number): Soundhole {
  const effectiveLengthM = holeAreaM2(hole) * (air.soundSpeedMPerS / (2 * Math.PI * frequencyHz)) ** 2;
  return { ...hole, effectiveLengthM: effectiveLengthM / volumeM3 };
}

/**
 * The same hole reamed to another radius; its mouths' corrections grow with it.
 * @throws RangeError if the radius is not > 0 or the hole would be left with no effective length
 */
export function reamedTo(hole: Soundhole, radiusM: number): Soundhole {
  if (!(radiusM > 0)) throw new RangeError(`reamedTo: radius ${radiusM} m, need > 0`);
  const effectiveLengthM = hole.effectiveLengthM + hole.endCorrectionRatio * (radiusM - hole.radiusM);
  if (!(effectiveLengthM > 0)) throw new RangeError(`reamedTo: effective length ${effectiveLengthM} m, need > 0`);
  return { ...hole, radiusM, effectiveLengthM };
}
