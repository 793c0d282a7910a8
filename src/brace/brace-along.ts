// A brace along its length: tapered, arched or scalloped, its height given at stations; how stiff it is at each of them,
// and as a whole.
import { type BraceSection, bracedStripStiffness, type PlateStrip } from './glued-strip.ts';
import { heightAtMm, type ProfilePlace } from './profile.ts';
import { sectionProperties } from './section.ts';

/** A brace with its section and wood; its height is the stations'. */
export type StationedBrace = Omit<BraceSection, 'heightM'>;

/** The brace glued to its strip of plate. */
export interface BraceAlong {
  /** in the order of the stations along the brace */
  readonly stations: readonly (ProfilePlace & { readonly bendingNm2: number })[];
  /** EI of an even brace that gives as much under a load in the middle of its length */
  readonly evenNm2: number;
  /** volume of the brace's wood, m^3 */
  readonly volumeM3: number;
}

/** Slices of the whole length for the integrals: even a step of height is met to 0.1 %. */
const SLICES = 2000;

/**
 * Stiffness of a brace along its length; straight between stations.
 * @param stations at least two with different places, any order; a height of 0 is the bare strip
 * @returns undefined where the stations do not span a length
 * Source: section by section as bracedStripStiffness; whole brace by the unit-load theorem for a beam on two supports at its
 * ends, load in the middle: deflection = integral of m^2 / EI with m = x / 2, so that even EI = (L^3 / 48) / that integral
 * (any strength-of-materials text).
 */
export function braceAlong(
  brace: StationedBrace,
  strip: PlateStrip,
  stations: readonly ProfilePlace[],
): BraceAlong | undefined {
  const sorted = stations.toSorted((a, b) => a.atMm - b.atMm);
  const first = sorted[0];
  const last = sorted.at(-1);
  if (first === undefined || last === undefined || !(last.atMm > first.atMm)) return undefined;
  const stiffnessNm2 = (heightMm: number): number =>
    bracedStripStiffness({ ...brace, heightM: heightMm / 1000 }, strip).bendingNm2;
  const lengthM = (last.atMm - first.atMm) / 1000;
  let bend = 0;
  let volumeM3 = 0;
  for (let k = 0; k < SLICES; k++) {
    const share = (k + 0.5) / SLICES;
    const heightMm = heightAtMm(sorted, first.atMm + 1000 * share * lengthM);
    const moment = (lengthM * Math.min(share, 1 - share)) / 2;
    const slice = lengthM / SLICES;
    bend += (moment * moment * slice) / stiffnessNm2(heightMm);
    if (heightMm > 0) volumeM3 += sectionProperties(brace.shape, brace.widthM, heightMm / 1000).areaM2 * slice;
  }
  return {
    stations: sorted.map((station) => ({ ...station, bendingNm2: stiffnessNm2(station.heightMm) })),
    evenNm2: lengthM ** 3 / 48 / bend,
    volumeM3,
  };
}
