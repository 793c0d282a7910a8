// Outlines from elsewhere: the longest closed path of an SVG, or the longest polyline of a DXF R12, in millimetres.
import { boundingBox, type Point } from '../plate/outline.ts';
import { hasAbsurdSize } from '../plate/plate-check.ts';
import type { PlanPoint } from './record.ts';

export type ImportedOutline =
  | { readonly kind: 'outline'; readonly points: readonly PlanPoint[] }
  | {
      readonly kind: 'refused';
      readonly because: 'no-path' | 'too-few-points' | 'too-large' | 'not-a-number' | 'absurd-size';
    };

/** Points per curve of a path. */
const PER_CURVE = 12;

/** Largest file that is read, in characters. The body of a guitar drawn by hand or machine takes some ten thousand. */
export const mostOutlineCharacters = 2_000_000;

/** Most points of an outline: one every half millimetre around the largest body; the drawing stays quick with as many. */
const MOST_POINTS = 5000;

const refused = (because: Extract<ImportedOutline, { kind: 'refused' }>['because']): ImportedOutline => ({
  kind: 'refused',
  because,
});

/**
 * Reads an outline, turns it neck to the right (x) and puts its tail at x = 0 and its middle at y = 0.
 * SVG is taken as drawn with the neck up; DXF as drawn with the neck along x, where it is longer than wide, else along y.
 * What is read is finite and of a size an instrument can have; the time grows with the length of the text and no faster.
 * @param name of the file, whose ending tells the format
 */
export function importOutline(name: string, text: string): ImportedOutline {
  if (text.length > mostOutlineCharacters) return refused('too-large');
  const isDxf = /\.dxf$/i.test(name) || /^\s*0\s+SECTION/.test(text);
  const found = isDxf ? dxfPolylines(text) : svgPaths(text);
  const longest = longestOf(found);
  if (longest === undefined) return refused('no-path');
  if (!longest.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y))) return refused('not-a-number');
  const distinct = longest.filter((point, i) => {
    const next = longest[(i + 1) % longest.length]!;
    return Math.hypot(point[0] - next[0], point[1] - next[1]) > 1e-6;
  });
  if (distinct.length < 3) return refused('too-few-points');
  if (distinct.length > MOST_POINTS) return refused('too-large');
  if (hasAbsurdSize(distinct)) return refused('absurd-size');
  const [a0, b0, a1, b1] = boundingBox(distinct);
  const isUpright = !isDxf || b1 - b0 > a1 - a0;
  // On an SVG's screen y runs down; seen from outside the neck is up and the right side is y > 0.
  const turned = distinct.map(([a, b]): Point => (isUpright ? [isDxf ? b : -b, a] : [a, b]));
  const [x0, y0, , y1] = boundingBox(turned);
  const rounded = (mm: number) => Math.round(mm * 1000) / 1000;
  return {
    kind: 'outline',
    points: turned.map(([x, y]) => ({ xMm: rounded(x - x0), yMm: rounded(y - (y0 + y1) / 2) })),
  };
}

/** The longest of closed lines; one with a number that is none counts as endless, so that it is told of. */
function longestOf(found: readonly (readonly Point[])[]): readonly Point[] | undefined {
  let longest: { readonly points: readonly Point[]; readonly length: number } | undefined;
  for (const points of found) {
    const typed = lengthOf(points);
    const length = Number.isNaN(typed) ? Number.POSITIVE_INFINITY : typed;
    if (longest === undefined || length > longest.length) longest = { points, length };
  }
  return longest?.points;
}

function lengthOf(points: readonly Point[]): number {
  return points.reduce((sum, point, i) => {
    const before = points[i === 0 ? points.length - 1 : i - 1]!;
    return sum + Math.hypot(point[0] - before[0], point[1] - before[1]);
  }, 0);
}

interface Tag {
  /** in small letters */
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
}

/**
 * The opening tags of an XML text with their quoted attributes. Every character is looked at a fixed number of times, whatever
 * the text. Source of the grammar: XML 1.0, sections 2.5 and 3.1, without entities.
 */
