// @vitest-environment happy-dom
// What the bench shows of a round, of the reference stick, of the room, and of a computed mode offered as a name.
import { signal } from '@preact/signals';
import { describe, expect, test, vi } from 'vitest';
import { Shapes } from '../../src/app/shapes.ts';
import type { TopMode, TopModesAnswer, TopQuestion } from '../../src/forecast/top-modes.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import type { InstrumentRecord, StoredMode } from '../../src/record/record.ts';
import type { Level } from '../../src/signal/hear/level.ts';
import { Answer } from '../../src/views/bench/answer.tsx';
import { BenchView } from '../../src/views/bench/bench-view.tsx';
import { NameMode } from '../../src/views/bench/name-mode.tsx';
import { RoomClap } from '../../src/views/bench/room-clap.tsx';
import { RoundAnswer, Session } from '../../src/views/bench/session.tsx';
import { TrustCheck } from '../../src/views/bench/trust-check.tsx';
import type { ChartProps } from '../../src/views/parts/chart.tsx';
import { inMould, story } from '../compare/story.ts';
import { expectFigure, expectPlain, figureIn, largeFigure, show, unitSystems } from './shown.tsx';

const charts: ChartProps[] = [];
vi.mock('../../src/views/parts/lazy-chart.tsx', () => ({
  LazyChart: (props: ChartProps) => {
    charts.push(props);
    return null;
  },
}));

const mode = (value: number, sigma: number, q: number, levelDb: number): StoredMode => ({
  frequencyHz: { value, sigma },
  q: { value: q, sigma: q / 20 },
  levelDb,
  amplitudes: [],
  resolution: 'single',
});
// Six that stand large, two weaker, and one of which not even the note is certain: 6 % to the semitone.
const modes = [
  mode(98.31, 0.11, 23, -30),
  mode(184.64, 0.17, 31, -12),
  mode(211.9, 0.26, 44, -18),
  mode(263.2, 0.31, 52, -22),
  mode(288.7, 6.1, 39, -20),
  mode(305.5, 0.41, 61, -25),
  mode(347.8, 0.44, 47, -27),
  mode(391.2, 0.52, 58, -41),
  mode(437.6, 0.73, 66, -44),
];
const large = [0, 1, 2, 3, 5, 6].map((at) => modes[at]!);

/** The notes of large, and how many semitones from A4 they are, counted on a keyboard. */
const notes = [
  ['G2', -26],
  ['F♯3', -15],
  ['G♯3', -13],
  ['C4', -9],
  ['D♯4', -6],
  ['F4', -4],
] as const;

function expectLarge(page: HTMLElement): void {
  const figures = [...page.querySelectorAll('.figures > li')];
  expect(figures).toHaveLength(large.length);
  for (const [i, figure] of figures.entries()) {
    const { frequencyHz, q } = large[i]!;
    expectFigure(largeFigure(figure), frequencyHz.value, frequencyHz.sigma, 'Hz');
    const [note, quality] = [...figure.querySelectorAll('.figure-more span')].map(({ textContent }) => textContent!);
    const [name, semitones] = notes[i]!;
    // At A4 = 442 Hz.
    const cents = 1200 * Math.log2(frequencyHz.value / 442) - 100 * semitones;
    const [, from, shown] = /^(.*) ([+−]?\d+) cents$/.exec(note!)!;
    expect([from, Number(shown!.replace('−', '-'))]).toEqual([name, Math.round(cents)]);
    expectFigure(quality!.replace('Q ', ''), q.value, q.sigma, '');
  }
}

