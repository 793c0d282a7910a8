// Sheets to lay on the wood: lines and words in millimetres, y downward, for print, SVG and DXF alike.
import { heightAtMm } from '../brace/profile.ts';
import { braceRectangle } from '../plate/footprint.ts';
import { saddleLine } from '../plate/layout.ts';
import { boundingBox, circlePolygon, type Point } from '../plate/outline.ts';
import { planBraceLengthMm } from './plan-brace.ts';
import { braceCase, slabPolygon } from './plan-case.ts';
import { planOutline, scaleLayout } from './plan-outline.ts';
import type { InstrumentRecord, Plan, PlanBrace } from './record.ts';

interface SheetLine {
  readonly layer: string;
  readonly points: readonly Point[];
  readonly closed: boolean;
}

interface SheetText {
  readonly layer: string;
  readonly at: Point;
  readonly heightMm: number;
  readonly text: string;
}

/** What stands on a sheet, in the maker's language. */
export interface SheetWords {
  readonly bass: string;
  readonly treble: string;
  /** from which side the sheet shows the top, mirrored or not, and for which hand */
  seen(face: 'inside' | 'outside', mirrored: boolean, hand: InstrumentRecord['hand']): string;
  /** in the check square */
  square(sideMm: number): string;
  /** under the side view of a brace, in whole millimetres */
  brace(name: string, lengthMm: number, widthMm: number): string;
}

/** A drawing with its top left corner at 0, 0. */
export interface Sheet {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly lines: readonly SheetLine[];
  readonly texts: readonly SheetText[];
}

/** What both A4 and Letter can print with 10 mm to spare all round, and how far neighbours overlap, mm. */
export const LIVE_MM = { width: 190, height: 259 } as const;
export const OVERLAP_MM = 10;

const MARGIN_MM = 12;
export const CHECK_MM = 100;
/** Words are kept to ASCII, so that every reader shows them. */
const ascii = (text: string): string => text.normalize('NFKD').replace(/[^\x20-\x7e]/g, '');

/**
 * The plan at full size, neck up.
 * @param face     `inside`: as the braces are laid on; `outside`: as the top is seen
 * @param mirrored the other way round once more, for laying the sheet face down
 */
export function planSheet(
  plan: Plan,
  hand: InstrumentRecord['hand'],
  face: 'inside' | 'outside',
  mirrored: boolean,
  words: SheetWords,
): Sheet {
  const outline = planOutline(plan);
  const flip = (face === 'outside') !== mirrored ? 1 : -1;
  const placed = (points: readonly Point[]): Point[] => points.map(([x, y]) => [flip * y, -x]);
  const line = (layer: string, points: readonly Point[], closed: boolean): SheetLine => ({
    layer,
    points: placed(points),
    closed,
  });
  const [x0, , x1] = outline.length === 0 ? [0, 0, 0] : boundingBox(outline);
  const { soundhole } = plan;
  const lines: SheetLine[] = [
    line('OUTLINE', outline, true),
    line(
      'CENTRE',
      [
        [x0, 0],
        [x1, 0],
      ],
      false,
    ),
    ...(soundhole
      ? [line('SOUNDHOLE', circlePolygon(soundhole.xMm, soundhole.yMm, soundhole.radiusMm, 144), true)]
      : []),
    line('BRIDGE', slabPolygon(plan, plan.bridge, outline), true),
    line('BRIDGEPLATE', slabPolygon(plan, plan.bridgePlate, outline), true),
    line('SADDLE', saddleLine(scaleLayout(plan, outline, hand)), false),
    ...plan.braces
      .filter((brace) => planBraceLengthMm(brace) > 0)
      .map((brace) => line('BRACES', braceRectangle(braceCase(plan, brace)), true)),
  ];
  const treble = hand === 'right' ? 1 : -1;
  const texts: SheetText[] = [
    ...plan.braces.map(
      (brace): SheetText => ({
        layer: 'TEXT',
        at: placed([[(brace.from.xMm + brace.to.xMm) / 2, (brace.from.yMm + brace.to.yMm) / 2]])[0]!,
        heightMm: 3.5,
        text: ascii(brace.name),
      }),
    ),
    { layer: 'TEXT', at: placed([[x0 + 40, treble * 60]])[0]!, heightMm: 6, text: ascii(words.treble) },
    { layer: 'TEXT', at: placed([[x0 + 40, -treble * 60]])[0]!, heightMm: 6, text: ascii(words.bass) },
    {
      layer: 'TEXT',
      at: placed([[x0 + 22, 0]])[0]!,
      heightMm: 5,
      text: ascii(words.seen(face, mirrored, hand)),
    },
  ];
  return moved(lines, texts, words);
}

