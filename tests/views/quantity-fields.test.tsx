// @vitest-environment happy-dom
// Every quantity is a field by its name alone: with its label, its unit, its limits, and what is typed in inches.
import { render } from 'preact';
import { describe, expect, test } from 'vitest';
import { type QuantityName, quantities } from '../../src/record/quantities.ts';
import { NumberField } from '../../src/views/parts/number-field.tsx';
import { quantityWords } from '../../src/views/words/en/quantities.ts';
import { fieldNamed, show } from './shown.tsx';

const names = Object.keys(quantities) as QuantityName[];
const lengths = names.filter((name) => quantities[name].measure === 'mm');

/** A field of a quantity, and what was typed into it, in the unit of the record. */
function fieldOf(of: QuantityName, inch: boolean, value: number | undefined = undefined) {
  const taken: number[] = [];
  const page = show(<NumberField of={of} value={value} onSet={(typed) => taken.push(typed)} />, {
    length: inch ? 'inch' : 'mm',
  });
  return { field: fieldNamed(page, quantityWords[of]), taken, done: () => render(null, page) };
}

test.each(names)('%s has a label and limits in order, and takes both of them', (name) => {
  const { least, most, measure } = quantities[name];
  expect(quantityWords[name]).toMatch(/^\p{Lu}/u);
  expect(least).toBeLessThan(most);
  for (const limit of [least, most]) {
    const { field, taken, done } = fieldOf(name, false);
    field.type(String(limit));
    expect(taken, measure).toEqual([limit]);
    done();
  }
});

describe.each(lengths)('%s in inches', (name) => {
  const { least, most } = quantities[name];
  test('is typed as a fraction and as a decimal, is shown so that it reads as the same again, and is kept within its limits', () => {
    const middle = (least + most) / 2;
    const sixteenths = Math.max(1, Math.floor((16 * Math.min(middle, 400)) / 25.4));
    for (const typed of [`${Math.floor(sixteenths / 16)} ${sixteenths % 16}/16"`, String(sixteenths / 16)]) {
      const { field, taken, done } = fieldOf(name, true);
      field.type(typed);
      if ((sixteenths / 16) * 25.4 <= most) expect(taken[0], typed).toBeCloseTo((sixteenths / 16) * 25.4, 9);
      else expect(taken).toEqual([]);
      done();
    }
    const { field, taken, done } = fieldOf(name, true, middle);
    expect(field.text).toMatch(/ in$/);
    field.type(field.text.replace(/ in$/, ''));
    // No further off than half a 64th of an inch.
    expect(Math.abs(taken[0]! - middle)).toBeLessThanOrEqual(25.4 / 128 + 1e-6);
    done();
    const beyond = fieldOf(name, true);
    beyond.field.type(String(most / 25.4 + 0.1));
    expect(beyond.taken).toEqual([]);
    beyond.done();
  });
});

/** What the trade reads in thousandths: thicknesses, heights of braces, depths of cuts, what a feeler, a gauge or a dial tells, and scales. Common practice, no source. */
const inThousandths: ReadonlySet<QuantityName> = new Set([
  'bridgeDown',
  ...([
    'boardThickness',
    'thicknessAt',
    'finishedThickness',
    'plateThickness',
    'topThickness',
    'slabThickness',
  ] as const),
  ...(['braceHeight', 'floorHeight', 'heightLeft', 'wholeBraceHeight', 'cutDepth', 'uneven', 'sanding'] as const),
  ...([
    'deflection',
    'setbackTreble',
    'setbackBass',
    'firstAction',
    'lastAction',
    'stringDiameter',
    'coreDiameter',
  ] as const),
  ...(['topRise', 'holeEdge', 'scale', 'rulerDoubt', 'caliperDoubt'] as const),
]);

test.each(lengths)('%s is shown in thousandths or off a rule, as the trade reads it', (name) => {
  // The field shows what it is given; its limits are for what is typed.
  const { field, done } = fieldOf(name, true, 3.875 * 25.4);
  expect(field.text).toBe(inThousandths.has(name) ? '3.875 in' : '3 7/8 in');
  done();
});