describe('the answer of a round', () => {
  test('large figures, notes and Q, the weaker ones, and what is not measurable', () => {
    const page = show(<Answer modes={modes} scatterKnown />, { a4Hz: 442 });
    expectLarge(page);
    const [weaker, unknown] = [...page.querySelectorAll('.others')].map(({ textContent }) => textContent!);
    const list = weaker!.replace('Weaker: ', '').split(', ');
    for (const [i, at] of [7, 8].entries())
      expectFigure(list[i]!, modes[at]!.frequencyHz.value, modes[at]!.frequencyHz.sigma, 'Hz');
    expectPlain(/near (.*?),/.exec(unknown!)![1]!, 288.7, 'Hz');
  });

  test('a mode that may be the room’s is marked, a sure one and one of which nothing is known are not', () => {
    const doubts = [undefined, 0.95, 0.8, 0.7, 0.949];
    const page = show(
      <Answer
        modes={doubts.map((ofPiece, i) => ({
          ...modes[0]!,
          frequencyHz: { value: 100 + 50 * i, sigma: 0.1 },
          ofPiece,
          resolution: 'single' as const,
        }))}
        scatterKnown
      />,
    );
    const marks = [...page.querySelectorAll('.figure')].map((figure) => figure.querySelector('.tag')?.textContent);
    expect(marks).toEqual([undefined, undefined, 'probably the piece', 'may be the room', 'probably the piece']);
    expect(page.textContent).toContain('Modes without a mark are surely the piece’s.');
    expect(show(<Answer modes={[modes[0]!]} scatterKnown />).textContent).not.toContain('without a mark');
  });

  test('a Q whose interval reaches down to nothing is none', () => {
    const wide = { ...modes[0]!, q: { value: 10, sigma: 5.2 } };
    const page = show(<Answer modes={[wide]} scatterKnown />);
    expect(page.querySelector('.figure-more')!.textContent).toContain('Q not measurable here');
  });

  test('a stored round: its modes, the room under it, what was left out', () => {
    const told = story([{ modesHz: [184.64] }]);
    const [step] = told.steps;
    const fit = {
      ...step!.rounds[0]!.fit!,
      modes,
      ofRoom: [mode(71.4, 0.36, 20, -40)],
      roomAnswerDb: -7.3,
      setAside: [
        { hold: 0, tap: 1 },
        { hold: 1, tap: 4 },
      ],
    };
    const record: InstrumentRecord = { ...told, steps: [{ ...step!, rounds: [{ ...step!.rounds[0]!, fit }] }] };
    const bench = { heard: signal([]) };
    const page = show(
      <RoundAnswer record={record} place={{ recordId: 'i1', stepId: 's0', roundId: 'r0' }} />,
      { a4Hz: 442 },
      { bench, shelf: { record: signal(record) }, newId: () => 'n', recordings: {} },
    );
    expectLarge(page);
    const said = page.textContent!;
    expectPlain(/only (.*?dB) under/.exec(said)![1]!, 7.3, 'dB');
    expectFigure(/Left out: (.*?Hz)\./.exec(said)![1]!, 71.4, 0.36, 'Hz');
    expect(said).toContain('2 taps disagreed');
  });
});

test.each([
  ['gain-control', 'turned itself down at each tap', 'Switch off automatic gain'],
  ['noise-suppression', 'took away what it held for noise', 'Switch off noise suppression'],
] as const)(
  'a recorder that changed the sound is told, frequencies stand and Q is none: %s',
  (recorder, said, todo) => {
    const told = story([{ modesHz: [184.64] }]);
    const [step] = told.steps;
    const [round] = step!.rounds;
    const record = { ...told, steps: [{ ...step!, rounds: [{ ...round!, fit: { ...round!.fit!, recorder } }] }] };
    const bench = { heard: signal([]), support: signal(inMould) };
    const answer = (of: InstrumentRecord) =>
      show(
        <RoundAnswer record={of} place={{ recordId: 'i1', stepId: 's0', roundId: 'r0' }} />,
        {},
        { bench, shelf: { record: signal(of) }, newId: () => 'n', recordings: {} },
      );
    const page = answer(record);
    const [note] = [...page.querySelectorAll('.note')].map(({ textContent }) => textContent);
    for (const words of [said, 'rings read too', 'The frequencies hold', todo, 'another recorder or microphone'])
      expect(note).toContain(words);
    expectFigure(largeFigure(page), 184.64, 0.1, 'Hz');
    expect(page.querySelector('.figure-more')!.textContent).toContain('Q not measurable here');
    const clean = answer(told);
    expect(clean.querySelector('.note')).toBe(null);
    expect(clean.querySelector('.figure-more')!.textContent).toContain('Q 40');
  },
);

