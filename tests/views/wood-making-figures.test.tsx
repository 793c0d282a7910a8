// @vitest-environment happy-dom
// Figures of what is made of wood: boards compared, a glued dome, a brace, and the tap under way.
import { signal } from '@preact/signals';
import { describe, expect, test, vi } from 'vitest';
import type { Estimate } from '../../src/quantity/estimate.ts';
import { newRecord, type Piece } from '../../src/record/record.ts';
import { freshPiece } from '../../src/record/wood-edit.ts';
import type { Settings } from '../../src/storage/settings.ts';
import { BraceOf } from '../../src/views/wood/brace.tsx';
import { CompareWood } from '../../src/views/wood/compare.tsx';
import { Gluing } from '../../src/views/wood/gluing.tsx';
import { MeasurePiece } from '../../src/views/wood/measure.tsx';
import { WoodView } from '../../src/views/wood/wood-view.tsx';
import {
  cellOf,
  expectFigure,
  expectLength,
  expectPlain,
  fieldNamed,
  figureIn,
  figuresOf,
  settled,
  show,
  sigmaOf,
  unfold,
} from './shown.tsx';
import { atRest, moisturePerPercent, toReference } from './wood-air.ts';

vi.mock('../../src/views/parts/lazy-chart.tsx', async () => {
  const { h } = await import('preact');
  return { LazyChart: (drawn: object) => h('output', {}, JSON.stringify(drawn)) };
});

const of = (value: number, sigma: number): Estimate => ({ value, sigma });
const kilo = { densityKgM3: of(0, 0), eLongGpa: of(0, 0), eCrossGpa: of(0, 0), gGpa: of(0, 0) };
type Constants = typeof kilo;
const made = (id: string, kind: Piece['kind'], constants: Partial<Constants>, more: Partial<Piece> = {}): Piece => ({
  ...freshPiece(id, kind, `Piece ${id}`, 'sitka-spruce'),
  reading: { method: '', atIso: '', ...constants },
  ...more,
});
const workshop = (pieces: readonly Piece[]) => ({
  shelf: { record: signal(undefined), summaries: signal([]) },
  stock: { all: async () => pieces.map((piece) => ({ piece, recordId: 'r', recordName: 'Shelf' })) },
  nowIso: () => '',
});
const lengths: readonly (readonly [Settings['length'], Settings['mass'], string, string, number, number])[] = [
  ['mm', 'g', 'mm', 'g', 1, 1],
  ['inch', 'oz', 'in', 'oz', 1 / 25.4, 16 / 453.59237],
];

