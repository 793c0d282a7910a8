// The outline of a top, and where its scale length puts the saddle.
import { type BodyStations, outlineThroughStations } from '../plate/body-outline.ts';
import { type ScaleLayout, saddleLine } from '../plate/layout.ts';
import { boundingBox, type Point } from '../plate/outline.ts';
import type { InstrumentRecord, Plan, PlanPoint } from './record.ts';

type Body = Extract<Plan['outline'], { readonly kind: 'body' }>;

/** Place of the record as a point of plate/. */
export const pointOf = (place: PlanPoint): Point => [place.xMm, place.yMm];

/** Outline of a plan, mm, closed by its last point joining the first; empty where its measures make no body. */
export function planOutline({ outline }: Pick<Plan, 'outline'>): Point[] {
  if (outline.kind === 'points') return outline.points.map(pointOf);
  return isInOrder(outline) ? outlineThroughStations(stationsOf(outline)) : [];
}

function isInOrder(body: Body): boolean {
  const places = [0, body.lowerAtMm, body.waistAtMm, body.upperAtMm, body.lengthMm];
  return (
    places.every((at, i) => i === 0 || at > places[i - 1]!) && Math.min(body.lowerMm, body.waistMm, body.upperMm) > 0
  );
}

const stationsOf = (body: Body): BodyStations => ({
  lengthMm: body.lengthMm,
  lowerBout: { atMm: body.lowerAtMm, widthMm: body.lowerMm },
  waist: { atMm: body.waistAtMm, widthMm: body.waistMm },
  upperBout: { atMm: body.upperAtMm, widthMm: body.upperMm },
});

/** A body of plate/ as the record keeps it. */
export const bodyFrom = (stations: BodyStations): Body => ({
  kind: 'body',
  lengthMm: stations.lengthMm,
  lowerAtMm: stations.lowerBout.atMm,
  lowerMm: stations.lowerBout.widthMm,
  waistAtMm: stations.waist.atMm,
  waistMm: stations.waist.widthMm,
  upperAtMm: stations.upperBout.atMm,
  upperMm: stations.upperBout.widthMm,
});

/** Where the neck end of the outline lies, mm. */
export const neckEndMm = (outline: readonly Point[]): number => (outline.length === 0 ? 0 : boundingBox(outline)[2]);

/** What decides where the saddle of a plan comes. */
export function scaleLayout(
  plan: Plan,
  outline: readonly Point[],
  hand: InstrumentRecord['hand'] = 'right',
): ScaleLayout {
  return {
    scaleLengthMm: plan.scaleMm,
    joinFret: plan.fretsToBody,
    joinXMm: neckEndMm(outline),
    compensationTrebleMm: plan.setbackTrebleMm,
    compensationBassMm: plan.setbackBassMm,
    stringSpreadMm: plan.stringSpreadMm,
    trebleSide: hand === 'right' ? 1 : -1,
  };
}

/** Where the saddle crosses the centre line, mm from the tail. */
export function saddleMm(plan: Plan, outline: readonly Point[]): number {
  const [[trebleX], [bassX]] = saddleLine(scaleLayout(plan, outline));
  return (trebleX + bassX) / 2;
}

/**
 * The two places where a line crosses an outline nearest to a point inside it, each drawn in by an inset, mm.
 * @param through point inside the outline
 * @param towardDeg direction of the line, degrees from x toward y
 * @returns the place in the direction, then the one against it; undefined where the line leaves the outline nowhere
 */
export function chord(
  outline: readonly Point[],
  through: Point,
  towardDeg: number,
  insetMm: number,
): readonly [Point, Point] | undefined {
  const direction: Point = [Math.cos((towardDeg * Math.PI) / 180), Math.sin((towardDeg * Math.PI) / 180)];
  let [ahead, behind] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < outline.length; i++) {
    const [ax, ay] = outline[i]!;
    const [bx, by] = outline[(i + 1) % outline.length]!;
    const cross = direction[0] * (by - ay) - direction[1] * (bx - ax);
    if (Math.abs(cross) < 1e-12) continue;
    const along = ((ax - through[0]) * (by - ay) - (ay - through[1]) * (bx - ax)) / cross;
    const share = ((ax - through[0]) * direction[1] - (ay - through[1]) * direction[0]) / cross;
    if (share < 0 || share > 1) continue;
    if (along >= 0) ahead = Math.min(ahead, along);
    else behind = Math.max(behind, along);
  }
  if (!(Number.isFinite(ahead) && Number.isFinite(behind))) return undefined;
  const at = (distance: number): Point => [through[0] + distance * direction[0], through[1] + distance * direction[1]];
  return [at(ahead - insetMm), at(behind + insetMm)];
}
