// @vitest-environment happy-dom
// The printed report: every figure for the maker's file and for the owner against the record.
import { signal } from '@preact/signals';
import { describe, expect, test } from 'vitest';
import { startPlan } from '../../src/record/plan-edit.ts';
import type { InstrumentRecord, Piece, Round, Step, StoredMode } from '../../src/record/record.ts';
import type { Settings } from '../../src/storage/settings.ts';
import { MakerReport } from '../../src/views/record/report/for-maker.tsx';
import { OwnerReport } from '../../src/views/record/report/for-owner.tsx';
import { inMould, story } from '../compare/story.ts';
import { beside, cell, expectFigure, expectPlain, figureIn, partNamed, show, unitSystems } from './shown.tsx';

const hz = [194.3, 189.1, 184.7];
const sigmas = [0.11, 0.23, 0.17];
const massesG = [211.4, undefined, 207.9];
const airs = [
  { humidityPercent: 41, tempC: 19.4 },
  { humidityPercent: 47, tempC: 22.6 },
  { humidityPercent: 44, tempC: 21.1 },
];
const mode = (value: number, sigma: number, q: number, qSigma: number): StoredMode => ({
  frequencyHz: { value, sigma },
  q: { value: q, sigma: qSigma },
  levelDb: -20,
  amplitudes: [],
  resolution: 'single',
});
const told = story(hz.map((value, i) => ({ modesHz: [value], sigmaHz: sigmas[i]! })));
const withModes = (round: Round, modes: readonly StoredMode[]): Round => ({
  ...round,
  fit: { ...round.fit!, modes: [...modes], used: [0, 1, 2, 3, 4].map((tap) => ({ hold: 0, tap })) },
});
/** The last step heard two modes: the monopole, and one whose Q is not measurable. */
const last = [mode(hz[2]!, sigmas[2]!, 37, 1.9), mode(262.8, 0.31, 20, 12)];
const measured = (value: number, share: number) => ({ value, sigma: share * value });
const wood = {
  densityKgM3: measured(417, 0.005),
  eLongGpa: measured(11.3, 0.013),
  eCrossGpa: measured(0.79, 0.019),
};
const piece: Piece = {
  id: 'w',
  kind: 'top',
  name: 'Half 7',
  species: 'sitka-spruce',
  thicknessMm: measured(3.9, 0.01),
  finishedMm: { value: 2.73, sigma: 0.017 },
  climate: {},
  rounds: [],
  notes: '',
  modes: [],
  caliper: [],
  deflections: [],
  reading: { method: 'test', atIso: '2026-11-25T08:00:00.000Z', ...wood },
};
const drawn = startPlan('right');
const plan = { ...drawn, thicknessMm: 2.84, scaleMm: 648.4, wood: { ...drawn.wood, ...wood } };
const steps = told.steps.map((step, i): Step => {
  const { massG: _none, ...bare } = step;
  const massG = massesG[i];
  return {
    ...bare,
    climate: airs[i]!,
    rounds: step.rounds.map((round) => (i === 2 ? withModes(round, last) : round)),
    ...(massG === undefined ? {} : { massG }),
  };
});
const record: InstrumentRecord = {
  ...told,
  steps,
  pieces: [piece],
  plan,
  targets: [{ id: 't', mode: 'monopole', stage: 'braced', frequencyHz: 176.2, toleranceHz: 2.4, origin: 'typed' }],
};

// A spectrum whose strongest line is at 185 Hz.
const frequencyHz = Float64Array.from({ length: 400 }, (_, i) => i + 1);
const spectrum = { frequencyHz, levelDb: frequencyHz.map((f) => -30 - Math.abs(f - 185) / 4) };
const around = {
  spectra: { of: () => signal({ kind: 'spectrum', spectrum }) },
  shelf: { record: signal(record) },
};
const maker = (settings: Partial<Settings> = {}, given: InstrumentRecord = record) =>
  show(<MakerReport record={given} photos={false} />, settings, around);
const owner = (settings: Partial<Settings> = {}) =>
  show(<OwnerReport record={record} photos={false} />, settings, around);

