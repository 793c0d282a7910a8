// Reading the Universal File Format: by column and never by blanks, because full fields touch. What cannot be read is
// named with its line and left out. Layouts: UC-SDRL universal file records 15, 55, 58 (rev. 30-Jun-1999), 151, 164.
import {
  dataWidths,
  isComplex,
  ordinateKinds,
  type UffAxis,
  type UffDataset,
  type UffFunction,
  type UffHeader,
  type UffNode,
  type UffNodes,
  type UffPlace,
  type UffShape,
  type UffUnits,
} from './uff-dataset.ts';
import { readInteger, readReal, readText } from './uff-field.ts';

/** A dataset that was left out. */
export interface SkippedDataset {
  /** what stands where the dataset's number belongs */
  readonly dataset: string;
  /** line of the file that opens it, from 1 */
  readonly line: number;
  /** `other-kind`: sound, but nothing that we read; `damaged`: columns that are no numbers, or data that breaks off */
  readonly because: 'other-kind' | 'damaged';
}

/** Reads a universal file; LF, CRLF or CR. Never throws, whatever the text. */
export function readUff(text: string): {
  readonly datasets: readonly UffDataset[];
  readonly skipped: readonly SkippedDataset[];
} {
  const lines = text.split(/\r\n|\n|\r/);
  const datasets: UffDataset[] = [];
  const skipped: SkippedDataset[] = [];
  for (let at = 0; at < lines.length; at++) {
    if (!isDelimiter(lines[at]!)) continue;
    let end = at + 1;
    while (end < lines.length && !isDelimiter(lines[end]!)) end++;
    const dataset = readText(lines[at + 1] ?? '', 0, 80);
    const reader = readers.get(dataset);
    const read = reader === undefined ? 'other-kind' : reader(lines.slice(at + 2, end));
    if (typeof read === 'string') skipped.push({ dataset: dataset.slice(0, 80), line: at + 1, because: read });
    else datasets.push(read);
    at = end;
  }
  return { datasets, skipped };
}

const isDelimiter = (line: string): boolean => /^ {4}-1\s*$/.test(line);

type Reading<T> = T | SkippedDataset['because'];

const readers = new Map<string, (lines: readonly string[]) => Reading<UffDataset>>([
  ['151', header],
  ['164', units],
  ['15', nodes],
  ['58', functionAtPlace],
  ['55', shape],
]);

/** All of the fields, or undefined where one is missing. */
function all<T>(fields: readonly (T | undefined)[]): readonly T[] | undefined {
  return fields.every((field) => field !== undefined) ? (fields as readonly T[]) : undefined;
}

const integers = (line: string | undefined, count: number, width = 10, from = 0): readonly number[] | undefined =>
  line === undefined
    ? undefined
    : all(Array.from({ length: count }, (_, i) => readInteger(line, from + i * width, width)));

const reals = (line: string | undefined, count: number, width = 13, from = 0): readonly number[] | undefined =>
  line === undefined
    ? undefined
    : all(Array.from({ length: count }, (_, i) => readReal(line, from + i * width, width)));

const idLines = (lines: readonly string[]): UffFunction['lines'] => {
  const line = (i: number): string => readText(lines[i] ?? '', 0, 80);
  return [line(0), line(1), line(2), line(3), line(4)];
};

function header(lines: readonly string[]): Reading<UffHeader> {
  if (lines.length < 7) return 'damaged';
  const line = (i: number): string => readText(lines[i]!, 0, 80);
  const time = (i: number): string => `${readText(lines[i]!, 0, 10)} ${readText(lines[i]!, 10, 10)}`.trim();
  return {
    kind: 'header',
    model: line(0),
    description: line(1),
    program: line(2),
    createdAt: time(3),
    savedAt: time(4),
    writtenAt: time(6),
  };
}

function units(lines: readonly string[]): Reading<UffUnits> {
  const [first = ''] = lines;
  const codes = all([readInteger(first, 0, 10), readInteger(first, 30, 10)]);
  const factors = reals(lines[1], 3, 25);
  const offset = reals(lines[2], 1, 25);
  if (codes === undefined || factors === undefined || offset === undefined) return 'damaged';
  return {
    kind: 'units',
    code: codes[0]!,
    description: readText(first, 10, 20),
    temperatureMode: codes[1]!,
    lengthFactor: factors[0]!,
    forceFactor: factors[1]!,
    temperatureFactor: factors[2]!,
    temperatureOffset: offset[0]!,
  };
}

const nodeOf = (node: number | undefined, at: readonly number[] | undefined): UffNode | undefined =>
  node === undefined || at === undefined ? undefined : { node, x: at[0]!, y: at[1]!, z: at[2]! };

