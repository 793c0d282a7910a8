// Where the words of a sheet go: whole on a page, none over another, and where they can be clear of other lines.
import { distance, distanceToSegment, type Point } from '../plate/outline.ts';
import type { SheetLine, SheetText, TextPlace } from './sheet.ts';

/** A part of a sheet on which words may stand, mm. */
export interface FreeArea {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

/** Width of a letter as a share of the height of the type: of plain letters without feet, on the wide side. From memory. */
const LETTER_SHARE = 0.6;

/** Discs that cover a text, by which it is told from other texts and lines. */
function discsOf(
  text: Pick<SheetText, 'text' | 'heightMm'>,
  place: TextPlace,
): { readonly at: readonly Point[]; readonly radius: number } {
  const radius = 0.6 * text.heightMm;
  const length = Math.max(0, LETTER_SHARE * text.heightMm * text.text.length - 2 * radius);
  const turn = (place.angleDeg * Math.PI) / 180;
  const count = Math.ceil(length / radius) + 1;
  const at = Array.from({ length: count }, (_, i): Point => {
    const along = count === 1 ? 0 : length * (i / (count - 1) - 0.5);
    return [place.at[0] + along * Math.cos(turn), place.at[1] + along * Math.sin(turn)];
  });
  return { at, radius };
}

const isWithin = ({ at, radius }: ReturnType<typeof discsOf>, { x0, y0, x1, y1 }: FreeArea): boolean =>
  at.every(([x, y]) => x - radius >= x0 && x + radius <= x1 && y - radius >= y0 && y + radius <= y1);

/** Whether a text is whole within an area. */
export const isWholeIn = (text: SheetText, area: FreeArea): boolean => isWithin(discsOf(text, text), area);

/**
 * The texts, each at the first of its places at which it is whole within one of the areas, over no text placed before it, and
 * over the fewest lines; where no place is whole and free, the freest one.
 */
export function placedTexts(
  texts: readonly SheetText[],
  lines: readonly SheetLine[],
  areas: readonly FreeArea[],
): readonly SheetText[] {
  const taken: ReturnType<typeof discsOf>[] = [];
  return texts.map((text) => {
    const tried = text.places.map((place) => {
      const discs = discsOf(text, place);
      const isWhole = areas.some((area) => isWithin(discs, area));
      const over = taken.filter((other) =>
        other.at.some((a) => discs.at.some((b) => distance(a, b) < other.radius + discs.radius)),
      ).length;
      const crossed = lines.filter(
        (line) => line.layer !== 'CENTRE' && line !== text.on && discs.at.some((at) => isNear(line, at, discs.radius)),
      ).length;
      return { place, discs, cost: (isWhole ? 0 : 1e6) + 1e3 * over + crossed };
    });
    const best = tried.reduce((a, b) => (b.cost < a.cost ? b : a));
    taken.push(best.discs);
    return { ...text, ...best.place };
  });
}

function isNear({ points, closed }: SheetLine, at: Point, radius: number): boolean {
  return points.some((point, i) => {
    const next = points[i + 1] ?? (closed ? points[0] : undefined);
    return next !== undefined && distanceToSegment(at, point, next) < radius;
  });
}
