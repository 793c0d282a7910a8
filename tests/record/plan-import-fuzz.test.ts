// Drawings of random and mutated text: read into an outline that an instrument can have, or refused by name.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { importOutline } from '../../src/record/plan-import.ts';
import { fuzzRuns, fuzzTimeout } from './runs.ts';

const svg =
  '<svg width="210mm" viewBox="0 0 210 297"><!-- <path d="M0 0"/> --><path id="a" d="M10,20 c1 2 3 4 5 6 S7 8 9 10 q1 2 3 4 t5 6 h100 v200 a5 5 0 0 1 9 9 z m1 1 l9e1 0 .5-.5 z"/><polygon points="0,0 100,0 100,300 0,300"/></svg>';
const dxf = ['0', 'SECTION', '2', 'ENTITIES', '0', 'POLYLINE', '66', '1']
  .concat([0, 400, 400, 0].flatMap((x, i) => ['0', 'VERTEX', '10', `${x}`, '20', `${i < 2 ? 0 : 300}`]))
  .concat(['0', 'SEQEND', '0', 'ENDSEC', '0', 'EOF'])
  .join('\n');
const odd = fc.constantFrom(
  ...[
    '',
    '"',
    "'",
    '<',
    '>',
    '<!--',
    '-->',
    '=',
    'M',
    'z',
    'a',
    'C',
    'T',
    ',',
    '-',
    '.',
    'e',
    '1e308',
    '-1e999',
    '9e307',
  ],
  ...['NaN', 'Infinity', '0x1f', '\n', '\r', '0\nVERTEX\n', '10\n1e309\n', 'viewBox="0 0 1e-300 1"', 'width="1e9mm"'],
  ...['<path d="M', '<polyline points="', ' d="', '0 '.repeat(40), 'é\u0000', '99999999999999999999'],
);
const mutated = (whole: string) =>
  fc
    .array(fc.tuple(fc.nat(whole.length), fc.nat(12), odd), { maxLength: 12 })
    .map((cuts) => cuts.reduce((text, [at, length, put]) => text.slice(0, at) + put + text.slice(at + length), whole));
const pathData = fc
  .array(fc.oneof(fc.constantFrom(...'MmLlHhVvCcSsQqTtAaZz'), fc.double().map(String), odd), { maxLength: 60 })
  .map((parts) => `<svg><path d="${parts.join(' ')}"/></svg>`);

test('the drawings that are mutated are outlines as they stand', () => {
  expect(importOutline('a.svg', svg).kind).toBe('outline');
  expect(importOutline('a.dxf', dxf).kind).toBe('outline');
});

test('an outline that is taken is finite, of a size an instrument can have, and not too fine', {
  timeout: fuzzTimeout,
}, () => {
  fc.assert(
    fc.property(
      fc.oneof(fc.string(), mutated(svg), pathData, mutated(dxf)),
      fc.constantFrom('a.svg', 'a.dxf'),
      (text, name) => {
        const read = importOutline(name, text);
        if (read.kind === 'refused') {
          expect(['no-path', 'too-few-points', 'too-large', 'not-a-number', 'absurd-size']).toContain(read.because);
          return;
        }
        const xs = read.points.map(({ xMm }) => xMm);
        const ys = read.points.map(({ yMm }) => yMm);
        expect([...xs, ...ys].every(Number.isFinite)).toBe(true);
        expect(read.points.length).toBeGreaterThanOrEqual(3);
        expect(read.points.length).toBeLessThanOrEqual(5000);
        // ten millimetres to three metres, as for any plate that is computed
        for (const side of [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)]) {
          expect(side).toBeGreaterThanOrEqual(9.99);
          expect(side).toBeLessThanOrEqual(3000.01);
        }
      },
    ),
    fuzzRuns,
  );
});

test.each([
  ['a number beyond all numbers', '<svg><path d="M0 0h1e999v300h-100z"/></svg>', 'not-a-number'],
  [
    'a body of three kilometres',
    '<svg width="3000000mm" viewBox="0 0 100 100"><path d="M0 0h100v100h-100z"/></svg>',
    'absurd-size',
  ],
  [
    'a body of a millimetre',
    '<svg width="1mm" viewBox="0 0 100 100"><path d="M0 0h100v100h-100z"/></svg>',
    'absurd-size',
  ],
  ['more points than a drawing needs', `<svg><path d="M0 0${'l1 0 0 .1'.repeat(3000)}z"/></svg>`, 'too-large'],
  ['a file without end', ' '.repeat(2_000_001), 'too-large'],
  ['a path that was drawn and left in a comment', '<svg><!-- <path d="M0 0h200v300h-200z"/> --></svg>', 'no-path'],
])('%s is refused', (_, text, because) => {
  expect(importOutline('a.svg', text)).toEqual({ kind: 'refused', because });
});
