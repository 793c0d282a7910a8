import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readRecord } from '../../src/record/read.ts';
import { type UffDataset, type UffFunction, unusedAxis } from '../../src/record/uff-dataset.ts';
import {
  exponentField,
  integerField,
  isoFromUffTime,
  readReal,
  textField,
  uffTime,
} from '../../src/record/uff-field.ts';
import { recordFromUff } from '../../src/record/uff-incoming.ts';
import { readUff } from '../../src/record/uff-read.ts';
import { recordToUff } from '../../src/record/uff-record.ts';
import { writeUff } from '../../src/record/uff-write.ts';
import { fuzzRuns, fuzzTimeout } from './runs.ts';
import { recordOf, roundOf } from './small-record.ts';

const golden = readFileSync(new URL('../reference/golden-sample.uff', import.meta.url), 'utf8');

const history: UffFunction = {
  kind: 'function',
  lines: ['Tap', 'NONE', '25-Nov-26 07:00:00', 'NONE', 'NONE'],
  functionType: 1,
  functionId: 2,
  version: 1,
  loadCase: 0,
  response: { entity: 'NONE', node: 1, direction: 0 },
  reference: { entity: 'NONE', node: 2, direction: -3 },
  ordinateKind: 'real-single',
  abscissa: { kind: 'even', first: 0, increment: 1 / 48_000 },
  zValue: 0,
  axes: [
    { ...unusedAxis, quantity: 17, label: 'Time', unit: 's' },
    { ...unusedAxis, quantity: 1, label: 'Microphone', unit: 'FS' },
    unusedAxis,
    unusedAxis,
  ],
  values: Float64Array.from([0, 0.5, -0.25, 0.125, -0.0625, 0.03125, -0.015625]),
};
const linesOf = (datasets: readonly UffDataset[]): readonly string[] => writeUff(datasets).split('\n').slice(0, -1);
const functionIn = (text: string): UffFunction => {
  const found = readUff(text).datasets.find((dataset) => dataset.kind === 'function');
  if (found?.kind !== 'function') throw new Error('no function was read');
  return found;
};

const word = fc.stringMatching(/^[A-Za-z][A-Za-z0-9.,+]{0,8}( [A-Za-z0-9][a-z-]{0,6}){0,2}$/);
const line = word;
const label = word.map((text) => text.slice(0, 20).trim());
const moderate = fc.double({ min: -1e90, max: 1e90, noNaN: true }).map((x) => (Math.abs(x) < 1e-90 ? 0 : x));
const lines = fc.tuple(line, line, line, line, line);
const place = fc.record({
  entity: label.map((text) => text.slice(0, 10).trim()),
  node: fc.nat(9_999_999),
  direction: fc.integer({ min: -6, max: 6 }),
});
const small = fc.integer({ min: 0, max: 99 });
const axis = fc.record({
  quantity: small,
  lengthExponent: fc.integer({ min: -9, max: 9 }),
  forceExponent: fc.integer({ min: -9, max: 9 }),
  temperatureExponent: fc.integer({ min: -9, max: 9 }),
  label,
  unit: label,
});
const arbitraryFunction: fc.Arbitrary<UffFunction> = fc
  .record({
    count: fc.nat(17),
    ordinateKind: fc.constantFrom('real-single', 'real-double', 'complex-single', 'complex-double'),
    isEven: fc.boolean(),
    pool: fc.array(moderate, { minLength: 60, maxLength: 60 }),
    rest: fc.record({
      lines,
      functionType: fc.constantFrom(0, 1, 2, 3, 9, 12),
      functionId: fc.nat(999_999),
      version: small,
      loadCase: small,
      response: place,
      reference: place,
      zValue: moderate,
      axes: fc.tuple(axis, axis, axis, axis),
    }),
  })
  .map(({ count, ordinateKind, isEven, pool, rest }): UffFunction => {
    const parts = ordinateKind.startsWith('complex') ? 2 : 1;
    return {
      ...rest,
      kind: 'function',
      ordinateKind,
      abscissa: isEven
        ? { kind: 'even', first: pool[0]!, increment: pool[1]! }
        : { kind: 'uneven', values: Float64Array.from(pool.slice(2, 2 + count)) },
      values: Float64Array.from(pool.slice(20, 20 + parts * count)),
    };
  });
