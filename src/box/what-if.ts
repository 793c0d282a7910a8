// What if: a wider hole, a shallower box, a heavier bridge, a shaved brace. The three modes after the change, and by how
// much each knob moves them before anything is cut.
import { type Box, boxModes, type Piston, pistonSystem } from './pistons.ts';
import { holeAreaM2, reamedTo } from './soundhole.ts';

/** A change of the box; what is left out stays. */
export interface BoxChange {
  /** new radius of the hole, m, > 0 */
  readonly holeRadiusM?: number;
  /** change of the depth all over, m */
  readonly depthChangeM?: number;
  /** plan area of the inside, m², needed with `depthChangeM` */
  readonly planAreaM2?: number;
  /** mass added at the bridge (negative: taken away), kg */
  readonly bridgeMassChangeKg?: number;
  /** stiffness of the top after over before: 0.9 for a tenth shaved away */
  readonly topStiffnessRatio?: number;
  readonly backStiffnessRatio?: number;
}

/**
 * The box after the change; its modes are `boxModes` of it.
 * @throws RangeError if the change leaves no hole, volume, mass or stiffness, or moves a back that is held
 */
export function changedBox(box: Box, change: BoxChange): Box {
  if (change.depthChangeM !== undefined && change.planAreaM2 === undefined)
    throw new RangeError('changedBox: depthChangeM without planAreaM2');
  const volumeM3 = box.volumeM3 + (change.depthChangeM ?? 0) * (change.planAreaM2 ?? 0);
  const massKg = box.top.massKg + (change.bridgeMassChangeKg ?? 0);
  if (!(volumeM3 > 0 && massKg > 0))
    throw new RangeError(`changedBox: volume ${volumeM3} m³, top ${massKg} kg, need > 0`);
  return {
    ...box,
    volumeM3,
    hole:
      box.hole === 'blocked' || change.holeRadiusM === undefined ? box.hole : reamedTo(box.hole, change.holeRadiusM),
    top: { ...stiffened(box.top, change.topStiffnessRatio ?? 1), massKg },
    back: box.back === 'held' ? 'held' : stiffened(box.back, change.backStiffnessRatio ?? 1),
  };
}

function stiffened(plate: Piston, ratio: number): Piston {
  if (!(ratio > 0)) throw new RangeError(`changedBox: stiffness ratio ${ratio}, need > 0`);
  return { ...plate, stiffnessNPerM: plate.stiffnessNPerM * ratio };
}

/** How one mode answers each knob, in workshop steps. */
export interface BoxSensitivity {
  readonly frequencyHz: number;
  /** wider hole; 0 with the hole blocked */
  readonly hzPerMmHoleRadius: number;
  /** deeper box */
  readonly hzPerMmDepth: number;
  /** heavier bridge */
  readonly hzPerGBridge: number;
  /** stiffer top */
  readonly hzPerPercentTopStiffness: number;
  /** stiffer back; 0 with the back held */
  readonly hzPerPercentBackStiffness: number;
}

/**
 * The sensitivity table: how each mode moves for a small turn of each knob, ascending in frequency.
 * With shape^T M shape = 1: d(omega²) = shape^T (dK - omega² dM) shape, K holding the cushion B a a^T.
 * @param planAreaM2 plan area of the inside, m², > 0 (what a millimetre of depth adds)
 * @returns derivatives at the box as it is; good for steps that move a mode by a few hertz
 * Source: first-order perturbation, Rayleigh 1894, Theory of Sound section 90; for box models French 2007, Mech. Syst. Signal
 * Process. 21:98.
 */
export function boxSensitivities(box: Box, planAreaM2: number): readonly BoxSensitivity[] {
  if (!(planAreaM2 > 0)) throw new RangeError(`boxSensitivities: plan area ${planAreaM2} m², need > 0`);
  const { parts, areaM2, cushionPaPerM3: cushion } = pistonSystem(box);
  return boxModes(box).map(({ frequencyHz, shape }) => {
    const omega2 = (2 * Math.PI * frequencyHz) ** 2;
    const hzPer = (dOmega2: number) => (frequencyHz * dOmega2) / (2 * omega2);
    const flow = parts.reduce((sum, part, i) => sum + areaM2[i]! * shape[part]!, 0);
    const top = shape.top!;
    const back = shape.back ?? 0;
    return {
      frequencyHz,
      hzPerMmHoleRadius: 1e-3 * hzPer(holeSlope(box, shape.air ?? 0, flow, omega2)),
      hzPerMmDepth: 1e-3 * hzPer((-cushion * flow * flow * planAreaM2) / box.volumeM3),
      hzPerGBridge: 1e-3 * hzPer(-omega2 * top * top),
      hzPerPercentTopStiffness: 0.01 * hzPer(box.top.stiffnessNPerM * top * top),
      hzPerPercentBackStiffness: box.back === 'held' ? 0 : 0.01 * hzPer(box.back.stiffnessNPerM * back * back),
    };
  });

  /** d(omega²) / d(radius): more area for the cushion to press on, more air to move. */
  function holeSlope({ hole, air }: Box, plug: number, flow: number, omega2: number): number {
    if (hole === 'blocked') return 0;
    const areaSlope = 2 * Math.PI * hole.radiusM;
    const massSlope =
      air.densityKgM3 * (areaSlope * hole.effectiveLengthM + holeAreaM2(hole) * hole.endCorrectionRatio);
    return 2 * cushion * flow * plug * areaSlope - omega2 * plug * plug * massSlope;
  }
}
