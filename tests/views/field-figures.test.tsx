// @vitest-environment happy-dom
// Figures in the fields that views share: what stands in them, what stands below them, and what is stored when one is typed.

import { signal } from '@preact/signals';
import { act } from 'preact/test-utils';
import { describe, expect, test } from 'vitest';
import type { Estimate } from '../../src/quantity/estimate.ts';
import type { ClimateNote, InstrumentRecord, Target } from '../../src/record/record.ts';
import type { Settings } from '../../src/storage/settings.ts';
import { ClimateFields } from '../../src/views/parts/climate-fields.tsx';
import { EstimateField } from '../../src/views/parts/estimate-field.tsx';
import { MeasuredField, type Tool } from '../../src/views/parts/measured-field.tsx';
import { Targets } from '../../src/views/steps/targets.tsx';
import { inMould, story } from '../compare/story.ts';
import { expectLength, expectPlain, fieldNamed, show } from './shown.tsx';

/** Of the normal distribution, 95 %. Source: any table of it. */
const HALF_WIDTH = 1.959964;
const perInch = 25.4;
const perOunce = 453.59237 / 16;

describe.each([
  ['mm', 'mm', 'rulerMm', 'mm', 1],
  ['inch', 'mm', 'rulerMm', 'in', perInch],
  ['mm', 'mm', 'caliperMm', 'mm', 1],
  ['inch', 'mm', 'caliperMm', 'in', perInch],
  ['g', 'g', 'scaleG', 'g', 1],
  ['oz', 'g', 'scaleG', 'oz', perOunce],
] as const)('a measured field in %s', (system, measure, tool: Tool, unit, of) => {
  const settings: Partial<Settings> = {
    ...(measure === 'mm' ? { length: system as 'mm' | 'inch' } : { mass: system as 'g' | 'oz' }),
    ...{ rulerMm: 0.8, caliperMm: 0.06, scaleG: 0.3 },
  };
  const toolHalf = { rulerMm: 0.8, caliperMm: 0.06, scaleG: 0.3 }[tool];
  const page = (value: Estimate | undefined, onChange: (value: Estimate | undefined) => void = () => undefined) =>
    show(
      <MeasuredField
        label="Size"
        of={measure === 'mm' ? 'placeAlongBrace' : 'shavings'}
        tool={tool}
        value={value}
        onChange={onChange}
      />,
      settings,
    );
  const near = (text: string, value: number) => {
    if (text.includes('/')) return expectLength(text, value / of, unit);
    const [number, saidUnit] = text.split(' ');
    expect(saidUnit).toBe(unit);
    // Three digits of a half width, and a ten-thousandth of an inch or an ounce.
    expect(Math.abs(Number(number) - value / of), text).toBeLessThan(0.005 * (value / of) + 5.1e-5);
  };

  test('value and half width', () => {
    const shown = page({ value: 213.4, sigma: 0.31 });
    near(fieldNamed(shown, 'Size').text, 213.4);
    near(fieldNamed(shown, 'Size ±').text, HALF_WIDTH * 0.31);
  });

  test('the half width offered is that of the tool, and so is the sigma that is stored with a typed value', () => {
    let stored: Estimate | undefined;
    const shown = page(undefined, (value) => (stored = value));
    near(fieldNamed(shown, 'Size ±').text, toolHalf);
    fieldNamed(shown, 'Size').type('4');
    expect(stored!.value).toBeCloseTo(4 * of, 9);
    expect(stored!.sigma).toBeCloseTo(toolHalf / HALF_WIDTH, 6);
  });

  test('a typed half width is stored as a sigma', () => {
    let stored: Estimate | undefined;
    const shown = page({ value: 213.4, sigma: 0.31 }, (value) => (stored = value));
    fieldNamed(shown, 'Size ±').type('0.25');
    expect(stored!.value).toBe(213.4);
    expect(stored!.sigma).toBeCloseTo((0.25 * of) / HALF_WIDTH, 6);
  });
});

