// @vitest-environment happy-dom
// Figures of a board and a stick, each against another line of arithmetic than the page's.
import { describe, expect, test } from 'vitest';
import type { Estimate } from '../../src/quantity/estimate.ts';
import type { Piece } from '../../src/record/record.ts';
import { freshPiece } from '../../src/record/wood-edit.ts';
import type { Settings } from '../../src/storage/settings.ts';
import { BoardReadingOf } from '../../src/views/wood/reading.tsx';
import { SecondOpinion, ThicknessMapOf } from '../../src/views/wood/second-opinion.tsx';
import { StickReadingOf } from '../../src/views/wood/stick.tsx';
import { BoardThickness } from '../../src/views/wood/thickness.tsx';
import { PieceWeather } from '../../src/views/wood/weather.tsx';
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

const of = (value: number, sigma: number): Estimate => ({ value, sigma });
const units: readonly (readonly [Settings['length'], Settings['mass'], string, string, number, number])[] = [
  ['mm', 'g', 'mm', 'g', 1, 1],
  ['inch', 'oz', 'in', 'oz', 1 / 25.4, 16 / 453.59237],
];

const noRecord = { shelf: { record: { value: undefined }, summaries: { value: [] } }, nowIso: () => '' };
const noOther = { ...noRecord, stock: { all: async () => [] } };
const answering = (answer: unknown) => ({
  ...noRecord,
  answers: { of: () => ({ value: { kind: 'answer', answer } }) },
});

/** The figure that stands large above a label. */
function expectLarge(page: HTMLElement, label: string, { value, sigma }: Estimate, unit: string): void {
  const found = [...page.querySelectorAll('.figure')].filter(
    (figure) => figure.querySelector('.figure-more')?.textContent === label,
  );
  expect(found, label).toHaveLength(1);
  const [saidUnit, halfWidth] = found[0]!.querySelector('.figure-unit')!.textContent!.split('±');
  expect(saidUnit).toBe(unit);
  expectFigure(`${found[0]!.querySelector('.figure-number')!.textContent} ± ${halfWidth}`, value, sigma, '');
}

/** A figure whose unit is of several words. */
function expectInUnit(text: string, { value, sigma }: Estimate, unit: string): void {
  expect(text.endsWith(`\u00a0${unit}`), text).toBe(true);
  expectFigure(text.slice(0, -unit.length - 1), value, sigma, '');
}

