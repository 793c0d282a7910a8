// @vitest-environment happy-dom
// Figures of the forecast: each answer of the solver under its own label, with its own interval and unit.

import { signal } from '@preact/signals';
import { act } from 'preact/test-utils';
import { describe, expect, test } from 'vitest';
import { createForecasts } from '../../src/app/forecasts.ts';
import { OWN_SET } from '../../src/compare/string-load.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import type { InstrumentRecord, PlanBrace } from '../../src/record/record.ts';
import type { Settings } from '../../src/storage/settings.ts';
import { ForecastView } from '../../src/views/forecast/forecast-view.tsx';
import { SensitivityScale, SensitivityTable } from '../../src/views/forecast/sensitivity.tsx';
import { story } from '../compare/story.ts';
import { cellOf, expectFigure, expectPlain, figuresOf, settled, show } from './shown.tsx';

const of = (value: number, sigma: number) => ({ value, sigma });
const units: readonly (readonly [Settings['length'], Settings['mass'], string, string, number, number])[] = [
  ['mm', 'g', 'mm', 'g', 1, 1],
  ['inch', 'oz', 'in', 'oz', 1 / 25.4, 16 / 453.59237],
];

const drawn = startPlan('right');
const floored = drawn.braces.map((brace) => ({ ...brace, floors: [{ fromMm: 0, toMm: 2000, heightMm: 3 }] }));
const told = story([
  { modesHz: [194, 301], sigmaHz: 0.2 },
  { modesHz: [190, 300], sigmaHz: 0.3 },
]);
// Six strings by weight, first string first. Sounding 650 mm.
const gramsPerM = [0.38, 0.65, 1.8, 3.1, 5.2, 8.6];
const record: InstrumentRecord = {
  ...told,
  plan: { ...drawn, braces: floored },
  targets: [
    { id: 't', mode: 'monopole', stage: 'braced', frequencyHz: 176, toleranceHz: 2.5, origin: 'typed' },
    { id: 'u', mode: 'cross dipole', stage: 'braced', frequencyHz: 285.5, toleranceHz: 3, origin: 'typed' },
  ],
  box: {
    strings: {
      ...{
        setName: OWN_SET,
        scaleMm: 650,
        tuning: 'standard',
        saddleHeightMm: 12.5,
        breakAngleDeg: 25,
        neckAngleDeg: 0.5,
      },
      ownSet: gramsPerM.map((unitMassGPerM) => ({ kind: 'weighed', unitMassGPerM })),
      turns: [
        { after: '10 min', turnDeg: 1.9 },
        { after: '1 week', turnDeg: 4.1 },
      ],
      rises: [{ after: '10 min', riseMm: 1.6 }],
    },
  },
};

const mode = (name: string, frequencyHz: ReturnType<typeof of>) => ({
  frequencyHz,
  name,
  contours: [],
  bands: [],
  places: { hold: [], tap: [] },
  atSpots: [],
});
const fit = (shift: number, isMisfit: boolean, farProperties: readonly string[] = []) => ({
  parameters: [
    { property: 'plate eL', relativeSigma: 0.22 },
    { property: 'brace density', relativeSigma: 0.1 },
  ],
  factors: [of(1.13 + shift, 0.06), of(0.94 - shift, 0.05)],
  fits: [
    { mode: 0, measured: of(194 - shift, 0.2), computed: of(192.7 + shift, 1.4), apart: of(1.3, 1.5) },
    { mode: 1, measured: of(301 - shift, 0.4), computed: of(303.2 + shift, 2.2), apart: of(-2.2, 2.3) },
  ],
  misfitPerMode: 0,
  isMisfit,
  farProperties,
});
const strungNow = { turnDeg: of(2.31, 0.21), riseMm: of(1.83, 0.16) };
const strungThen = { turnDeg: of(2.58, 0.24), riseMm: of(2.04, 0.19) };
const move = (rank: number, before: number, by: number, sigma: number) => ({
  ...{ mode: rank, before: of(before, 0.5), after: of(before + by, 1.1 * sigma), move: of(by, sigma), likeness: 1 },
});
const odds = (depthMm: number, chancePast: number, chanceWithin: number) => ({
  ...{ depthMm, chancePast, chanceWithin, landsAt: [] },
});
const answers = {
  'top-modes': {
    kind: 'modes',
    modes: [mode('monopole', of(192.7, 4.6)), mode('cross dipole', of(303.2, 7.1)), mode('long dipole', of(391, 9.2))],
    massG: of(214.3, 8.7),
    sensitivity: [],
  },
  'top-strung': strungNow,
  'top-agreement': {
    ...{
      kind: 'agreement',
      names: ['monopole', 'cross dipole'],
      pairedBy: ['name'],
      first: fit(0, false),
      latest: fit(0.02, false),
    },
    past: [
      { stepId: 's1', mode: 0, forecast: of(-5.2, 0.9), measured: of(-4, 0.36), agrees: true },
      { stepId: 's1', mode: 1, forecast: of(-3.1, 0.4), measured: of(-1, 0.5), agrees: false },
    ],
    spreadFactor: 1.42,
  },
  'top-advice': {
    ...{ kind: 'advice', names: ['monopole', 'cross dipole', 'long dipole'], strungNow },
    measureNext: {
      name: 'monopole',
      offers: [
        { what: 'heights', left: 0.614 },
        { what: 'mode', mode: 2, left: 0.87 },
      ],
    },
    alternatives: [
      {
        ...{ way: 'least wood', caution: 'nothing-else-reaches' },
        whole: odds(1.2, 0.31, 0.52),
        next: { kind: 'pass', pass: odds(0.4, 0.08, 0.61), now: odds(0, 0, 0), cuts: [] },
        shavings: [],
        removedG: 3.14,
        reached: [true, false],
        moves: [move(0, 190, -13.2, 1.2), move(1, 300, -6.4, 1.7), move(2, 391, -9.9, 2.1)],
        strung: strungThen,
        turnsTooFar: true,
      },
    ],
  },
} as const;