function* tagsOf(text: string): Generator<Tag> {
  const nameAt = /[a-z][\w.-]*/iy;
  const attributeAt = /([^\s=<>"'/]+)\s*=\s*(["'])/y;
  const otherAt = /[^\s=<>"'/]+|[\s\S]/y;
  for (let at = text.indexOf('<'); at !== -1; ) {
    if (text.startsWith('<!--', at)) {
      const end = text.indexOf('-->', at);
      if (end === -1) return;
      at = text.indexOf('<', end);
      continue;
    }
    nameAt.lastIndex = at + 1;
    const name = nameAt.exec(text)?.[0];
    const attributes = new Map<string, string>();
    let i = at + 1 + (name?.length ?? 0);
    while (name !== undefined && i < text.length && text[i] !== '>' && text[i] !== '<') {
      attributeAt.lastIndex = i;
      const [, key, quote] = attributeAt.exec(text) ?? [];
      if (key === undefined || quote === undefined) {
        otherAt.lastIndex = i;
        i += otherAt.exec(text)?.[0].length ?? 1;
        continue;
      }
      const from = attributeAt.lastIndex;
      const to = text.indexOf(quote, from);
      // What is never closed leaves nothing more to read.
      if (to === -1) return;
      attributes.set(key, text.slice(from, to));
      i = to + 1;
    }
    if (name !== undefined) yield { name: name.toLowerCase(), attributes };
    at = text.indexOf('<', i);
  }
}

/** Millimetres per user unit: from width and viewBox where both are there, else 96 units an inch. Source: SVG 1.1, 7.10; CSS 2.1, 4.3.2. */
function svgScale(svg: Tag): number {
  const size = /^\s*([\d.]+)\s*(mm|cm|in)\s*$/i.exec(svg.attributes.get('width') ?? '');
  const boxWidth = Number(
    svg.attributes
      .get('viewBox')
      ?.trim()
      .split(/[\s,]+/, 3)[2],
  );
  if (size !== null && boxWidth > 0) {
    const mm = { mm: 1, cm: 10, in: 25.4 }[size[2]!.toLowerCase() as 'mm' | 'cm' | 'in'];
    return (Number(size[1]) * mm) / boxWidth;
  }
  return 25.4 / 96;
}

function svgPaths(text: string): Point[][] {
  let scale: number | undefined;
  const found: Point[][] = [];
  for (const tag of tagsOf(text)) {
    if (tag.name === 'svg') scale ??= svgScale(tag);
    else if (tag.name === 'path') for (const points of pathPoints(tag.attributes.get('d') ?? '')) found.push(points);
    else if (tag.name === 'polygon' || tag.name === 'polyline') found.push(pairsOf(tag.attributes.get('points') ?? ''));
  }
  const mm = scale ?? 25.4 / 96;
  return found.filter((points) => points.length > 0).map((points) => points.map(([x, y]): Point => [x * mm, y * mm]));
}

function pairsOf(text: string): Point[] {
  const values = (text.match(NUMBER) ?? []).map(Number);
  return Array.from({ length: Math.floor(values.length / 2) }, (_, i): Point => [values[2 * i]!, values[2 * i + 1]!]);
}

const NUMBER = /[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?/gi;
const ARGUMENTS: Readonly<Record<string, number>> = { M: 2, L: 2, H: 1, V: 1, C: 6, S: 4, Q: 4, T: 2, A: 7, Z: 0 };

/** A cubic curve as points, its start left out. */
function curvePoints(start: Point, c1: Point, c2: Point, end: Point): Point[] {
  return Array.from({ length: PER_CURVE }, (_, i) => {
    const t = (i + 1) / PER_CURVE;
    const s = 1 - t;
    const mix = (a: number, b: number, c: number, d: number) =>
      s ** 3 * a + 3 * s * s * t * b + 3 * s * t * t * c + t ** 3 * d;
    return [mix(start[0], c1[0], c2[0], end[0]), mix(start[1], c1[1], c2[1], end[1])];
  });
}

/** Draws path data into points, a command at a time. */
class Pen {
  readonly subpaths: Point[][] = [];
  private points: Point[] = [];
  private at: Point = [0, 0];
  private start: Point = [0, 0];
  /** the last control point of the curve before, if there was one right before */
  private handle: Point | undefined;

  /** Ends the subpath; a single point is none. */
  finish(): void {
    if (this.points.length > 1) this.subpaths.push(this.points);
    this.points = [];
  }

  /** Back to the start: the outline is closed. */
  close(): void {
    this.finish();
    this.at = this.start;
    this.handle = undefined;
  }

  move([x, y]: readonly number[], isRelative: boolean): void {
    this.finish();
    const to: Point = isRelative ? [this.at[0] + x!, this.at[1] + y!] : [x!, y!];
    this.at = to;
    this.start = to;
    this.points = [to];
    this.handle = undefined;
  }

  /**
   * One command that draws.
   * @param letter     in upper case
   * @param values     its arguments
   * @param isRelative measured from where the pen is
   */
  draw(letter: string, values: readonly number[], isRelative: boolean): void {
    const [x, y] = this.at;
    const [fromX, fromY] = isRelative ? this.at : [0, 0];
    const pair = (i: number): Point => [values[i]! + fromX, values[i + 1]! + fromY];
    const { handle } = this;
    const reflected: Point = handle === undefined ? this.at : [2 * x - handle[0], 2 * y - handle[1]];
    this.handle = undefined;
    switch (letter) {
      case 'H':
        this.line([values[0]! + fromX, y]);
        break;
      case 'V':
        this.line([x, values[0]! + fromY]);
        break;
      case 'C':
        this.cubic(pair(0), pair(2), pair(4));
        break;
      case 'S':
        this.cubic(reflected, pair(0), pair(2));
        break;
      case 'Q':
        this.quadratic(pair(0), pair(2));
        break;
      case 'T':
        this.quadratic(reflected, pair(0));
        break;
      case 'A':
        this.line(pair(5));
        break;
      default:
        // Lines, and pairs after a move.
        this.line(pair(0));
    }
  }

  private line(to: Point): void {
    this.at = to;
    this.points.push(to);
  }

  private cubic(c1: Point, c2: Point, end: Point): void {
    this.points.push(...curvePoints(this.at, c1, c2, end));
    this.at = end;
    this.handle = c2;
  }

  private quadratic(control: Point, end: Point): void {
    const toward = (p: Point): Point => [p[0] + (2 / 3) * (control[0] - p[0]), p[1] + (2 / 3) * (control[1] - p[1])];
    this.cubic(toward(this.at), toward(end), end);
    this.handle = control;
  }
}

/** Subpaths of path data as points; arcs become their chords. Source: SVG 1.1, section 8.3. */
function pathPoints(data: string): Point[][] {
  const pen = new Pen();
  for (const [, letter, rest] of data.matchAll(/([MLHVCSQTAZ])([^MLHVCSQTAZ]*)/gi)) {
    const upper = letter!.toUpperCase();
    const isRelative = letter !== upper;
    const values = (rest!.match(NUMBER) ?? []).map(Number);
    const each = ARGUMENTS[upper]!;
    if (upper === 'Z') pen.close();
    else
      for (let k = 0; k + each <= values.length; k += each) {
        const given = values.slice(k, k + each);
        if (upper === 'M' && k === 0) pen.move(given, isRelative);
        else pen.draw(upper, given, isRelative);
      }
  }
  pen.finish();
  return pen.subpaths;
}

/** POLYLINE entities of a DXF R12, bulges as chords. Source: DXF R12 reference, group codes 0, 10, 20. */
function dxfPolylines(text: string): Point[][] {
  const lines = text.split(/\r\n|\r|\n/).map((line) => line.trim());
  const found: Point[][] = [];
  let points: Point[] | undefined;
  let x: number | undefined;
  let isVertex = false;
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const [code, value] = [lines[i], lines[i + 1]!];
    if (code === '0') {
      if (value === 'POLYLINE') points = [];
      else if (points !== undefined && value !== 'VERTEX') {
        if (points.length > 1) found.push(points);
        points = undefined;
      }
      x = undefined;
      isVertex = value === 'VERTEX';
    } else if (code === '10' && isVertex) x = Number(value);
    else if (code === '20' && isVertex && x !== undefined && Number.isFinite(x) && Number.isFinite(Number(value)))
      points?.push([x, Number(value)]);
  }
  return found;
}
