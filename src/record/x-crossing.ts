// Where the X of a plan crosses, and how wide it opens: what a maker lays it out by.
import { crossing, distance, type Point } from '../plate/outline.ts';
import { pointOf } from './plan-outline.ts';
import type { Plan, PlanBrace } from './record.ts';

export interface XCrossing {
  readonly at: Point;
  /** between its lower legs, toward the tail */
  readonly angleDeg: number;
  /** from the crossing to the edge of the soundhole, and to its centre; undefined where the plan has none */
  readonly hole: { readonly fromEdgeMm: number; readonly fromCentreMm: number } | undefined;
}

/** Whether a brace runs more along the strings than a transverse one does: by more than half of what it runs across. */
const isSlanted = ({ from, to }: PlanBrace): boolean => Math.abs(to.xMm - from.xMm) > 0.5 * Math.abs(to.yMm - from.yMm);

/** The end nearer to the tail. */
const tailEnd = ({ from, to }: PlanBrace): Point => pointOf(from.xMm < to.xMm ? from : to);

/** The one crossing of two braces that carry the strings; undefined where the plan has none, or more of them. */
export function xCrossing(plan: Plan): XCrossing | undefined {
  const legs = plan.braces.filter((brace) => brace.structural && isSlanted(brace));
  const crossed = legs.flatMap((a, i) =>
    legs.slice(i + 1).flatMap((b) => {
      const hit = crossing(pointOf(a.from), pointOf(a.to), pointOf(b.from), pointOf(b.to));
      if (hit === undefined) return [];
      const [x, y] = [a.from, a.to].map(pointOf) as [Point, Point];
      const at: Point = [x[0] + hit[0] * (y[0] - x[0]), x[1] + hit[0] * (y[1] - x[1])];
      return [{ at, legs: [a, b] as const }];
    }),
  );
  const [only, ...more] = crossed;
  if (only === undefined || more.length > 0) return undefined;
  const { at } = only;
  const [first, second] = only.legs.map((leg) => {
    const [x, y] = tailEnd(leg);
    return Math.atan2(y - at[1], x - at[0]);
  }) as [number, number];
  const turn = Math.abs(first - second);
  const { soundhole } = plan;
  const fromCentreMm = soundhole && distance(at, pointOf(soundhole));
  return {
    at,
    angleDeg: (Math.min(turn, 2 * Math.PI - turn) * 180) / Math.PI,
    hole:
      soundhole === undefined || fromCentreMm === undefined
        ? undefined
        : { fromEdgeMm: fromCentreMm - soundhole.radiusMm, fromCentreMm },
  };
}