describe('a stick by its taps', () => {
  const sizes = [of(600, 0.25), of(15, 0.04), of(14, 0.05), of(52.9, 0.25)] as const;
  const [lengthMm, widthMm, thicknessMm, massG] = sizes;
  const [bendingHz, twistHz] = [of(204.6, 0.4), of(1022, 6)];
  const stick = (tapped: Piece['modes']): Piece => ({
    ...freshPiece('s', 'brace-stock', 'Stick', 'sitka-spruce'),
    ...{ lengthMm, widthMm, thicknessMm, massG, modes: tapped },
  });
  const bent = { id: 'long-grain-bending', frequencyHz: bendingHz } as const;
  const page = (...tapped: Piece['modes']) => show(<StickReadingOf piece={stick(tapped)} />, {}, noRecord);

  const density = ([l, b, t, m]: readonly number[]) => (m! / (l! * b! * t!)) * 1e6;
  /** E / G of Sitka spruce and its scatter. Source: FPL-GTR-282 Table 5-1. */
  const usualRatio = of(1 / 0.064, 4.7);
  /**
   * E of a slender bar by its free-free bending, GPa: Rayleigh's f = (4.73004^2 / 2 pi L^2) sqrt(E I / rho A), then Goens' 1931
   * correction for shear and rotation.
   */
  const goens = ([l, , t]: readonly number[], ratio: number) => 1 + (t! / l!) ** 2 * (49.48 / 12 + 1.23 * ratio);
  const bare = (values: readonly number[]) =>
    (density(values) * (2 * Math.PI * values[4]! * (values[0]! / 1000) ** 2) ** 2 * 12) /
    (4.73004 ** 4 * (values[2]! / 1000) ** 2 * 1e9);
  const modulus = (values: readonly number[]) => bare(values) * goens(values, values[5]!);
  const untwisted = [...sizes, bendingHz, usualRatio];
  const told = (f: (values: readonly number[]) => number, inputs: readonly Estimate[]) =>
    of(f(inputs.map(({ value }) => value)), sigmaOf(f, inputs));

  test('density, E, stiffness for weight, and the speed of sound, in which width and mass have no part', () => {
    const shown = page(bent);
    expectLarge(shown, 'Density', told(density, sizes), 'kg/m³');
    expectLarge(shown, 'E along the grain', told(modulus, untwisted), 'GPa');
    const forWeight = (values: readonly number[]) => (1000 * modulus(values)) / density(values);
    expectLarge(shown, 'Stiffness for weight, E/ρ', told(forWeight, untwisted), '10⁶ m²/s²');
    const [speed, shear] = figuresOf(shown, /grain (.+?); shear made E (.+?) %/);
    const metres = told((values) => 1000 * Math.sqrt(forWeight(values)), untwisted);
    expectFigure(speed!, metres.value, metres.sigma, 'm/s');
    expectPlain(
      shear!,
      100 *
        (goens(
          untwisted.map(({ value }) => value),
          usualRatio.value,
        ) -
          1),
      '',
    );
  });

  test('G of a twisted stick, and E with the shear that was tapped', () => {
    /** Torsion constant of a rectangle by Saint-Venant's series. Source: Timoshenko and Goodier, Theory of Elasticity, art. 109. */
    const torsion = (b: number, t: number) =>
      b *
      t ** 3 *
      (1 / 3 -
        [1, 3, 5, 7].reduce(
          (sum, n) => sum + ((64 / Math.PI ** 5) * t * Math.tanh((n * Math.PI * b) / (2 * t))) / (b * n ** 5),
          0,
        ));
    const shear = (values: readonly number[]) => {
      const [l, b, t, , f] = values as [number, number, number, number, number];
      return (density(values) * (2 * f * l) ** 2 * (b * t * (b ** 2 + t ** 2))) / (12 * torsion(b, t) * 1e15);
    };
    const twisted = [...sizes, twistHz];
    const shown = page(bent, { id: 'twist', frequencyHz: twistHz });
    const g = told(shear, twisted);
    expectLarge(shown, 'Shear modulus G', g, 'GPa');
    const consistent = (values: readonly number[]) => {
      let e = bare(values);
      for (let i = 0; i < 30; i++) e = bare(values) * goens(values, e / shear(values.with(4, values[5]!)));
      return e;
    };
    expectLarge(shown, 'E along the grain', told(consistent, [...sizes, bendingHz, twistHz]), 'GPa');
  });
});