describe('while taps are taken', () => {
  const level: Level = { rmsDb: -33.4, peakDb: -9.6, roomDb: -58.7, humDb: -31.2, clipped: false };
  const bench = {
    level: signal(level),
    microphone: signal({
      label: 'Desk',
      sampleRateHz: 16_000,
      echoCancellation: 'off',
      noiseSuppression: 'off',
      autoGainControl: 'off',
    }),
    provisional: signal({ modes, scatterKnown: false }),
    heard: signal([
      { number: 1, kind: 'accepted', aboveRoomDb: 34.6 },
      { number: 2, kind: 'refused', refusal: { because: 'struck-twice', afterS: 0.0474 } },
      { number: 3, kind: 'refused', refusal: { because: 'too-quiet', aboveRoomDb: 8.7 } },
    ]),
  };
  const page = (state: object) =>
    show(
      <Session answer={() => null} />,
      { tapsPerHold: 7, holdsPerRound: 3, a4Hz: 442 },
      { bench: { ...bench, state: signal({ place: {}, ...state }) } },
    );

  test('taps, holds, levels and what was heard', () => {
    const shown = page({ kind: 'listening', hold: 1, taken: 5 });
    expect(shown.querySelector('.count')!.textContent).toBe('5 of 7 tapshold 2 of 3');
    expect(shown.querySelector('.level svg')!.getAttribute('aria-label')).toContain(' -33 dB');
    const said = shown.textContent!;
    const [, roomDb, loudestDb] = /Room (.*?dB), loudest (.*?dB)/.exec(said)!;
    expectPlain(roomDb!, -58.7, 'dB');
    expectPlain(loudestDb!, -9.6, 'dB');
    expectPlain(/hum of (.*?dB)/.exec(said)![1]!, -31.2, 'dB');
    expectPlain(/Desk, (.*?Hz)/.exec(said)![1]!, 16_000, 'Hz');
    const heard = [...shown.querySelectorAll('.heard li')].map(({ textContent }) => textContent!);
    expectPlain(/kept, (.*?dB)/.exec(heard[2]!)![1]!, 34.6, 'dB');
    expectPlain(/twice, (.*?ms)/.exec(heard[1]!)![1]!, 47.4, 'ms');
    expectPlain(/only (.*?dB)/.exec(heard[0]!)![1]!, 8.7, 'dB');
    expectLarge(shown);
  });

  test('what hinders the taps is said while it can still be mended, and no Q is shown through such a recorder', () => {
    const hindered = { modes, scatterKnown: false, recorder: 'gain-control', isRungOver: true, roomAnswerDb: -9.2 };
    const session = {
      ...bench,
      provisional: signal(hindered),
      state: signal({ kind: 'listening', place: {}, hold: 0, taken: 1 }),
    };
    const shown = show(<Session answer={() => null} />, { tapsPerHold: 7, holdsPerRound: 3 }, { bench: session });
    const notes = [...shown.querySelectorAll('.note')].map(({ textContent }) => textContent!);
    const said = notes.join(' ');
    expect(said).toContain('turned itself down');
    expect(said).toContain('Let it ring out: three seconds more');
    expectPlain(/only (.*?dB) under/.exec(said)![1]!, 9.2, 'dB');
    // The same session without them says none of it.
    expect(page({ kind: 'listening', hold: 0, taken: 1 }).textContent).not.toMatch(
      /turned itself down|ring out|under the/,
    );
    for (const figure of shown.querySelectorAll('.figures > li'))
      expect(figure.querySelector('.figure-more')!.textContent).toContain('Q not measurable here');
  });

  test('between two holds', () => {
    const shown = page({ kind: 'between-holds', hold: 1, secondsLeft: 3.2 });
    expect(shown.querySelector('.count .hold')!.textContent).toBe('hold 2 of 3 in 4 s');
  });
});

test('before listening: how many taps and holds, a broken round, and what was measured last', () => {
  const told = story([{ modesHz: [184.64] }]);
  const [step] = told.steps;
  const [round] = step!.rounds;
  const tap = { id: 't', atIso: round!.atIso, sampleRateHz: 48_000, aboveRoomDb: 30, hold: 0 };
  const record: InstrumentRecord = {
    ...told,
    steps: [
      {
        ...step!,
        rounds: [
          { ...round!, fit: { ...round!.fit!, modes } },
          { ...round!, id: 'open', state: 'open', taps: [tap, { ...tap, id: 'u' }, { ...tap, id: 'v' }] },
        ],
      },
    ],
  };
  const bench = {
    state: signal({ kind: 'idle' }),
    listening: signal(false),
    heard: signal([]),
    support: signal(inMould),
    supportKnown: signal(true),
    spot: signal('bridge-centre'),
    takeUp: () => undefined,
  };
  const page = show(
    <BenchView />,
    { tapsPerHold: 7, holdsPerRound: 3, a4Hz: 442 },
    {
      bench,
      shelf: { record: signal(record), summaries: signal([]) },
      room: { state: signal({ kind: 'idle' }), known: signal(undefined) },
      shapes: { isRoving: false },
      place: { part: signal('') },
      recordings: {},
      newId: () => 'n',
    },
  ).querySelector<HTMLElement>('.ready')!;
  expect(page.querySelector('.lead')!.textContent).toContain('7 taps a hold, 3 holds');
  expect(page.querySelector('.unfinished')!.textContent).toContain('3 taps');
  expectLarge(page);
});