async function page(
  settings: Partial<Settings> = {},
  given: Readonly<Record<string, unknown>> = answers,
): Promise<HTMLElement> {
  const forecasts = createForecasts({
    run: async (kind: string) => given[kind],
  } as unknown as Parameters<typeof createForecasts>[0]);
  const shown = show(<ForecastView />, settings, { shelf: { record: signal(record) }, forecasts });
  for (let i = 0; i < 3; i++) await settled();
  const find = [...shown.querySelectorAll('button')].find(({ textContent }) => textContent === 'Find ways')!;
  act(() => find.click());
  await settled();
  return shown;
}

test('what would narrow the first way is said, the most telling first', async () => {
  const said = [...(await page()).querySelectorAll('.ways + .hint li')].map(({ textContent }) => textContent);
  expect(said).toEqual([
    'the heights by caliper after the cut: to 61 % of its spread',
    'the long dipole tapped and named: to 87 % of its spread',
  ]);
});

test.each([
  [fit(0.02, false), 'The woods within their stated spreads explain the modes measured.'],
  [fit(0.02, true), 'no woods within the stated spreads explain the modes measured'],
  [fit(0.02, false, ['brace density']), 'further from the drawing than it was stated to be: braces, density.'],
])('whether woods explain the taps, and which is out of its spread', async (latest, said) => {
  const all = { ...answers, 'top-agreement': { ...answers['top-agreement'], latest } };
  expect((await page(undefined, all)).textContent).toContain(said);
});

test('every mode with its frequency, and the one it was tapped as', async () => {
  const buttons = [...(await page()).querySelectorAll('.forecast-modes button')] as HTMLElement[];
  for (const [i, [name, hz, tapped]] of (
    [
      ['monopole', of(192.7, 4.6), of(190, 0.3)],
      ['cross dipole', of(303.2, 7.1), undefined],
      ['long dipole', of(391, 9.2), undefined],
    ] as const
  ).entries()) {
    expect(buttons[i]!.textContent).toContain(name);
    expectFigure(buttons[i]!.querySelector('.forecast-hz')!.textContent!, hz.value, hz.sigma, 'Hz');
    if (tapped !== undefined)
      expectFigure(
        /tapped at (.+)$/.exec(buttons[i]!.querySelector('.hint')!.textContent!)![1]!,
        tapped.value,
        tapped.sigma,
        'Hz',
      );
  }
});