describe('a board that was read', () => {
  const traced = (value: number, contributions: readonly (readonly [string, number])[]) => ({
    value,
    sigma: Math.hypot(...contributions.map(([, sigma]) => sigma)),
    contributions: contributions.map(([input, sigma]) => ({ input, sigma })),
  });
  const constants = {
    densityKgM3: traced(417, [
      ['thickness', 4],
      ['mass', 3],
    ]),
    eLongGpa: traced(11.84, [
      ['thickness', 0.24],
      ['length', 0.07],
    ]),
    eCrossGpa: traced(0.873, [
      ['cross-tap', 0.02],
      ['width', 0.004],
    ]),
    gGpa: traced(0.752, [['twist-tap', 0.03]]),
    speedLongMS: traced(5330, [['thickness', 41]]),
    speedCrossMS: traced(1447, [['cross-tap', 17]]),
    radiationRatio: traced(12.78, [['mass', 0.21]]),
    impedance: traced(2.222e6, [['mass', 0.031e6]]),
  };
  const reading = {
    kind: 'read',
    constants,
    loss: { long: of(0.0068, 0.0004), cross: of(0.021, 0.0011), twist: of(0.016, 0.0009) },
    simple: {
      'long-grain-bending': { gpa: 11.52, ratio: 0.973 },
      'cross-grain-bending': { gpa: 0.91, ratio: 1.0424 },
      twist: { gpa: 0.68, ratio: 0.904 },
    },
    warnings: [
      {
        because: 'bending-modes-mix',
        aspect: 1.9,
        meetingAspect: 1.93,
        remedies: [
          { trim: 'length', toMm: 508 },
          { trim: 'width', toMm: 190.5 },
        ],
      },
    ],
  };
  const heard = [92.4, 141.7, 187.2].map((value, i) => ({
    frequencyHz: of(value, 0.1 + 0.1 * i),
    q: of(60, 3),
    levelDb: -20 - i,
    amplitudes: [],
    resolution: 'single' as const,
  }));
  const board: Piece = {
    ...freshPiece('b', 'top', 'Board', 'sitka-spruce'),
    lengthMm: of(520, 0.3),
    widthMm: of(200, 0.3),
    thicknessMm: of(3.4, 0.02),
    massG: of(147, 0.3),
    shape: 'rectangle',
    unevenMm: 0.05,
    rounds: [
      {
        ...{ id: 'r', atIso: '2026-11-25T08:00:00.000Z', spot: '', source: '', state: 'closed', taps: [] },
        support: { hold: 'at-node', bridge: 'off', strung: false },
        fit: { method: 'test', modes: heard, used: [], setAside: [], scatterKnown: true },
      },
    ],
  };
  const page = (answer: unknown = reading, settings: Partial<Settings> = {}) =>
    show(<BoardReadingOf piece={board} />, settings, answering(answer));

  test('every constant stands under its own name with its own unit and interval, large and in the table', () => {
    const shown = page();
    const lines: readonly (readonly [string, Estimate, string])[] = [
      ['Density', constants.densityKgM3, 'kg/m³'],
      ['E along the grain', constants.eLongGpa, 'GPa'],
      ['E across the grain', constants.eCrossGpa, 'GPa'],
      ['Shear modulus G', constants.gGpa, 'GPa'],
      ['Speed of sound along', constants.speedLongMS, 'm/s'],
      ['Speed of sound across', constants.speedCrossMS, 'm/s'],
      ['Radiation ratio c/ρ', constants.radiationRatio, 'm⁴/(kg s)'],
      ['How hard to set moving (characteristic impedance)', of(2.222, 0.031), 'MPa s/m'],
    ];
    for (const [label, figure, unit] of lines)
      expectInUnit(cellOf(shown, 'All constants', label, 'Value').split('doubt')[0]!, figure, unit);
    for (const [label, figure, unit] of lines.slice(0, 4)) expectLarge(shown, label, figure, unit);
  });

  test('what each entry has in the doubt: shares of the variance', () => {
    const doubt = (row: string) => cellOf(page(), 'All constants', row, 'Value').split('doubt: ')[1];
    expect(doubt('Density')).toBe('thickness 64 %, mass 36 %');
    // 0.0576 and 0.0049 of 0.0625
    expect(doubt('E along')).toBe('thickness 92 %, length 8 %');
    expect(doubt('E across')).toBe('cross-grain tap 96 %');
  });

  test('Q is one over the loss, and so is its relative doubt', () => {
    const said = figuresOf(page(), /alone: along (.+?), across (.+?), in twist (.+?)\.$/);
    // The figure of a quotient may differ in second order of its doubt.
    for (const [i, { value, sigma }] of [reading.loss.long, reading.loss.cross, reading.loss.twist].entries())
      expectFigure(said[i]!, 1 / value, ((sigma / value) * (1 + (sigma / value) ** 2)) / value, '');
  });

  test('the bare formulas, and how far each lies from the plate', () => {
    for (const [tap, gpa, percent] of [
      ['Long-grain bending', 11.52, -2.7],
      ['Cross-grain bending', 0.91, 4.2],
      ['Twist', 0.68, -9.6],
    ] as const) {
      const [said, apart] = figuresOf(page(), new RegExp(`^${tap}: (.+?), (.+?) % from`));
      expectPlain(said!, gpa, 'GPa');
      expectPlain(apart!, percent, '');
    }
  });

  test.each(units)('how far to trim it, in %s', (length, _mass, unit, _massUnit, perMm) => {
    const said = figuresOf(page(reading, { length }), /Trim the length to (.+?) or the width to (.+?);/);
    expectPlain(said[0]!, 508 * perMm, unit);
    expectPlain(said[1]!, 190.5 * perMm, unit);
  });

  test.each(units)('what a wrong entry would have been, in %s and %s', (length, mass, unit, massUnit, perMm, perG) => {
    const suspects = [
      { entry: 'thickness', describes: 'density', slip: 'tenfold', likelyValue: 3.4 },
      { entry: 'mass', describes: 'density', slip: 'other-units', likelyValue: 147.4 },
      { entry: 'twist', describes: 'density', slip: 'octave', likelyValue: 43.26 },
    ];
    const shown = page({ kind: 'not-wood', suspects }, { length, mass });
    expectPlain(figuresOf(shown, /of the thickness.+ been (.+)\.$/)[0]!, 3.4 * perMm, unit);
    expectPlain(figuresOf(shown, /The mass looks.+ been (.+)\.$/)[0]!, 147.4 * perG, massUnit);
    expectPlain(figuresOf(shown, /for the twist looks.+ been (.+)\.$/)[0]!, 43.26, 'Hz');
  });

  test('peaks beside the modes of the plate', () => {
    const peaks = [
      { frequencyHz: heard[0]!.frequencyHz, pattern: { m: 1, n: 1 }, modelHz: 91.32, misfitPercent: 1.18 },
      { frequencyHz: heard[1]!.frequencyHz, pattern: { m: 2, n: 0 }, modelHz: 142.66, misfitPercent: -0.67 },
      { frequencyHz: heard[2]!.frequencyHz, pattern: undefined, modelHz: undefined, misfitPercent: undefined },
    ];
    const named = { kind: 'named', isSure: true, peaks, unseen: [{ pattern: { m: 0, n: 2 }, frequencyHz: 163.4 }] };
    const shown = show(
      <BoardReadingOf piece={board} />,
      {},
      {
        ...noRecord,
        answers: {
          of: (asked: string) => ({ value: { kind: 'answer', answer: asked === 'name-peaks' ? named : reading } }),
        },
      },
    );
    unfold(shown, 'All peaks together: which is which');
    for (const { frequencyHz, modelHz, misfitPercent } of peaks.slice(0, 2)) {
      const cell = (column: string) => cellOf(shown, 'Peaks and modes', frequencyHz.value.toFixed(1), column);
      expectFigure(cell('Peak'), frequencyHz.value, frequencyHz.sigma, 'Hz');
      expectPlain(cell('Plate model'), modelHz!, 'Hz');
      expectPlain(cell('Apart'), misfitPercent!, '%');
    }
    expectPlain(figuresOf(shown, /cross-grain bending near (.+?)\.$/)[0]!, 163.4, 'Hz');
  });
});