describe('the reference stick', () => {
  const hz = [411.32, 411.18, 411.41, 411.27, 411.36, 411.23];
  const sigma = 0.011;
  const stick = (days: number): InstrumentRecord => ({
    ...story(hz.slice(0, days).map((value) => ({ modesHz: [value], sigmaHz: sigma }))),
    kind: 'reference-stick',
  });
  // The checks of the story are of 25 November, in the morning.
  const shownOn = (days: number, nowIso: string) =>
    show(<TrustCheck record={stick(days)} />, {}, { nowIso: () => nowIso });
  const page = (days: number) => shownOn(days, '2026-11-25T12:00:00.000Z').querySelector('.card > .hint')!.textContent!;

  test('a check of another day says its date and asks for a new one', () => {
    expect(shownOn(6, '2026-11-25T12:00:00.000Z').querySelector('.note')).toBeNull();
    expect(shownOn(6, '2026-12-02T12:00:00.000Z').querySelector('.note')!.textContent).toMatch(
      /^This check is of .*25.* Tap the stick again/,
    );
  });

  test('today against the good days, and the lines of the chart', () => {
    charts.length = 0;
    const [today, usual] = page(6).replace('Last reading ', '').split('; usually ');
    expectFigure(today!, hz[5]!, sigma, 'Hz');
    // Median of five; spread by the median of the ten differences over 0.9539, and that of the median itself, pi / 2n.
    // Source: Rousseeuw and Croux 1993, section 2 (from memory).
    const good = hz.slice(0, 5).toSorted((a, b) => a - b);
    const apart = good.flatMap((a, i) => good.slice(i + 1).map((b) => b - a)).toSorted((a, b) => a - b);
    const spread = ((apart[4]! + apart[5]!) / 2 / 0.9539) * Math.sqrt(1 + Math.PI / 10);
    expectFigure(usual!, good[2]!, spread, 'Hz');
    const [chart] = charts;
    expect(chart!.series[0]!.points).toEqual(hz.map((y, i) => ({ x: i + 1, y })));
    const lines = chart!.series.slice(1).map(({ label, points }) => [label, points[0]!.y - good[2]!] as const);
    for (const [i, k] of [-3, -2, 0, 2, 3].entries()) {
      expect(lines[i]![0]).toBe(k === 0 ? 'usual' : `${k > 0 ? '+' : '−'}${Math.abs(k)} times its usual scatter`);
      expect(lines[i]![1]).toBeCloseTo(k * spread, 9);
    }
  });

  test('days that agree to a hundredth of a hertz still differ by something', () => {
    const [, usual] = page(2).split('; usually ');
    // One good day: what one of its readings is worth, and its median's own doubt.
    expectFigure(usual!, hz[0]!, sigma * Math.sqrt(1 + Math.PI / 2), 'Hz');
    expect(figureIn(usual!).halfWidth).toBeGreaterThan(0);
  });

  test('the first day is only told', () => {
    expectFigure(page(1).replace('Last reading ', ''), hz[0]!, sigma, 'Hz');
  });
});

test('what the room rings at', () => {
  const poles = [71.4, 98.2, 112.7, 126.1, 139.8, 151.3, 163.9].map((value, i) => ({
    frequencyHz: { value, sigma: 0.3 + 0.1 * i },
    q: { value: 20, sigma: 2 },
  }));
  const room = { state: signal({ kind: 'idle' }), known: signal({ poles, atIso: '2026-11-25T08:00:00.000Z' }) };
  const said = show(<RoomClap />, {}, { room }).querySelector('[role="status"]')!.textContent!;
  const [, list, more] = /rings at (.*?) and (.*?)\./.exec(said)!;
  const shown = list!.split(', ');
  expect(shown).toHaveLength(5);
  for (const [i, text] of shown.entries()) expectFigure(text, poles[i]!.frequencyHz.value, 0.3 + 0.1 * i, 'Hz');
  expect(more).toBe('2 higher places');
});

