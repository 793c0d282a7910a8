// @vitest-environment happy-dom
// Figures of the steps: what each did to every mode, any two compared, and the diary with its weights and its air.

import { signal } from '@preact/signals';
import { act } from 'preact/test-utils';
import { describe, expect, test } from 'vitest';
import { tracks } from '../../src/compare/tracks.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import type { InstrumentRecord, Step } from '../../src/record/record.ts';
import type { Settings } from '../../src/storage/settings.ts';
import { CompareSteps } from '../../src/views/steps/compare-steps.tsx';
import { StepDiary } from '../../src/views/steps/diary.tsx';
import { StepEffects } from '../../src/views/steps/effects.tsx';
import { inMould, story } from '../compare/story.ts';
import { cellOf, expectFigure, expectPlain, fieldNamed, figureIn, figuresOf, show } from './shown.tsx';
import { toReference } from './wood-air.ts';

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

describe('two steps compared', () => {
  const workshop = { spectra: { of: () => ({ value: { kind: 'none' } }) } };
  const page = () => show(<CompareSteps record={record} />, {}, workshop);
  const cells = (shown: HTMLElement, row: string) => (column: string) => cellOf(shown, 'What moved', row, column);
  /** Move, share and cents of a quotient, each with its sigma. */
  const expectMove = (
    cell: (column: string) => string,
    [a, sa]: readonly [number, number],
    [b, sb]: readonly [number, number],
  ) => {
    expectFigure(cell('Moved'), b - a, Math.sqrt(sa ** 2 + sb ** 2), 'Hz');
    const share = Math.sqrt((sa / a) ** 2 + (sb / b) ** 2);
    expectFigure(cell('%'), (100 * (b - a)) / a, ((100 * b) / a) * share, '');
    expectFigure(cell('Cents'), (1200 * Math.log(b / a)) / Math.log(2), (1200 / Math.log(2)) * share, '');
  };

  test('before, after, and what moved in Hz, per cent and cents', () => {
    const cell = cells(page(), 'monopole');
    expectFigure(cell('Before'), first[1]!, sigmas[1]!, 'Hz');
    expectFigure(cell('After'), first[2]!, sigmas[2]!, 'Hz');
    expectMove(cell, [first[1]!, sigmas[1]!], [first[2]!, sigmas[2]!]);
  });

  test('with the weather taken out: carried to the air of the later step, with the doubt of doing so', () => {
    const shown = page();
    const { tone } = toReference(38, 24, 3).along('plate');
    expectFigure(figuresOf(shown, /moves the modes by about (.+?)\.$/)[0]!, 100 * tone.value, 100 * tone.sigma, '%');
    const [humidity, warmth] = figuresOf(
      shown,
      /^Humidity went up by (.+?)(?:, temperature went down by (.+?))? between/,
    );
    expectPlain(humidity!, 12, '%RH');
    expect(warmth).toBeUndefined();
    const box = shown.querySelector<HTMLInputElement>('input[type="checkbox"]')!;
    act(() => box.click());
    const carried = first[1]! * (1 + tone.value);
    const sigma = Math.sqrt((sigmas[1]! * (1 + tone.value)) ** 2 + (first[1]! * tone.sigma) ** 2);
    expectMove(cells(shown, 'monopole'), [carried, sigma], [first[2]!, sigmas[2]!]);
  });

  test('a move that cannot be told from none: under the half width of their difference', () => {
    const shown = page();
    const [before, after] = [...shown.querySelectorAll('select')];
    for (const [choice, option] of [
      [before!, 0],
      [after!, 1],
    ] as const)
      act(() => {
        choice.value = choice.options[option]!.value;
        choice.dispatchEvent(new Event('change', { bubbles: true }));
      });
    const row = [...shown.querySelectorAll('section[aria-label="What moved"] tbody tr')].at(-1)!;
    expect(figureIn(row.children[1]!.textContent!).value).toBeCloseTo(320.4, 1);
    const under = figureIn(/\(under (.+)\)/.exec(row.children[3]!.textContent!)![1]!);
    // Never less than it is: a move as large would not be trusted either.
    expect(under.value).toBeGreaterThanOrEqual(1.959964 * sigmaBetween(1) - under.digit * 1e-3);
    expect(under.value - 1.959964 * sigmaBetween(1)).toBeLessThan(under.digit);
    expect(under.unit).toBe('Hz');
  });

  test('a mode that came or went stands in its own column', () => {
    const [a, b] = [{ modesHz: [180, 250] }, { modesHz: [179, 400] }];
    const shown = show(<CompareSteps record={story([a, b])} />, {}, workshop);
    const rows = [...shown.querySelectorAll('section[aria-label="What moved"] tbody tr')].map((row) =>
      [...row.children].map(({ textContent }) => textContent!),
    );
    const [gone, came] = [
      rows.find((row) => row.includes('not heard again'))!,
      rows.find((row) => row.includes('appeared'))!,
    ];
    expectFigure(gone[1]!, 250, 0.1, 'Hz');
    expect(gone[2]).toBe('–');
    expectFigure(came[2]!, 400, 0.1, 'Hz');
    expect(came[1]).toBe('–');
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
