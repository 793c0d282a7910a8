// Where wood is to come off, in a maker's words: landmarks of the top before millimetres.
import { crossing, isInside, type Point } from '../plate/outline.ts';
import { slabPolygon } from '../record/plan-case.ts';
import { planOutline, pointOf } from '../record/plan-outline.ts';
import { planBraceLengthMm } from '../record/plan-profile.ts';
import type { InstrumentRecord, Plan, PlanBrace } from '../record/record.ts';
import { number } from './figures.ts';

interface Cut {
  readonly braceId: string;
  readonly fromMm: number;
  readonly toMm: number;
  readonly removeMm: number;
}

/** A landmark this near to the end of a cut names it, mm. */
const NEAR_MM = 8;

/** Ends of a brace as the maker finds them on the bench: by tail and neck, or by bass and treble where it lies across. */
export function endWords(
  brace: Pick<PlanBrace, 'from' | 'to'>,
  hand: InstrumentRecord['hand'],
): readonly [string, string] {
  const [dx, dy] = [brace.to.xMm - brace.from.xMm, brace.to.yMm - brace.from.yMm];
  if (Math.abs(dx) >= 0.4 * Math.abs(dy)) return dx > 0 ? ['tail', 'neck'] : ['neck', 'tail'];
  // y runs to the right as seen from outside: the treble side of a right-handed top.
  return dy > 0 === (hand === 'right') ? ['bass', 'treble'] : ['treble', 'bass'];
}

/** "1.2 mm off X brace, lower end on both sides, between the bridge plate and 60 mm from the tail end". */
export function cutWords(plan: Plan, hand: InstrumentRecord['hand'], cuts: readonly Cut[]): readonly string[] {
  const told = cuts.flatMap((cut) => {
    const brace = plan.braces.find(({ id }) => id === cut.braceId);
    return brace === undefined
      ? []
      : [{ mm: cut.removeMm, name: brace.name, place: placeWords(plan, hand, brace, cut) }];
  });
  const sentences: string[] = [];
  const isTaken = new Set<number>();
  told.forEach(({ mm, name, place }, i) => {
    if (isTaken.has(i)) return;
    const twin = told.findIndex(
      (other, j) =>
        j > i &&
        other.mm === mm &&
        other.place === place &&
        other.name !== name &&
        sideless(other.name) === sideless(name),
    );
    if (twin >= 0) isTaken.add(twin);
    const what = twin >= 0 ? `${sideless(name)} on both sides` : name;
    sentences.push(`${number(mm, 1)} mm off ${what}, ${place}`);
  });
  return sentences;
}

/** A name without the side it says: braces that differ in nothing else are one on the bass and one on the treble side. */
const sideless = (name: string): string =>
  name
    .replace(/\b(bass|treble)\b/gi, '')
    .replace(/\s+/g, ' ')
    .replace(/\s*,(\s*,)*/g, ',')
    .replace(/[\s,]+$/, '');

function placeWords(plan: Plan, hand: InstrumentRecord['hand'], brace: PlanBrace, { fromMm, toMm }: Cut): string {
  const length = planBraceLengthMm(brace);
  const ends = endWords(brace, hand);
  const isNearStart = (fromMm + toMm) / 2 < length / 2;
  const marks = landmarks(plan, brace);
  if (fromMm < NEAR_MM && toMm > length - NEAR_MM) return 'over its whole length';
  const markAt = (mm: number): string | undefined => {
    if (mm < NEAR_MM) return `its ${ends[0]} end`;
    if (mm > length - NEAR_MM) return `its ${ends[1]} end`;
    return marks.find(({ atMm }) => Math.abs(atMm - mm) < NEAR_MM)?.name;
  };
  // Counted from the nearer end of the brace, and told in that order.
  const end = `from its ${isNearStart ? ends[0] : ends[1]} end`;
  const away = (mm: number): string => number(isNearStart ? mm : length - mm, 0);
  const [first, second] = isNearStart ? [fromMm, toMm] : [toMm, fromMm];
  const [a, b] = [markAt(first), markAt(second)];
  if (a === undefined && b === undefined) return `between ${away(first)} and ${away(second)} mm ${end}`;
  return `between ${a ?? `${away(first)} mm ${end}`} and ${b ?? `${away(second)} mm ${end}`}`;
}

/** Crossings with other braces and the edges of the bridge plate along a brace. */
function landmarks(plan: Plan, brace: PlanBrace): readonly { readonly atMm: number; readonly name: string }[] {
  const [from, to] = [pointOf(brace.from), pointOf(brace.to)];
  const length = planBraceLengthMm(brace);
  const crossings = plan.braces.flatMap((other) => {
    const hit = other.id === brace.id ? undefined : crossing(from, to, pointOf(other.from), pointOf(other.to));
    return hit === undefined ? [] : [{ atMm: hit[0] * length, name: 'the crossing' }];
  });
  const outline = planOutline(plan);
  const slab: readonly Point[] = outline.length < 3 ? [] : slabPolygon(plan, plan.bridgePlate, outline);
  const edges = slab.flatMap((a, i) => {
    const hit = crossing(from, to, a, slab[(i + 1) % slab.length]!);
    return hit === undefined || isInside(slab, from) ? [] : [{ atMm: hit[0] * length, name: 'the bridge plate' }];
  });
  return [...crossings, ...edges];
}
