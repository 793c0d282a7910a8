// Writing the Universal File Format. Layouts: UC-SDRL universal file records 15, 55, 58 (rev. 30-Jun-1999), 151, 164.
import {
  dataWidths,
  isComplex,
  ordinateKinds,
  type UffAxis,
  type UffDataset,
  type UffFunction,
  type UffHeader,
  type UffNodes,
  type UffPlace,
  type UffShape,
  type UffUnits,
} from './uff-dataset.ts';
import { exponentField, integerField, textField } from './uff-field.ts';

/** Order in which readers expect datasets: what the file is, its units, the places, then functions, then shapes. */
const order: readonly UffDataset['kind'][] = ['header', 'units', 'nodes', 'function', 'shape'];
const numberOf = { header: 151, units: 164, nodes: 15, function: 58, shape: 55 } as const;

/**
 * A universal file of the datasets, in the order that readers expect.
 * @throws RangeError for a number that is not finite or does not fit its columns, series of unequal length, and for
 *         frequency response or coherence (types 4 and 6), which nobody can know without having measured a force
 */
export function writeUff(datasets: readonly UffDataset[]): string {
  return datasets
    .toSorted((a, b) => order.indexOf(a.kind) - order.indexOf(b.kind))
    .flatMap((dataset) => ['    -1', integerField(numberOf[dataset.kind], 6), ...body(dataset), '    -1'])
    .map((line) => `${line}\n`)
    .join('');
}

function body(dataset: UffDataset): readonly string[] {
  switch (dataset.kind) {
    case 'header':
      return header(dataset);
    case 'units':
      return units(dataset);
    case 'nodes':
      return nodes(dataset);
    case 'function':
      return functionAtPlace(dataset);
    case 'shape':
      return shape(dataset);
  }
}

const idLine = (text: string): string => textField(text, 80);
const integers = (values: readonly number[], width = 10): string =>
  values.map((value) => integerField(value, width)).join('');
const e13 = (values: readonly number[]): string => values.map((value) => exponentField(value, 13, 5)).join('');

function header(dataset: UffHeader): readonly string[] {
  const time = (text: string): string => {
    const [date = '', clock = ''] = text.split(' ');
    return textField(date, 10) + textField(clock, 10);
  };
  return [
    idLine(dataset.model),
    idLine(dataset.description),
    idLine(dataset.program),
    time(dataset.createdAt) + integers([0, 0, 0]),
    time(dataset.savedAt),
    idLine(dataset.program),
    time(dataset.writtenAt),
  ];
}

function units(dataset: UffUnits): readonly string[] {
  const d25 = (values: readonly number[]): string => values.map((value) => exponentField(value, 25, 16, 'D')).join('');
  return [
    integerField(dataset.code, 10) + textField(dataset.description, 20) + integerField(dataset.temperatureMode, 10),
    d25([dataset.lengthFactor, dataset.forceFactor, dataset.temperatureFactor]),
    d25([dataset.temperatureOffset]),
  ];
}

/** Colour of nodes; programs show 8 as green. No meaning of ours. */
const nodeColour = 8;

function nodes(dataset: UffNodes): readonly string[] {
  return dataset.nodes.map(({ node, x, y, z }) => integers([node, 1, 0, nodeColour]) + e13([x, y, z]));
}

/** Frequency response and coherence. */
const needForce = [4, 6];
const ordinateCodes = [2, 4, 5, 6];

function functionAtPlace(dataset: UffFunction): readonly string[] {
  const { abscissa, ordinateKind, values } = dataset;
  if (needForce.includes(dataset.functionType))
    throw new RangeError(`writeUff: function type ${dataset.functionType}, need one that takes no measured force`);
  const parts = isComplex(ordinateKind) ? 2 : 1;
  const count = values.length / parts;
  if (!Number.isInteger(count) || (abscissa.kind === 'uneven' && abscissa.values.length !== count))
    throw new RangeError(`writeUff: ${values.length} ordinates of ${parts} parts, need as many as abscissae`);
  const isEven = abscissa.kind === 'even';
  const series = isEven ? values : interleaved(abscissa.values, values, parts);
  return [
    ...dataset.lines.map(idLine),
    [
      integerField(dataset.functionType, 5),
      integerField(dataset.functionId, 10),
      integerField(dataset.version, 5),
      integerField(dataset.loadCase, 10),
      place(dataset.response),
      place(dataset.reference),
    ].join(''),
    integers([ordinateCodes[ordinateKinds.indexOf(ordinateKind)]!, count, isEven ? 1 : 0]) +
      e13(isEven ? [abscissa.first, abscissa.increment, dataset.zValue] : [abscissa.values[0] ?? 0, 0, dataset.zValue]),
    ...dataset.axes.map(axis),
    ...dataLines(series, dataWidths(ordinateKind, isEven)),
  ];
}

const place = ({ entity, node, direction }: UffPlace): string =>
  ` ${textField(entity, 10)}${integerField(node, 10)}${integerField(direction, 4)}`;

const axis = (given: UffAxis): string =>
  integerField(given.quantity, 10) +
  integers([given.lengthExponent, given.forceExponent, given.temperatureExponent], 5) +
  ` ${textField(given.label, 20)} ${textField(given.unit, 20)}`;

/** x, y, x, y, ... */
function interleaved(x: Float64Array, values: Float64Array, parts: number): Float64Array {
  const series = new Float64Array(x.length + values.length);
  x.forEach((abscissa, n) => {
    series[n * (parts + 1)] = abscissa;
    for (let part = 0; part < parts; part++) series[n * (parts + 1) + 1 + part] = values[n * parts + part]!;
  });
  return series;
}

function dataLines(series: Float64Array, widths: readonly number[]): readonly string[] {
  const lines: string[] = [];
  for (let at = 0; at < series.length; at += widths.length) {
    let line = '';
    for (let k = 0; k < widths.length && at + k < series.length; k++)
      line += exponentField(series[at + k]!, widths[k]!, widths[k] === 13 ? 5 : 12);
    lines.push(line);
  }
  return lines;
}

function shape(dataset: UffShape): readonly string[] {
  return [
    ...dataset.lines.map(idLine),
    // Structural model, normal mode, three translations, displacement, real, three values a node.
    integers([1, 2, 2, 8, 2, 3]),
    integers([2, 4, dataset.loadCase, dataset.mode]),
    e13([dataset.frequencyHz, dataset.modalMass, dataset.dampingRatio, dataset.hystereticRatio]),
    ...dataset.nodes.flatMap(({ node, x, y, z }) => [integerField(node, 10), e13([x, y, z])]),
  ];
}
