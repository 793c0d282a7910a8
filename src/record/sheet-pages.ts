// Pages that together cover a sheet: as few as its lines need, upright or on their side, none of them empty.
import { crossing, type Point } from '../plate/outline.ts';
import type { Sheet, SheetLine, SheetText } from './sheet.ts';
import { type FreeArea, isWholeIn, placedTexts } from './sheet-labels.ts';

/** Paper, upright, mm. Sources: ISO 216; ANSI/ASME Y14.1. */
const papersMm = {
  a4: { width: 210, height: 297 },
  letter: { width: 215.9, height: 279.4 },
} as const;
export type Paper = keyof typeof papersMm;

/** Left blank all round: printers leave up to a quarter of an inch. Common practice, no source. */
const BLANK_MM = 8;
/** How far neighbouring pages overlap at least, mm. */
export const OVERLAP_MM = 10;

/** One page of a sheet: what it shows of it, mm. */
export interface Page {
  /** row letter and number within it, from the top left */
  readonly name: string;
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

export interface Pages {
  readonly isLandscape: boolean;
  readonly pages: readonly Page[];
}

type Span = readonly [from: number, to: number];
type Segment = readonly [Point, Point];

/** How the slack that whole pages leave is shared before and after the drawing. */
const SLACK_SHARES = [0.5, 0.25, 0.75, 0, 1];

/** Starts of as many lengths as cover a span with their overlap. @param slackShare of what they reach beyond it, before it */
function startsOver([from, to]: Span, length: number, slackShare: number): readonly number[] {
  const step = length - OVERLAP_MM;
  const count = Math.max(1, Math.ceil((to - from - OVERLAP_MM) / step - 1e-9));
  const slack = count * step + OVERLAP_MM - (to - from);
  return Array.from({ length: count }, (_, i) => from - slackShare * slack + i * step);
}

/** The part of a segment within a band of one axis. */
function within([a, b]: Segment, axis: 0 | 1, [from, to]: Span): readonly Point[] {
  const [start, run] = [a[axis], b[axis] - a[axis]];
  const shares = run === 0 ? [0, 1] : [(from - start) / run, (to - start) / run].toSorted((p, q) => p - q);
  const [t0, t1] = [Math.max(0, shares[0]!), Math.min(1, shares[1]!)];
  if (t0 > t1 || (run === 0 && (start < from || start > to))) return [];
  return [t0, t1].map((t): Point => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
}

const spanOf = (values: readonly number[]): Span => [
  values.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY),
  values.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY),
];

/** Rows of pages, each only as wide as what is drawn on its height. */
function rowsOf(segments: readonly Segment[], width: number, height: number, slackShare: number): readonly Page[] {
  const all = segments.flat();
  const columns = spanOf(all.map(([x]) => x));
  return startsOver(spanOf(all.map(([, y]) => y)), height, slackShare).flatMap((yMm, row) => {
    const drawn = segments.flatMap((segment) => within(segment, 1, [yMm, yMm + height]));
    if (drawn.length === 0) return [];
    // Rows that need the same number of pages as the whole keep its places, so that their seams are one line.
    const own = startsOver(spanOf(drawn.map(([x]) => x)), width, 0.5);
    const whole = startsOver(columns, width, 0.5);
    return (own.length === whole.length ? whole : own)
      .map((xMm) => ({ xMm, yMm, widthMm: width, heightMm: height }))
      .filter((page) => segments.some((segment) => touches(segment, page)))
      .map((page, i) => ({ ...page, name: `${String.fromCharCode(65 + row)}${i + 1}` }));
  });
}

/** Whether a page shows anything of a segment. */
function touches([a, b]: Segment, { xMm, yMm, widthMm, heightMm }: Omit<Page, 'name'>): boolean {
  const isOn = ([x, y]: Point) => x >= xMm && x <= xMm + widthMm && y >= yMm && y <= yMm + heightMm;
  const diagonals = [
    [
      [xMm, yMm],
      [xMm + widthMm, yMm + heightMm],
    ],
    [
      [xMm + widthMm, yMm],
      [xMm, yMm + heightMm],
    ],
  ] as const;
  return isOn(a) || isOn(b) || diagonals.some(([c, d]) => crossing(a, b, c, d) !== undefined);
}

/** Room for the lines to measure by and the name of the page, left and below on every page, mm. */
const CHECK_ROOM_MM = 9;
/** Nearer to the other edges no word stands, mm. */
const EDGE_MM = 2;

