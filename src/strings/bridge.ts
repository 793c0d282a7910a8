// What the strings do to the bridge and the top, and what to be careful of.
import { type Estimate, estimate, scaled } from '../quantity/estimate.ts';

/** How the strings pass over the saddle. */
export interface SaddleGeometry {
  /** strings above the top at the saddle, m, > 0 (commonly 0.011 to 0.014) */
  readonly stringHeightM: number;
  /** angle by which the strings slope toward the top from saddle to pins, rad, 0 to pi/2 */
  readonly breakAngleRad: number;
  /** angle by which they rise from the top's plane toward the nut, rad; negative where the neck is set back */
  readonly neckAngleRad: number;
}

/** Forces on bridge and top. */
export interface BridgeLoad {
  /** pull along the top, toward the nut, N */
  readonly pullN: Estimate;
  /** turning moment of that pull about the top at the saddle, N m: what rotates the bridge */
  readonly torqueNm: Estimate;
  /** what presses the saddle into its slot, N */
  readonly saddleDownN: Estimate;
  /** what lifts the pins or the tie block, N */
  readonly pinLiftN: Estimate;
  /** what is left of the two: net load on the top, downward positive, N; small next to the torque */
  readonly netDownN: Estimate;
}

/**
 * Load of strings fixed in the bridge behind the saddle.
 * Pull T cos n; torque T cos n x height; saddle T (sin b - sin n); pins T sin b; net -T sin n, b break and n neck angle.
 * @param totalN tension of all strings, N
 * @throws RangeError if the height or an angle is out of range
 * Source: statics of a cord over a support; torque T x height: common practice, worked in tests/published/strings-checks.json.
 */
export function bridgeLoad(
  totalN: Estimate,
  { stringHeightM, breakAngleRad, neckAngleRad }: SaddleGeometry,
): BridgeLoad {
  if (!(stringHeightM > 0)) throw new RangeError(`bridgeLoad: string height ${stringHeightM} m, need > 0`);
  if (!(breakAngleRad >= 0 && breakAngleRad < Math.PI / 2))
    throw new RangeError(`bridgeLoad: break angle ${breakAngleRad} rad, need 0 to pi/2`);
  if (!(Math.abs(neckAngleRad) < 0.2))
    throw new RangeError(`bridgeLoad: neck angle ${neckAngleRad} rad, need -0.2 to 0.2`);
  const along = Math.cos(neckAngleRad);
  const rise = Math.sin(neckAngleRad);
  const fall = Math.sin(breakAngleRad);
  return {
    pullN: scaled(totalN, along),
    torqueNm: scaled(totalN, along * stringHeightM),
    saddleDownN: scaled(totalN, fall - rise),
    pinLiftN: scaled(totalN, fall),
    netDownN: scaled(totalN, -rise),
  };
}

/**
 * Turning stiffness of the top at the bridge from a measured turn under a known torque, N m/rad.
 * @param turnDeg angle between slack and tuned, degrees, > 0
 * @throws RangeError if the bridge did not turn
 */
export function turningStiffness(torqueNm: Estimate, turnDeg: Estimate): Estimate {
  if (!(turnDeg.value > 0)) throw new RangeError(`turningStiffness: turn ${turnDeg.value}°, need > 0`);
  const value = torqueNm.value / radians(turnDeg.value);
  return estimate(value, value * Math.hypot(torqueNm.sigma / torqueNm.value, turnDeg.sigma / turnDeg.value));
}

/** Turn of the bridge to be expected under another torque, degrees. */
export function bridgeTurnDeg(torqueNm: Estimate, stiffnessNmPerRad: Estimate): Estimate {
  const value = degrees(torqueNm.value / stiffnessNmPerRad.value);
  return estimate(
    value,
    Math.abs(value) * Math.hypot(torqueNm.sigma / torqueNm.value, stiffnessNmPerRad.sigma / stiffnessNmPerRad.value),
  );
}

/** Bounds a maker may change. */
export interface LoadLimits {
  /** turn of the bridge from slack to tuned, degrees */
  readonly mostTurnDeg: number;
  /** total pull the box is built for, N */
  readonly mostPullN: number;
  /** pull from which an instrument of a certain age is not strung without thought, N */
  readonly mostPullOldN: number;
  /** from which age an instrument counts as old, years */
  readonly oldAfterYears: number;
}

/**
 * Bounds to begin with. Turn: at most 2°, Gore & Gilet 2011, Contemporary Acoustic Guitar Design and Build, as cited by a
 * maker; a single source. Pull: upper end of what six steel strings do, 900 N. Old: a light set, 720 N, from 60 years:
 * common practice, no source.
 */
export const USUAL_BRIDGE_LIMITS: LoadLimits = { mostTurnDeg: 2, mostPullN: 900, mostPullOldN: 720, oldAfterYears: 60 };

/**
 * What to be careful of.
 * - `pull-above-limit`: the set pulls harder than the box is built for
 * - `heavy-for-age`: an old instrument, and more than a light set
 * - `turn-above-limit`, `turn-near-limit`: the bridge turns more than, or within its uncertainty of, what is good
 * - `heavier-than-before`: five parts in a hundred more pull than the set it had
 * - `slacken-first`: work is planned with the strings at pitch
 */
export type LoadCaution =
  | 'pull-above-limit'
  | 'heavy-for-age'
  | 'turn-above-limit'
  | 'turn-near-limit'
  | 'heavier-than-before'
  | 'slacken-first';

/** Cautions for a load. They say what to look at; they are no statement of strength. */
export function loadCautions(
  load: {
    readonly totalN: Estimate;
    readonly turnDeg?: Estimate;
    readonly ageYears?: number;
    readonly totalBeforeN?: Estimate;
    readonly isWorkPlanned?: boolean;
  },
  limits: LoadLimits,
): readonly LoadCaution[] {
  const cautions: LoadCaution[] = [];
  const { totalN, turnDeg } = load;
  if (totalN.value > limits.mostPullN) cautions.push('pull-above-limit');
  if ((load.ageYears ?? 0) >= limits.oldAfterYears && totalN.value > limits.mostPullOldN)
    cautions.push('heavy-for-age');
  if (turnDeg && turnDeg.value > limits.mostTurnDeg) cautions.push('turn-above-limit');
  else if (turnDeg && turnDeg.value + 2 * turnDeg.sigma > limits.mostTurnDeg) cautions.push('turn-near-limit');
  if (load.totalBeforeN && totalN.value > 1.05 * load.totalBeforeN.value) cautions.push('heavier-than-before');
  if (load.isWorkPlanned) cautions.push('slacken-first');
  return cautions;
}

const radians = (deg: number): number => (deg * Math.PI) / 180;
const degrees = (rad: number): number => (rad * 180) / Math.PI;
