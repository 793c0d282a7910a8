// The top under its strings, before anything is shaved and after: how far they turn the bridge, with what that figure is
// worth.
import type { PlateCase } from '../plate/plate-case.ts';
import type { PreparedPlate } from '../plate/plate-modes.ts';
import { energyChangesBetween } from '../plate/sensitivity.ts';
import { type StringPull, stringDeflection } from '../plate/static-load.ts';
import { type Estimate, scaled } from '../quantity/estimate.ts';
import { HALF_STEP, type Parameter, unitSteps } from './properties.ts';

/** The top as it will carry the strings: of the same lines, with its bridge glued. */
export interface StrungTop {
  readonly plate: PlateCase;
  readonly load: StringPull;
  /** spread of the pull, as a share of it */
  readonly loadShare: number;
  /** properties that are known only within a spread */
  readonly parameters: readonly Parameter[];
}

/** What the strings do at the saddle at once; creep comes on top. */
export interface StrungAnswer {
  /** turn of the saddle toward the neck, degrees */
  readonly turnDeg: Estimate;
  /** outward deflection at the saddle, mm */
  readonly riseMm: Estimate;
}

/** Error of the model, as a share: twice that of a frequency, since a compliance goes with its square. See MODEL_ERROR_SHARE. */
const MODEL_SHARE = 0.02;

/** Loads the top; undefined where it cannot be solved. */
export function strungAnswer(prepared: PreparedPlate, { plate, load, loadShare, parameters }: StrungTop) {
  const answer = stringDeflection(prepared, plate, load);
  if (answer.kind !== 'deflected') return undefined;
  // The work of the load falls by u^T dK u when the top gets stiffer by dK; turn and rise go with it.
  const bent = [{ frequencyHz: 0, solvedHz: 0, vector: answer.displacement }];
  const changes = energyChangesBetween(prepared, bent, unitSteps(plate, parameters));
  const shares = parameters.map(
    ({ relativeSigma }, p) => (relativeSigma * changes[p]![0]!) / (2 * HALF_STEP * answer.workNm),
  );
  const share = Math.hypot(MODEL_SHARE, loadShare, ...shares);
  const within = (value: number): Estimate => scaled({ value: 1, sigma: share }, value);
  return { turnDeg: within(answer.rotationDeg), riseMm: within(answer.saddleMm) };
}