const node = fc.record({ node: fc.nat(9_999_999), x: moderate, y: moderate, z: moderate });
const arbitraryDataset: fc.Arbitrary<UffDataset> = fc.oneof(
  arbitraryFunction,
  fc.record({
    kind: fc.constant('header' as const),
    model: line,
    description: line,
    program: line,
    createdAt: fc.constant('25-Nov-26 07:00:00'),
    savedAt: fc.constant('26-Nov-26 07:00:01'),
    writtenAt: fc.constant('27-Nov-26 07:00:02'),
  }),
  fc.record({
    kind: fc.constant('units' as const),
    code: small,
    description: label,
    temperatureMode: fc.constantFrom(1, 2),
    lengthFactor: moderate,
    forceFactor: moderate,
    temperatureFactor: moderate,
    temperatureOffset: moderate,
  }),
  fc.record({ kind: fc.constant('nodes' as const), nodes: fc.array(node, { maxLength: 5 }) }),
  fc.record({
    kind: fc.constant('shape' as const),
    lines,
    loadCase: small,
    mode: small,
    frequencyHz: moderate,
    modalMass: moderate,
    dampingRatio: moderate,
    hystereticRatio: moderate,
    nodes: fc.array(node, { maxLength: 5 }),
  }),
);

/** The same, every number within half a unit of the last of six digits (E13.5, the coarsest field). */
function expectSame(actual: unknown, expected: unknown): void {
  if (typeof expected === 'number' && typeof actual === 'number') {
    expect(Math.abs(actual - expected)).toBeLessThanOrEqual(5.01e-6 * Math.abs(expected));
  } else if (expected instanceof Float64Array && actual instanceof Float64Array) {
    expect(actual.length).toBe(expected.length);
    expected.forEach((value, i) => {
      expectSame(actual[i], value);
    });
  } else if (typeof expected === 'object' && expected !== null) {
    expect(Object.keys(actual as object).toSorted()).toEqual(Object.keys(expected).toSorted());
    for (const [key, value] of Object.entries(expected)) expectSame((actual as Record<string, unknown>)[key], value);
  } else expect(actual).toBe(expected);
}