describe('what the weather does', () => {
  const air = { humidityPercent: 38, tempC: 24 };
  const hygrometerSigmaPercent = 2;
  const modes = { 'long-grain-bending': of(92.4, 0.1), 'cross-grain-bending': of(141.7, 0.3), twist: of(47.1, 0.2) };
  const piece: Piece = {
    ...freshPiece('b', 'top', 'Board', 'sitka-spruce'),
    widthMm: of(100, 0.3),
    climate: air,
    modes: (Object.keys(modes) as (keyof typeof modes)[]).map((id) => ({ id, frequencyHz: modes[id] })),
  };
  const before = atRest(38, 24);
  const reference = toReference(38, 24, hygrometerSigmaPercent);
  const percent = ({ value, sigma }: Estimate) => [100 * value, 100 * sigma] as const;
  const page = (settings: Partial<Settings> = {}) =>
    show(<PieceWeather piece={piece} />, { hygrometerSigmaPercent, ...settings });

  test.each([
    ['c', '24.0', '°C'],
    ['f', '75', '°F'],
  ] as const)(
    'moisture now, with the doubt of hygrometer and formula, and the air in %s',
    (temperature, degrees, unit) => {
      const [humidity, shownDegrees, moisture] = figuresOf(
        page({ temperature }),
        /^At (.+?), (.+?) the wood .+ at (.+?) moisture/,
      );
      expectPlain(humidity!, 38, '%RH');
      expect(shownDegrees).toBe(`${degrees} ${unit}`);
      expectFigure(moisture!, before, Math.hypot(moisturePerPercent(38, 24) * hygrometerSigmaPercent, 1), '%');
    },
  );

  test.each([
    ['Long', 'long-grain-bending', 'long'],
    ['Cross', 'cross-grain-bending', 'cross'],
    ['Twist', 'twist', 'plate'],
  ] as const)('%s mode at the reference climate', (name, kind, direction) => {
    const { value, sigma } = modes[kind];
    const { tone } = reference.along(direction);
    const cell = (column: string) => cellOf(page(), 'At the reference climate', name, column);
    expectFigure(cell('Measured'), value, sigma, 'Hz');
    const there = value * (1 + tone.value);
    expectFigure(
      cell('At 50\u00a0%RH, 20.0\u00a0°C'),
      there,
      Math.hypot((sigma * there) / value, value * tone.sigma),
      'Hz',
    );
    expectFigure(cell('Change'), ...percent(tone), '%');
  });

  test('mass, and stiffness along and across', () => {
    const said = figuresOf(page(), /mass changes by (.+?), its stiffness along the grain by (.+?), across by (.+?)\.$/);
    expectFigure(said[0]!, ...percent(reference.mass), '%');
    expectFigure(said[1]!, ...percent(reference.along('long').stiffness), '%');
    expectFigure(said[2]!, ...percent(reference.along('cross').stiffness), '%');
  });

  test.each(units)('movement of the width in %s', (length, _mass, unit, _massUnit, perMm) => {
    const said = figuresOf(page({ length }), /moves by (.+?) at (\d+) %RH and (.+?) at (\d+) %RH/);
    expect([said[1], said[3]]).toEqual(['30', '60']);
    // Sitka spruce radially: 0.00148 per %. Source: FPL-GTR-282 Table 13-5, to three digits, so on a narrow board.
    for (const [i, at] of [
      [0, 30],
      [2, 60],
    ] as const)
      expectPlain(said[i]!, 100 * 0.00148 * (atRest(at, 24) - before) * perMm, unit);
  });
});