describe('boards compared', () => {
  const climate = { humidityPercent: 38, tempC: 24 };
  const boards: Readonly<Record<string, Constants>> = {
    A: { densityKgM3: of(417, 3), eLongGpa: of(11.84, 0.25), eCrossGpa: of(0.873, 0.02), gGpa: of(0.752, 0.03) },
    B: { densityKgM3: of(425, 4), eLongGpa: of(12.31, 0.28), eCrossGpa: of(0.841, 0.03), gGpa: of(0.771, 0.02) },
  };
  const sticks = {
    C: { densityKgM3: of(402, 5), eLongGpa: of(11.1, 0.4) },
    D: { densityKgM3: of(447, 6), eLongGpa: of(13.6, 0.5) },
  };
  const pieces = [
    ...Object.entries(boards).map(([id, constants]) => made(id, 'top', constants, { climate })),
    ...Object.entries(sticks).map(([id, constants]) => made(id, 'brace-stock', constants)),
  ];
  const page = async (settings: Partial<Settings> = {}) => {
    const shown = show(<CompareWood />, settings, workshop(pieces));
    await settled();
    return shown;
  };
  const columns = [
    ['Density, kg/m³', 'densityKgM3'],
    ['E along, GPa', 'eLongGpa'],
    ['E across, GPa', 'eCrossGpa'],
    ['G, GPa', 'gGpa'],
  ] as const;

  test.each(['A', 'B'])('every constant of board %s in its column', async (id) => {
    const shown = await page();
    const cell = (column: string) => cellOf(shown, 'Boards', `Piece ${id}`, column);
    const { densityKgM3: rho, eLongGpa: e } = boards[id]!;
    for (const [column, key] of columns) expectFigure(cell(column), boards[id]![key].value, boards[id]![key].sigma, '');
    const ratio = Math.sqrt(e.value * 1e9) / rho.value ** 1.5;
    expectFigure(cell('c/ρ'), ratio, ratio * Math.hypot(e.sigma / e.value / 2, (1.5 * rho.sigma) / rho.value), '');
  });

  test('at the reference climate, with the doubt of the hygrometer in the settings', async () => {
    const hygrometerSigmaPercent = 9;
    const shown = await page({ hygrometerSigmaPercent });
    const box = shown.querySelector<HTMLInputElement>('input[type="checkbox"]')!;
    box.click();
    await settled();
    const { mass, along } = toReference(38, 24, hygrometerSigmaPercent);
    const { densityKgM3, eLongGpa, eCrossGpa, gGpa } = boards['A']!;
    for (const [column, { value, sigma }, { stiffness }] of [
      ['E along, GPa', eLongGpa, along('long')],
      ['E across, GPa', eCrossGpa, along('cross')],
      ['G, GPa', gGpa, along('plate')],
    ] as const) {
      const there = Math.hypot(sigma * (1 + stiffness.value), value * stiffness.sigma);
      expectFigure(cellOf(shown, 'Boards', 'Piece A', column), value * (1 + stiffness.value), there, '');
    }
    // Swelling takes back about a half of what the water adds. Source: FPL-GTR-282 ch. 4, S = 0.265 Gb (1 - M / 30).
    const density = figureIn(cellOf(shown, 'Boards', 'Piece A', 'Density, kg/m³'));
    expect(density.value / densityKgM3.value - 1).toBeGreaterThan(0.3 * mass.value);
    expect(density.value / densityKgM3.value - 1).toBeLessThan(0.8 * mass.value);
  });

  test('the chart has density along, stiffness up, in the units of its axes', async () => {
    const drawn = JSON.parse((await page()).querySelector('output')!.textContent!);
    expect([drawn.xLabel, drawn.yLabel]).toEqual(['Density, kg/m³', 'E along, GPa']);
    const [dots, ...guides] = drawn.series;
    expect(dots.points.toSorted((a: { x: number }, b: { x: number }) => a.x - b.x)).toEqual([
      { x: 417, y: 11.84 },
      { x: 425, y: 12.31 },
    ]);
    expect(guides.length).toBeGreaterThan(0);
    for (const { label, points } of guides)
      for (const { x, y } of points) expect(Math.sqrt(y * 1e9) / x ** 1.5).toBeCloseTo(figureIn(label).value, 9);
  });

  test('sticks, the spread of the shelf beside the handbook, and a pair', async () => {
    const shown = await page();
    for (const [id, { eLongGpa, densityKgM3 }] of Object.entries(sticks)) {
      const said = figuresOf(shown, new RegExp(`^Piece ${id}: E (.+?), density (.+)$`));
      expectFigure(said[0]!, eLongGpa.value, eLongGpa.sigma, 'GPa');
      expectFigure(said[1]!, densityKgM3.value, densityKgM3.sigma, 'kg/m³');
    }
    const all = [...Object.values(boards), ...Object.values(sticks)];
    const cell = (column: string) => cellOf(shown, 'Spread by species', 'Sitka', column);
    for (const [column, key] of columns.slice(0, 2) as [string, 'densityKgM3' | 'eLongGpa'][]) {
      const values = all.map((each) => each[key].value);
      const mean = values.reduce((a, b) => a + b) / values.length;
      const [saidMean, saidSpread] = cell(column).split(', spread ');
      expectPlain(saidMean!, mean, '');
      expectPlain(
        saidSpread!,
        Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1)),
        '',
      );
    }
    // Sitka spruce: gravity 0.40 and 12 % of water; 10.8 GPa in bending, of which shear hides a tenth. Source: FPL-GTR-282 ch. 4, 5.
    const heads = [...shown.querySelectorAll('section[aria-label="Spread by species"] tbody td')].map(
      ({ textContent }) => textContent!,
    );
    expectPlain(heads[2]!, 448, '');
    expectPlain(heads[4]!, 11.88, '');

    const [a, b] = [boards['A']!, boards['B']!];
    const share = (key: keyof Constants) => (2 * (b[key].value - a[key].value)) / (a[key].value + b[key].value);
    for (const [column, key] of [
      ['E along', 'eLongGpa'],
      ['E across', 'eCrossGpa'],
      ['Density', 'densityKgM3'],
    ] as const) {
      const sigma = (2 * Math.hypot(a[key].sigma, b[key].sigma)) / (a[key].value + b[key].value);
      expectFigure(cellOf(shown, 'Pairs', 'Piece A', column), 100 * share(key), 100 * sigma, '%');
    }
    const apart =
      50 * Math.sqrt(Object.keys(kilo).reduce((sum, key) => sum + share(key as keyof Constants) ** 2, 0) / 4);
    expectPlain(cellOf(shown, 'Pairs', 'Piece A', 'Modes apart').replace('about ', ''), apart, '%');
  });
});

