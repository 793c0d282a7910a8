// @vitest-environment happy-dom
// What the box view foretells for building: pull of the strings, frets, the next stage, a new top.
import { signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { act } from 'preact/test-utils';
import { describe, expect, test } from 'vitest';
import type { ReplacementAim } from '../../src/box/replacement.ts';
import { cavityOf } from '../../src/compare/box-cavity.ts';
import type { OldMode } from '../../src/compare/old-signature.ts';
import type { StageShapes } from '../../src/forecast/stage-shapes.ts';
import type { Estimate } from '../../src/quantity/estimate.ts';
import type { BoxRepair, BoxStrings } from '../../src/record/box-edit.ts';
import type { InstrumentRecord, Piece, Stage } from '../../src/record/record.ts';
import type { Settings } from '../../src/storage/settings.ts';
import { ByModels } from '../../src/views/box/by-models.tsx';
import { BoxJumps } from '../../src/views/box/jumps.tsx';
import { BoxNewTop } from '../../src/views/box/new-top.tsx';
import { BoxSheet } from '../../src/views/box/sheet.tsx';
import { StageShapesSaid } from '../../src/views/box/stage-shapes.tsx';
import { BoxStringsPart } from '../../src/views/box/strings.tsx';
import { story } from '../compare/story.ts';
import {
  beside,
  cell,
  expectFigure,
  expectPlain,
  inField,
  largeFigure,
  partNamed,
  show,
  unitSystems,
} from './shown.tsx';

const unread = { step: undefined, reading: undefined };

interface Around {
  readonly record: InstrumentRecord;
  readonly earlier?: readonly InstrumentRecord[];
  readonly pieces?: readonly Piece[];
  readonly answer?: unknown;
  readonly settings?: Partial<Settings>;
}

async function showBeside(view: ComponentChildren, { record, earlier = [], pieces = [], answer, settings }: Around) {
  const page = show(view, settings, {
    shelf: { record: signal(record), summaries: signal([]), edit: () => undefined },
    earlier: { records: signal(earlier), load: async () => undefined },
    forecasts: { stages: { current: signal({ kind: 'none' }) } },
    stock: { all: async () => pieces.map((piece) => ({ piece, recordName: 'Shelf' })) },
    answers: { of: () => signal({ kind: 'answer', answer }) },
  });
  await act(async () => undefined);
  return page;
}

describe('strings', () => {
  const scaleMm = 648;
  const strings: BoxStrings = {
    setName: 'own set',
    otherSetName: 'light 12-53',
    // A steel string, one wound on a core, and four known by their weight.
    ownSet: [
      { kind: 'plain', diameterMm: 0.33 },
      { kind: 'wound', diameterMm: 0.6, coreMm: 0.36 },
      ...[2.9, 4.4, 7.1, 11.3].map((unitMassGPerM) => ({ kind: 'weighed' as const, unitMassGPerM })),
    ],
    scaleMm,
    tuning: 'standard',
    saddleHeightMm: 13,
    breakAngleDeg: 24,
    neckAngleDeg: -1.1,
    turns: [
      { after: '10 min', turnDeg: 0.9 },
      { after: '1 week', turnDeg: 1.4 },
    ],
    action12Mm: { first: 1.9, last: 2.7 },
  };
  const names = ['1. E4', '2. B3', '3. G3', '4. D3', '5. A2', '6. E2'];
  /** Semitones from A4 in equal temperament. */
  const semitones = [-5, -10, -14, -19, -24, -29];

  // kg/m³ and shares of one sigma as the view states them: plain steel 1 %, wound 4 %, weighed 1 %. Wound: a core in one
  // layer of round wire, which fills pi / 4 of its ring.
  const disc = (mm: number) => (Math.PI / 4) * (mm / 1000) ** 2;
  const plain = (mm: number): Estimate => ({ value: 7850 * disc(mm), sigma: 0.01 });
  const wound = (mm: number, core: number): Estimate => ({
    value: 7850 * disc(core) + 8860 * (Math.PI / 4) * (disc(mm) - disc(core)),
    sigma: 0.04,
  });
  const mil = 0.0254;
  const own = [plain(0.33), wound(0.6, 0.36), ...[2.9, 4.4, 7.1, 11.3].map((g) => ({ value: g / 1000, sigma: 0.01 }))];
  const light = [
    plain(12 * mil),
    plain(16 * mil),
    wound(24 * mil, 12 * mil),
    wound(32 * mil, 15 * mil),
    wound(42 * mil, 17 * mil),
    wound(53 * mil, 19 * mil),
  ];
  /** Mersenne 1636: T = mu (2 L f)²; the sigmas of a set are taken as one error, so that they add up. */
  const pull = (set: readonly Estimate[], a4Hz: number): readonly Estimate[] =>
    set.map(({ value, sigma }, i) => {
      const n = value * (2 * (scaleMm / 1000) * a4Hz * 2 ** (semitones[i]! / 12)) ** 2;
      return { value: n, sigma: sigma * n };
    });
  const total = (each: readonly Estimate[]): Estimate => ({
    value: each.reduce((sum, { value }) => sum + value, 0),
    sigma: each.reduce((sum, { sigma }) => sum + sigma, 0),
  });
  const record: InstrumentRecord = { ...story([{ modesHz: [180] }]), box: { strings } };
  const page = (settings: Partial<Settings> = {}) =>
    showBeside(<BoxStringsPart record={record} {...unread} />, { record, settings });
  const radians = (deg: number) => (deg * Math.PI) / 180;

  test('how hard they pull, in pounds', async () => {
    const { value, sigma } = total(pull(own, 440));
    const perPound = 9.80665 * 0.45359237;
    const shown = partNamed(await page({ mass: 'oz' }), 'Pull of the strings');
    expectFigure(largeFigure(shown), value / perPound, sigma / perPound, 'lb');
  });

  test('how hard they pull, and what that does to the bridge', async () => {
    const shown = partNamed(await page({ a4Hz: 436 }), 'Pull of the strings');
    const { value, sigma } = total(pull(own, 436));
    // Standard gravity 9.80665 m/s², the pound 0.45359237 kg: by definition.
    expectFigure(largeFigure(shown), value / 9.80665, sigma / 9.80665, 'kg');
    expectFigure(/all strings together, (.*?)\./.exec(shown.textContent!)![1]!, value, sigma, 'N');
    const expectForce = (term: string, share: number, unit: string) =>
      expectFigure(beside(shown, term), value * share, sigma * share, unit);
    const [fall, rise] = [Math.sin(radians(24)), Math.sin(radians(-1.1))];
    expectForce('Torque that turns the bridge', 0.013 * Math.cos(radians(-1.1)), 'N');
    expectForce('Presses the saddle down', fall - rise, 'N');
    expectForce('Lifts the pins', fall, 'N');
    expectForce('Net press on the top', -rise, 'N');
    expect(beside(shown, 'Torque that turns the bridge')).toMatch(/N m$/);
  });

  test('string by string against another set', async () => {
    const shown = partNamed(await page(), 'Pull of each string');
    const [mine, other] = [pull(own, 440), pull(light, 440)];
    const rows = [
      ...names.map((name, i) => [name, mine[i]!, other[i]!] as const),
      ['All', total(mine), total(other)] as const,
    ];
    for (const [row, now, before] of rows) {
      expectFigure(cell(shown, row, 'own set'), now.value, now.sigma, 'N');
      expectFigure(cell(shown, row, 'light 12-53'), before.value, before.sigma, 'N');
      expectPlain(cell(shown, row, 'Difference'), (100 * (now.value - before.value)) / before.value, '%');
    }
  });

  test('how the top resists the turning of the bridge', async () => {
    const said = partNamed(await page(), 'How far the bridge turns').textContent!;
    const [mine, other] = [total(pull(own, 440)), total(pull(light, 440))];
    const lever = 0.013 * Math.cos(radians(-1.1));
    // An angle at the bridge is read to 0.1°, one sigma.
    const share = Math.hypot(mine.sigma / mine.value, 0.1 / 1.4);
    const stiffness = (mine.value * lever) / radians(1.4);
    const perDegree = radians(1) * stiffness;
    expectFigure(/turns takes (.*?)N m\./.exec(said)![1]!, perDegree, perDegree * share, '');
    const turned = (1.4 * other.value) / mine.value;
    const turnedShare = Math.hypot(share, other.sigma / other.value);
    expectFigure(/would turn about (.*?°)/.exec(said)![1]!, turned, turned * turnedShare, '°');
    expectFigure(/1 week it went (.*?°)/.exec(said)![1]!, 1.4 - 0.9, Math.SQRT2 * 0.1, '°');
  });

  test.each(unitSystems)('frets, saddle and the fields in $length.unit', async ({ settings, length }) => {
    const shown = await page(settings);
    const frets = partNamed(shown, 'Frets from the nut');
    const saddle = partNamed(shown, 'Frets and saddle');
    const at = (n: number) => scaleMm * (1 - 2 ** (-n / 12));
    for (const n of [1, 7, 12, 20]) {
      expectPlain(cell(frets, `${n}`, 'From the nut'), at(n) * length.perMm, length.unit);
      expectPlain(cell(frets, `${n}`, 'From the fret before'), (at(n) - at(n - 1)) * length.perMm, length.unit);
    }
    act(() => saddle.querySelector<HTMLInputElement>('input[type="checkbox"]')!.click());
    // Galilei 1581: of what is left, an eighteenth.
    expectPlain(
      cell(frets, '2', 'From the nut'),
      (scaleMm / 18 + (scaleMm * 17) / 18 / 18) * length.perMm,
      length.unit,
    );
    expectPlain(saddle.querySelector('h3')!.textContent!.replace(/^\D*/, ''), scaleMm * length.perMm, length.unit);

    // True octave: L E A h² / (T L²) + 2 sqrt(E I / T), good to a quarter. Source: Byers 1995, American Lutherie 47; Fletcher
    // 1964, J. Acoust. Soc. Am. 36:203.
    const setbacks = [...saddle.querySelectorAll('li')].map(({ textContent }) => textContent!);
    const carriers = [0.33, 0.36];
    for (const [i, mm] of carriers.entries()) {
      const t = pull(own, 440)[i]!.value;
      const action = 1.9 + (0.8 * i) / 5;
      const stretch = (200e3 * (Math.PI / 4) * mm ** 2 * action ** 2) / (t * scaleMm);
      const back = stretch + 2 * Math.sqrt((200e3 * (Math.PI / 64) * mm ** 4) / t);
      expectFigure(setbacks[i]!.split(': ')[1]!, back * length.perMm, (back / 4) * length.perMm, length.unit);
    }
    expect(setbacks[2]).toContain('known by its weight');

    for (const [label, mm] of [
      ['Scale length', scaleMm],
      ['Strings above the top at the saddle', 13],
      ['First string above the 12th fret', 1.9],
      ['Last string above the 12th fret', 2.7],
    ] as const)
      expectPlain(inField(shown, label), mm * length.perMm, length.unit);
    expect(inField(shown, 'Break angle behind the saddle')).toBe('24 °');
    expect(inField(shown, 'After 1 week')).toBe('1.4 °');
    const wound2 = partNamed(shown, 'String 2, B3');
    expectPlain(inField(wound2, 'Gauge'), 0.6 * length.perMm, length.unit);
    expectPlain(inField(wound2, 'Core'), 0.36 * length.perMm, length.unit);
    expect(inField(partNamed(shown, 'String 4, D3'), 'Weight')).toBe('4.4 g/m');
  });
});

describe('before gluing', () => {
  const sigma = 0.6;
  const went = [
    [171, 193],
    [178, 204],
    [166, 184],
  ] as const;
  const earlier = went.map(
    (modesHz, i): InstrumentRecord => ({
      ...story([
        { modesHz: [modesHz[0]], sigmaHz: sigma },
        { modesHz: [modesHz[1]], sigmaHz: sigma, stage: 'on-rims' },
      ]),
      id: `e${i}`,
      name: `Earlier ${i}`,
      pins: [
        { id: 'p', stepId: 's0', mode: 'monopole', frequencyHz: modesHz[0] },
        { id: 'q', stepId: 's1', mode: 'monopole', frequencyHz: modesHz[1] },
      ],
    }),
  );
  const record = story([{ modesHz: [174], sigmaHz: sigma }]);
  const page = () => showBeside(<BoxJumps record={record} {...unread} />, { record, earlier });

  test('what to expect at the next stage', async () => {
    const shown = partNamed(await page(), 'What to expect');
    // A prediction interval on the logarithms of the ratios. Source: Hahn & Meeker 1991, Statistical Intervals, section 4.7;
    // Student's t of two degrees of freedom, 97.5 %: 4.3027, from any table.
    const logs = went.map(([from, to]) => Math.log(to) - Math.log(from));
    const mean = (logs[0]! + logs[1]! + logs[2]!) / 3;
    const spread = Math.sqrt(logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) / 2);
    const half = Math.hypot(4.3027 * spread * Math.sqrt(4 / 3), (1.96 * sigma) / 174);
    expectPlain(shown.querySelector('.figure-value')!.textContent!, 174 * Math.exp(mean), 'Hz');
    const [, low, high, now] = /between (\d+) and (\d+) Hz.*Now: (.*Hz)/.exec(shown.textContent!)!;
    expectPlain(low!, 174 * Math.exp(mean - half), '');
    expectPlain(high!, 174 * Math.exp(mean + half), '');
    expectFigure(now!, 174, sigma, 'Hz');
    const [, change, scatter] = /Usual change (.*?%), scatter .* (\d.*?%)/.exec(shown.textContent!)!;
    expectPlain(change!, 100 * (Math.exp(mean) - 1), '%');
    expectPlain(scatter!, 100 * spread, '%');
  });

  test('what each earlier instrument did', async () => {
    const table = partNamed(await page(), 'Earlier instruments');
    for (const [i, [from, to]] of went.entries()) {
      const row = `Earlier ${i}`;
      expectFigure(cell(table, row, 'Braced'), from, sigma, 'Hz');
      expectFigure(cell(table, row, 'On the rims'), to, sigma, 'Hz');
      const wentBy = Math.hypot(sigma / from, sigma / to) * (to / from);
      expectFigure(cell(table, row, 'Went'), (100 * (to - from)) / from, 100 * wentBy, '%');
    }
  });

  test('which mode is which, by the shapes', () => {
    const shapes: StageShapes = {
      kind: 'carried',
      modes: [
        {
          name: 'monopole',
          frequencyHz: { value: 176.2, sigma: 4.1 },
          after: { name: 'cross dipole', frequencyHz: { value: 203.4, sigma: 6.3 } },
          likeness: 0.824,
          verdict: 'clear',
        },
      ],
      orderChanges: false,
      pumping: { name: 'cross dipole', frequencyHz: { value: 203.4, sigma: 6.3 }, share: 0.613 },
      after: [],
      fittedTo: 0,
    };
    const shown = (nameAfter: string) =>
      show(<StageShapesSaid shapes={shapes} name="monopole" nameAfter={nameAfter} from="braced" to="on-rims" />);
    const table = partNamed(shown('top'), 'Modes by their shapes');
    const [before, after, alike] = [...table.querySelectorAll('tbody tr > *')].map(({ textContent }) => textContent!);
    expectFigure(before!.split(', ')[1]!, 176.2, 4.1, 'Hz');
    expectFigure(after!.split(', ')[1]!, 203.4, 6.3, 'Hz');
    expectPlain(alike!, 82.4, '%');
    const [, percent, air] = /: (.*?%) alike.*most air, (.*?%)/.exec(
      shown('top').querySelector('.lead')!.textContent!,
    )!;
    expectPlain(percent!, 82.4, '%');
    expectPlain(air!, 61.3, '%');
  });
});