describe.each(units)('in %s and %s', (length, mass, unit, massUnit, perMm, perG) => {
  const settings = { length, mass };

  test('the mass of the top', async () => {
    expectFigure(figuresOf(await page(settings), /model’s\. (.+?) in all\./)[0]!, 214.3 * perG, 8.7 * perG, massUnit);
  });

  test('under the strings: turn, rise, pull and height', async () => {
    const said = figuresOf(
      await page(settings),
      /would turn by (.+?) and rise by (.+?) at once, under (.+?) at (.+?) above/,
    );
    expectFigure(said[0]!, 2.31, 0.21, '°');
    expectFigure(said[1]!, 1.83 * perMm, 0.16 * perMm, unit);
    // Mersenne: mu (2 L f)^2, E4 to E2 in equal temperament below A4 = 440 Hz. A weighed string is good to 1 %, all of one maker.
    const semitones = [-5, -10, -14, -19, -24, -29];
    const newton = gramsPerM.reduce(
      (sum, grams, i) => sum + (grams / 1000) * (1.3 * 440 * 2 ** (semitones[i]! / 12)) ** 2,
      0,
    );
    expectFigure(said[2]!, newton, 0.01 * newton, 'N');
    expectPlain(said[3]!, 12.5 * perMm, unit);
  });

  test('measured once strung, each beside its own forecast', async () => {
    const parts = [...(await page(settings)).querySelectorAll('fieldset')] as HTMLElement[];
    const at = (time: string) => parts.find((part) => part.querySelector('legend')?.textContent === time)!;
    const [turn, foreseen] = figuresOf(at('After 10 min'), /^Turn (.+?) measured, (.+?) foreseen: as foreseen\.$/);
    expectPlain(turn!, 1.9, '°');
    expectFigure(foreseen!, 2.31, 0.21, '°');
    const [rise, risesTo] = figuresOf(at('After 10 min'), /^Rise (.+?) measured, (.+?) foreseen: as foreseen\.$/);
    expectPlain(rise!, 1.6 * perMm, unit);
    expectFigure(risesTo!, 1.83 * perMm, 0.16 * perMm, unit);
    const [more] = figuresOf(at('After 1 week'), /foreseen: (.+?) more than foreseen\.$/);
    expectPlain(more!, 4.1 - 2.31, '°');
  });

  test('a way is named by its wood, where it leads and the chance to go past, and says its first pass', async () => {
    const shown = await page(settings);
    const said = figuresOf(
      shown,
      /^(.+?) off: monopole to (.+?), cross dipole to (.+?), (.+?) in 100 to go past in one go$/,
    );
    expectPlain(said[0]!, 3.14 * perG, massUnit);
    expectFigure(said[1]!, 176.8, 1.1 * 1.2, 'Hz');
    expectFigure(said[2]!, 293.6, 1.1 * 1.7, 'Hz');
    expect(said[3]).toBe('31');
    const pass = figuresOf(
      shown,
      /^First pass: (.+?) at the deepest, .+?: (.+?) in 100 to go past, (.+?) in 100 to end within\.$/,
    );
    expectPlain(pass[0]!, 0.4 * perMm, unit);
    expect(pass.slice(1)).toEqual(['8', '61']);
    expect(shown.textContent).toContain('carries the strings, and nothing else reaches');
  });

  test('a way: wood, moves, where they lead, and the bridge before and after', async () => {
    const shown = await page(settings);
    expectPlain(figuresOf(shown, /^(.+?) of wood in all\.$/)[0]!, 3.14 * perG, massUnit);
    for (const [name, verdict, [by, sigma], to, target, tolerance] of [
      ['monopole', 'reaches', [-13.2, 1.2], 176.8, 176, 2.5],
      ['cross dipole', 'does not reach', [-6.4, 1.7], 293.6, 285.5, 3],
    ] as const) {
      const said = figuresOf(shown, new RegExp(`^${name} (.+?), to (.+?): ${verdict} (.+?) Hz within (.+?)\\.$`));
      expectFigure(said[0]!, by, sigma, 'Hz');
      expectFigure(said[1]!, to, 1.1 * sigma, 'Hz');
      expectPlain(said[2]!, target, '');
      expectPlain(said[3]!, tolerance, '');
    }
    expectFigure(figuresOf(shown, /^long dipole (.+)$/)[0]!, -9.9, 2.1, 'Hz');
    const bridge = figuresOf(shown, /then turn the bridge by (.+?) \(now (.+?)\) and lift it by (.+?)\. /);
    expectFigure(bridge[0]!, 2.58, 0.24, '°');
    expectFigure(bridge[1]!, 2.31, 0.21, '°');
    expectFigure(bridge[2]!, 2.04 * perMm, 0.19 * perMm, unit);
  });
});

test('what is aimed at, and how forecasts fared', async () => {
  const shown = await page();
  const aims = figuresOf(shown, /^Toward monopole (.+?) within (.+?), cross dipole (.+?) within (.+?)\. /);
  for (const [i, [value, unit]] of (
    [
      [176, 'Hz'],
      [2.5, ''],
      [285.5, 'Hz'],
      [3, ''],
    ] as const
  ).entries())
    expectPlain(aims[i]!, value, unit);
  expect(figuresOf(shown, /held in (\d) of (\d) moves\. .+ are (.+?) times wider/)).toEqual(['1', '2', '1.4']);
  expect(figuresOf(shown, /^Right within its own spread in (\d) of (\d) moves so far/)).toEqual(['1', '2']);
});