describe('gluing', () => {
  const settings = { hygrometerOffsetPercent: 2.5, hygrometerSigmaPercent: 3 };
  const page = async (more: Partial<Settings> = {}, pieces: readonly Piece[] = []) => {
    const shown = show(<Gluing />, { ...settings, ...more }, workshop(pieces));
    await settled();
    return shown;
  };

  test('the true humidity, and the moisture of wood at rest in it with the doubt of both', async () => {
    const shown = await page();
    fieldNamed(shown, 'Hygrometer reads').type('45');
    const [humidity, moisture] = figuresOf(shown, /^True humidity (.+?); wood at rest in it holds (.+?) moisture\.$/);
    expectFigure(humidity!, 47.5, 3, '%RH');
    expectFigure(moisture!, atRest(47.5, 20), Math.hypot(1, 3 * moisturePerPercent(47.5, 20)), '%');
  });

  /**
   * Rise of the dome, mm, and its sigma of one half: the moment of a plate that swells on a brace that does not, about the common
   * axis, over the stiffness of both. Source: thermal bending of a composite beam, any strength-of-materials text; swelling per %
   * by FPL-GTR-282 eq. 13-2 with the coefficient of a radial shrinkage of 4.3 %.
   */
  const rise = (percent: number, eCross: number, eLong: number) => {
    const [plate, brace] = [eCross * 120 * 2.8, eLong * 8 * 14];
    const [low, high] = [1.4, 2.8 + 7];
    const axis = (plate * low + brace * high) / (plate + brace);
    const stiff = plate * (2.8 ** 2 / 12 + (low - axis) ** 2) + brace * (14 ** 2 / 12 + (high - axis) ** 2);
    const swell = (0.043 / 30 / (1 - (0.043 * 2) / 3)) * (atRest(percent, 20) - atRest(47.5, 20));
    const mm = (((plate * swell * (axis - low)) / stiff) * 380 ** 2) / 8;
    return of(mm, Math.abs(mm) / 2);
  };
  const cross = made('P', 'top', {
    densityKgM3: of(417, 3),
    eLongGpa: of(11.84, 0.25),
    eCrossGpa: of(0.62, 0.02),
    gGpa: of(0.75, 0.03),
  });
  const stick = made('S', 'brace-stock', { densityKgM3: of(417, 3), eLongGpa: of(14.1, 0.25) });
  test.each([
    ['the handbook', [], 10.8 * 1.1 * 0.078, 10.8 * 1.1],
    ['measured wood', [cross, stick], 0.62, 14.1],
  ] as const)('the dome of %s in both units', async (_of, pieces, eCross, eLong) => {
    for (const [length, , unit, , perMm] of lengths) {
      const shown = await page({ length }, pieces);
      fieldNamed(shown, 'Hygrometer reads').type('45');
      for (const percent of [30, 60]) {
        const term = [...shown.querySelectorAll('dt')].find(({ textContent }) =>
          textContent!.includes(`${percent} %RH`),
        )!;
        const { value, sigma } = rise(percent, eCross, eLong);
        expectFigure(term.nextElementSibling!.textContent!, value * perMm, sigma * perMm, unit);
      }
      expectPlain(figuresOf(shown, /^E across (.+)$/)[0]!, eCross, 'GPa');
      expectPlain(figuresOf(shown, /^E along (.+)$/)[0]!, eLong, 'GPa');
    }
  });
});

