// The air in the box from what the record says of its sizes: volume, the air's own resonance, what a millimetre adds.
import { type Air, airIn, STANDARD_PRESSURE_PA } from '../box/air.ts';
import { outlineOfMeasures } from '../box/body-outline.ts';
import { cavityVolumeM3 } from '../box/cavity.ts';
import { helmholtzEstimate } from '../box/soundhole.ts';
import { type Estimate, estimate, HALF_WIDTH_95 } from '../quantity/estimate.ts';
import type { BoxCavity } from '../record/box-edit.ts';
import type { ClimateNote } from '../record/record.ts';

export type CavityNeed =
  | 'body-length'
  | 'lower-bout'
  | 'waist'
  | 'upper-bout'
  | 'depths'
  | 'volume'
  | 'hole-radius'
  | 'hole-edge';

/** The air of the box in its room. */
interface Cavity {
  readonly kind: 'cavity';
  readonly air: Air;
  readonly volumeM3: Estimate;
  /** what a metre of depth adds, m²; undefined where only the volume is known */
  readonly planAreaM2: number | undefined;
  readonly holeRadiusM: number;
  readonly holeEdgeM: number;
  /** the air's own resonance with walls that do not move, by ruler, Hz */
  readonly ownHz: Estimate;
  /** true where temperature or humidity was not noted and a usual room is assumed */
  readonly climateAssumed: boolean;
}

export type CavityResult =
  | Cavity
  | { readonly kind: 'missing'; readonly needs: readonly CavityNeed[] }
  /** blocks and braces fill more than the box holds */
  | { readonly kind: 'no-volume'; readonly emptyL: number; readonly occupiedL: number };

/** A room where none was noted. */
const USUAL_TEMP_C = 20;
const USUAL_HUMIDITY_PERCENT = 50;
/** Volume from ruler measures, half width of the 95 % interval, %. Common practice, no source. */
export const USUAL_VOLUME_DOUBT_PERCENT = 4;

/** The cavity, or what is still to be measured. */
export function cavityOf(sizes: BoxCavity | undefined, climate: ClimateNote | undefined): CavityResult {
  const needs = needed(sizes);
  if (sizes === undefined || needs.length > 0) return { kind: 'missing', needs };
  const { holeRadiusMm, holeEdgeMm, occupiedL = 0 } = sizes;
  const planAreaM2 = planAreaOf(sizes);
  const emptyM3 = sizes.from === 'volume' ? sizes.volumeL! / 1000 : outlineVolumeM3(sizes);
  const volumeM3 = sizes.from === 'volume' ? emptyM3 : emptyM3 - occupiedL / 1000;
  if (!(volumeM3 > 0)) return { kind: 'no-volume', emptyL: 1000 * emptyM3, occupiedL };
  const doubt = (sizes.volumeDoubtPercent ?? USUAL_VOLUME_DOUBT_PERCENT) / 100 / HALF_WIDTH_95;
  const volume = estimate(volumeM3, doubt * volumeM3);
  const { tempC, humidityPercent } = climate ?? {};
  const air = airIn({
    tempC: Math.min(40, Math.max(0, tempC ?? USUAL_TEMP_C)),
    humidityPercent: humidityPercent ?? USUAL_HUMIDITY_PERCENT,
    pressurePa: sizes.pressureHpa === undefined ? STANDARD_PRESSURE_PA : 100 * sizes.pressureHpa,
  });
  const holeRadiusM = holeRadiusMm! / 1000;
  const holeEdgeM = holeEdgeMm! / 1000;
  return {
    kind: 'cavity',
    air,
    volumeM3: volume,
    planAreaM2,
    holeRadiusM,
    holeEdgeM,
    ownHz: helmholtzEstimate(air, volume, holeRadiusM, holeEdgeM),
    climateAssumed: tempC === undefined || humidityPercent === undefined,
  };
}

function needed(sizes: BoxCavity | undefined): readonly CavityNeed[] {
  const needs: CavityNeed[] = [];
  const want = (need: CavityNeed, ...values: readonly (number | undefined)[]) => {
    if (values.includes(undefined)) needs.push(need);
  };
  if (sizes?.from === 'volume') want('volume', sizes.volumeL);
  else {
    want('body-length', sizes?.bodyLengthMm);
    want('lower-bout', sizes?.lowerBoutMm);
    want('waist', sizes?.waistMm);
    want('upper-bout', sizes?.upperBoutMm);
    want('depths', sizes?.tailDepthMm, sizes?.neckDepthMm);
  }
  want('hole-radius', sizes?.holeRadiusMm);
  want('hole-edge', sizes?.holeEdgeMm);
  return needs;
}

const outlineOf = (sizes: BoxCavity) =>
  outlineOfMeasures({
    lengthM: sizes.bodyLengthMm! / 1000,
    lowerBoutM: sizes.lowerBoutMm! / 1000,
    waistM: sizes.waistMm! / 1000,
    upperBoutM: sizes.upperBoutMm! / 1000,
  });

function outlineVolumeM3(sizes: BoxCavity): number {
  return cavityVolumeM3(outlineOf(sizes), {
    tailM: sizes.tailDepthMm! / 1000,
    neckM: sizes.neckDepthMm! / 1000,
    occupiedM3: 0,
    ...(sizes.topDomeRadiusM === undefined ? {} : { topDomeRadiusM: sizes.topDomeRadiusM }),
    ...(sizes.backDomeRadiusM === undefined ? {} : { backDomeRadiusM: sizes.backDomeRadiusM }),
  });
}

/** Plan area: what a box of unit depth would hold; by the mean depth where only the volume was typed. */
function planAreaOf(sizes: BoxCavity): number | undefined {
  if (sizes.from === 'outline') return cavityVolumeM3(outlineOf(sizes), { tailM: 1, neckM: 1, occupiedM3: 0 });
  const { tailDepthMm, neckDepthMm, volumeL } = sizes;
  return tailDepthMm === undefined || neckDepthMm === undefined
    ? undefined
    : (2 * volumeL!) / (tailDepthMm + neckDepthMm);
}