describe('before gluing, by the models', () => {
  const aloneHz = 168;
  const monopole = { name: 'monopole', frequencyHz: { value: aloneHz, sigma: 3.4 } };
  const pushed = 0.13;
  const shapes: StageShapes = {
    kind: 'carried',
    modes: [{ ...monopole, after: monopole, likeness: 0.9, verdict: 'clear' }],
    orderChanges: false,
    pumping: { ...monopole, share: 0.66 },
    after: [{ ...monopole, pushedM2PerSqrtKg: pushed }],
    fittedTo: 3,
  };
  const said = (changes: Partial<InstrumentRecord>, to: Stage) =>
    show(
      <ByModels
        record={{ ...story([{ modesHz: [160], sigmaHz: 0.2 }]), ...changes }}
        shapes={shapes}
        name="monopole"
        to={to}
        isFirst
      />,
    );

  test('a stage in the open: the mode it becomes, and how many taps say so', () => {
    const text = said({}, 'on-rims').textContent!;
    expectFigure(/goes to (.*?Hz)/.exec(text)![1]!, aloneHz, 3.4, 'Hz');
    expect(text).toContain('3 modes');
  });

  test('a box without sizes: the top alone, and what to measure', () => {
    const text = said({}, 'closed').textContent!;
    expectFigure(/ring at (.*?Hz)/.exec(text)![1]!, aloneHz, 3.4, 'Hz');
    expect(text).toContain('needs its sizes');
  });

  test('in the closed box air and top are roots of the secular equation', () => {
    const cavity = { from: 'volume', volumeL: 15, holeRadiusMm: 50, holeEdgeMm: 3 } as const;
    const text = said({ box: { cavity } }, 'closed').querySelector('.lead')!.textContent!;
    const [, top, air] = /peak at (.*?Hz), the air’s at (.*?Hz)/.exec(text)!;
    const known = cavityOf(cavity, undefined);
    if (known.kind !== 'cavity') throw new Error(known.kind);
    // 1 + B sum of a² / (omega² - lambda) = 0, a back of 225 Hz and 0.09. Source: Golub & Van Loan, section 8.4.3, rank-one update.
    const b = (known.air.densityKgM3 * known.air.soundSpeedMPerS ** 2) / 0.015;
    const square = (hz: number) => (2 * Math.PI * hz) ** 2;
    const parts = [
      { hz: aloneHz, a2: pushed ** 2 },
      { hz: 225, a2: 0.09 ** 2 },
      { hz: 0, a2: square(known.ownHz.value) / b },
    ];
    const secular = (hz: number) =>
      1 + b * parts.reduce((sum, { hz: own, a2 }) => sum + a2 / (square(own) - square(hz)), 0);
    const root = (low: number, high: number): number => {
      let [from, to] = [low, high];
      for (let i = 0; i < 60; i++) {
        const middle = (from + to) / 2;
        if (secular(middle) < 0) from = middle;
        else to = middle;
      }
      return from;
    };
    const number = (figure: string) => Number(/[\d.]+/.exec(figure)![0]);
    expect(Math.abs(number(top!) - root(aloneHz + 1e-6, 225 - 1e-6))).toBeLessThan(0.6);
    expect(Math.abs(number(air!) - root(1, aloneHz - 1e-6))).toBeLessThan(0.6);
  });
});