describe('reading universal files', () => {
  test.each([
    ['CRLF', golden],
    ['LF', golden.replaceAll('\r\n', '\n')],
  ])('the golden sample is read right with %s line ends', (_name, text) => {
    const { datasets, skipped } = readUff(text);
    expect(skipped).toEqual([]);
    expect(datasets.map((dataset) => dataset.kind)).toEqual([
      'header',
      'units',
      'nodes',
      'function',
      'function',
      'shape',
    ]);
    const [head, units, nodes, spectrum, tap, shape] = datasets as [
      UffDataset,
      UffDataset,
      UffDataset,
      UffFunction,
      UffFunction,
      UffDataset,
    ];
    expect(head).toMatchObject({ model: 'demo-plate', program: 'demo', createdAt: '25-Nov-26 07:00:00' });
    expect(units).toMatchObject({
      code: 1,
      description: 'SI',
      temperatureMode: 2,
      lengthFactor: 1,
      temperatureOffset: 273.15,
    });
    expect(nodes).toMatchObject({
      nodes: [
        { node: 1, x: 0, y: 0 },
        { node: 2, x: 0.1, y: 0.25 },
        { node: 3, x: 0.1, y: -0.25 },
      ],
    });
    expect(spectrum).toMatchObject({
      functionType: 12,
      ordinateKind: 'complex-double',
      response: { node: 2, direction: 3 },
      reference: { node: 1, direction: -3 },
      abscissa: { kind: 'even', first: 0, increment: 0.732422 },
    });
    expect(spectrum.values).toHaveLength(14);
    // Value k of the sample is 1e-3 cos k - i 1e3 sin k, by its own numbers.
    for (let k = 0; k < 7; k++) {
      expect(spectrum.values[2 * k]).toBeCloseTo(1e-3 * Math.cos(k), 14);
      expect(spectrum.values[2 * k + 1]).toBeCloseTo(-1e3 * Math.sin(k), 8);
    }
    expect(tap.axes[0]).toMatchObject({ quantity: 17, label: 'Time', unit: 's' });
    expect([...tap.values]).toEqual([0, 0.5, -0.25, 0.125, -0.0625, 0.03125, -0.015625]);
    expect(shape).toMatchObject({ mode: 1, frequencyHz: 83.4, dampingRatio: 0.0125 });
    expect(shape.kind === 'shape' && shape.nodes.map((each) => each.z)).toEqual([1, -0.4, -0.4]);
  });

  test('datasets of other kinds, binary data and damage are named with their line, the others are read', () => {
    const text = [...linesOf([history]), '    -1', '  2411', '    -1', '    -1', '   58b     1', 'x', '    -1'].join(
      '\n',
    );
    const broken = text.replace('  0.00000E+00  5.00000E-01', '  0.00000E+00     NaN     ');
    expect(readUff(text)).toMatchObject({ datasets: [{ kind: 'function' }] });
    expect(readUff(broken)).toEqual({
      datasets: [],
      skipped: [
        { dataset: '58', line: 1, because: 'damaged' },
        { dataset: '2411', line: 17, because: 'other-kind' },
        { dataset: '58b     1', line: 20, because: 'other-kind' },
      ],
    });
  });

  test('a file that breaks off, or that counts more values than it holds, gives no shortened tap', () => {
    const whole = writeUff([history]);
    expect(readUff(whole.slice(0, whole.indexOf(' -1.56250E-02'))).skipped).toMatchObject([{ because: 'damaged' }]);
    expect(readUff(whole.replace('         2         7', '         2999999999')).skipped).toMatchObject([
      { because: 'damaged' },
    ]);
  });

  test('texts at random and mutated files are read or named, never thrown at', { timeout: fuzzTimeout }, () => {
    const ring = Float32Array.from({ length: 900 }, (_, i) => 0.5 * Math.cos(i / 5) * Math.exp(-i / 200));
    const ours = writeUff(
      recordToUff(
        recordOf('i', [roundOf('r', ['a'])]),
        new Map([['a', { samples: ring, sampleRateHz: 8000, onsetIndex: 80 }]]),
      ),
    );
    expect(recordFromUff(ours, 'a.uff', '2026-11-25T08:00:00.000Z').content.taps).toBe(1);
    const mutated = (whole: string) =>
      fc
        .array(fc.tuple(fc.nat(whole.length), fc.nat(90), fc.constantFrom('', ' ', '-1', '\n', 'E', '999999')), {
          maxLength: 8,
        })
        .map((cuts) =>
          cuts.reduce((text, [at, length, put]) => text.slice(0, at) + put + text.slice(at + length), whole),
        );
    const framed = fc
      .tuple(fc.constantFrom('151', '58', '55', '15', '164', 'constructor'), fc.string())
      .map(([number, body]) => `    -1\n${number.padStart(6)}\n${body}\n    -1\n`);
    fc.assert(
      fc.property(fc.oneof(fc.string(), mutated(golden), mutated(ours), framed), (text) => {
        const { datasets } = readUff(text);
        for (const dataset of datasets)
          if (dataset.kind === 'function') expect(dataset.values.every(Number.isFinite)).toBe(true);
        const { bundle } = recordFromUff(text, 'a.uff', '2026-11-25T08:00:00.000Z');
        if (bundle !== undefined) expect(readRecord(bundle.record)).toMatchObject({ kind: 'record' });
      }),
      fuzzRuns,
    );
  });
});