describe('for the maker', () => {
  test.each(unitSystems)('the facts in $length.unit and $mass.unit', ({ settings, length, mass }) => {
    const shown = maker(settings);
    const weighed = beside(shown, 'Weighed');
    expectPlain(weighed.split(' at ')[0]!, 207.9 * mass.perG, mass.unit);
    expect(weighed).toContain('at step 3');
    expectPlain(beside(shown, 'Scale length'), 648.4 * length.perMm, length.unit);
    expectPlain(beside(shown, 'Top as drawn'), 2.84 * length.perMm, length.unit);
    // What the drawing weighs is reckoned elsewhere: here, that it reads alike in both units.
    const grams = figureIn(beside(maker(), 'Mass as drawn'));
    const own = figureIn(beside(maker(settings), 'Mass as drawn'));
    expect([grams.unit, own.unit]).toEqual(['g', mass.unit]);
    expect(Math.abs(own.value - grams.value * mass.perG)).toBeLessThan((own.digit + grams.digit * mass.perG) / 2);
  });

  test.each([
    ['c', '°C', (c: number) => c.toFixed(1)],
    ['f', '°F', (c: number) => (32 + 1.8 * c).toFixed(0)],
  ] as const)('the air in °%s', (temperature, unit, degrees) => {
    const shown = maker({ temperature });
    const plain = (text: string) => text.replaceAll('\u00a0', ' ');
    expect(plain(beside(shown, 'Air while working'))).toBe(
      `41 to 47 %RH, ${degrees(19.4)} to ${degrees(22.6)} ${unit}`,
    );
    for (const [i, { humidityPercent, tempC }] of airs.entries())
      expect(plain(cell(partNamed(shown, 'How it came there'), `${i + 1}`, 'Air'))).toBe(
        `${humidityPercent} %RH, ${degrees(tempC)} ${unit}`,
      );
  });

  test.each(unitSystems)(
    'the wood in $length.unit: as read, else as the plan reckons with it',
    ({ settings, length }) => {
      const expectWood = (table: HTMLElement, row: string) => {
        expectFigure(cell(table, row, 'Density'), 417, 417 * 0.005, 'kg/m³');
        expectFigure(cell(table, row, 'Stiff along'), 11.3, 11.3 * 0.013, 'GPa');
        expectFigure(cell(table, row, 'Stiff across'), 0.79, 0.79 * 0.019, 'GPa');
      };
      const read = partNamed(maker(settings), 'Wood');
      expectWood(read, 'Top');
      expectFigure(cell(read, 'Top', 'Thick'), 2.73 * length.perMm, 0.017 * length.perMm, length.unit);
      const { reading: _unread, ...board } = piece;
      const planned = partNamed(maker(settings, { ...record, pieces: [board] }), 'Wood');
      expectWood(planned, 'Top, in the plan');
      expectPlain(cell(planned, 'Top, in the plan', 'Thick'), 2.84 * length.perMm, length.unit);
    },
  );

  test('the modes: frequency, note, Q and how long each rings', () => {
    const shown = maker({ a4Hz: 442 });
    const table = partNamed(shown, 'The modes in figures');
    const rows = [
      ['monopole', last[0]!, 'F♯3', -15],
      ['no name', last[1]!, 'C4', -9],
    ] as const;
    for (const [row, { frequencyHz, q }, note, semitones] of rows) {
      expectFigure(cell(table, row, 'Frequency'), frequencyHz.value, frequencyHz.sigma, 'Hz');
      // Semitones from A4, counted on a keyboard.
      const cents = Math.round(1200 * Math.log2(frequencyHz.value / 442) - 100 * semitones);
      expect(cell(table, row, 'Nearest note').replace('−', '-').replace('+', '')).toBe(`${note} ${cents} cents`);
      if (row === 'no name') continue;
      expectFigure(cell(table, row, 'Q'), q.value, q.sigma, '');
      // 60 dB are e^6.908: T = 6.908 Q / (pi f).
      const rings = (6.907755 * q.value) / Math.PI / frequencyHz.value;
      const share = Math.hypot(q.sigma / q.value, frequencyHz.sigma / frequencyHz.value);
      expectFigure(cell(table, row, 'Rings for'), rings, rings * share, 's');
    }
    expect([cell(table, 'no name', 'Q'), cell(table, 'no name', 'Rings for')]).toEqual(
      Array(2).fill('not measurable here'),
    );
    expect(partNamed(shown, 'How it answers the tap').querySelector('.report-how')!.textContent).toContain('5 taps');
  });

  test('the spectrum: a flag on every mode where it stands, the strongest at 0 dB', () => {
    const drawing = maker().querySelector('svg[aria-label^="Mean spectrum"]')!;
    const texts = [...drawing.querySelectorAll('text')].map((text) => ({
      text: text.textContent!,
      x: Number(text.getAttribute('x')),
      y: Number(text.getAttribute('y')),
    }));
    const tick = (text: string) => texts.find((known) => known.text === text)!;
    const perHz = (tick('300').x - tick('100').x) / 200;
    for (const { frequencyHz } of last) {
      const flag = texts.find(({ text }) => text.endsWith(frequencyHz.value.toFixed(1)))!;
      expect(flag.x + 2).toBeCloseTo(tick('100').x + (frequencyHz.value - 100) * perHz, 6);
    }
    const points = [
      ...drawing
        .querySelector('.trace-curve')!
        .getAttribute('d')!
        .matchAll(/[ML]([\d.]+) ([\d.]+)/g),
    ];
    const top = points.map(([, x, y]) => [Number(x), Number(y)] as const).toSorted((a, b) => a[1] - b[1])[0]!;
    // Drawn to a tenth of a pixel; the texts stand 4 px below their lines.
    expect(Math.abs(top[0] - (tick('100').x + 85 * perHz))).toBeLessThan(0.06);
    expect(Math.abs(top[1] - (tick('0').y - 4))).toBeLessThan(0.06);
    const perDb = (tick('−40').y - tick('−20').y) / 20;
    // 285 Hz lies 25 dB lower.
    const lower = points.find(([, x]) => Math.abs(Number(x) - (tick('100').x + 185 * perHz)) < 0.06)!;
    expect(Math.abs(Number(lower[2]) - top[1] - 25 * perDb)).toBeLessThan(0.11);
  });

  test.each(unitSystems)('step by step in $mass.unit', ({ settings, mass }) => {
    const table = partNamed(maker(settings), 'How it came there');
    for (const [i, massG] of massesG.entries()) {
      expectFigure(cell(table, `${i + 1}`, 'monopole, Hz'), hz[i]!, sigmas[i]!, '');
      if (massG === undefined) expect(cell(table, `${i + 1}`, 'Mass')).toBe('–');
      else expectPlain(cell(table, `${i + 1}`, 'Mass'), massG * mass.perG, mass.unit);
    }
  });

  test('the course: what is wanted, and each step with its interval', () => {
    const panel = [...maker().querySelectorAll('.course-panel')].find(
      (known) => known.querySelector('strong')!.textContent === 'monopole',
    )!;
    const wanted = figureIn(panel.querySelector('figcaption span')!.textContent!);
    expect([wanted.value, wanted.halfWidth, wanted.unit]).toEqual([176.2, 2.4, 'Hz']);
    const ticks = [...panel.querySelectorAll('.trace-tick.end')].map((tick) => ({
      hz: Number(tick.textContent),
      y: Number(tick.getAttribute('y')) - 4,
    }));
    const perHz = (ticks.at(-1)!.y - ticks[0]!.y) / (ticks.at(-1)!.hz - ticks[0]!.hz);
    const at = (value: number) => ticks[0]!.y + (value - ticks[0]!.hz) * perHz;
    const dots = [...panel.querySelectorAll('circle')];
    const bars = [...panel.querySelectorAll('.trace-bar')];
    for (const [i, value] of hz.entries()) {
      expect(Number(dots[i]!.getAttribute('cy'))).toBeCloseTo(at(value), 6);
      const [, from, to] = /M[\d.]+ ([\d.]+)V([\d.]+)/.exec(bars[i]!.getAttribute('d')!)!;
      expect(Number(from)).toBeCloseTo(at(value - 1.959964 * sigmas[i]!), 4);
      expect(Number(to)).toBeCloseTo(at(value + 1.959964 * sigmas[i]!), 4);
    }
    const band = panel.querySelector('.trace-band')!;
    expect(Number(band.getAttribute('y'))).toBeCloseTo(at(176.2 + 2.4), 6);
    expect(Number(band.getAttribute('height'))).toBeCloseTo(-4.8 * perHz, 6);
  });

  test('at other stages', () => {
    const closed = story([{ modesHz: [201.3], sigmaHz: 0.37, stage: 'on-rims' }]).steps[0]!;
    const [first, ...rest] = record.steps;
    const given = { ...record, steps: [first!, { ...closed, id: 'rims' }, ...rest], pins: record.pins };
    const table = partNamed(maker({}, given), 'At other stages, and held otherwise');
    const [step, how, modes] = [...table.querySelectorAll('tbody th, tbody td')].map(({ textContent }) => textContent!);
    expect([step, how]).toEqual(['2', expect.stringContaining('On the rims')]);
    expectFigure(modes!, 201.3, 0.37, 'Hz');
  });

  test.each(unitSystems)('box and strings in $length.unit', ({ settings, length }) => {
    const round = (modes: readonly StoredMode[]): Round => ({
      ...withModes(told.steps[0]!.rounds[0]!, modes),
      id: 'box',
      support: { ...inMould, hold: 'box-open', bridge: 'glued' },
    });
    const peaks = [mode(101.7, 0.21, 30, 1), mode(187.3, 0.33, 30, 1), mode(229.8, 0.42, 30, 1)];
    const given: InstrumentRecord = {
      ...record,
      steps: [...record.steps, { ...told.steps[0]!, id: 'c', stage: 'closed', rounds: [round(peaks)] }],
      box: {
        cavity: { from: 'volume', volumeL: 15.8, volumeDoubtPercent: 3, holeRadiusMm: 49.5, holeEdgeMm: 3 },
        strings: {
          setName: 'own set',
          ownSet: Array.from({ length: 6 }, () => ({ kind: 'weighed' as const, unitMassGPerM: 2 })),
          scaleMm: 641.7,
          tuning: 'standard',
          saddleHeightMm: 12,
          breakAngleDeg: 25,
          neckAngleDeg: 0,
        },
      },
    };
    const shown = maker({ ...settings, a4Hz: 436 }, given);
    expectFigure(beside(shown, 'Air inside'), 15.8, (15.8 * 0.03) / 1.959964, 'l');
    expectPlain(beside(shown, 'Soundhole radius'), 49.5 * length.perMm, length.unit);
    expectPlain(beside(shown, 'Scale length of the strings'), 641.7 * length.perMm, length.unit);
    // A round that picked the piece up anew: its intervals are its own.
    for (const [i, part] of ['air', 'top', 'back'].entries())
      expectFigure(
        beside(shown, `Peak of the ${part}`),
        peaks[i]!.frequencyHz.value,
        peaks[i]!.frequencyHz.sigma,
        'Hz',
      );
    // Mersenne: mu (2 L f)², known to 1 %; E4 to E2 by semitones from A4.
    const pull = [-5, -10, -14, -19, -24, -29]
      .map((semitones) => 0.002 * (2 * 0.6417 * 436 * 2 ** (semitones / 12)) ** 2)
      .reduce((sum, each) => sum + each);
    expectFigure(beside(shown, 'They pull with'), pull, 0.01 * pull, 'N');
  });
});