describe.each([
  ['mm', 'mm', 1],
  ['inch', 'in', perInch],
] as const)('an estimate field in %s', (length, unit, of) => {
  const page = (value: Estimate | undefined, onChange: (value: Estimate | undefined) => void = () => undefined) =>
    show(<EstimateField label="Depth" of="placeAlongBrace" offeredDoubt={0.05} value={value} onChange={onChange} />, {
      length,
    });

  test('value and half width, and what is stored when either is typed', () => {
    const stored: (Estimate | undefined)[] = [];
    const shown = page({ value: 101.6, sigma: 1.2 }, (value) => stored.push(value));
    const [value, half] = [fieldNamed(shown, 'Depth'), fieldNamed(shown, '±')];
    expectPlain(value.text, 101.6 / of, unit);
    const [number, halfUnit] = half.text.split(' ');
    expect(halfUnit).toBe(unit);
    // Two digits of it.
    expect(Math.abs(Number(number) * of - HALF_WIDTH * 1.2)).toBeLessThan(0.051);
    half.type('0.5');
    value.type('4');
    expect(stored[0]!.sigma).toBeCloseTo((0.5 * of) / HALF_WIDTH, 6);
    // The share of the doubt stays.
    expect(stored[1]!.value).toBeCloseTo(4 * of, 9);
    expect(stored[1]!.sigma).toBeCloseTo((4 * of * 1.2) / 101.6, 9);
  });

  test('the doubt that is offered is a half width', () => {
    let stored: Estimate | undefined;
    fieldNamed(
      page(undefined, (value) => (stored = value)),
      'Depth',
    ).type('4');
    expect(stored!.sigma).toBeCloseTo((0.05 * 4 * of) / HALF_WIDTH, 6);
  });
});

describe.each([
  ['c', '23.5 °C', '20', 20],
  ['f', '74.3 °F', '68', 20],
] as const)('the air, in °%s', (temperature, shownTemperature, typed, tempC) => {
  const settings = { temperature, hygrometer: 'Hair', hygrometerOffsetPercent: 2.2 };

  test('what the hygrometer reads, what is true, and the temperature', () => {
    const climate = { humidityPercent: 45.1 + 1.2, hygrometerOffsetPercent: 1.2, tempC: 23.5 };
    const shown = show(<ClimateFields climate={climate} onChange={() => undefined} />, settings);
    const reads = fieldNamed(shown, 'Hygrometer reads');
    // The offset is the one that was noted with it.
    expect(reads.text).toBe('45.1 %');
    expect(reads.hint).toBe('True: 46.3 % (+1.2)');
    expect(fieldNamed(shown, 'Temperature').text).toBe(shownTemperature);
  });

  test('what is stored when they are typed', () => {
    const stored: ClimateNote[] = [];
    const shown = show(
      <ClimateFields climate={{}} onChange={(_editName, climate) => stored.push(climate)} />,
      settings,
    );
    fieldNamed(shown, 'Hygrometer reads').type('44');
    fieldNamed(shown, 'Temperature').type(typed);
    expect(stored[0]!.humidityPercent).toBeCloseTo(46.2, 9);
    expect(stored[0]!.hygrometerOffsetPercent).toBe(2.2);
    expect(stored[1]!.tempC).toBeCloseTo(tempC, 9);
  });
});

describe('targets', () => {
  const targets: readonly Target[] = [
    { id: 'a', mode: 'monopole', stage: 'braced', frequencyHz: 176.4, toleranceHz: 1.8, origin: 'typed' },
    { id: 'b', mode: 'cross dipole', stage: 'braced', frequencyHz: 263.2, toleranceHz: 3.1, origin: 'typed' },
  ];
  const record: InstrumentRecord = { ...story([{ modesHz: [187.26, 301.2] }]), targets: [...targets] };
  const page = (edit: (change: (record: InstrumentRecord) => InstrumentRecord) => void = () => undefined) =>
    show(
      <Targets record={record} conditions={{ stage: 'braced', support: inMould }} />,
      {},
      {
        shelf: {
          record: signal(record),
          summaries: signal([]),
          edit: (_id: string, _editName: string, change: typeof edit extends (c: infer C) => void ? C : never) =>
            edit(change),
        },
        newId: () => 'new',
        forecasts: { modes: { current: signal({ kind: 'none' }), ask: () => undefined } },
      },
    );

  test('each mode with its own frequency and tolerance', () => {
    const parts = [...page().querySelectorAll('fieldset')] as HTMLElement[];
    for (const [i, { mode, frequencyHz, toleranceHz }] of targets.entries()) {
      expect(parts[i]!.querySelector('legend')!.textContent).toBe(mode);
      expectPlain(fieldNamed(parts[i]!, 'Wanted').text, frequencyHz, 'Hz');
      expectPlain(fieldNamed(parts[i]!, 'Tolerance ±').text, toleranceHz, 'Hz');
    }
  });

  test('taken from a signature: the named modes, within one per cent', () => {
    let after = record;
    const shown = page((change) => (after = change(after)));
    const button = [...shown.querySelectorAll('button')].find(({ textContent }) => textContent === 'Take as target')!;
    act(() => button.click());
    const taken = after.targets.find(({ mode }) => mode === 'monopole')!;
    expect(Math.abs(taken.frequencyHz - 187.26)).toBeLessThan(0.051);
    expect(Math.abs(taken.toleranceHz - 1.8726)).toBeLessThan(0.051);
    expect(after.targets.map(({ mode }) => mode).toSorted()).toEqual(['cross dipole', 'monopole']);
  });
});
