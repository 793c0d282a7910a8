// Where wood is to come off, by what a maker finds on the bench: landmarks of the top before millimetres.
import { crossing, isInside, type Point } from '../plate/outline.ts';
import { planBraceLengthMm } from './plan-brace.ts';
import { slabPolygon } from './plan-case.ts';
import { planOutline, pointOf } from './plan-outline.ts';
import type { InstrumentRecord, Plan, PlanBrace } from './record.ts';

interface Cut {
  readonly braceId: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly offMm: number;
}

/** An end of a brace. */
export type EndName = 'tail' | 'neck' | 'bass' | 'treble';

/** Where a cut begins or ends: at a landmark, or so far from an end, in whole mm. */
export type CutMark =
  | { readonly at: 'end'; readonly end: EndName }
  | { readonly at: 'crossing' }
  | { readonly at: 'bridge-plate' }
  | { readonly at: 'distance'; readonly mm: number; readonly from: EndName };

/** A cut as it is told; the mark nearer to an end of the brace comes first. */
export interface ToldCut {
  readonly offMm: number;
  /** the brace's name, without its side where the cut is the same on both */
  readonly brace: string;
  readonly isOnBothSides: boolean;
  readonly place: 'whole-length' | readonly [CutMark, CutMark];
}

/** A landmark this near to the end of a cut names it, mm. */
const NEAR_MM = 8;

/** Ends of a brace as the maker finds them on the bench: by tail and neck, or by bass and treble where it lies across. */
export function endsOf(
  brace: Pick<PlanBrace, 'from' | 'to'>,
  hand: InstrumentRecord['hand'],
): readonly [EndName, EndName] {
  const [dx, dy] = [brace.to.xMm - brace.from.xMm, brace.to.yMm - brace.from.yMm];
  if (Math.abs(dx) >= 0.4 * Math.abs(dy)) return dx > 0 ? ['tail', 'neck'] : ['neck', 'tail'];
  // y runs to the right as seen from outside: the treble side of a right-handed top.
  return dy > 0 === (hand === 'right') ? ['bass', 'treble'] : ['treble', 'bass'];
}

/** Cuts as they are told; the same cut on both sides of the top is one. Cuts of braces that are not drawn are left out. */
export function toldCuts(plan: Plan, hand: InstrumentRecord['hand'], cuts: readonly Cut[]): readonly ToldCut[] {
  const each = cuts.flatMap((cut) => {
    const brace = plan.braces.find(({ id }) => id === cut.braceId);
    if (brace === undefined) return [];
    const place = placeOf(plan, hand, brace, cut);
    return [{ offMm: cut.offMm, brace: brace.name, place, key: `${cut.offMm} ${JSON.stringify(place)}` }];
  });
  const told: ToldCut[] = [];
  const isTaken = new Set<number>();
  each.forEach(({ key, ...cut }, i) => {
    if (isTaken.has(i)) return;
    const twin = each.findIndex(
      (other, j) =>
        j > i && other.key === key && other.brace !== cut.brace && sideless(other.brace) === sideless(cut.brace),
    );
    if (twin >= 0) isTaken.add(twin);
    told.push({ ...cut, brace: twin >= 0 ? sideless(cut.brace) : cut.brace, isOnBothSides: twin >= 0 });
  });
  return told;
}

/** A name without the side it says: braces that differ in nothing else are one on the bass and one on the treble side. */
const sideless = (name: string): string =>
  name
    .replace(/\b(bass|treble)\b/gi, '')
    .replace(/\s+/g, ' ')
    .replace(/\s*,(\s*,)*/g, ',')
    .replace(/[\s,]+$/, '');

function placeOf(
  plan: Plan,
  hand: InstrumentRecord['hand'],
  brace: PlanBrace,
  { fromMm, toMm }: Cut,
): ToldCut['place'] {
  const length = planBraceLengthMm(brace);
  const ends = endsOf(brace, hand);
  const isNearStart = (fromMm + toMm) / 2 < length / 2;
  const marks = landmarks(plan, brace);
  if (fromMm < NEAR_MM && toMm > length - NEAR_MM) return 'whole-length';
  const markAt = (mm: number): CutMark => {
    if (mm < NEAR_MM) return { at: 'end', end: ends[0] };
    if (mm > length - NEAR_MM) return { at: 'end', end: ends[1] };
    // Counted from the nearer end of the brace.
    const distance = Math.round(isNearStart ? mm : length - mm);
    return (
      marks.find(({ atMm }) => Math.abs(atMm - mm) < NEAR_MM)?.mark ?? {
        at: 'distance',
        mm: distance,
        from: ends[isNearStart ? 0 : 1],
      }
    );
  };
  return isNearStart ? [markAt(fromMm), markAt(toMm)] : [markAt(toMm), markAt(fromMm)];
}

/** Crossings with other braces and the edges of the bridge plate along a brace. */
function landmarks(plan: Plan, brace: PlanBrace): readonly { readonly atMm: number; readonly mark: CutMark }[] {
  const [from, to] = [pointOf(brace.from), pointOf(brace.to)];
  const length = planBraceLengthMm(brace);
  const crossings = plan.braces.flatMap((other) => {
    const hit = other.id === brace.id ? undefined : crossing(from, to, pointOf(other.from), pointOf(other.to));
    return hit === undefined ? [] : [{ atMm: hit[0] * length, mark: { at: 'crossing' } as const }];
  });
  const outline = planOutline(plan);
  const slab: readonly Point[] = outline.length < 3 ? [] : slabPolygon(plan, plan.bridgePlate, outline);
  const edges = slab.flatMap((a, i) => {
    const hit = crossing(from, to, a, slab[(i + 1) % slab.length]!);
    return hit === undefined || isInside(slab, from)
      ? []
      : [{ atMm: hit[0] * length, mark: { at: 'bridge-plate' } as const }];
  });
  return [...crossings, ...edges];
}
