// Sheets to lay on the wood: lines and words in millimetres, y downward, for print, SVG and DXF alike.
import { heightAtMm } from '../brace/profile.ts';
import { braceRectangle } from '../plate/footprint.ts';
import { saddleLine } from '../plate/layout.ts';
import { boundingBox, circlePolygon, type Point } from '../plate/outline.ts';
import { planBraceLengthMm } from './plan-brace.ts';
import { braceCase, slabPolygon } from './plan-case.ts';
import { planOutline, pointOf, scaleLayout } from './plan-outline.ts';
import type { InstrumentRecord, Plan, PlanBrace } from './record.ts';
import type { Sheet, SheetLine, SheetText, TextPlace } from './sheet.ts';
import { placedTexts } from './sheet-labels.ts';
import { type XCrossing, xCrossing } from './x-crossing.ts';

/** What stands on a sheet, in the maker's language. */
export interface SheetWords {
  readonly bass: string;
  readonly treble: string;
  /** from which side the sheet shows the top, mirrored or not, and for which hand */
  seen(face: 'inside' | 'outside', mirrored: boolean, hand: InstrumentRecord['hand']): string;
  /** in the check square */
  square(sideMm: number): string;
  /** in the side view of a brace */
  brace(name: string, lengthMm: number, widthMm: number): string;
  /** beside the crossing of the X, each for itself */
  crossing(x: XCrossing): readonly string[];
}

const MARGIN_MM = 12;
/** Side of the check square where nothing is asked for, mm. */
export const CHECK_MM = 100;
/** Words are kept to ASCII, so that every reader shows them. */
const ascii = (text: string): string => text.normalize('NFKD').replace(/[^\x20-\x7e]/g, '');

/** Type of the words on a sheet, mm. */
const NAME_MM = 3.5;
const LINE_MM = 1.4 * NAME_MM;
const SIDE_MM = 6;
const SEEN_MM = 5;
const SPOT_MM = 5;
/** A fingertip. */
const SPOT_RADIUS_MM = 7;

/** A text with the places where it may stand, the best first. */
const textAt = (
  layer: string,
  heightMm: number,
  text: string,
  places: readonly TextPlace[],
  on?: SheetLine,
): SheetText => ({
  ...places[0]!,
  ...{ layer, heightMm, text: ascii(text), places },
  ...(on === undefined ? {} : { on }),
});

/** Shares of its length at which a brace may have its name. */
const NAME_SHARES = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8];

/** Along a line, so turned that it is not upside down. */
function placesAlong([ax, ay]: Point, [bx, by]: Point): readonly TextPlace[] {
  const turn = (Math.atan2(by - ay, bx - ax) * 180) / Math.PI;
  const angleDeg = turn > 90 ? turn - 180 : turn <= -90 ? turn + 180 : turn;
  return NAME_SHARES.map((share) => ({ at: [ax + share * (bx - ax), ay + share * (by - ay)], angleDeg }));
}

/** Level, at every one of these steps from a place. */
const placesAbout = ([x, y]: Point, across: readonly number[], down: readonly number[]): readonly TextPlace[] =>
  down.flatMap((dy) => across.map((dx): TextPlace => ({ at: [x + dx, y + dy], angleDeg: 0 })));

/**
 * The plan at full size, neck up.
 * @param face     `inside`: as the braces are laid on; `outside`: as the top is seen
 * @param mirrored the other way round once more, for laying the sheet face down
 * @param squareMm side of the check square
 * @param spots    places to tap, mm, numbered from 1
 */