describe('writing universal files', () => {
  test('what is written is read the same, each number to the digits of its field', () => {
    fc.assert(
      fc.property(fc.array(arbitraryDataset, { maxLength: 4 }), fc.boolean(), (datasets, isCrlf) => {
        const text = writeUff(datasets);
        const { datasets: read, skipped } = readUff(isCrlf ? text.replaceAll('\n', '\r\n') : text);
        expect(skipped).toEqual([]);
        const order = ['header', 'units', 'nodes', 'function', 'shape'];
        expectSame(
          read,
          datasets.toSorted((a, b) => order.indexOf(a.kind) - order.indexOf(b.kind)),
        );
      }),
      { numRuns: 200, endOnFailure: true },
    );
  });

  test('the golden sample, read and written, has every field in the columns it came in', () => {
    // E20.11 of the sample is written as E20.12, and the one line with blanks for looks has them drawn together.
    const comparable = (text: string) =>
      text
        .trimEnd()
        .split(/\r?\n/)
        .map((each) =>
          each.replace(/ *-?\d\.\d{11,12}E[+-]\d\d/g, (found) => Number(found).toExponential(9).padStart(20)),
        )
        .map((each) => (each.startsWith('Mode same') ? each.replace(/ +/g, ' ') : each).trimEnd());
    expect(comparable(writeUff(readUff(golden).datasets))).toEqual(comparable(golden));
  });

  test('every line is ASCII of at most 80 columns, and four blanks with -1 stand only where a dataset begins or ends', () => {
    const text = fc.oneof(fc.string({ unit: 'grapheme' }), fc.constantFrom('    -1', '-1', 'x      -1', '\n    -1\n'));
    const hostile = fc.tuple(arbitraryFunction, text, text).map(
      ([given, a, b]): UffFunction => ({
        ...given,
        lines: [a, b, a, b, a],
        response: { ...given.response, entity: b },
        axes: [{ ...unusedAxis, label: a, unit: b }, { ...unusedAxis, label: b, unit: a }, unusedAxis, unusedAxis],
      }),
    );
    fc.assert(
      fc.property(hostile, (dataset) => {
        const written = linesOf([dataset]);
        for (const each of written) expect(each).toMatch(/^[ -~]{0,80}$/);
        expect(written.filter((each) => each.includes('    -1'))).toEqual(['    -1', '    -1']);
        expect(written.indexOf('    -1', 1)).toBe(written.length - 1);
      }),
      { endOnFailure: true },
    );
  });

  test('(a) exponents have a sign and two digits, three-digit ones are held at the edge', () => {
    expect(exponentField(1, 13, 5)).toBe('  1.00000E+00');
    expect(exponentField(-1.5e-7, 13, 5)).toBe(' -1.50000E-07');
    expect(exponentField(1e300, 13, 5)).toBe('  9.00000E+99');
    expect(exponentField(-1e300, 20, 12)).toBe(' -9.000000000000E+99');
    expect(exponentField(1e-300, 13, 5)).toBe('  0.00000E+00');
    expect(exponentField(273.15, 25, 16, 'D')).toBe('   2.7314999999999998D+02');
  });

  test.each([Number.NaN, Infinity, -Infinity])('(b) %d is refused', (value) => {
    expect(() => writeUff([{ ...history, values: Float64Array.from([0, value]) }])).toThrow(/need a finite number/);
  });

  test('(c) accents are folded, what has no plain letter is a question mark, and text is cut to its columns', () => {
    expect(textField('Größe µ – Ærø ½ 木', 30)).toBe('Grosse ? - AEro 1?2 ?'.padEnd(30));
    expect(textField('x'.repeat(90), 80)).toBe('x'.repeat(80));
    expect(textField(' \t ', 10)).toBe('NONE      ');
  });

  test('(d) an integer too wide for its columns is refused, not shifted', () => {
    expect(() => writeUff([{ ...history, functionId: 10_000_000_000 }])).toThrow(/^integerField: 10000000000, need/);
    expect(() => writeUff([{ ...history, functionType: 123_456 }])).toThrow(/^integerField/);
    expect(() => integerField(1.5, 10)).toThrow(/^integerField/);
  });

  test('(e) a -1 that would read as the end of the dataset is refused', () => {
    expect(() => writeUff([{ ...history, loadCase: -1 }])).toThrow(/does not read as an end/);
    expect(() => writeUff([{ ...history, functionId: -17 }])).toThrow(/does not read as an end/);
    expect(integerField(-1, 4)).toBe('  -1');
  });

  test('(f) the sampling interval keeps six digits: 1/48000 s is 2e-6 off, and the rate is found again by rounding', () => {
    const { abscissa } = functionIn(writeUff([history]));
    if (abscissa.kind !== 'even') throw new Error('uneven');
    expect(abscissa.increment).toBe(2.08333e-5);
    expect(Math.abs(abscissa.increment * 48_000 - 1)).toBeLessThan(2e-6);
    expect(Math.round(1 / abscissa.increment)).toBe(48_000);
  });

  test('(g) the last line is as short as it need be; zeros that another program adds there are not taken for values', () => {
    const text = writeUff([history]);
    expect(text).toContain('\n -1.56250E-02\n');
    const padded = text.replace('\n -1.56250E-02\n', `\n -1.56250E-02${'  0.00000E+00'.repeat(5)}\n`);
    expect([...functionIn(padded).values]).toEqual([...history.values]);
  });

  test('(h) full columns that touch are read by their place', () => {
    const text = writeUff([history]).replace('  5.00000E-01 -2.50000E-01', '-5.000000E-01-2.500000E-01');
    expect([...functionIn(text).values].slice(0, 3)).toEqual([0, -0.5, -0.25]);
    const touching = { ...history, response: { entity: 'ABCDEFGHIJ', node: 1_234_567_890, direction: -3 } };
    expect(functionIn(writeUff([touching])).response).toEqual(touching.response);
  });

  test.each(['D', 'd', 'e', ''])('(i) "%s" before the exponent is read', (letter) => {
    expect(readReal(`  1.25${letter}+02`.padEnd(13), 0, 13)).toBe(125);
  });

  test('(j) frequency response and coherence are refused: no force was measured', () => {
    for (const functionType of [4, 6])
      expect(() => writeUff([{ ...history, functionType }])).toThrow(/need one that takes no measured force/);
  });

  test('unequal series are refused', () => {
    const uneven = { ...history, abscissa: { kind: 'uneven', values: Float64Array.of(1) } } as const;
    expect(() => writeUff([uneven])).toThrow(/need as many as abscissae/);
  });

  test('times are written as the format has them', () => {
    expect(uffTime('2026-11-25T08:00:07.5+01:00')).toBe('25-Nov-26 08:00:07');
    expect(() => uffTime('yesterday')).toThrow(/^uffTime: "yesterday"/);
    // The format has two digits for the year and says nothing of the century; that it turns at 70 is our choice.
    expect(isoFromUffTime('25-Nov-69 08:00:07')).toBe('2069-11-25T08:00:07.000Z');
    expect(isoFromUffTime('25-NOV-70 08:00:07')).toBe('1970-11-25T08:00:07.000Z');
    expect(isoFromUffTime('25-Nov-1970 08:00:07')).toBeUndefined();
  });
});