describe('deflection under a weight', () => {
  const [span, load, give] = [of(400, 0.25), of(1000, 1), of(1.24, 0.01)];
  const [along, across, thick] = [of(520, 0.3), of(200, 0.3), of(3.4, 0.02)];
  const piece: Piece = {
    ...freshPiece('b', 'top', 'Board', ''),
    ...{ lengthMm: along, widthMm: across, thicknessMm: thick },
    deflections: (['along', 'across'] as const).map((id) => ({ id, spanMm: span, loadG: load, deflectionMm: give })),
    reading: { method: '', atIso: '', eLongGpa: of(12.6, 0.24), eCrossGpa: of(0.91, 0.02) },
  };
  const part = (name: string, settings: Partial<Settings> = {}) =>
    [...show(<SecondOpinion piece={piece} />, settings, noRecord).querySelectorAll('fieldset')].find(
      (fieldset) => fieldset.querySelector('legend')?.textContent === name,
    )!;

  test.each([
    ['Along the grain', across, of(12.6, 0.24)],
    ['Across the grain', along, of(0.91, 0.02)],
  ] as const)('%s', (name, side, tapped) => {
    // E = F S^3 / (4 b h^3 d), a beam on two supports with its load in the middle (any strength-of-materials text); standard gravity.
    const newton = (9.80665 * load.value) / 1000;
    const e = (newton * span.value ** 3) / (4 * side.value * thick.value ** 3 * give.value) / 1000;
    const share = ({ value, sigma }: Estimate) => sigma / value;
    const stiff = Math.hypot(share(load), 3 * share(span), share(give), share(side));
    const [modulus, perWidth] = figuresOf(part(name), /^E (.+?), stiffness per width (.+?) m;/);
    expectFigure(modulus!, e, e * Math.hypot(stiff, 3 * share(thick)), 'GPa');
    expectFigure(perWidth!, (e * thick.value ** 3) / 12, ((e * thick.value ** 3) / 12) * stiff, 'N');
    expectFigure(figuresOf(part(name), /^Tapped: (.+?)\. /)[0]!, tapped.value, tapped.sigma, 'GPa');
  });

  test.each(units)('what was entered, in %s and %s', (length, mass, unit, massUnit, perMm, perG) => {
    const shown = part('Along the grain', { length, mass });
    for (const [label, { value, sigma }, of, per] of [
      ['Span between the dowels', span, unit, perMm],
      ['Weight in the middle', load, massUnit, perG],
      ['Deflection', give, unit, perMm],
    ] as const) {
      const { text } = fieldNamed(shown, label);
      const [half, halfUnit] = fieldNamed(shown, `${label} ±`).text.split(' ');
      expect([figureIn(text).unit, halfUnit]).toEqual([of, of]);
      if (of === unit) expectLength(text, value * per, unit);
      else expect(figureIn(text).value).toBeCloseTo(value * per, 3);
      // A field keeps a thousandth of a millimetre and a ten-thousandth of the rest.
      const kept = Math.max(5e-5, of === 'mm' ? 5e-4 : 0);
      expect(Math.abs(Number(half) - 1.959964 * sigma * per)).toBeLessThan(0.005 * Number(half) + kept);
    }
  });
});