describe('a computed mode offered as a name', () => {
  const computed = (name: string, value: number): TopMode => ({
    name,
    frequencyHz: { value, sigma: 2.3 },
    contours: [],
    bands: [],
    places: {
      hold: [],
      tap: [
        [143.4, -61.7],
        [300, 20],
      ],
    },
    atSpots: [],
  });
  const answer: TopModesAnswer = {
    kind: 'modes',
    modes: [computed('cross dipole', 181.9), computed('monopole', 301)],
    massG: { value: 200, sigma: 2 },
    sensitivity: [],
  };
  const record: InstrumentRecord = { ...story([{ modesHz: [184.64] }]), pins: [], plan: startPlan('right') };
  const page = (tapped: StoredMode, settings = {}) => {
    const current = signal<object>({ kind: 'none' });
    const ask = (question: TopQuestion) => {
      current.value = { kind: 'ready', key: JSON.stringify(question), answer };
    };
    return show(<NameMode mode={tapped} onDone={() => undefined} />, settings, {
      shelf: { record: signal(record) },
      forecasts: { modes: { current, ask } },
    });
  };
  const proposed = (tapped: StoredMode, settings = {}) =>
    page(tapped, settings).querySelector('p:not(.hint)')?.textContent ?? '';

  test.each(unitSystems)('and where to tap for it, in $length.unit', ({ settings, length }) => {
    const title = page(modes[1]!).querySelector('h2')!.textContent!;
    expectPlain(/Which mode is (.*?Hz)/.exec(title)![1]!, 184.64, 'Hz');
    const said = proposed(modes[1]!, settings);
    expect(said).toContain('cross dipole');
    expectFigure(/at (\d.*?Hz)\./.exec(said)![1]!, 181.9, 2.3, 'Hz');
    const [, fromTail, offCentre] = /a tap (.*?) from the tail, (.*?) off the centre/.exec(said)!;
    expectPlain(fromTail!, 143.4 * length.perMm, length.unit);
    expectPlain(offCentre!, 61.7 * length.perMm, length.unit);
  });

  test('is the one whose shape it has, where a round from spot to spot tells that, whatever is nearest', () => {
    const [step] = record.steps;
    const [ordinary] = step!.rounds;
    const { fit: _fit, ...unread } = ordinary!;
    const note = { atIso: ordinary!.atIso, sampleRateHz: 48_000, aboveRoomDb: 30, hold: 0 };
    const roving = {
      ...{ ...unread, id: 'roving', roving: { spots: [{}] } },
      taps: [{ ...note, id: 'tap', rovingSpot: 0 }],
    };
    const roved = { ...record, steps: [{ ...step!, rounds: [ordinary!, roving] }] };
    const drawn = { contours: [], bands: [], places: { hold: [], tap: [] } };
    const told = (likeness: number) => ({
      kind: 'shapes',
      shapes: [{ frequencyHz: { value: 184.64, sigma: 0.1 }, whole: { ...drawn, computed: 0, likeness: 0.9 } }],
      computed: [{ ...drawn, name: 'long dipole', frequencyHz: { value: 205, sigma: 3.1 } }],
      likeness: [[likeness]],
    });
    // The reading itself is the worker's; what is made of it is the page's own.
    const shapesWith = (answer: object) => {
      const shapes = Object.create(Shapes.prototype) as object;
      return Object.assign(shapes, { readings: { of: () => signal({ kind: 'read', answer, tapIds: ['tap'] }) } });
    };
    const said = (likeness: number) =>
      show(
        <NameMode mode={modes[1]!} onDone={() => undefined} />,
        {},
        {
          shelf: { record: signal(roved) },
          forecasts: { modes: { current: signal({ kind: 'none' }), ask: () => undefined } },
          shapes: { load: async () => undefined, now: signal(shapesWith(told(likeness))) },
        },
      ).querySelector('p:not(.hint)')?.textContent ?? '';
    expect(said(0.9)).toContain('By its shape');
    expectFigure(/at (\d.*?Hz)\./.exec(said(0.9))![1]!, 205, 3.1, 'Hz');
    // The taps alone do not bear it out.
    expect(said(0.5)).toBe('');
  });

  test('is the nearest one where the last step did not hear it, and none where that is far', () => {
    const said = proposed(mode(297, 0.2, 40, -20));
    expect(said).toContain('monopole nearest');
    expectFigure(/at (\d.*?Hz)\./.exec(said)![1]!, 301, 2.3, 'Hz');
    // 13 % from the nearer of the two.
    expect(proposed(mode(262, 0.2, 40, -20))).toBe('');
  });
});