function nodes(lines: readonly string[]): Reading<UffNodes> {
  const found = all(lines.map((line) => nodeOf(readInteger(line, 0, 10), reals(line, 3, 13, 40))));
  return found === undefined ? 'damaged' : { kind: 'nodes', nodes: found };
}

function functionAtPlace(lines: readonly string[]): Reading<UffFunction> {
  const [what = '', form = ''] = lines.slice(5, 7);
  const identity = all([
    readInteger(what, 0, 5),
    readInteger(what, 5, 10),
    readInteger(what, 15, 5),
    readInteger(what, 20, 10),
  ]);
  const response = place(what, 31);
  const reference = place(what, 56);
  const shapeOfData = integers(form, 3);
  const [first, increment, zValue] = [30, 43, 56].map((from) => readReal(form, from, 13));
  const axes = all(lines.slice(7, 11).map(axis));
  if (identity === undefined || response === undefined || reference === undefined || shapeOfData === undefined)
    return 'damaged';
  const [code, count, spacing] = shapeOfData as [number, number, number];
  const ordinateKind = ordinateKinds[[2, 4, 5, 6].indexOf(code)];
  const isEven = spacing === 1;
  if (
    axes?.length !== 4 ||
    ordinateKind === undefined ||
    count < 0 ||
    (isEven && (first === undefined || increment === undefined))
  )
    return 'damaged';
  const parts = isComplex(ordinateKind) ? 2 : 1;
  const series = dataSeries(lines.slice(11), dataWidths(ordinateKind, isEven), count * (parts + (isEven ? 0 : 1)));
  if (series === undefined) return 'damaged';
  return {
    kind: 'function',
    lines: idLines(lines),
    functionType: identity[0]!,
    functionId: identity[1]!,
    version: identity[2]!,
    loadCase: identity[3]!,
    response,
    reference,
    ordinateKind,
    abscissa: isEven
      ? { kind: 'even', first: first!, increment: increment! }
      : { kind: 'uneven', values: series.filter((_, n) => n % (parts + 1) === 0) },
    zValue: zValue ?? 0,
    axes: [axes[0]!, axes[1]!, axes[2]!, axes[3]!],
    values: isEven ? series : series.filter((_, n) => n % (parts + 1) !== 0),
  };
}

function place(line: string, from: number): UffPlace | undefined {
  const numbers = all([readInteger(line, from + 10, 10), readInteger(line, from + 20, 4)]);
  return numbers && { entity: readText(line, from, 10), node: numbers[0]!, direction: numbers[1]! };
}

function axis(line: string): UffAxis | undefined {
  const quantity = readInteger(line, 0, 10);
  const exponents = integers(line, 3, 5, 10);
  if (quantity === undefined || exponents === undefined) return undefined;
  return {
    quantity,
    lengthExponent: exponents[0]!,
    forceExponent: exponents[1]!,
    temperatureExponent: exponents[2]!,
    label: readText(line, 26, 20),
    unit: readText(line, 47, 20),
  };
}

/** As many numbers as record 7 counts; some programs fill the last line with zeros beyond them. */
function dataSeries(lines: readonly string[], widths: readonly number[], count: number): Float64Array | undefined {
  if (count > lines.length * widths.length) return undefined;
  const series = new Float64Array(count);
  let filled = 0;
  for (const line of lines) {
    let from = 0;
    for (const width of widths) {
      if (filled === count) return series;
      const value = readReal(line, from, width);
      if (value === undefined) return undefined;
      series[filled++] = value;
      from += width;
    }
  }
  return filled === count ? series : undefined;
}

function shape(lines: readonly string[]): Reading<UffShape> {
  const form = integers(lines[5], 6);
  const specifics = integers(lines[6], 4);
  if (form === undefined || specifics === undefined) return 'damaged';
  // Normal mode, real, three values a node: other analyses are sound but hold no mode shape of ours.
  if (form[1] !== 2 || form[4] !== 2 || form[5] !== 3) return 'other-kind';
  const reading = reals(lines[7], 4);
  const rest = lines.slice(8);
  const found = all(
    Array.from({ length: Math.ceil(rest.length / 2) }, (_, i) =>
      nodeOf(readInteger(rest[2 * i]!, 0, 10), reals(rest[2 * i + 1], 3)),
    ),
  );
  if (reading === undefined || found === undefined) return 'damaged';
  return {
    kind: 'shape',
    lines: idLines(lines),
    loadCase: specifics[2]!,
    mode: specifics[3]!,
    frequencyHz: reading[0]!,
    modalMass: reading[1]!,
    dampingRatio: reading[2]!,
    hystereticRatio: reading[3]!,
    nodes: found,
  };
}
