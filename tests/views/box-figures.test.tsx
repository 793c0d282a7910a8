// @vitest-environment happy-dom
// Every figure read off a closed box: what the rounds say of its parts, and what a change would do, by the formulas of two
// pistons on one cushion. Source: Christensen & Vistisen 1980, J. Acoust. Soc. Am. 68:758.
import { signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { act } from 'preact/test-utils';
import { describe, expect, test } from 'vitest';
import type { BoxFound, PlateFound } from '../../src/box/inverse.ts';
import { PARAMETERS, type SpectralParameter } from '../../src/box/spectral-model.ts';
import { type StateRound, stateRounds } from '../../src/compare/box-evidence.ts';
import type { BoxReading } from '../../src/compare/box-reading.ts';
import type { Estimate } from '../../src/quantity/estimate.ts';
import type { BoxPart, InstrumentRecord } from '../../src/record/record.ts';
import { BoxFoundPart } from '../../src/views/box/found.tsx';
import { BoxPeaks } from '../../src/views/box/peaks.tsx';
import { BoxRoundsPart } from '../../src/views/box/rounds.tsx';
import { BoxSizes } from '../../src/views/box/sizes.tsx';
import { BoxWhatIf } from '../../src/views/box/what-if.tsx';
import { boxRecord } from '../compare/box-story.ts';
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

// The box: a top of 172 Hz that grips the cushion with 71 Hz, air of 121 Hz, back held.
const top = { vacuoHz: 172, gripHz: 71, massKg: 0.09 };
const airHz = 121;
const air = { soundSpeedMPerS: 343.4, densityKgM3: 1.199 };
const volumeM3 = { value: 0.0165, sigma: 0.00031 };
const planAreaM2 = 0.1557;
const holeRadiusM = 0.05;

interface Pistons {
  readonly topHz2: number;
  readonly gripHz2: number;
  readonly airHz2: number;
  /** mass of the top over what it was */
  readonly heavier: number;
}
const asItIs: Pistons = { topHz2: top.vacuoHz ** 2, gripHz2: top.gripHz ** 2, airHz2: airHz ** 2, heavier: 1 };

/** Both frequencies from the quadratic of the two pistons, lower one first. */
function modesOf({ topHz2, gripHz2, airHz2, heavier }: Pistons): readonly [number, number] {
  const [a, b, c] = [(topHz2 + gripHz2) / heavier, Math.sqrt((gripHz2 * airHz2) / heavier), airHz2];
  const [middle, half] = [(a + c) / 2, Math.hypot((a - c) / 2, b)];
  return [Math.sqrt(middle - half), Math.sqrt(middle + half)];
}

/** The cushion is as soft as the volume is large. */
const deeper = (mm: number, volume: number): Pistons => {
  const softer = volume / (volume + (mm / 1000) * planAreaM2);
  return { ...asItIs, gripHz2: asItIs.gripHz2 * softer, airHz2: asItIs.airHz2 * softer };
};
/** Air: f² goes with S / L; the plug's ends grow by 1.7 of the radius. Source: Rayleigh 1896, Theory of Sound section 307. */
const wider = (mm: number): Pistons => {
  const areaM2 = Math.PI * holeRadiusM ** 2;
  const lengthM = (areaM2 / volumeM3.value) * (air.soundSpeedMPerS / (2 * Math.PI * airHz)) ** 2;
  const ratio = (1 + mm / 1000 / holeRadiusM) ** 2 / (1 + (1.7 * mm) / 1000 / lengthM);
  return { ...asItIs, airHz2: asItIs.airHz2 * ratio };
};
const heavier = (g: number): Pistons => ({ ...asItIs, heavier: (top.massKg + g / 1000) / top.massKg });
const stiffer = (percent: number): Pistons => ({ ...asItIs, topHz2: asItIs.topHz2 * (1 + percent / 100) });

const [lowHz, highHz] = modesOf(asItIs);
const openHz: readonly Estimate[] = [
  { value: lowHz, sigma: 0.21 },
  { value: highHz, sigma: 0.34 },
];

const record: InstrumentRecord = boxRecord(['open', 'blocked', 'mass']);
const step = record.steps[0]!;
const roundAt = (at: number, labels: readonly ('air' | 'top' | 'other')[], hz: readonly Estimate[]): StateRound => ({
  state: 'open',
  round: step.rounds[at]!,
  peaks: hz.map((frequencyHz, i) => ({
    frequencyHz,
    q: { value: 31 + i, sigma: 1.4 + i },
    levelDb: -18 - 5 * i,
    label: labels[i]!,
    isConfirmed: false,
  })),
});
const open = roundAt(0, ['air', 'top'], openHz);

const plate = (from: number): PlateFound => ({
  uncoupledHz: { value: from + 14.1, sigma: 0.8 },
  vacuoHz: { value: from, sigma: 1.3 },
  effective: {
    massKg: { value: 0.0903 + from * 1e-4, sigma: 0.0031 },
    stiffnessNPerM: { value: 105_200 + 90 * from, sigma: 2300 },
    areaM2: { value: 0.0451 + from * 1e-6, sigma: 0.0007 },
  },
});
const constants: Partial<Record<SpectralParameter, number>> = {
  topVacuoHz: top.vacuoHz,
  topGripHz: top.gripHz,
  airHz,
  topMassKg: top.massKg,
};
const found: BoxFound & { readonly kind: 'solved' } = {
  kind: 'solved',
  top: plate(172),
  back: 'held',
  airHz: { value: airHz, sigma: 0.9 },
  joint: { log: Float64Array.from(PARAMETERS, (name) => Math.log(constants[name] ?? 1)), free: [], covariance: [] },
  labels: 'confirmed',
  misfit: { chiSquared: 41, degreesOfFreedom: 2 },
  worst: { round: 0, part: 'top', frequencyHz: { value: 183.4, sigma: 0.4 }, sigmas: -4.27 },
  sumRule: {
    impliedHoleHz: { value: 118.9, sigma: 1.7 },
    residualHz2: { value: -501, sigma: 410 },
    labelsDoubtful: false,
  },
};
const omega = (hz: number) => 2 * Math.PI * hz;
const cushion = (air.densityKgM3 * air.soundSpeedMPerS ** 2) / volumeM3.value;
const reading: BoxReading = {
  rounds: [open],
  solvedRounds: [open],
  cavity: {
    kind: 'cavity',
    air,
    volumeM3,
    planAreaM2,
    holeRadiusM,
    holeEdgeM: 0.0035,
    ownHz: { value: 122.3, sigma: 1.9 },
    climateAssumed: false,
  },
  found,
  doubts: [],
  which: {
    verdicts: openHz.map((frequencyHz, i) => ({
      frequencyHz,
      evidence: [{ doing: 'hole-blocked', part: 'air', share: { value: 0.83 - 0.7 * i, sigma: 0.031 + 0.02 * i } }],
      shares: { air: undefined, top: undefined, back: undefined },
      behavesLike: i === 0 ? 'air' : 'top',
      strength: 0.99,
      labelDenied: false,
    })),
    unused: [],
  },
  model: {
    air,
    volumeM3: volumeM3.value,
    hole: {
      radiusM: holeRadiusM,
      effectiveLengthM: ((Math.PI * holeRadiusM ** 2) / volumeM3.value) * (air.soundSpeedMPerS / omega(airHz)) ** 2,
      endCorrectionRatio: 1.7,
      q: 20,
    },
    top: {
      massKg: top.massKg,
      stiffnessNPerM: top.massKg * omega(top.vacuoHz) ** 2,
      areaM2: omega(top.gripHz) * Math.sqrt(top.massKg / cushion),
      q: 30,
    },
    back: 'held',
  },
};
const shelf = { record: signal(record), edit: () => undefined };
const showPart = (view: ComponentChildren, settings = {}) => show(view, settings, { shelf, newId: () => 'n' });

describe('what the rounds say', () => {
  const page = (given: BoxReading = reading, settings = {}) =>
    showPart(<BoxFoundPart record={record} step={step} reading={given} />, settings);

  test.each([
    ['Top', 172],
    ['Back', 221],
  ])('%s by itself: two frequencies, stiffness and area', (name, from) => {
    const parts = partNamed(
      page({ ...reading, model: undefined, found: { ...found, back: plate(221) } }),
      'Table of the parts',
    );
    expectFigure(cell(parts, name, 'Alone on the air'), from + 14.1, 0.8, 'Hz');
    expectFigure(cell(parts, name, 'Without the air'), from, 1.3, 'Hz');
    expectFigure(cell(parts, name, 'Stiffness'), (105_200 + 90 * from) / 1000, 2.3, 'N/mm');
    expectFigure(cell(parts, name, 'Area'), 451 + 0.01 * from, 7, 'cm²');
  });

  test.each(unitSystems)('the mass that moves, in $mass.unit', ({ settings, mass }) => {
    const parts = partNamed(page(reading, settings), 'Table of the parts');
    expectFigure(cell(parts, 'Top', 'Effective mass'), 107.5 * mass.perG, 3.1 * mass.perG, mass.unit);
  });

  test('the air by itself, the sum rule and the worst peak', () => {
    const shown = page();
    expectFigure(cell(partNamed(shown, 'Table of the parts'), 'Air', 'Alone on the air'), airHz, 0.9, 'Hz');
    const said = partNamed(shown, 'The parts by themselves').textContent!;
    const [, byPeaks, byRuler] = /would be at (.*?), by the ruler at (.*?)\. /.exec(said)!;
    expectFigure(byPeaks!, 118.9, 1.7, 'Hz');
    expectFigure(byRuler!, 122.3, 1.9, 'Hz');
    const [, part, worst, sigmas] = /Worst is the (.*?) peak at (.*?) in .*off by (.*?) standard/.exec(said)!;
    expect(part).toBe('top');
    expectFigure(worst!, 183.4, 0.4, 'Hz');
    expectPlain(sigmas!, 4.27, '');
  });

  test('each peak, and what each round says of it', () => {
    const peaks = [...partNamed(page(), 'Which peak is which').querySelectorAll('.which > li')];
    expect(peaks).toHaveLength(2);
    for (const [i, peak] of peaks.entries()) {
      expectFigure(peak.querySelector('.which-hz')!.textContent!, openHz[i]!.value, openHz[i]!.sigma, 'Hz');
      const [share] = /(?<=says ).*%/.exec(peak.querySelector('ul')!.textContent!)!;
      expectFigure(share, 83 - 70 * i, 3.1 + 2 * i, '%');
    }
  });

  test('each mode: as it was read, and whose motion it is', () => {
    const shown = page();
    // Shares of kinetic energy are the squares of the eigenvector: with b off the diagonal, (f² - c)² to b² for top to air.
    const b2 = asItIs.gripHz2 * asItIs.airHz2;
    for (const [i, name] of ['Lowest mode, air', 'Second mode, top'].entries()) {
      const mode = partNamed(shown, name);
      expectFigure(mode.querySelector('.which-hz')!.textContent!, openHz[i]!.value, openHz[i]!.sigma, 'Hz');
      const ofTop = (modesOf(asItIs)[i]! ** 2 - asItIs.airHz2) ** 2;
      const said = mode.querySelector('.hint')!.textContent!;
      expectPlain(/top (.*?%)/.exec(said)![1]!, (100 * ofTop) / (ofTop + b2), '%');
      expectPlain(/air (.*?%)/.exec(said)![1]!, (100 * b2) / (ofTop + b2), '%');
    }
    const guessed = page({ ...reading, rounds: [] });
    const [low] = modesOf(asItIs);
    expectPlain(partNamed(guessed, 'Lowest mode').querySelector('.which-hz')!.textContent!, low, 'Hz');
  });
});

test('the peaks of a round', () => {
  const peaks = partNamed(showPart(<BoxPeaks step={step} taken={open} />), 'Peaks').querySelectorAll('li');
  expect(peaks).toHaveLength(2);
  for (const [i, peak] of [...peaks].entries()) {
    expectFigure(peak.querySelector('.peak-hz')!.textContent!, openHz[i]!.value, openHz[i]!.sigma, 'Hz');
    expectFigure(/Q(.*),/.exec(peak.querySelector('.hint')!.textContent!)![1]!, 31 + i, 1.4 + i, '');
    expectPlain(/, (.*dB)/.exec(peak.querySelector('.hint')!.textContent!)![1]!, -18 - 5 * i, 'dB');
  }
});

test('the peaks of a round whose recorder changed the sound have no Q', () => {
  const fit = { ...open.round.fit!, recorder: 'gain-control' as const };
  const rounds = step.rounds.map((round) => (round.id === open.round.id ? { ...round, fit } : round));
  const spoilt = { ...step, rounds };
  const taken = stateRounds({ ...record, steps: [spoilt] }, spoilt).find(({ state }) => state === 'open')!;
  const peaks = partNamed(showPart(<BoxPeaks step={step} taken={taken} />), 'Peaks').querySelectorAll('li');
  const said = [...peaks].map((peak) => peak.querySelector('.hint')!.textContent);
  expect(said).toHaveLength(4);
  for (const words of said) expect(words).toMatch(/^Q not measurable here, −\d+ dB$/);
});

test.each(unitSystems)('the lump of a round, typed and taken, in $mass.unit', ({ settings, mass }) => {
  const bench = {
    takeUp: () => undefined,
    listening: signal(false),
    state: signal({ kind: 'idle' }),
    supportKnown: signal(true),
    support: signal(step.rounds[0]!.support),
    heard: signal([]),
  };
  const support = { ...step.rounds[2]!.support, addedMassG: 7.4 };
  const loaded: StateRound = { ...open, state: 'mass', round: { ...step.rounds[2]!, support } };
  const view = <BoxRoundsPart record={record} step={step} reading={{ ...reading, rounds: [loaded] }} />;
  const state = partNamed(show(view, settings, { shelf, bench, newId: () => 'n' }), 'Known mass at the bridge');
  // The lump of the round before is the one at hand.
  expectPlain(inField(state, 'Mass of the lump'), 7.4 * mass.perG, mass.unit);
  const taken = state.querySelector('.peaks')!.previousElementSibling!.textContent!.split(' · ');
  expectPlain(taken[2]!, 7.4 * mass.perG, mass.unit);
});

describe('what a change would do', () => {
  const box: BoxPart = { ...record.box, aims: [{ id: 'a', mode: 1, frequencyHz: 180, toleranceHz: 1 }] };
  const page = (settings = {}) =>
    showPart(<BoxWhatIf record={{ ...record, box }} step={step} reading={reading} />, settings);
  const names = ['Lowest mode, air', 'Second mode, top'];
  const turn = (shown: HTMLElement, label: string, to: number) => {
    const knob = [...shown.querySelectorAll('.knob')].find(({ textContent }) => textContent?.startsWith(label))!;
    act(() => {
      const input = knob.querySelector('input')!;
      input.value = String(to);
      input.dispatchEvent(new Event('input', { bubbles: true }));
    });
    return knob.querySelector('output')!.textContent!;
  };

  test.each([
    ['Radius of the hole', 4, 'mm', () => wider(4)],
    ['Depth of the box', -8, 'mm', (volume: number) => deeper(-8, volume)],
    ['Mass of the bridge', 12.5, 'g', () => heavier(12.5)],
    ['Stiffness of the top', -20, '%', () => stiffer(-20)],
  ] as const)('%s turned: modes then and now, their move, and how far from the target', (label, to, unit, after) => {
    const shown = page();
    expectPlain(turn(shown, label, to), to, unit);
    for (const [i, name] of names.entries()) {
      const mode = partNamed(shown, name);
      const moved = (volume: number) => modesOf(after(volume))[i]! - modesOf(asItIs)[i]!;
      const { value, sigma } = volumeM3;
      // The constants are taken as exact here, so that only the peak and the volume are in doubt.
      const moveSigma = Math.abs(moved(value + sigma) - moved(value - sigma)) / 2;
      const thenHz = openHz[i]!.value + moved(value);
      expectFigure(largeFigure(mode), thenHz, Math.hypot(openHz[i]!.sigma, moveSigma), 'Hz');
      const said = mode.textContent!;
      expectFigure(/now (.*?Hz)/.exec(said)![1]!, openHz[i]!.value, openHz[i]!.sigma, 'Hz');
      const [, move] = /move (.*?Hz)/.exec(said)!;
      if (moveSigma > 0) expectFigure(move!, moved(value), moveSigma, 'Hz');
      else expect(Number(/[+−][\d.]+/.exec(move!)![0].replace('−', '-'))).toBeCloseTo(moved(value), 1);
      const aimed = mode.querySelector('.tag')?.textContent;
      if (i === 0) expect(aimed).toBeUndefined();
      else if (Math.abs(180 - thenHz) <= 1) expect(aimed).toBe('within the target');
      else {
        expectPlain(aimed!, Math.abs(180 - thenHz), 'Hz');
        expect(aimed).toContain(thenHz < 180 ? 'below' : 'above');
      }
    }
  });

  test('how much each thing does, and the fields of the target', () => {
    const shown = page();
    const table = partNamed(shown, 'Moves for a small turn of each knob');
    const columns: readonly (readonly [string, (by: number) => Pistons])[] = [
      ['1\u00a0mm of hole radius', wider],
      ['1\u00a0mm of depth', (by) => deeper(by, volumeM3.value)],
      ['1 g at the bridge', heavier],
      ['1 % of top stiffness', stiffer],
    ];
    for (const [i, row] of ['Lowest mode', 'Second mode'].entries()) {
      for (const [column, turned] of columns) {
        const slope = (modesOf(turned(0.01))[i]! - modesOf(turned(-0.01))[i]!) / 0.02;
        expectPlain(cell(table, row, column), slope, 'Hz');
      }
      expectPlain(cell(table, row, '1 % of back stiffness'), 0, 'Hz');
    }
    expect(inField(shown, 'Wanted')).toBe('180 Hz');
    expect(inField(shown, 'Tolerance ±')).toBe('1 Hz');
  });

  test('where the modes lie between the notes, at the tuning pitch of the settings', () => {
    const notes = partNamed(page({ a4Hz: 442 }), 'Cents from the nearest note on each string');
    // Semitones of the open strings from A4, and of F2, F#2 and so on from them: equal temperament.
    const open6 = 442 * 2 ** (-29 / 12);
    const row = `Second mode, ${highHz.toFixed(0)} Hz`;
    const semitones = 12 * Math.log2(highHz / open6);
    const text = cell(notes, row, '6. E2');
    expect(text).toContain(`fret ${Math.round(semitones)}`);
    // d(cents) = 1200 / ln 2 x df / f.
    const sigma = (1200 / Math.LN2) * (openHz[1]!.sigma / highHz);
    expectFigure(text.split(' from ')[0]!, 100 * (semitones - Math.round(semitones)), sigma, '');
  });
});

describe('the air in the box', () => {
  const cavity = {
    from: 'volume',
    volumeL: 16.5,
    volumeDoubtPercent: 3,
    holeRadiusMm: 50,
    holeEdgeMm: 3.5,
    tailDepthMm: 116,
    neckDepthMm: 96,
  } as const;
  const climate = { tempC: 24, humidityPercent: 41 };
  const page = (settings = {}) =>
    showPart(
      <BoxSizes record={{ ...record, box: { cavity } }} step={{ ...step, climate }} reading={undefined} />,
      settings,
    );

  test('its own resonance, its volume and the speed of sound', () => {
    const shown = partNamed(page(), 'The air’s own resonance');
    const sigmaL = (16.5 * 0.03) / 1.959964;
    expectFigure(beside(shown, 'Air volume'), 16.5, sigmaL, 'litres');
    // Dry air: ISO 9613-1:1993 equation A.5; with a part h of vapour its heat ratio is (7 + h) / (5 + h) and a mole weighs
    // 29 - 11 h grams (Bohn 1988, J. Audio Eng. Soc. 36:223, from memory). The view's own law is good to 0.3 m/s.
    const vapour = (0.41 * 6.112 * Math.exp((17.62 * 24) / (243.12 + 24))) / 1013.25;
    const humid = ((7 + vapour) / (5 + vapour) / (7 / 5)) * (29 / (29 - 11 * vapour));
    const speed = Number(/[\d.]+/.exec(beside(shown, 'Speed of sound'))![0]);
    expect(Math.abs(speed - 343.2 * Math.sqrt((297.15 / 293.15) * humid))).toBeLessThan(0.3);
    // Helmholtz's resonator between the two end corrections of Rayleigh 1896 (sections 306 and 307), uniformly spread.
    const own = (end: number) =>
      (speed / (2 * Math.PI)) * Math.sqrt((Math.PI * 0.05 ** 2) / (0.0165 * (0.0035 + end * 0.05)));
    const middle = (own(1.7) + own(Math.PI / 2)) / 2;
    const spread = (own(Math.PI / 2) - own(1.7)) / Math.sqrt(12);
    expectFigure(largeFigure(shown), middle, Math.hypot(spread, (middle * sigmaL) / 16.5 / 2), 'Hz');
  });

  test.each([
    ['c', '24.0', '°C'],
    ['f', '75', '°F'],
  ] as const)('the room in °%s', (temperature, degrees, unit) => {
    // 24 °C are 24 x 9 / 5 + 32 = 75.2 °F.
    const shown = page({ temperature });
    expect(beside(shown, 'Room').replaceAll('\u00a0', ' ')).toBe(`41 %RH, ${degrees} ${unit}`);
    expect(inField(shown, 'Temperature')).toBe(`${temperature === 'c' ? 24 : 75.2} ${unit}`);
    expect(inField(shown, 'True humidity')).toBe('41 %');
  });

  test.each(unitSystems)('the fields of its sizes in $length.unit', ({ settings, length }) => {
    const shown = page(settings);
    for (const [label, mm] of [
      ['Depth at the tail', 116],
      ['Depth at the neck', 96],
      ['Radius of the hole', 50],
      ['Top’s thickness at its rim', 3.5],
    ] as const)
      expectPlain(inField(shown, label), mm * length.perMm, length.unit);
    expect(inField(shown, 'Air volume')).toBe('16.5 litres');
    expect(inField(shown, 'Volume good to ±')).toBe('3 %');
  });
});