test('forecast against measured, step by step', async () => {
  const shown = await page();
  for (const { mode: rank, forecast, measured, agrees } of answers['top-agreement'].past) {
    const cell = (column: string) =>
      cellOf(shown, 'Forecast against measured', ['monopole', 'cross dipole'][rank]!, column);
    expectFigure(cell('Forecast, Hz'), forecast.value, forecast.sigma, '');
    expectFigure(cell('Measured, Hz'), measured.value, measured.sigma, '');
    expect(cell('Held?')).toBe(agrees ? 'yes' : 'no');
  }
});

test.each([
  ['First step tapped: what every later forecast rests on', 0],
  ['Latest step tapped: what the advice rests on', 0.02],
] as const)('%s: how each mode fits, and what the fit moved', async (title, shift) => {
  const shown = await page();
  const { fits, factors, parameters } = fit(shift, false);
  for (const { mode: rank, measured, computed, apart } of fits) {
    const cell = (column: string) =>
      cellOf(shown, `How each mode fits: ${title}`, ['monopole', 'cross dipole'][rank]!, column);
    expectFigure(cell('Measured'), measured.value, measured.sigma, 'Hz');
    expectFigure(cell('Computed after the fit'), computed.value, computed.sigma, 'Hz');
    expectFigure(cell('Apart'), apart.value, apart.sigma, 'Hz');
  }
  for (const [i, name] of ['Plate, stiffness along', 'Braces, density'].entries()) {
    const cell = (column: string) => cellOf(shown, `What the fit moved: ${title}`, name, column);
    expectFigure(cell('Times what was drawn'), factors[i]!.value, factors[i]!.sigma, '');
    expectFigure(cell('Beforehand'), 1, parameters[i]!.relativeSigma, '');
  }
});

describe('what each place does', () => {
  // 300 mm long, read from its second end: the tail.
  const brace: PlanBrace = {
    ...drawn.braces[0]!,
    id: 'b',
    name: 'Bar',
    from: { xMm: 320, yMm: 20 },
    to: { xMm: 140, yMm: 260 },
  };
  const stretches = [
    { brace: 0, fromMm: 40, toMm: 60, hzPerMm: [-1.62, -0.4], gramsPerMm: 0.06 },
    { brace: 0, fromMm: 200, toMm: 220, hzPerMm: [-2.21, 0.9], gramsPerMm: 0.11 },
  ];
  const given = { stretches, mode: 0 };
  const plan = { ...drawn, braces: [brace] };

  test('Hz for a millimetre and for a gram, within the model’s six per cent', () => {
    const shown = show(<SensitivityTable plan={plan} hand="right" braceIds={['b']} {...given} />);
    for (const [place, { hzPerMm, gramsPerMm }] of [
      ['Bar, 240 to 260\u00a0mm from its tail end', stretches[0]!],
      ['Bar, 80 to 100\u00a0mm from its tail end', stretches[1]!],
    ] as const) {
      const cell = (column: string) => cellOf(shown, 'What each place does', place, column);
      const [mm] = hzPerMm as [number];
      expectFigure(cell('Hz per mm'), mm, 0.06 * Math.abs(mm), '');
      expectFigure(cell('Hz per g'), mm / gramsPerMm, (0.06 * Math.abs(mm)) / gramsPerMm, '');
    }
  });

  test.each([
    ['mm', -2.21, 'Hz per mm'],
    ['g', -1.62 / 0.06, 'Hz per g'],
  ] as const)('the scale of colours ends at the largest, per %s', (per, hz, unit) => {
    const texts = [...show(<SensitivityScale {...given} per={per} />).querySelectorAll('text')].map(
      ({ textContent }) => textContent!,
    );
    expectPlain(texts[1]!, hz, 'Hz');
    expect(texts[1]!.endsWith(unit)).toBe(true);
  });
});

test.each([
  [0, undefined],
  [1, 'One more mode lies below the highest shown and could not be found: do not name modes by their order.'],
  [2, '2 more modes lie below the highest shown and could not be found: do not name modes by their order.'],
])('%i modes that the search passed over are told above the woods', async (missed, sentence) => {
  const shown = await page({}, { ...answers, 'top-modes': { ...answers['top-modes'], missed } });
  const told = [...shown.querySelectorAll('p')].find(({ textContent }) => textContent.includes('could not be found'));
  expect(told?.textContent).toBe(sentence);
});