describe('the thickness map', () => {
  const [length, width] = [500, 200];
  // A taper both ways: its mean is the thickness in the middle.
  const at = (x: number, y: number) => 3 + (0.04 * (x - 250)) / 100 - (0.1 * (y - 100)) / 100;
  const places = [0.1, 0.3, 0.5, 0.7, 0.9].flatMap((u) =>
    [0.15, 0.5, 0.85].map((v) => [u * length, v * width] as const),
  );
  const caliper = places.map(([xMm, yMm], i) => ({ id: `p${i}`, xMm, yMm, thicknessMm: at(xMm, yMm) }));
  const piece: Piece = {
    ...freshPiece('b', 'top', 'Board', ''),
    ...{ lengthMm: of(length, 0.3), widthMm: of(width, 0.3), thicknessMm: of(3, 0.04), caliper },
  };
  const page = (settings: Partial<Settings> = {}, of = piece) =>
    show(<ThicknessMapOf piece={of} />, settings, noRecord);
  const spread = Math.sqrt(caliper.reduce((sum, { thicknessMm }) => sum + (thicknessMm - 3) ** 2, 0) / 14);

  test.each(units)('mean, spread, extremes and tapers in %s', (setting, _mass, unit, _massUnit, perMm) => {
    const said = figuresOf(
      page({ length: setting }),
      /^Mean (.+?), spread (.+?) from point to point; thinnest (.+?), thickest (.+?)\. Per (?:100 mm|4 in) it tapers by (.+?) along and (.+?) across\.$/,
    );
    // Four inches are 101.6 mm.
    const over = setting === 'inch' ? 1.016 : 1;
    expectFigure(said[0]!, 3 * perMm, Math.hypot(spread / Math.sqrt(15), 0.04) * perMm, unit);
    for (const [i, mm] of [spread, at(50, 170), at(450, 30), 0.04 * over, -0.1 * over].entries())
      expectPlain(said[i + 1]!, mm * perMm, unit);
  });

  test('without a thickness entered, the doubt is the half width that the settings give the caliper', () => {
    const { thicknessMm: _none, ...bare } = piece;
    const even = caliper.map((point) => ({ ...point, thicknessMm: 3 }));
    const [mean] = figuresOf(page({ caliperMm: 0.121 }, { ...bare, caliper: even }), /^Mean (.+?),/);
    expectFigure(mean!, 3, 0.121 / 1.959964, 'mm');
  });

  test('what the taper would read E off by', () => {
    // First mode of a free beam from its middle: cos and cosh of 2.36502 x (Blevins 1979, Table 8-1). Only u^2 of the taper counts.
    const k = 2.36502;
    const bends = (u: number) => (Math.cosh(k * u) / Math.cosh(k) - Math.cos(k * u) / Math.cos(k)) ** 2;
    const strips = Array.from({ length: 2000 }, (_, i) => (i + 0.5) / 2000);
    const mean = (of: (u: number) => number) => strips.reduce((sum, u) => sum + of(u), 0) / strips.length;
    const square = mean((u) => bends(u) * u * u) / mean(bends);
    const [along, across] = figuresOf(page(), /E along would be read off by (.+?) and E across by (.+?)\. /);
    const [long, cross] = [(0.04 * 2.5) / 3, 0.1 / 3];
    const both = (long ** 2 + cross ** 2) / 3;
    for (const [said, own, other] of [
      [along, long, cross],
      [across, cross, long],
    ] as const) {
      // <(1 + own u + other v)^3> with u and v apart from one another
      const value = 3 * own ** 2 * square + other ** 2;
      expectFigure(said!, 100 * value, 100 * Math.hypot(0.2 * value, both), '%');
    }
  });
});

