// @vitest-environment happy-dom
// Figures of the steps: what each did to every mode, any two compared, and the diary with its weights and its air.

import { signal } from '@preact/signals';
import { describe, expect, test } from 'vitest';
import { tracks } from '../../src/compare/tracks.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import type { InstrumentRecord, Step } from '../../src/record/record.ts';
import type { Settings } from '../../src/storage/settings.ts';
import { StepDiary } from '../../src/views/step-diary.tsx';
import { StepEffects } from '../../src/views/step-effects.tsx';
import { inMould, story } from '../compare/story.ts';
import { cellOf, expectFigure, expectPlain, fieldNamed, show } from './shown.tsx';

const units: readonly (readonly [Settings['length'], Settings['mass'], string, string, number, number])[] = [
  ['mm', 'g', 'mm', 'g', 1, 1],
  ['inch', 'oz', 'in', 'oz', 1 / 25.4, 16 / 453.59237],
];

// Two modes: the first moves each time, the second hardly. Between the last two a step that was cut but not tapped.
const first = [194, 189, 178.5];
const second = [320.4, 320.3, 312.1];
const sigmas = [0.1, 0.2, 0.15];
const airs = [
  { humidityPercent: 47, tempC: 21 },
  { humidityPercent: 38, tempC: 24 },
  { humidityPercent: 50, tempC: 20 },
];
const told = story(first.map((hz, i) => ({ modesHz: [hz, second[i]!], sigmaHz: sigmas[i]! })));
const cut = (id: string, weighedG: number, offMm: number) => ({ id, brace: 'X', braceIds: [], weighedG, offMm });
const measured = told.steps.map(
  (step, i): Step => ({
    ...step,
    climate: airs[i]!,
    cuts: i === 0 ? [] : [cut(`c${i}`, [0, 0.8, 1.1][i]!, [0, 0.5, 0.35][i]!)],
  }),
);
const untapped: Step = { ...measured[1]!, id: 'u', rounds: [], cuts: [cut('cu', 0.4, 0.25)] };
const record: InstrumentRecord = { ...told, steps: [measured[0]!, measured[1]!, untapped, measured[2]!] };
const sigmaBetween = (i: number) => Math.sqrt(sigmas[i]! ** 2 + sigmas[i - 1]! ** 2);

describe('what each step did', () => {
  const page = (settings: Partial<Settings> = {}) =>
    show(<StepEffects record={record} followed={tracks(record, 'braced', inMould)} />, settings);
  const cell = (row: string, mode: string) => cellOf(page(), 'What each step did', row, mode);

  test.each([
    ['1. cut 0', 0],
    ['2. cut 1', 1],
    ['4. cut 2', 2],
  ] as const)('row %s: each mode where it stood, and its move', (row, i) => {
    const [hz, move] = cell(row, 'monopole').split(/(?<=Hz)/);
    expectFigure(hz!, first[i]!, sigmas[i]!, 'Hz');
    if (i === 0) expect(move).toBeUndefined();
    else expectFigure(move!, first[i]! - first[i - 1]!, sigmaBetween(i), 'Hz');
    const [other, otherMove] = cell(row, '312 Hz').split(/(?<=Hz)/);
    expectFigure(other!, second[i]!, sigmas[i]!, 'Hz');
    if (i === 1) expect(otherMove).toBe('no change you can trust');
    if (i === 2) expectFigure(otherMove!, second[2]! - second[1]!, sigmaBetween(2), 'Hz');
  });

  test.each(units)(
    'what came off since the last tap, and the air, in %s and %s',
    (length, mass, unit, massUnit, perMm, perG) => {
      const temperature = length === 'inch' ? 'f' : 'c';
      const shown = page({ length, mass, temperature });
      const hint = (row: string) =>
        cellOf(shown, 'What each step did', row, 'Step')
          .replace(/^\d\. cut \d/, '')
          .split(' · ');
      for (const [row, mm, g, percent, degrees] of [
        ['2. cut 1', 0.5, 0.8, -9, undefined],
        ['4. cut 2', 0.25 + 0.35, 0.4 + 1.1, 12, undefined],
      ] as const) {
        const [height, weight, humidity, warmth] = hint(row);
        expectPlain(height!, mm * perMm, unit);
        expectPlain(weight!, g * perG, massUnit);
        expectPlain(humidity!, percent, '%RH');
        expect(warmth).toBe(degrees);
      }
    },
  );

  test.each([
    ['c', 7, '°C'],
    ['f', 12.6, '°F'],
  ] as const)('a change of warmth in °%s is a difference', (temperature, degrees, unit) => {
    const warmed = {
      ...record,
      steps: record.steps.map((step, i) => (i === 1 ? { ...step, climate: { ...step.climate, tempC: 14 } } : step)),
    };
    const shown = show(<StepEffects record={warmed} followed={tracks(warmed, 'braced', inMould)} />, { temperature });
    expectPlain(cellOf(shown, 'What each step did', '2. cut 1', 'Step').split('temperature ')[1]!, -degrees, unit);
  });
});