describe('for the owner', () => {
  test.each(unitSystems)('scale in $length.unit, and the named modes', ({ settings, length }) => {
    const shown = owner(settings);
    expectPlain(beside(shown, 'Scale length'), 648.4 * length.perMm, length.unit);
    const table = partNamed(shown, 'The modes in figures');
    expect(table.querySelectorAll('tbody tr')).toHaveLength(1);
    expectFigure(cell(table, 'monopole', 'Frequency'), hz[2]!, sigmas[2]!, 'Hz');
    const rings = (6.907755 * 37) / Math.PI / hz[2]!;
    expectFigure(cell(table, 'monopole', 'Rings for'), rings, rings * Math.hypot(1.9 / 37, sigmas[2]! / hz[2]!), 's');
  });

  test('the air to keep it in', () => {
    const care = partNamed(owner(), 'Keep it well').textContent!.replaceAll('\u00a0', ' ');
    expect(care).toContain('41 to 47 %RH, 19.4 to 22.6 °C');
  });
});

test('a plan as it was begun is an example: the report says nothing of it, until something is drawn', () => {
  const begun = { ...record, pieces: [], plan: startPlan(record.hand) };
  const said = maker({}, begun);
  expect(said.textContent).not.toContain('Sitka');
  for (const term of ['Mass as drawn', 'Bracing', 'Top as drawn']) expect(beside(said, term)).toBe('');
  expect(said.querySelector('.report-plan')).toBeNull();
  const own = { ...begun, plan: { ...begun.plan, thicknessMm: 2.6 } };
  expect(maker({}, own).querySelector('.report-plan')).not.toBeNull();
});

test('the turn of the bridge in time is in the report', () => {
  const turns = [
    { after: '10 min' as const, turnDeg: 1.24 },
    { after: '1 week' as const, turnDeg: 1.8 },
  ];
  const strings = {
    ...{ setName: 'own', scaleMm: 640, tuning: 'E', saddleHeightMm: 11, breakAngleDeg: 20, neckAngleDeg: 1 },
    turns,
  };
  const strung: InstrumentRecord = { ...record, box: { strings } };
  expect(beside(maker({}, strung), 'Bridge turned by')).toBe('1.2° after 10 min, 1.8° after 1 week');
});