describe('how thick to make it', () => {
  const wood = [of(11.2, 0.24), of(0.84, 0.03), of(0.71, 0.03), of(402, 4)] as const;
  const own = { thicknessMm: 2.8, eLongGpa: 12, eCrossGpa: 0.9, gGpa: 0.8, densityKgM3: 420 };
  const [patchLengthMm, patchWidthMm, areaCm2] = [400, 380, 1050];
  const [eLongGpa, eCrossGpa, gGpa, densityKgM3] = wood;
  const piece: Piece = {
    ...freshPiece('b', 'top', 'Board', 'sitka-spruce'),
    reading: { method: '', atIso: '', eLongGpa, eCrossGpa, gGpa, densityKgM3 },
    thicknessing: {
      ...{ reference: { from: 'own', ...own }, by: 'long-stiffness', patchLengthMm, patchWidthMm, areaCm2 },
      ...{ marginMm: 0.25, stop: { mm: 3.3, atIso: '2026-11-25T08:00:00.000Z' } },
    },
  };
  const page = async (settings: Partial<Settings> = {}) => {
    const shown = show(<BoardThickness piece={piece} />, settings, noOther);
    await settled();
    return shown;
  };
  /** Clamped plate by one term of Rayleigh: stiffness over its part of h^3. Source: Leissa, NASA SP-160, ch. 9; nu_LR of Table 5-2. */
  const patch = ([eL, eR, g]: readonly number[]) => {
    const ratio = (patchLengthMm / patchWidthMm) ** 2;
    const stretched = 1 - 0.372 ** 2 * (eR! / eL!);
    return (eL! + eR! * ratio ** 2 + (4 / 7) * ratio * 0.372 * eR!) / stretched + (8 / 7) * ratio * g!;
  };
  const reference = [own.eLongGpa, own.eCrossGpa, own.gGpa, own.densityKgM3];
  const ways: Readonly<Record<string, (values: readonly number[]) => number>> = {
    'Same stiffness along': ([eL]) => Math.cbrt(own.eLongGpa / eL!),
    'Same stiffness across': ([, eR]) => Math.cbrt(own.eCrossGpa / eR!),
    'Same stiffness both': (values) => Math.cbrt(patch(reference) / patch(values)),
    'Same frequency': (values) => Math.sqrt((patch(reference) * values[3]!) / (patch(values) * own.densityKgM3)),
    'Same long-grain': ([eL, , , rho]) => Math.sqrt((own.eLongGpa * rho!) / (eL! * own.densityKgM3)),
    'Same cross-grain': ([, eR, , rho]) => Math.sqrt((own.eCrossGpa * rho!) / (eR! * own.densityKgM3)),
    'Same mass': ([, , , rho]) => own.densityKgM3 / rho!,
  };
  const mm = (way: string) => {
    const thick = (values: readonly number[]) => own.thicknessMm * ways[way]!(values);
    return of(thick(wood.map(({ value }) => value)), sigmaOf(thick, wood));
  };
  const all = Object.keys(ways).map((way) => mm(way).value);

  test.each(units)(
    'thickness and mass by every way, in %s and %s',
    async (length, mass, unit, massUnit, perMm, perG) => {
      const shown = await page({ length, mass });
      for (const way of Object.keys(ways)) {
        const cell = (column: string) => cellOf(shown, 'Thickness by each criterion', way, column);
        const { value, sigma } = mm(way);
        expectFigure(cell('Thickness'), value * perMm, sigma * perMm, unit);
        // g of cm^2 times mm; density enters the thickness too
        const grams = (values: readonly number[]) => own.thicknessMm * ways[way]!(values) * values[3]! * areaCm2 * 1e-4;
        expectFigure(cell('Mass'), grams(wood.map(({ value }) => value)) * perG, sigmaOf(grams, wood) * perG, massUnit);
        expectPlain(cell('Against the thinnest'), (value - Math.min(...all)) * perMm, unit);
      }
      expectPlain(figuresOf(shown, /equal lie (.+?) apart/)[0]!, (Math.max(...all) - Math.min(...all)) * perMm, unit);
    },
  );

  test.each(units)('where to stop, in %s', async (length, _mass, unit, _massUnit, perMm) => {
    const shown = await page({ length });
    const { value, sigma } = mm('Same stiffness along');
    expectPlain(figuresOf(shown, /^Stop the machine at (.+)$/)[0]!, (value + 0.25) * perMm, unit);
    expectPlain(figuresOf(shown, /^Stop at (.+?) first/)[0]!, (value + 0.25 + 1.959964 * sigma) * perMm, unit);
    expectPlain(figuresOf(shown, /stop at (.+?)\.(?: |$)/)[0]!, 3.3 * perMm, unit);
  });
});
