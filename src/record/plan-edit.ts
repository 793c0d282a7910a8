// Edits of the plan, and the plan a record begins with.
import { BODY_STATIONS, type BodyStations } from '../plate/body-outline.ts';
import { mirrorPoint } from '../plate/mirror.ts';
import { floorsFor, planBraceLengthMm } from './plan-brace.ts';
import { bodyFrom, pointOf } from './plan-outline.ts';
import { patternBraces } from './plan-patterns.ts';
import { handbookWood } from './plan-wood.ts';
import type { InstrumentRecord, Plan, PlanBrace, PlanPoint } from './record.ts';

/** Replaces the plan by what `change` makes of it; a record without a plan stays as it is. */
export function changePlan(record: InstrumentRecord, change: (plan: Plan) => Plan): InstrumentRecord {
  return record.plan === undefined ? record : { ...record, plan: change(record.plan) };
}

/** A floor whose brace was named in words only, put on the braces that it belongs to, wherever they stand as high. */
export function tieFloor(record: InstrumentRecord, floorId: string, braceIds: readonly string[]): InstrumentRecord {
  const floor = record.floors.find(({ id }) => id === floorId);
  if (floor === undefined || braceIds.length === 0) return record;
  const tied = changePlan(record, (plan) => ({
    ...plan,
    braces: plan.braces.map((brace) =>
      braceIds.includes(brace.id)
        ? { ...brace, floors: [...brace.floors, ...floorsFor(brace, floor.heightMm)] }
        : brace,
    ),
  }));
  return { ...tied, floors: tied.floors.filter(({ id }) => id !== floorId) };
}

/** Replaces a brace of the plan. */
export function changeBrace(
  record: InstrumentRecord,
  braceId: string,
  change: (brace: PlanBrace) => PlanBrace,
): InstrumentRecord {
  return changePlan(record, (plan) => ({
    ...plan,
    braces: plan.braces.map((brace) => (brace.id === braceId ? change(brace) : brace)),
  }));
}

/** Puts a plan into a record. */
export const withPlan = (record: InstrumentRecord, plan: Plan): InstrumentRecord => ({ ...record, plan });

const mirroredPlace = (place: PlanPoint): PlanPoint => {
  const [xMm, yMm] = mirrorPoint(pointOf(place));
  return { ...place, xMm, yMm: yMm === 0 ? 0 : yMm };
};

const mirroredShape = ({ outline, soundhole }: Pick<Plan, 'outline' | 'soundhole'>) => ({
  outline: outline.kind === 'points' ? { ...outline, points: outline.points.map(mirroredPlace) } : outline,
  ...(soundhole && { soundhole: { ...soundhole, ...mirroredPlace(soundhole) } }),
});

/** The plan for the other hand: everything asymmetric changes sides. Twice gives the plan back. */
export function mirroredPlan(plan: Plan): Plan {
  return {
    ...plan,
    ...mirroredShape(plan),
    ...(plan.laidFor && { laidFor: { ...plan.laidFor, ...mirroredShape(plan.laidFor) } }),
    braces: plan.braces.map((brace) => ({
      ...brace,
      from: mirroredPlace(brace.from),
      to: mirroredPlace(brace.to),
      grainDeg: brace.grainDeg === 0 ? 0 : -brace.grainDeg,
    })),
  };
}

/** The record for the other hand: plan mirrored, hand changed. */
export function changeHand(record: InstrumentRecord): InstrumentRecord {
  const hand = record.hand === 'left' ? 'right' : 'left';
  return { ...changePlan(record, mirroredPlan), hand };
}

/** A plan of ours to start from: the X pattern on one of our bodies, in handbook woods. */
export function startPlan(hand: InstrumentRecord['hand'], body: BodyStations = BODY_STATIONS.concert): Plan {
  const wood = handbookWood('sitka-spruce');
  const bare: Plan = {
    outline: bodyFrom(body),
    soundhole: { xMm: Math.round(0.676 * body.lengthMm), yMm: 0, radiusMm: 49 },
    scaleMm: 640,
    fretsToBody: 14,
    setbackTrebleMm: 2,
    setbackBassMm: 5,
    stringSpreadMm: 56,
    bridge: { alongMm: 32, acrossMm: 152, thicknessMm: 8, wood: handbookWood('indian-rosewood') },
    bridgePlate: { alongMm: 44, acrossMm: 150, thicknessMm: 2.4, wood: handbookWood('sugar-maple') },
    thicknessMm: 2.8,
    wood,
    braceWood: wood,
    liningMm: 7,
    neckBlock: { alongMm: 46, acrossMm: 90 },
    tailBlock: { alongMm: 22, acrossMm: 80 },
    rimStiffnessN: { value: 20, sigma: 20 },
    braces: [],
  };
  const right = { ...bare, braces: [...patternBraces('x', bare)] };
  return hand === 'left' ? mirroredPlan(right) : right;
}

/**
 * The plan where the maker has drawn anything in it: what it was begun with is an example, of which a report says nothing. The
 * woods do not count, they come from measured pieces by themselves.
 */
export function ownPlan({ plan, hand }: Pick<InstrumentRecord, 'plan' | 'hand'>): Plan | undefined {
  if (plan === undefined) return undefined;
  const { wood, braceWood } = plan;
  return JSON.stringify(plan) === JSON.stringify({ ...startPlan(hand), wood, braceWood }) ? undefined : plan;
}

export type BraceEnd = 'from' | 'to';

/** Places are whole millimetres, and near the centre line on it. */
export function snapped({ xMm, yMm }: PlanPoint): PlanPoint {
  const onCentre = Math.abs(yMm) < 3;
  return { xMm: Math.round(xMm), yMm: onCentre ? 0 : Math.round(yMm) };
}

/** A brace with one end moved; its heights and floors stretch with it, so that tapered ends stay at the ends. */
export function moveBraceEnd(brace: PlanBrace, end: BraceEnd, to: PlanPoint): PlanBrace {
  const moved = { ...brace, [end]: { ...brace[end], ...to } };
  const before = planBraceLengthMm(brace);
  const factor = before > 0 ? planBraceLengthMm(moved) / before : 1;
  if (!(factor > 0)) return moved;
  const stretched = (mm: number): number => Math.round(10 * mm * factor) / 10;
  return {
    ...moved,
    profile: brace.profile.map((point) => ({ ...point, atMm: stretched(point.atMm) })),
    floors: brace.floors.map((floor) => ({
      ...floor,
      fromMm: stretched(floor.fromMm),
      toMm: stretched(floor.toMm),
    })),
  };
}