/** Side views of every brace at full size, one below the other, heights true as well. */
export function profileSheet(plan: Plan, words: SheetWords): Sheet {
  const lines: SheetLine[] = [];
  const texts: SheetText[] = [];
  let base = 0;
  for (const brace of plan.braces) {
    const length = planBraceLengthMm(brace);
    if (!(length > 0) || brace.profile.length === 0) continue;
    base += Math.max(...brace.profile.map((point) => point.heightMm)) + 12;
    lines.push({ layer: 'PROFILES', points: sideView(brace, length, base), closed: true });
    texts.push({
      layer: 'TEXT',
      at: [length / 2, base + 5],
      heightMm: 3.5,
      text: ascii(words.brace(brace.name, Math.round(length), brace.widthMm)),
    });
  }
  return moved(lines, texts, words);
}

function sideView(brace: PlanBrace, length: number, base: number): Point[] {
  const places = [0, ...brace.profile.map((point) => point.atMm).filter((at) => at > 0 && at < length), length];
  return [[0, base], ...places.map((at): Point => [at, base - heightAtMm(brace.profile, at)]), [length, base]];
}

/** The drawing moved so that it begins at its margin, and the check square set below it, whole on one page. */
function moved(lines: readonly SheetLine[], texts: readonly SheetText[], words: SheetWords): Sheet {
  const points = lines.flatMap((line) => line.points);
  const [x0, y0, x1, y1] = points.length === 0 ? [0, 0, 1, 1] : boundingBox(points);
  const shift = ([x, y]: Point): Point => [x - x0 + MARGIN_MM, y - y0 + MARGIN_MM];
  const top = wholeOnPageMm(y1 - y0 + 2 * MARGIN_MM);
  const right = MARGIN_MM + CHECK_MM;
  const square: SheetLine = {
    layer: 'SCALE',
    closed: true,
    points: [
      [MARGIN_MM, top],
      [right, top],
      [right, top + CHECK_MM],
      [MARGIN_MM, top + CHECK_MM],
    ],
  };
  const label: SheetText = {
    layer: 'SCALE',
    at: [MARGIN_MM + CHECK_MM / 2, top + CHECK_MM / 2],
    heightMm: 4,
    text: ascii(words.square(CHECK_MM)),
  };
  return {
    widthMm: Math.max(x1 - x0, CHECK_MM) + 2 * MARGIN_MM,
    heightMm: top + CHECK_MM + MARGIN_MM,
    lines: [...lines.map((line) => ({ ...line, points: line.points.map(shift) })), square],
    texts: [...texts.map((text) => ({ ...text, at: shift(text.at) })), label],
  };
}

/** The first height at or below the given one at which the check square is not cut by the foot of a page. */
function wholeOnPageMm(topMm: number): number {
  const pitch = LIVE_MM.height - OVERLAP_MM;
  const page = Math.floor(topMm / pitch);
  const fits = topMm + CHECK_MM + MARGIN_MM <= page * pitch + LIVE_MM.height;
  return fits ? topMm : (page + 1) * pitch + MARGIN_MM;
}

/** One page of a sheet, in millimetres of the sheet. */
export interface Tile {
  /** column letter and row number, from the top left */
  readonly name: string;
  readonly xMm: number;
  readonly yMm: number;
}

/** Pages that together cover a sheet. */
export function tilesOf(sheet: Sheet): readonly Tile[] {
  const count = (size: number, live: number) => Math.max(1, Math.ceil((size - OVERLAP_MM) / (live - OVERLAP_MM)));
  const columns = count(sheet.widthMm, LIVE_MM.width);
  const rows = count(sheet.heightMm, LIVE_MM.height);
  return Array.from({ length: rows * columns }, (_, i) => ({
    name: `${String.fromCharCode(65 + (i % columns))}${Math.floor(i / columns) + 1}`,
    xMm: (i % columns) * (LIVE_MM.width - OVERLAP_MM),
    yMm: Math.floor(i / columns) * (LIVE_MM.height - OVERLAP_MM),
  }));
}
