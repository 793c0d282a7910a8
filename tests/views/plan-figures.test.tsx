// @vitest-environment happy-dom
// Figures of the drawn top: the fields of top and brace, a brace from its side, and a shaving, in both systems of units.

import { signal } from '@preact/signals';
import { act } from 'preact/test-utils';
import { describe, expect, test } from 'vitest';
import { appendStep, freshStep } from '../../src/record/edit.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { type InstrumentRecord, newRecord, type PlanBrace } from '../../src/record/record.ts';
import type { Settings } from '../../src/storage/settings.ts';
import { BraceForm } from '../../src/views/plan/brace-form.tsx';
import { ProfileDrawing } from '../../src/views/plan/profile.tsx';
import { ShavingEntry } from '../../src/views/plan/shaving.tsx';
import { TopForm } from '../../src/views/plan/top-form.tsx';
import { StepCuts } from '../../src/views/steps/cuts.tsx';
import { expectFigure, expectLength, expectPlain, fieldNamed, figuresOf, show } from './shown.tsx';

const atIso = '2026-11-25T08:00:00.000Z';
const drawn = startPlan('right');
// 300 mm long from the neck to the tail, so that its places are read from its second end: 12 mm high at its first end, 9 at its other.
const brace: PlanBrace = {
  ...drawn.braces[0]!,
  ...{ id: 'b', name: 'Bar', section: 'rectangle', widthMm: 7, grainDeg: 3, structural: false },
  ...{ from: { xMm: 320, yMm: 20 }, to: { xMm: 140, yMm: 260 } },
  profile: [
    { atMm: 0, heightMm: 12 },
    { atMm: 300, heightMm: 9 },
  ],
  floors: [{ fromMm: 180, toMm: 240, heightMm: 9.8 }],
};
const plan = { ...drawn, braces: [brace] };
const record: InstrumentRecord = { ...newRecord({ id: 'i', createdAtIso: atIso, name: 'I' }), plan };
const workshop = { shelf: { record: signal(record) }, newId: () => 'n', beginStep: () => undefined };
const units: readonly (readonly [Settings['length'], Settings['mass'], string, string, number, number])[] = [
  ['mm', 'g', 'mm', 'g', 1, 1],
  ['inch', 'oz', 'in', 'oz', 1 / 25.4, 16 / 453.59237],
];
const expectField = (page: HTMLElement, name: string, mm: number, unit: string, perMm: number): void =>
  expectLength(fieldNamed(page, name).text, mm * perMm, unit, name);