describe.each(units)('the diary in %s and %s', (length, mass, _unit, massUnit, _perMm, perG) => {
  const drawn = startPlan('right');
  const bar = {
    ...drawn.braces[0]!,
    section: 'rectangle' as const,
    widthMm: 7,
    from: { xMm: 140, yMm: 0 },
    to: { xMm: 440, yMm: 0 },
    profile: [{ atMm: 0, heightMm: 12 }],
  };
  // Weighed; then 0.8 g weighed off; then a stretch of a drawn brace, not weighed, in two more steps.
  const off = { id: 'd', brace: bar.name, braceIds: [bar.id], fromMm: 100, toMm: 200, offMm: 1.2 };
  const steps: readonly Step[] = [{ ...measured[0]!, massG: 412.6 }, measured[1]!, { ...untapped, cuts: [off] }];
  const diary: InstrumentRecord = { ...told, plan: { ...drawn, braces: [bar] }, steps: [...steps] };
  const temperature = length === 'inch' ? 'f' : 'c';
  const page = () =>
    show(
      <StepDiary record={diary} />,
      { length, mass, temperature },
      { shelf: { record: signal(diary) }, newId: () => 'n' },
    );
  // A cut runs out over 4 mm at both ends.
  const workedG = (7 * 1.2 * (100 - 4) * drawn.braceWood.densityKgM3.value) / 1e6;

  test('the weight of each step as weighed, or what it was less what was cut since, and its air', () => {
    const facts = [...page().querySelectorAll('summary .hint')].map(({ textContent }) =>
      textContent!.split(' · ').slice(2),
    );
    for (const [i, grams, about] of [
      [0, 412.6 - 0.8 - workedG, 'about '],
      [1, 412.6 - 0.8, 'about '],
      [2, 412.6, ''],
    ] as const) {
      const [weight, air] = facts[i]!;
      expect(weight!.startsWith(about)).toBe(true);
      expectPlain(weight!.slice(about.length), grams * perG, massUnit);
      const [humidity, warmth] = air!.split(', ');
      const { humidityPercent, tempC } = airs[[1, 1, 0][i]!]!;
      expectPlain(humidity!, humidityPercent, '%RH');
      expectPlain(warmth!, temperature === 'f' ? 32 + 1.8 * tempC : tempC, temperature === 'f' ? '°F' : '°C');
    }
  });

  test('where it was not weighed: 15 % of what was worked out is its doubt, and none of what was weighed', () => {
    const entries = [...page().querySelectorAll('ol.diary > li')] as HTMLElement[];
    const hint = fieldNamed(entries[0]!, 'Mass of the piece').hint;
    const [, now, weighed, step, cutSince] = /here: (.+?), from (.+?) at step (\d) less (.+?) cut since\.$/.exec(hint)!;
    expectFigure(now!, (412.6 - 0.8 - workedG) * perG, 0.15 * workedG * perG, massUnit);
    expectPlain(weighed!, 412.6 * perG, massUnit);
    expect(step).toBe('1');
    expectPlain(cutSince!, (0.8 + workedG) * perG, massUnit);
    const [typed, typedUnit] = fieldNamed(entries[2]!, 'Mass of the piece').text.split(' ');
    expect(typedUnit).toBe(massUnit);
    expect(Number(typed)).toBeCloseTo(412.6 * perG, 3);
  });
});
