// Inches as they are written and typed. 1 in = 25.4 mm exactly (international yard and pound agreement, 1959); rules of the
// trade are divided to 1/64 in (common practice, no source).
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { inchText, parseInch, parseInchToMm, parseMm } from '../../src/quantity/lengths.ts';

const MM = 25.4;

describe('typed', () => {
  test('fractions, decimals and both marks of an inch are read', () => {
    const typed: readonly (readonly [string, number])[] = [
      ['3/64', 3 / 64],
      ['9/32"', 9 / 32],
      ['15 9/32', 15 + 9 / 32],
      ['15\u00a09/32\u00a0in', 15 + 9 / 32],
      ['15-9/32 in', 15 + 9 / 32],
      ['3 1/2"', 3.5],
      ['3 1 / 2 ″', 3.5],
      ['3½', 3.5],
      ['3 ½ in', 3.5],
      ['⅝', 5 / 8],
      ['.110', 0.11],
      ['0,110', 0.11],
      ['25.4 in', 25.4],
      ['12 inches', 12],
      ['7.', 7],
    ];
    for (const [text, inch] of typed) {
      expect(parseInchToMm(text), text).toBeCloseTo(inch * MM, 9);
      expect(parseInch(text), text).toBeCloseTo(inch * MM, 9);
    }
  });

  test('either maker may type the other unit beside the number', () => {
    expect(parseInch('12 mm')).toBe(12);
    expect(parseInch('2,5mm')).toBe(2.5);
    expect(parseMm('2,8 mm')).toBe(2.8);
    expect(parseMm('2.8')).toBe(2.8);
    expect(parseMm('7/64')).toBeCloseTo((7 / 64) * MM, 9);
    expect(parseMm('15 9/32"')).toBeCloseTo((15 + 9 / 32) * MM, 9);
  });

  test('what is no length is not guessed at', () => {
    for (const text of [
      '',
      'abc',
      '3/0',
      '3//4',
      '-2',
      '1 2 3',
      '2.8.1',
      '1.5 1/2',
      '3/4/5',
      '12 ft',
      '½½',
      'mm',
      '/2',
    ]) {
      expect(parseInchToMm(text), text).toBeUndefined();
      expect(parseInch(text), text).toBeUndefined();
      expect(parseMm(text), text).toBeUndefined();
    }
  });

  test('every mark on a rule is read', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 64 * 40 }), (parts) => {
        expect(parseInchToMm(`${Math.floor(parts / 64)} ${parts % 64}/64`)).toBeCloseTo((parts / 64) * MM, 9);
      }),
      { seed: 4, numRuns: 100 },
    );
  });
});

/** A reading in inches, by hand: parts told apart by spaces and a stroke. */
function inches(text: string): number {
  const sign = text.startsWith('−') || text.startsWith('-') ? -1 : 1;
  return (
    sign *
    text
      .replace(/^[−-]/, '')
      .split('\u00a0')
      .map((part) => part.split('/').map(Number))
      .reduce((sum, [above, below = 1]) => sum + above! / below, 0)
  );
}

describe('written', () => {
  test('as the trade reads a rule and a caliper', () => {
    const rule: readonly (readonly [number, string])[] = [
      [388.14375, '15\u00a09/32'],
      [388.1, '15\u00a09/32'],
      [645, '25\u00a025/64'],
      [12.7, '1/2'],
      [25.4, '1'],
      [25.3, '1'],
      [50.8, '2'],
      [0, '0'],
      [-101.6, '−4'],
      [-95.25, '−3\u00a03/4'],
      // 1/4 in is a mark; 6 mm is none and lies below half an inch, where a 64th is too coarse.
      [6.35, '1/4'],
      [6, '0.236'],
      [0.05, '0.002'],
      [0.02, '0'],
    ];
    for (const [mm, text] of rule) expect(inchText(mm, 'rule'), String(mm)).toBe(text);
    expect(inchText(0.4, 3)).toBe('0.016');
    expect(inchText(2.794, 3)).toBe('0.110');
    expect(inchText(0.05, 4)).toBe('0.0020');
    expect(inchText(0.4, 3, (value, decimals) => value.toFixed(decimals).replace('.', ','))).toBe('0,016');
  });

  test('off a rule it is a mark in lowest terms, no further away than half a 64th', () => {
    fc.assert(
      fc.property(fc.double({ min: 12.7, max: 3000, noNaN: true }), fc.boolean(), (size, isNegative) => {
        const mm = isNegative ? -size : size;
        const text = inchText(mm, 'rule');
        expect(Math.abs(inches(text) - mm / MM), text).toBeLessThanOrEqual(1 / 128 + 1e-9);
        expect(text).toMatch(/^−?(\d+|\d+\u00a0\d+\/\d+|\d+\/\d+)$/);
        const [, above, below] = /(\d+)\/(\d+)$/.exec(text) ?? [];
        if (above !== undefined) {
          expect(Number(above) % 2, text).toBe(1);
          expect([2, 4, 8, 16, 32, 64], text).toContain(Number(below));
          expect(Number(above), text).toBeLessThan(Number(below));
        }
      }),
      { seed: 12, numRuns: 300 },
    );
  });

  test('below half an inch no more than a thousandth is lost', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 12.69, noNaN: true }), (mm) => {
        const text = inchText(mm, 'rule');
        expect(Math.abs(inches(text) - mm / MM), text).toBeLessThanOrEqual(0.001 + 1e-9);
      }),
      { seed: 13, numRuns: 300 },
    );
  });

  test('what is written is read back, and is then written alike', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 3000, noNaN: true }),
        fc.constantFrom('rule' as const, 3 as const, 4 as const),
        (mm, reading) => {
          const text = inchText(mm, reading);
          const back = parseInch(text)!;
          expect(Math.abs(back - mm), text).toBeLessThanOrEqual(MM / 128 + 1e-6);
          expect(inchText(back, reading)).toBe(text);
        },
      ),
      { seed: 14, numRuns: 300 },
    );
  });
});