describe.each(units)('in %s and %s', (length, mass, unit, massUnit, perMm, perG) => {
  const settings = { length, mass };

  test('a brace from its side: its length and its highest place', () => {
    const texts = [...show(<ProfileDrawing brace={brace} />, settings).querySelectorAll('text')].map(
      ({ textContent }) => textContent!,
    );
    expect(texts[0]).toBe('0');
    expectPlain(texts[1]!, 300 * perMm, unit);
    expect(texts[2]).toContain('at its highest');
    expectPlain(texts[2]!, 12 * perMm, unit);
  });

  test('a brace by numbers, its places from the end it is read from, and where it is below its floor', () => {
    const shown = show(<BraceForm record={record} plan={plan} brace={brace} standing={brace} />, settings, workshop);
    for (const [name, mm] of [
      ['First end, from tail', 320],
      ['First end, off centre', 20],
      ['Second end, from tail', 140],
      ['Second end, off centre', 260],
      ['Width', 7],
      ['Place 1', 0],
      ['Height 1', 9],
      ['Place 2', 300],
      ['Height 2', 12],
      ['From', 60],
      ['To', 120],
      ['Floor', 9.8],
    ] as const)
      expectField(shown, name, mm, unit, perMm);
    expect(fieldNamed(shown, 'Grain off its length').text).toBe('3 °');
    const low = figuresOf(shown, /^(.+?) between (.+?) and (.+?), below its floor of (.+?)\. Take/);
    // 12 less a hundredth of 240 mm
    for (const [i, mm] of [9.6, 60, 120, 9.8].entries()) expectPlain(low[i]!, mm * perMm, unit);
  });

  test('a shaving: its stretch, what it takes off within its doubt, and what it would leave', () => {
    const shown = show(<ShavingEntry record={record} plan={plan} brace={brace} />, settings, workshop);
    expectField(shown, 'Shave from', 75, unit, perMm);
    expectField(shown, 'Shave to', 150, unit, perMm);
    expectField(shown, 'Taken off', 0.5, unit, perMm);
    // A cut runs out over 4 mm at both ends: width, depth and length less 4 mm; 15 % of it is the doubt of what was not weighed.
    const grams = (7 * 0.5 * (75 - 4) * drawn.braceWood.densityKgM3.value) / 1e6;
    expectFigure(figuresOf(shown, /^Takes off (.+?)\. /)[0]!, grams * perG, 0.15 * grams * perG, massUnit);
    const left = figuresOf(shown, /leave (.+?) between (.+?) and (.+?), below the floor of (.+?)\.$/);
    // Lowest where it is cut to its full depth: 79 mm from the read end, but the floor begins at 60 mm and is bare there.
    for (const [i, mm] of [Math.min(9.6, 12 - (300 - 79) / 100 - 0.5), 60, 120, 9.8].entries())
      expectPlain(left[i]!, mm * perMm, unit);

    const how = shown.querySelector('select')!;
    act(() => {
      how.value = 'places';
      how.dispatchEvent(new Event('change', { bubbles: true }));
    });
    const labels = [...shown.querySelectorAll('label')]
      .map(({ textContent }) => /^At (.+), now (.+)$/.exec(textContent!))
      .filter((found) => found !== null);
    expect(labels).toHaveLength(7);
    for (const [i, [, at, now]] of labels.entries()) {
      expectPlain(at!, 50 * i * perMm, unit);
      expectPlain(now!, (9 + 0.5 * i) * perMm, unit);
    }
  });

  test('a cut at a step: what was typed, and what is worked out where nothing was', () => {
    const cut = { id: 'c', brace: 'Bar', braceIds: ['b'], fromMm: 100, toMm: 180, offMm: 0.6 };
    const told = { id: 'd', brace: 'lattice', braceIds: [], weighedG: 1.7, offMm: 0.4, heightLeftMm: 6.2 };
    const untold = { id: 'e', brace: 'lattice', braceIds: [] };
    const step = { ...freshStep('s', atIso, undefined), cuts: [cut, told, untold] };
    const cutRecord = appendStep({ ...record, floors: [{ id: 'f', brace: 'lattice', heightMm: 5.5 }] }, step);
    const shown = show(<StepCuts record={cutRecord} step={step} onChange={() => undefined} />, settings, workshop);
    const [tied, words, bare] = [...shown.querySelectorAll('fieldset')] as HTMLElement[];
    for (const [name, mm] of [
      ['From', 120],
      ['To', 200],
      ['Taken off', 0.6],
    ] as const)
      expectField(tied!, name, mm, unit, perMm);
    const grams = (7 * 0.6 * (80 - 4) * drawn.braceWood.densityKgM3.value) / 1e6;
    const [weighs] = /Worked out: (.+?)\. Type/.exec(fieldNamed(tied!, 'Shavings weigh').hint)!.slice(1);
    expectFigure(weighs!, grams * perG, 0.15 * grams * perG, massUnit);
    const [height] = /Worked out: (.+?)\. Type/.exec(fieldNamed(tied!, 'Height left').hint)!.slice(1);
    // 12 less a hundredth of 176 mm, where the cut has its full depth for the last time
    expectPlain(height!, (12 - 1.76 - 0.6) * perMm, unit);
    expectField(words!, 'Taken off', 0.4, unit, perMm);
    expectField(words!, 'Height left', 6.2, unit, perMm);
    const [weighed, weighedUnit] = fieldNamed(words!, 'Shavings weigh').text.split(' ');
    expect(weighedUnit).toBe(massUnit);
    expect(Number(weighed)).toBeCloseTo(1.7 * perG, 3);
    expectPlain(fieldNamed(bare!, 'Height left').hint.replace('Floor ', ''), 5.5 * perMm, unit);
  });

  test('the top by numbers', () => {
    const wood = (base: number) => ({
      ...drawn.wood,
      eLongGpa: { value: base, sigma: base / 100 },
      eCrossGpa: { value: base / 10, sigma: base / 300 },
      shearGpa: { value: base / 20, sigma: base / 700 },
      densityKgM3: { value: base * 30, sigma: base },
    });
    const slab = (base: number) => ({ ...drawn.bridge, alongMm: base, acrossMm: 5 * base, thicknessMm: base / 4 });
    const top = {
      ...plan,
      outline: {
        kind: 'body' as const,
        lengthMm: 487,
        lowerMm: 391,
        waistMm: 243,
        upperMm: 286,
        lowerAtMm: 121,
        waistAtMm: 287,
        upperAtMm: 397,
      },
      soundhole: { xMm: 331, yMm: 0, radiusMm: 49 },
      ...{ scaleMm: 647, fretsToBody: 14, setbackTrebleMm: 1.5, setbackBassMm: 4.5, stringSpreadMm: 57 },
      ...{
        thicknessMm: 2.75,
        liningMm: 6.5,
        bridge: slab(30),
        bridgePlate: slab(40),
        wood: wood(12),
        braceWood: wood(14),
      },
      rimStiffnessN: { value: 310, sigma: 90 },
    };
    const shown = show(<TopForm record={{ ...record, plan: top }} plan={top} />, settings, workshop);
    for (const [name, mm] of [
      ['Body length', 487],
      ['Lower bout', 391],
      ['Waist', 243],
      ['Upper bout', 286],
      ['Lower bout, from tail', 121],
      ['Waist, from tail', 287],
      ['Upper bout, from tail', 397],
      ['Centre, from tail', 331],
      ['Radius', 49],
      ['Scale length', 647],
      ['Setback, treble', 1.5],
      ['Setback, bass', 4.5],
      ['Outer strings apart', 57],
      ['Thickness', 2.75],
      ['Lining', 6.5],
    ] as const)
      expectField(shown, name, mm, unit, perMm);
    expect([fieldNamed(shown, 'Frets to the body').text, fieldNamed(shown, 'Rim resists turning').text]).toEqual([
      '14',
      '310',
    ]);
    const part = (name: string) =>
      [...shown.querySelectorAll('fieldset')].find((each) => each.querySelector('legend')?.textContent === name)!;
    for (const [name, base] of [
      ['Bridge', 30],
      ['Bridge plate', 40],
    ] as const)
      for (const [side, mm] of [
        ['Along the strings', base],
        ['Across', 5 * base],
        ['Thick', base / 4],
      ] as const)
        expectField(part(name), side, mm, unit, perMm);
    for (const [name, base] of [
      ['Wood of the plate', 12],
      ['Wood of the braces', 14],
    ] as const) {
      const pairs = [...part(name).querySelectorAll('.pair')] as HTMLElement[];
      for (const [i, [label, value, sigma]] of (
        [
          ['Stiffness along (GPa)', base, base / 100],
          ['Stiffness across (GPa)', base / 10, base / 300],
          ['Shear (GPa)', base / 20, base / 700],
          ['Density (kg/m³)', base * 30, base],
        ] as const
      ).entries()) {
        expect(Number(fieldNamed(pairs[i]!, label).text)).toBeCloseTo(value, 4);
        // Two times in three is one sigma.
        expect(Number(fieldNamed(pairs[i]!, 'Known within, two times in three').text)).toBeCloseTo(sigma, 4);
      }
    }
  });
});