describe('a stick as a brace', () => {
  const [e, rho] = [of(12.4, 0.3), of(421, 4)];
  const other = { eLongGpa: of(10.7, 0.25), densityKgM3: of(395, 5) };
  const strip = [1, 40, 2.8] as const;
  const use = (heights: readonly [number, number]) => ({
    ...{ section: 'rectangle' as const, widthMm: 8, plateGpa: strip[0], stripMm: strip[1], plateMm: strip[2] },
    stations: [
      { atMm: 0, heightMm: heights[0] },
      { atMm: 400, heightMm: heights[1] },
    ],
  });
  const page = async (heights: readonly [number, number], settings: Partial<Settings> = {}) => {
    const piece = made('S', 'brace-stock', { eLongGpa: e, densityKgM3: rho }, { brace: use(heights) });
    const shown = show(<BraceOf piece={piece} />, settings, workshop([piece, made('O', 'brace-stock', other)]));
    await settled();
    return shown;
  };
  /** EI of brace and strip about their common axis, N m^2, by moments about the free face of the strip. Source: parallel axes. */
  const stiffness = (gpa: number, h: number) => {
    const [ep, wide, thick] = strip;
    const [a, b] = [ep * wide * thick, gpa * 8 * h];
    const first = (a * thick) / 2 + b * (thick + h / 2);
    const second = (ep * wide * thick ** 3 + gpa * 8 * ((thick + h) ** 3 - thick ** 3)) / 3;
    return (second - first ** 2 / (a + b)) / 1000;
  };
  const within = (of: (gpa: number) => number): readonly [number, number] => [
    of(e.value),
    sigmaOf(([gpa]) => of(gpa!), [e]),
  ];
  const told = (shown: HTMLElement, term: string) =>
    [...shown.querySelectorAll('dt')].find(({ textContent }) => textContent === term)!.nextElementSibling!.textContent!;

  test('a level one is as stiff all along, and weighs what its volume does', async () => {
    for (const [length, mass, , massUnit, , perG] of lengths) {
      const shown = await page([12, 12], { length, mass });
      const level = within((gpa) => stiffness(gpa, 12));
      for (const term of [
        'Pressed in its middle it is like an even brace of EI',
        'Stiffest station',
        'Softest station',
      ])
        expectFigure(told(shown, term).replace(' m²', ''), ...level, 'N');
      expectPlain(told(shown, 'Bare strip of plate'), (strip[0] * strip[1] * strip[2] ** 3) / 12000, 'N');
      const grams = (rho.value * 8 * 12 * 400) / 1e6;
      expectFigure(told(shown, 'Mass of the brace'), grams * perG, (grams * perG * rho.sigma) / rho.value, massUnit);
    }
  });

  test('a tapered one: each station, and the even brace that gives as much under a load in its middle', async () => {
    const shown = await page([14, 8]);
    const cells = [...shown.querySelectorAll('section[aria-label="Heights along the brace"] tbody tr')].map(
      (row) => row.children[2]!.textContent!,
    );
    const [high, low] = [within((gpa) => stiffness(gpa, 14)), within((gpa) => stiffness(gpa, 8))];
    expectFigure(cells[0]!, ...high, 'N');
    expectFigure(cells[1]!, ...low, 'N');
    expectFigure(told(shown, 'Stiffest station'), ...high, 'N');
    expectFigure(told(shown, 'Softest station'), ...low, 'N');
    // Castigliano: give under a middle load is the integral of (x / 2)^2 / EI from both ends; L^3 / 48 of it where EI is even.
    const even = within((gpa) => {
      const parts = 400;
      const sum = Array.from({ length: parts }, (_, i) => ((i + 0.5) * 400) / parts).reduce(
        (all, x) => all + (Math.min(x, 400 - x) / 2) ** 2 / stiffness(gpa, 14 - (6 * x) / 400) / parts,
        0,
      );
      return 400 ** 2 / 48 / sum;
    });
    expectFigure(told(shown, 'Pressed in its middle it is like an even brace of EI'), ...even, 'N');
  });

  test.each(lengths)(
    'how high another stick must be in its place, in %s',
    async (length, _mass, unit, _massUnit, perMm) => {
      const shown = await page([12, 12], { length });
      const cell = (column: string) => cellOf(shown, 'Sticks that could stand in', 'Piece O', column);
      const inputs = [e, other.eLongGpa];
      const alone = ([own, its]: readonly number[]) => 12 * Math.cbrt(own! / its!);
      expectFigure(
        cell('Height alone'),
        alone([e.value, other.eLongGpa.value]) * perMm,
        sigmaOf(alone, inputs) * perMm,
        unit,
      );
      // By the secant rule.
      const glued = ([own, its]: readonly number[]) => {
        let [a, b] = [11, 13];
        const over = (h: number) => stiffness(its!, h) - stiffness(own!, 12);
        for (let i = 0; i < 12 && Math.abs(b - a) > 1e-11; i++)
          [a, b] = [b, b - (over(b) * (b - a)) / (over(b) - over(a))];
        return b;
      };
      expectFigure(
        cell('Height glued'),
        glued([e.value, other.eLongGpa.value]) * perMm,
        sigmaOf(glued, inputs) * perMm,
        unit,
      );
      const mass = ([own, its, ownRho, itsRho]: readonly number[]) =>
        (100 * Math.cbrt(own! / its!) * itsRho!) / ownRho!;
      const all = [...inputs, rho, other.densityKgM3];
      expectFigure(cell('Mass against this one'), mass(all.map(({ value }) => value)), sigmaOf(mass, all), '%');
    },
  );
});