/** Where words may stand on a page. */
const freeArea = ({ xMm, yMm, widthMm, heightMm }: Page): FreeArea => ({
  x0: xMm + CHECK_ROOM_MM,
  y0: yMm + EDGE_MM,
  x1: xMm + widthMm - EDGE_MM,
  y1: yMm + heightMm - CHECK_ROOM_MM,
});

/** Length of the arms of a cross, mm. */
const ARM_MM = 4;

const crossAt = ([x, y]: Point): readonly SheetLine[] =>
  [
    [ARM_MM, 0],
    [0, ARM_MM],
  ].map(([dx = 0, dy = 0]) => ({
    layer: 'CROSS',
    closed: false,
    points: [
      [x - dx, y - dy],
      [x + dx, y + dy],
    ],
  }));

export interface PrintedPage extends Page {
  /** the words that are whole on it, for the others stand on a neighbour */
  readonly texts: readonly SheetText[];
}

/** A sheet as it is printed: its lines with the crosses, and its pages with their words. */
export function printed(
  sheet: Sheet,
  paper: Paper,
): { readonly lines: readonly SheetLine[]; readonly isLandscape: boolean; readonly pages: readonly PrintedPage[] } {
  const { isLandscape, pages } = pagesOf(sheet, paper);
  const lines = [...sheet.lines.filter(isPrinted), ...crossesOf(pages).flatMap(crossAt)];
  const texts = placedTexts(sheet.texts.filter(isPrinted), lines, pages.map(freeArea));
  return {
    lines,
    isLandscape,
    pages: pages.map((page) => ({ ...page, texts: texts.filter((text) => isWholeIn(text, freeArea(page))) })),
  };
}

/** The check square is in the files only: every page has lines to measure. */
const isPrinted = ({ layer }: { readonly layer: string }): boolean => layer !== 'SCALE';

/** All that has to be printed of a sheet. */
function segmentsOf(sheet: Sheet): readonly Segment[] {
  const lines = sheet.lines.filter(isPrinted).flatMap(({ points, closed }) =>
    points.flatMap((point, i): readonly Segment[] => {
      const next = points[i + 1] ?? (closed ? points[0] : undefined);
      return next === undefined ? [] : [[point, next]];
    }),
  );
  const words = sheet.texts
    .filter(isPrinted)
    .map(({ at, heightMm }): Segment => [at, [at[0], at[1] + heightMm + CHECK_ROOM_MM]]);
  return [...lines, ...words];
}

/** The fewest pages that show every line of a sheet; upright where both ways need as many. */
export function pagesOf(sheet: Sheet, paper: Paper): Pages {
  const segments = segmentsOf(sheet);
  const [short, long] = [papersMm[paper].width - 2 * BLANK_MM, papersMm[paper].height - 2 * BLANK_MM];
  if (segments.length === 0)
    return { isLandscape: false, pages: [{ name: 'A1', xMm: 0, yMm: 0, widthMm: short, heightMm: long }] };
  const tried = [false, true].flatMap((isLandscape) =>
    SLACK_SHARES.map((share): Pages => {
      const [width, height] = isLandscape ? [long, short] : [short, long];
      return { isLandscape, pages: rowsOf(segments, width, height, share) };
    }),
  );
  return tried.reduce((best, other) => (other.pages.length < best.pages.length ? other : best));
}

/** Crosses that neighbouring pages share, two where they overlap: cross laid on cross, the pages lie true. */
export function crossesOf(pages: readonly Page[]): readonly Point[] {
  return pages.flatMap((a, i) =>
    pages.slice(i + 1).flatMap((b): readonly Point[] => {
      const x: Span = [Math.max(a.xMm, b.xMm), Math.min(a.xMm + a.widthMm, b.xMm + b.widthMm)];
      const y: Span = [Math.max(a.yMm, b.yMm), Math.min(a.yMm + a.heightMm, b.yMm + b.heightMm)];
      const [wide, high] = [x[1] - x[0], y[1] - y[0]];
      // Pages that meet at a corner only are held by those between them.
      if (Math.min(wide, high) <= 0 || Math.max(wide, high) < 4 * OVERLAP_MM) return [];
      return [0.1, 0.9].map(
        (share): Point =>
          wide > high ? [x[0] + share * wide, (y[0] + y[1]) / 2] : [(x[0] + x[1]) / 2, y[0] + share * high],
      );
    }),
  );
}