describe('a record as a universal file', () => {
  const record = {
    ...recordOf('i', [
      roundOf('r1', ['a', 'b'], { spot: 'bridge-centre' }),
      roundOf('r2', ['c'], { spot: 'upper bout' }),
      roundOf('r3', ['d'], { spot: 'bridge-centre' }),
    ]),
    name: 'Größe 1',
  };
  const tap = { samples: Float32Array.from([0, 0.1, -0.5]), sampleRateHz: 48_000, onsetIndex: 1 };

  test('taps are time histories from the first contact, spectra are auto spectra, and each spot is one node', () => {
    const spectra = new Map([['r1', { firstHz: 0, stepHz: 0.5, power: Float64Array.of(1, 2, 3) }]]);
    const text = writeUff(
      recordToUff(
        record,
        new Map([
          ['a', tap],
          ['c', tap],
          ['d', tap],
        ]),
        spectra,
      ),
    );
    const { datasets, skipped } = readUff(text);
    expect(skipped).toEqual([]);
    expect(datasets.map((dataset) => dataset.kind)).toEqual([
      'header',
      'units',
      'function',
      'function',
      'function',
      'function',
    ]);
    const functions = datasets.filter((dataset) => dataset.kind === 'function');
    expect(functions.map((each) => each.functionType)).toEqual([1, 2, 1, 1]);
    expect(functions.map((each) => each.reference.node)).toEqual([2, 2, 3, 2]);
    expect(functions.every((each) => each.reference.direction === -3 && each.response.direction === 0)).toBe(true);
    expect(functions[0]!.abscissa).toMatchObject({ kind: 'even', first: -2.08333e-5 });
    // 0.1 as a 32-bit float, to six digits.
    expect([...functions[0]!.values]).toEqual([0, 0.1, -0.5]);
    expect(datasets[0]).toMatchObject({ model: 'Grosse 1' });
  });

  test('our own taps come back with their holds, their spot and what was done, whatever commas stand in it', () => {
    const name = 'Demo, left-handed';
    const own = recordOf('i', [roundOf('r1', ['a', 'b'], { spot: 'upper bout, bass side' })]);
    const [step] = own.steps;
    const [round] = step!.rounds;
    const [first, second] = round!.taps;
    const written = {
      ...own,
      name,
      steps: [
        {
          ...step!,
          done: 'X legs, 1 mm off, both',
          rounds: [
            {
              ...round!,
              taps: [
                { ...first!, hold: 0 },
                { ...second!, hold: 2 },
              ],
            },
          ],
        },
      ],
    };
    const ring = Float32Array.from({ length: 900 }, (_, i) => 0.5 * Math.cos(i / 5) * Math.exp(-i / 200));
    const sounds = new Map(
      ['a', 'b'].map((id, i) => [
        id,
        { samples: ring.map((x) => x * (1 - 0.1 * i)), sampleRateHz: 8000, onsetIndex: 80 },
      ]),
    );
    const { bundle, content } = recordFromUff(
      writeUff(recordToUff(written, sounds)),
      'a.uff',
      '2026-11-25T08:00:00.000Z',
    );
    expect(content.ownTapIds).toEqual(['a', 'b']);
    expect(bundle?.record).toMatchObject({
      name,
      steps: [
        {
          done: 'X legs, 1 mm off, both',
          rounds: [{ spot: 'upper bout, bass side', taps: [{ hold: 0 }, { hold: 2 }] }],
        },
      ],
    });
  });

  test('a map of tap points gives nodes and real mode shapes with damping 1 / (2 Q)', () => {
    const shapes = {
      origin: 'taps' as const,
      points: [
        { node: 1, x: 0, y: 0, z: 0 },
        { node: 2, x: 0.1, y: 0.2, z: 0 },
      ],
      modes: [{ name: 'monopole', frequencyHz: 180, q: 40, z: [1, -0.5] }],
    };
    const { datasets } = readUff(writeUff(recordToUff(record, new Map(), new Map(), shapes)));
    expect(datasets.map((dataset) => dataset.kind)).toEqual(['header', 'units', 'nodes', 'shape']);
    expect(datasets[3]).toMatchObject({ frequencyHz: 180, dampingRatio: 0.0125, nodes: [{ z: 1 }, { z: -0.5 }] });
    const writtenAt = expect.stringMatching(/^\d\d-[A-Z][a-z]{2}-\d\d \d\d:\d\d:\d\d$/);
    const lines = (datasets[3] as { lines: readonly string[] }).lines.map((line) => line.trim());
    expect(lines).toEqual(['Mode 1, monopole', 'NONE', writtenAt, 'Movement out of the plate, from taps', 'NONE']);
  });
});