describe('the tap under way', () => {
  const fitted = [
    { frequencyHz: of(92.37, 0.06), q: of(61, 2.4), levelDb: -31 },
    { frequencyHz: of(188.2, 0.2), q: of(48, 2), levelDb: -44 },
  ].map((mode) => ({ ...mode, amplitudes: [], resolution: 'single' as const }));
  const piece: Piece = {
    ...freshPiece('b', 'top', 'Board', 'sitka-spruce'),
    ...{ lengthMm: of(520, 0.3), widthMm: of(200, 0.3), thicknessMm: of(3.4, 0.02), massG: of(147, 0.3) },
    modes: [
      { id: 'cross-grain-bending', frequencyHz: of(141.74, 0.3) },
      { id: 'twist', frequencyHz: of(47.13, 0.2) },
    ],
    rounds: [
      {
        ...{ id: 'r', atIso: '2026-11-25T08:00:00.000Z', spot: '', source: '', state: 'closed', taps: [] },
        support: { hold: 'at-node', bridge: 'off', strung: false },
        wanted: 'long-grain-bending',
        fit: { method: 'test', modes: fitted, used: [], setAside: [], scatterKnown: true },
      },
    ],
  };
  const guide = {
    tap: 'long-grain-bending',
    expectedHz: 95.4,
    nodeLines: [],
    hold: { xMm: 116.5, yMm: 0 },
    strike: { xMm: 260, yMm: 60 },
  };
  const page = (settings: Partial<Settings> = {}, tapped = piece) =>
    show(<MeasurePiece piece={tapped} />, settings, {
      shelf: {
        record: signal({
          ...newRecord({ id: 'i', createdAtIso: '2026-11-25T00:00:00.000Z', name: 'I' }),
          pieces: [tapped],
        }),
      },
      bench: { state: signal({ kind: 'idle' }) },
      answers: { of: () => ({ value: { kind: 'answer', answer: [guide] } }) },
    });

  test('each tap shows its own mode, the chosen one with its interval and Q', () => {
    const shown = page();
    for (const [name, hz] of [
      ['1. Long-grain', 92.37],
      ['2. Cross-grain', 141.74],
      ['3. Twist', 47.13],
    ] as const) {
      const button = [...shown.querySelectorAll('.tap-kind')].find(({ textContent }) => textContent!.startsWith(name))!;
      expectPlain(button.querySelector('strong')!.textContent!, hz, 'Hz');
    }
    const [hz, q] = shown.querySelector('.figure-value .figure-unit')!.innerHTML.split('<br>');
    const number = shown.querySelector('.figure-value .figure-number')!.textContent!;
    expectFigure(`${number} ± ${hz!.split('±')[1]}`, 92.37, 0.06, '');
    expect(hz!.startsWith('Hz')).toBe(true);
    expectFigure(q!.replace('Q ', '').replaceAll('&nbsp;', ' '), 61, 2.4, '');
    const options = [...shown.querySelectorAll('option')].map(({ textContent }) => textContent);
    expect(options).toEqual(['The strongest of the last round', '92.4 Hz, −31 dB', '188.2 Hz, −44 dB']);
    expectPlain(figuresOf(shown, /Expect it near (.+?)\.$/)[0]!, 95.4, 'Hz');
  });

  test('a recorder that changed the sound is told, and the mode has no Q', () => {
    expect(page().querySelector('.note')).toBe(null);
    const [round] = piece.rounds;
    const changed = { ...round!, fit: { ...round!.fit!, recorder: 'noise-suppression' as const } };
    const shown = page({}, { ...piece, rounds: [changed] });
    expect(shown.querySelector('.note')!.textContent).toContain('took away what it held for noise');
    expect(shown.querySelector('.figure-value')!.textContent).toContain('92.37');
    expect(shown.querySelector('.figure-value .figure-unit')!.textContent).toContain('Q unknown');
  });

  test.each(lengths)('where to hold and to tap, in %s', (length, _mass, unit, _massUnit, perMm) => {
    const [hold, tap] = figuresOf(
      page({ length }),
      /at the ring, (.+?) from the left end, at the lower edge; .+ length, (.+?) from the lower edge, and/,
    );
    expectPlain(hold!, 116.5 * perMm, unit);
    expectPlain(tap!, 60 * perMm, unit);
  });
});