describe('a new top', () => {
  const measured = (value: number, share: number): Estimate => ({ value, sigma: share * value });
  const old = { densityKgM3: measured(402, 0.004), eLongGpa: measured(9.8, 0.011), eCrossGpa: measured(0.71, 0.017) };
  const fresh = {
    densityKgM3: measured(431, 0.006),
    eLongGpa: measured(12.3, 0.009),
    eCrossGpa: measured(0.83, 0.013),
  };
  const oldMm = measured(2.84, 0.007);
  const chosenMm = 2.7;
  const share = ({ value, sigma }: Estimate) => sigma / value;

  // Stiffness goes with E h³, mass with rho h. Relative sigmas of products: JCGM 100:2008 eq. 12.
  const alike = {
    'Stiffness along the grain': {
      mm: oldMm.value * (9.8 / 12.3) ** (1 / 3),
      share: Math.hypot(share(oldMm), share(old.eLongGpa) / 3, share(fresh.eLongGpa) / 3),
    },
    'Stiffness across the grain': {
      mm: oldMm.value * (0.71 / 0.83) ** (1 / 3),
      share: Math.hypot(share(oldMm), share(old.eCrossGpa) / 3, share(fresh.eCrossGpa) / 3),
    },
    Mass: {
      mm: (oldMm.value * 402) / 431,
      share: Math.hypot(share(oldMm), share(old.densityKgM3), share(fresh.densityKgM3)),
    },
  } as const;
  const against = (mm: number) => ({
    'Stiffness along': {
      ratio: (12.3 / 9.8) * (mm / oldMm.value) ** 3,
      share: Math.hypot(share(old.eLongGpa), share(fresh.eLongGpa), 3 * share(oldMm)),
    },
    'Stiffness across': {
      ratio: (0.83 / 0.71) * (mm / oldMm.value) ** 3,
      share: Math.hypot(share(old.eCrossGpa), share(fresh.eCrossGpa), 3 * share(oldMm)),
    },
    'Mass of the area': {
      ratio: (431 / 402) * (mm / oldMm.value),
      share: Math.hypot(share(old.densityKgM3), share(fresh.densityKgM3), share(oldMm)),
    },
  });
  const piece: Piece = {
    id: 'w',
    kind: 'top',
    name: 'Half 7',
    species: 'sitka-spruce',
    shape: 'rectangle',
    lengthMm: { value: 553, sigma: 0.3 },
    widthMm: { value: 211, sigma: 0.3 },
    modes: [],
    caliper: [],
    deflections: [],
    climate: {},
    rounds: [],
    notes: '',
    reading: { method: 'test', atIso: '2026-11-25T08:00:00.000Z', ...fresh, gGpa: measured(0.8, 0.031) },
  };
  const repair: BoxRepair = {
    recordId: 'i1',
    stepId: 's1',
    topDamage: [],
    isTopSound: true,
    oldWood: old,
    oldThicknessMm: oldMm,
    newWood: { ...fresh, pieceId: 'w' },
    newThicknessMm: chosenMm,
    matchBy: 'along',
  };
  const chapters = story([
    { modesHz: [168.4], sigmaHz: 0.7, stage: 'on-rims' },
    { modesHz: [191.7], sigmaHz: 0.9, stage: 'closed', support: { hold: 'box-open', bridge: 'glued', strung: false } },
  ]);
  const record: InstrumentRecord = {
    ...chapters,
    pins: [...chapters.pins, { id: 'q', stepId: 's1', mode: 'top', frequencyHz: 191.7 }],
    box: { repair },
  };
  // Patterns of the three taps: two lines across the grain, two along it, one of each.
  const answer = [
    {
      thicknessMm: chosenMm,
      modes: [
        { pattern: { m: 2, n: 0 }, frequencyHz: 61.2 },
        { pattern: { m: 0, n: 2 }, frequencyHz: 104.7 },
        { pattern: { m: 1, n: 1 }, frequencyHz: 48.9 },
      ],
    },
  ];
  const page = (settings: Partial<Settings> = {}, given = repair) =>
    showBeside(<BoxNewTop record={{ ...record, box: { repair: given } }} {...unread} />, {
      record,
      pieces: [piece],
      answer,
      settings,
    });

  test.each(unitSystems)('its thickness in $length.unit', async ({ settings, length }) => {
    const shown = await page(settings);
    const stand = partNamed(shown, 'Thickness of the new top');
    const { mm, share: wide } = alike['Stiffness along the grain'];
    expectFigure(largeFigure(stand), mm * length.perMm, mm * wide * length.perMm, length.unit);
    const table = partNamed(shown, 'What each thickness gives');
    for (const [row, { mm, share }] of Object.entries(alike))
      expectFigure(cell(table, row, 'Thickness'), mm * length.perMm, mm * share * length.perMm, length.unit);
    expectPlain(cell(table, 'Your choice', 'Thickness'), chosenMm * length.perMm, length.unit);
    const sheet = partNamed(shown, 'Sheet for the bench');
    expectPlain(sheet.querySelector('strong')!.textContent!, chosenMm * length.perMm, length.unit);
    expect(sheet.querySelector('.sheet-thickness')!.textContent).toContain('(chosen)');
    const [, long, wideOf] = /alone, (.*?) × (.*?), planed/.exec(sheet.textContent!)!;
    expectPlain(long!, 553 * length.perMm, length.unit);
    expectPlain(wideOf!, 211 * length.perMm, length.unit);
    expectPlain(inField(shown, 'Thickness you choose'), chosenMm * length.perMm, length.unit);
    const { newThicknessMm: _own, ...unchosen } = repair;
    const met = partNamed(await page(settings, unchosen), 'Sheet for the bench').querySelector('.sheet-thickness')!;
    expectFigure(/\((.*?) for/.exec(met.textContent!)![1]!, mm * length.perMm, mm * wide * length.perMm, length.unit);
  });

  test('what each thickness gives against the old top', async () => {
    const shown = await page();
    const table = partNamed(shown, 'What each thickness gives');
    const rows = [
      ...Object.entries(alike).map(([row, { mm }]) => [row, mm] as const),
      ['Your choice', chosenMm] as const,
    ];
    for (const [row, mm] of rows)
      for (const [column, { ratio, share: doubt }] of Object.entries(against(mm)))
        expectFigure(cell(table, row, column), 100 * (ratio - 1), 100 * ratio * doubt, '%');
    const said = partNamed(shown, 'Sheet for the bench').textContent!;
    const told = /stiffness (.*?) along and (.*?) across, mass (.*?)\. /.exec(said)!.slice(1);
    for (const [i, { ratio, share: doubt }] of Object.values(against(chosenMm)).entries())
      expectFigure(told[i]!, 100 * (ratio - 1), 100 * ratio * doubt, '%');
  });

  test('the woods as they are typed, and the old readings', async () => {
    const shown = await page();
    for (const [part, wood] of [
      ['Old top, from its strips', old],
      ['New wood', fresh],
    ] as const)
      for (const [label, { value, sigma }, unit] of [
        ['Density', wood.densityKgM3, 'kg/m³'],
        ['E along the grain', wood.eLongGpa, 'GPa'],
        ['E across the grain', wood.eCrossGpa, 'GPa'],
      ] as const) {
        const field = partNamed(partNamed(shown, part), label);
        expect(inField(field, label)).toBe(`${value} ${unit}`);
        expect(inField(field, '±')).toBe(`${Number((1.959964 * sigma).toPrecision(2))} ${unit}`);
      }
    const readings = [...partNamed(shown, 'Old readings').querySelectorAll('.which li')];
    const [rims, closed] = readings.map((reading) => reading.querySelector('.which-hz')!.textContent!);
    expectFigure(rims!, 168.4, 0.7, 'Hz');
    expectFigure(closed!, 191.7, 0.9, 'Hz');
    expect(readings.map(({ textContent }) => /Hz (.*?) read sound/.exec(textContent!)![1])).toEqual([
      'monopole, on the rims',
      'top, closed box',
    ]);
  });

  test('the sheet: what the old one read, what to aim for, and what the board rings at', async () => {
    const ratios = {
      along: measured(1.07, 0.02),
      across: measured(0.98, 0.03),
      shear: measured(1, 0.1),
      arealMass: measured(1.03, 0.01),
    };
    const thicknessMm = { along: oldMm, across: oldMm, both: oldMm, mass: oldMm };
    const reading = { stage: 'on the rims', damage: [], isAirNoted: true } as const;
    const readings: readonly OldMode[] = [
      {
        ...reading,
        part: 'top',
        mode: 'monopole',
        readAt: 'on-rims',
        frequencyHz: { value: 168.4, sigma: 0.7 },
        sameAirHz: { value: 168.4, sigma: 0.7 },
      },
      {
        ...reading,
        part: 'top',
        mode: 'top',
        readAt: 'closed',
        frequencyHz: { value: 191.7, sigma: 0.9 },
        sameAirHz: { value: 191.7, sigma: 0.9 },
      },
    ];
    const aims: readonly ReplacementAim[] = [
      { stage: 'on the rims', mode: 'monopole', kind: 'aim', aimHz: { value: 171.3, sigma: 2.1 } },
      { stage: 'in the closed box', mode: 'top', kind: 'aim', aimHz: { value: 194.9, sigma: 3.4 } },
    ];
    // Of two earlier instruments, how a braced top became that of the closed box.
    const went = [
      [151, 190],
      [158, 203],
    ] as const;
    const earlier = went.map(([from, to], i): InstrumentRecord => {
      const told = story([{ modesHz: [from] }, { modesHz: [to], stage: 'closed' }]);
      return { ...told, id: `e${i}`, pins: [...told.pins, { id: 'q', stepId: 's1', mode: 'top', frequencyHz: to }] };
    });
    const shown = await showBeside(
      <BoxSheet
        record={record}
        old={record}
        repair={{ ...repair, bridgeLoadG: 1500, bridgeDownMm: { value: 0.62, sigma: 0.012 }, isTopSound: true }}
        match={{ kind: 'match', thicknessMm, chosenMm: { value: chosenMm, sigma: 0 }, ratios }}
        readings={readings}
        aims={aims}
        newAir={{ humidityPercent: 45 }}
      />,
      { record, earlier, pieces: [piece], answer },
    );
    const table = partNamed(shown, 'Aims');
    expectFigure(cell(table, 'top', 'The old one read'), 191.7, 0.9, 'Hz');
    expectFigure(cell(table, 'top', 'Aim for'), 194.9, 3.4, 'Hz');
    const [gives] = [...table.querySelectorAll('tr')].filter((row) => row.textContent!.includes('on the bridge'));
    const [weight, was, aim] = [...gives!.children].map(({ textContent }) => textContent!);
    expect(weight).toMatch(/1500\sg/);
    expectFigure(was!, 0.62, 0.012, 'mm');
    // shares of the stiffness on the rims: braces 0.46, of the rest shear 0.22, of the bending along 0.7
    const stiffer = 0.54 * (0.78 * (0.7 * 1.07 + 0.3 * 0.98) + 0.22) + 0.46;
    expect(Math.abs(Number.parseFloat(aim!) - 0.62 / stiffer)).toBeLessThan(0.011);
    const [braced, rims] = [...table.querySelectorAll('tr')]
      .filter((row) => row.firstElementChild!.textContent === 'monopole')
      .map((row) => [...row.children].map(({ textContent }) => textContent!));
    expectFigure(rims![1]!, 168.4, 0.7, 'Hz');
    expectFigure(rims![2]!, 171.3, 2.1, 'Hz');
    // Backward from what is wanted in the box; Student's t of one degree of freedom, 97.5 %: 12.706, from any table.
    const logs = went.map(([from, to]) => Math.log(from / to));
    const mean = (logs[0]! + logs[1]!) / 2;
    const half = Math.hypot(
      12.706 * Math.SQRT1_2 * Math.abs(logs[0]! - logs[1]!) * Math.sqrt(1.5),
      (1.96 * 3.4) / 194.9,
    );
    // Low and high lie unevenly about it; the ± is half of what is between them.
    const sigma = (194.9 * Math.exp(mean) * Math.sinh(half)) / 1.959964;
    expect(braced![2]).toContain('as your earlier instruments went');
    expectFigure(
      /^(.*? Hz)as your/.exec(braced![2]!.replaceAll('\u00a0', ' ').replaceAll('\u202f', ' '))![1]!,
      194.9 * Math.exp(mean),
      sigma,
      'Hz',
    );
    // f goes with sqrt(E / rho): half of each relative sigma.
    for (const [row, hz, modulus] of [
      ['long-grain bending', 61.2, fresh.eLongGpa],
      ['cross-grain bending', 104.7, fresh.eCrossGpa],
      ['twist', 48.9, measured(0.8, 0.031)],
    ] as const)
      expectFigure(
        cell(table, row, 'Aim for'),
        hz,
        (hz / 2) * Math.hypot(share(modulus), share(fresh.densityKgM3)),
        'Hz',
      );
  });
});