export function planSheet(
  plan: Plan,
  hand: InstrumentRecord['hand'],
  face: 'inside' | 'outside',
  mirrored: boolean,
  words: SheetWords,
  squareMm: number = CHECK_MM,
  spots: readonly Point[] = [],
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
  const linesOf = new Map(
    plan.braces
      .filter((brace) => planBraceLengthMm(brace) > 0)
      .map((brace) => [brace.id, line('BRACES', braceRectangle(braceCase(plan, brace)), true)] as const),
  );
  const rings = spots.map(([x, y]) => line('SPOTS', circlePolygon(x, y, SPOT_RADIUS_MM, 36), true));
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
    ...linesOf.values(),
    ...rings,
  ];
  const treble = hand === 'right' ? 1 : -1;
  const x = xCrossing(plan);
  const texts: SheetText[] = [
    ...spots.map((spot, i) =>
      textAt('SPOTS', SPOT_MM, String(i + 1), [{ at: placed([spot])[0]!, angleDeg: 0 }], rings[i]),
    ),
    ...plan.braces.map((brace) => {
      const [from, to] = placed([pointOf(brace.from), pointOf(brace.to)]) as [Point, Point];
      return textAt('TEXT', NAME_MM, brace.name, placesAlong(from, to), linesOf.get(brace.id));
    }),
    ...([treble, -treble] as const).map((side) =>
      textAt(
        'TEXT',
        SIDE_MM,
        side === treble ? words.treble : words.bass,
        placesAbout(placed([[x0 + 40, side * 60]])[0]!, [0, -20, 20, -35, 35], [0, -12, 12, -24, 24]),
      ),
    ),
    textAt(
      'TEXT',
      SEEN_MM,
      words.seen(face, mirrored, hand),
      placesAbout(placed([[x0 + 22, 0]])[0]!, [0, -55, 55, -75, 75], [0, -8, -16, -30, -45, -60]),
    ),
    ...(x === undefined ? [] : besideCrossing(words.crossing(x), placed([x.at])[0]!)),
  ];
  return moved(lines, texts, words, squareMm);
}

/** What is said of the crossing, beside it, one below the other where there is room. */
function besideCrossing(said: readonly string[], at: Point): readonly SheetText[] {
  return said.map((text, row) =>
    textAt(
      'TEXT',
      NAME_MM,
      text,
      placesAbout([at[0], at[1] + row * LINE_MM], [-65, 65, -80, 80, -50, 50, 0], [-2, 8, -12, 18, 30, 45]),
    ),
  );
}

/** Side views of every brace at full size, one below the other, heights true as well. */
export function profileSheet(plan: Plan, words: SheetWords, squareMm: number = CHECK_MM): Sheet {
  const lines: SheetLine[] = [];
  const texts: SheetText[] = [];
  let base = 0;
  for (const brace of plan.braces) {
    const length = planBraceLengthMm(brace);
    if (!(length > 0) || brace.profile.length === 0) continue;
    base += Math.max(...brace.profile.map((point) => point.heightMm)) + 12;
    lines.push({ layer: 'PROFILES', points: sideView(brace, length, base), closed: true });
    const said = words.brace(brace.name, length, brace.widthMm);
    texts.push(textAt('TEXT', NAME_MM, said, placesAlong([0, base + NAME_MM], [length, base + NAME_MM])));
  }
  return moved(lines, texts, words, squareMm);
}

function sideView(brace: PlanBrace, length: number, base: number): Point[] {
  const places = [0, ...brace.profile.map((point) => point.atMm).filter((at) => at > 0 && at < length), length];
  return [[0, base], ...places.map((at): Point => [at, base - heightAtMm(brace.profile, at)]), [length, base]];
}

/** The drawing moved so that it begins at its margin, its words placed, and the check square set below it. */
function moved(lines: readonly SheetLine[], texts: readonly SheetText[], words: SheetWords, squareMm: number): Sheet {
  const points = lines.flatMap((line) => line.points);
  const [x0, y0, x1, y1] = points.length === 0 ? [0, 0, 1, 1] : boundingBox(points);
  const shift = ([x, y]: Point): Point => [x - x0 + MARGIN_MM, y - y0 + MARGIN_MM];
  const shiftedLines = new Map(lines.map((line) => [line, { ...line, points: line.points.map(shift) }] as const));
  const drawn = texts.map(({ on, ...text }) => {
    const places = text.places.map((place) => ({ ...place, at: shift(place.at) }));
    const named = on && shiftedLines.get(on);
    return { ...text, places, ...(named === undefined ? {} : { on: named }) };
  });
  const top = y1 - y0 + 2 * MARGIN_MM;
  const [left, right, bottom] = [MARGIN_MM, MARGIN_MM + squareMm, top + squareMm];
  const square: SheetLine = {
    layer: 'SCALE',
    closed: true,
    points: [
      [left, top],
      [right, top],
      [right, bottom],
      [left, bottom],
    ],
  };
  const middle: TextPlace = { at: [(left + right) / 2, (top + bottom) / 2], angleDeg: 0 };
  const all = [...shiftedLines.values()];
  const widthMm = Math.max(x1 - x0, squareMm) + 2 * MARGIN_MM;
  const heightMm = bottom + MARGIN_MM;
  return {
    widthMm,
    heightMm,
    lines: [...all, square],
    texts: [
      ...placedTexts(drawn, all, [{ x0: 0, y0: 0, x1: widthMm, y1: heightMm }]),
      textAt('SCALE', 4, words.square(squareMm), [middle]),
    ],
  };
}
