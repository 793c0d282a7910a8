// Where wood is to come off, by what a maker finds on the bench: landmarks of the top before millimetres.
import type { BraceCut } from '../brace/cut.ts';
import { crossing, isInside, type Point } from '../plate/outline.ts';
import { planBraceLengthMm } from './plan-brace.ts';
import { slabPolygon } from './plan-case.ts';
import { planOutline, pointOf } from './plan-outline.ts';
import type { InstrumentRecord, Plan, PlanBrace } from './record.ts';

/** An end of a brace. */
export type EndName = 'tail' | 'neck' | 'bass' | 'treble';

/** Where a cut begins or ends: at a landmark, or so far from the end that the brace is read from, in whole mm. */
export type CutMark =
  | { readonly at: 'end'; readonly end: EndName }
  /** `of` names the other brace where this one crosses several, and it is not the crossing of the X */
  | { readonly at: 'crossing'; readonly of?: string }
  | { readonly at: 'bridge-plate' }
  | { readonly at: 'distance'; readonly mm: number; readonly from: EndName };

/** A cut as it is said; the mark nearer to the end that the brace is read from comes first. */
export interface NamedCut {
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

/** How places along a brace are told everywhere: from its tail end, or from its bass end where it lies across. */
export interface BraceReading {
  readonly end: EndName;
  readonly otherEnd: EndName;
  /** a place counted from the brace's first end as it is read, mm, and the other way round */
  readonly turned: (atMm: number) => number;
  /** a stretch as it is read: the smaller number first */
  readonly stretch: (fromMm: number, toMm: number) => readonly [number, number];
}

/** How the places of a brace are read. @param hand of the player: it tells which side is the bass */
export function readingOf(brace: Pick<PlanBrace, 'from' | 'to'>, hand: InstrumentRecord['hand']): BraceReading {
  const [first, second] = endsOf(brace, hand);
  const length = planBraceLengthMm(brace);
  const isTurned = second === 'tail' || second === 'bass';
  const turned = (atMm: number): number => (isTurned ? length - atMm : atMm);
  return {
    end: isTurned ? second : first,
    otherEnd: isTurned ? first : second,
    turned,
    stretch: (fromMm, toMm) => (isTurned ? [length - toMm, length - fromMm] : [fromMm, toMm]),
  };
}

/**
 * A stretch as it is read, of which one end may not be known yet: it then stands as it was typed. Turned twice it is the same,
 * so that this also gives a stretch that is read as it is kept.
 * @param reading of its brace; undefined where the brace is named in words only
 */
export function readStretch(
  reading: BraceReading | undefined,
  fromMm: number | undefined,
  toMm: number | undefined,
): readonly [number | undefined, number | undefined] {
  return reading === undefined || fromMm === undefined || toMm === undefined
    ? [fromMm, toMm]
    : reading.stretch(fromMm, toMm);
}

/** Cuts as they are said; the same cut on both sides of the top is one. Cuts of braces that are not drawn are left out. */
export function namedCuts(plan: Plan, hand: InstrumentRecord['hand'], cuts: readonly BraceCut[]): readonly NamedCut[] {
  const each = cuts.flatMap((cut) => {
    const brace = plan.braces.find(({ id }) => id === cut.braceId);
    if (brace === undefined) return [];
    const place = placeOf(plan, hand, brace, cut);
    return [{ offMm: cut.offMm, brace: brace.name, place, key: `${cut.offMm} ${JSON.stringify(place)}` }];
  });
  return bothSides(each, ({ key }) => key).map(({ key: _, ...cut }) => cut);
}

/**
 * Cuts with the same cut on both sides of the top as one, which then has the brace's name without its side.
 * @param alikeBy the same text for cuts that are alike but for their side
 */
export function bothSides<T extends { readonly brace: string }>(
  cuts: readonly T[],
  alikeBy: (cut: T) => string,
): readonly (T & { readonly isOnBothSides: boolean })[] {
  const isTaken = new Set<number>();
  return cuts.flatMap((cut, i) => {
    if (isTaken.has(i)) return [];
    const twin = cuts.findIndex(
      (other, j) =>
        j > i &&
        alikeBy(other) === alikeBy(cut) &&
        other.brace !== cut.brace &&
        sideless(other.brace) === sideless(cut.brace),
    );
    if (twin >= 0) isTaken.add(twin);
    return [{ ...cut, brace: twin >= 0 ? sideless(cut.brace) : cut.brace, isOnBothSides: twin >= 0 }];
  });
}

/** A name without the side it says: braces that differ in nothing else are one on the bass and one on the treble side. */
export const sideless = (name: string): string =>
  name
    .replace(/\b(bass|treble)\b/gi, '')
    .replace(/\s+/g, ' ')
    .replace(/\s*,(\s*,)*/g, ',')
    .replace(/^[\s,]+|[\s,]+$/g, '');

function placeOf(
  plan: Plan,
  hand: InstrumentRecord['hand'],
  brace: PlanBrace,
  { fromMm, toMm }: BraceCut,
): NamedCut['place'] {
  const length = planBraceLengthMm(brace);
  const reading = readingOf(brace, hand);
  const marks = landmarks(plan, brace);
  if (fromMm < NEAR_MM && toMm > length - NEAR_MM) return 'whole-length';
  const markAt = (readMm: number): CutMark => {
    if (readMm < NEAR_MM) return { at: 'end', end: reading.end };
    if (readMm > length - NEAR_MM) return { at: 'end', end: reading.otherEnd };
    return (
      marks.find(({ atMm }) => Math.abs(reading.turned(atMm) - readMm) < NEAR_MM)?.mark ?? {
        at: 'distance',
        mm: Math.round(readMm),
        from: reading.end,
      }
    );
  };
  const [from, to] = reading.stretch(fromMm, toMm);
  return [markAt(from), markAt(to)];
}

/** Crossings with other braces and the edges of the bridge plate along a brace. */
function landmarks(plan: Plan, brace: PlanBrace): readonly { readonly atMm: number; readonly mark: CutMark }[] {
  const [from, to] = [pointOf(brace.from), pointOf(brace.to)];
  const length = planBraceLengthMm(brace);
  const crossings = plan.braces.flatMap((other) => {
    const hit = other.id === brace.id ? undefined : crossing(from, to, pointOf(other.from), pointOf(other.to));
    return hit === undefined ? [] : [{ atMm: hit[0] * length, other }];
  });
  const main =
    crossings.length === 1 ? crossings : crossings.filter(({ other }) => other.structural && brace.structural);
  const crossed = crossings.map(({ atMm, other }) => {
    const isMain = main.length === 1 && main[0]!.other === other;
    return { atMm, mark: { at: 'crossing', ...(!isMain && { of: other.name }) } as const };
  });
  const outline = planOutline(plan);
  const slab: readonly Point[] = outline.length < 3 ? [] : slabPolygon(plan, plan.bridgePlate, outline);
  const edges = slab.flatMap((a, i) => {
    const hit = crossing(from, to, a, slab[(i + 1) % slab.length]!);
    return hit === undefined || isInside(slab, from)
      ? []
      : [{ atMm: hit[0] * length, mark: { at: 'bridge-plate' } as const }];
  });
  return [...crossed, ...edges];
}