describe.each(lengths)('the fields of a piece, in %s and %s', (length, mass, unit, massUnit, perMm, perG) => {
  const sizes = { lengthMm: of(520, 0.3), widthMm: of(201, 0.4), thicknessMm: of(3.4, 0.02), massG: of(147, 0.6) };
  const constants = {
    densityKgM3: of(417, 3),
    eLongGpa: of(11.84, 0.25),
    eCrossGpa: of(0.873, 0.02),
    gGpa: of(0.752, 0.03),
  };
  const own = { thicknessMm: 2.8, eLongGpa: 12.5, eCrossGpa: 0.9, gGpa: 0.8, densityKgM3: 420 };
  const piece = made('A', 'top', constants, {
    ...sizes,
    ...{ shape: 'rectangle', unevenMm: 0.15, finishedMm: of(2.66, 0.03) },
    modes: [{ id: 'twist', frequencyHz: of(47.13, 0.2) }],
    thicknessing: {
      ...{ reference: { from: 'own', ...own }, by: 'mass', patchLengthMm: 410, patchWidthMm: 380, areaCm2: 1050 },
      marginMm: 0.25,
    },
  });
  const record = { ...newRecord({ id: 'i', createdAtIso: '2026-11-25T00:00:00.000Z', name: 'I' }), pieces: [piece] };
  const curve = [2, 5].map((thicknessMm) => ({
    thicknessMm,
    modes: [
      { pattern: { m: 1, n: 1 }, frequencyHz: 14 * thicknessMm },
      { pattern: { m: 2, n: 0 }, frequencyHz: 27 * thicknessMm },
    ],
  }));
  const answers: Readonly<Record<string, unknown>> = {
    'hold-guides': [],
    'read-board': { kind: 'missing-taps', missing: [] },
    'modes-against-thickness': curve,
  };
  const page = async () => {
    const shown = show(
      <WoodView />,
      { length, mass },
      {
        ...workshop([piece]),
        shelf: { record: signal(record), summaries: signal([]) },
        stock: { page: signal('pieces'), chosenId: signal(undefined), all: async () => [] },
        bench: { state: signal({ kind: 'idle' }) },
        answers: { of: (asked: string) => ({ value: { kind: 'answer', answer: answers[asked] } }) },
      },
    );
    await settled();
    return shown;
  };
  /** All but lengths to a ten-thousandth. */
  const expectField = (shown: HTMLElement, name: string, value: number, saidUnit: string) => {
    const { text } = fieldNamed(shown, name);
    if (saidUnit === unit) return expectLength(text, value, unit, name);
    const [number, said = ''] = text.split(' ');
    expect(said, name).toBe(saidUnit);
    expect(Math.abs(Number(number) - value), `${name} ${number}`).toBeLessThanOrEqual(5.01e-5);
  };

  test('sizes and mass with their half widths, the unevenness, and its stiffness in the list', async () => {
    const shown = await page();
    for (const [name, { value, sigma }, saidUnit, per] of [
      ['Length along the grain', sizes.lengthMm, unit, perMm],
      ['Width', sizes.widthMm, unit, perMm],
      ['Thickness', sizes.thicknessMm, unit, perMm],
      ['Mass', sizes.massG, massUnit, perG],
    ] as const) {
      expectField(shown, name, value * per, saidUnit);
      // Three digits of the half width.
      const [half, halfUnit] = fieldNamed(shown, `${name} ±`).text.split(' ');
      expect(halfUnit).toBe(saidUnit);
      expect(Math.abs(Number(half) / (1.959964 * sigma * per) - 1)).toBeLessThan(0.03);
    }
    expectField(shown, 'Thinnest to thickest', 0.15 * perMm, unit);
    expectPlain(figuresOf(shown, /E along (\d.+)$/)[0]!, 11.84, 'GPa');
  });

  test('what it should equal, and the modes against thickness', async () => {
    const shown = await page();
    unfold(shown, 'How thick it should be');
    for (const [name, mm] of [
      ['Reference thickness', 2.8],
      ['Patch along the grain', 410],
      ['Patch across the grain', 380],
      ['Left for sanding and finish', 0.25],
      ['Thickness it was finished to', 2.66],
    ] as const)
      expectField(shown, name, mm * perMm, unit);
    for (const [name, value, itsUnit] of [
      ['E along the grain', 12.5, 'GPa'],
      ['E across the grain', 0.9, 'GPa'],
      ['Shear modulus G', 0.8, 'GPa'],
      ['Density', 420, 'kg/m³'],
    ] as const)
      expectField(shown, name, value, itsUnit);
    // A square inch is 2.54 cm square; a field of it holds a tenth.
    const [areaUnit, perCm2] = length === 'inch' ? ['in²', 1 / 2.54 ** 2] : ['cm²', 1];
    const [area, saidUnit] = fieldNamed(shown, 'Area for the mass').text.split(' ');
    expect(saidUnit).toBe(areaUnit);
    expect(Number(area)).toBeCloseTo(1050 * perCm2, 1);
    expectPlain(
      fieldNamed(shown, 'Area for the mass').hint.replace('This board has ', ''),
      Math.round(52 * 20.1) * perCm2,
      '',
    );
    unfold(shown, 'Free modes of this board against its thickness');
    const drawn = JSON.parse([...shown.querySelectorAll('output')].at(-1)!.textContent!);
    expect([drawn.xLabel, drawn.yLabel]).toEqual([`Thickness, ${unit}`, 'Hz']);
    expect(drawn.series).toEqual([
      {
        label: 'twist',
        points: [
          { x: 2 * perMm, y: 28 },
          { x: 5 * perMm, y: 70 },
        ],
      },
      {
        label: 'long-grain bending',
        points: [
          { x: 2 * perMm, y: 54 },
          { x: 5 * perMm, y: 135 },
        ],
      },
    ]);
  });
});
