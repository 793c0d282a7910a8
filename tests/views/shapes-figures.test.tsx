// @vitest-environment happy-dom
// Shapes from taps: what is told of each mode, at each spot and of likeness, against the answer it was given; where a spot lies,
// in both unit systems; and the names that are taken.
import { signal } from '@preact/signals';
import { act } from 'preact/test-utils';
import { describe, expect, test, vi } from 'vitest';
import type { TapShape, TapShapes } from '../../src/forecast/tap-shapes.ts';
import { appendStep, freshStep } from '../../src/record/edit.ts';
import { startPlan, withPlan } from '../../src/record/plan-edit.ts';
import { type InstrumentRecord, newRecord } from '../../src/record/record.ts';
import type { RovingRound } from '../../src/record/roving-edit.ts';
import { RovingSession } from '../../src/views/shapes/session.tsx';
import { ShapesTold } from '../../src/views/shapes/told.tsx';
import { cellOf, expectFigure, expectLength, figureIn, figuresOf, show, unfold } from './shown.tsx';

const atIso = '2026-11-25T08:00:00.000Z';
const drawn = { contours: [], bands: [], places: { hold: [], tap: [] } };
const spots = [
  { xMm: 100, yMm: -50.8 },
  { xMm: 203.2, yMm: 0 },
  { xMm: 254, yMm: 101.6 },
];
const round: RovingRound = {
  id: 'round',
  atIso,
  support: { hold: 'in-mould', bridge: 'off', strung: false },
  spot: 'roving',
  source: '',
  state: 'closed',
  taps: ['a', 'b', 'c'].map((id, rovingSpot) => ({
    ...{ id, atIso, sampleRateHz: 48_000, aboveRoomDb: 30, hold: 0 },
    rovingSpot,
  })),
  roving: { spots },
};
const shapeOf = (hz: number, sigma: number, computed: number, likeness: number): TapShape => ({
  frequencyHz: { value: hz, sigma },
  q: 50,
  atSpots: [
    { value: 1, sigma: 0.05 },
    { value: -0.25, sigma: 0.05 },
    { value: 0.02, sigma: 0.05 },
  ],
  signOdds: [1, 0.999, 0.6],
  whole: {
    ...drawn,
    ...{ computed, likeness, doubtful: { from: -1, to: 1, polygons: [] }, atSpots: [0.9, -0.2, 0] },
  },
});
const answer: TapShapes = {
  kind: 'shapes',
  shapes: [shapeOf(173.4, 0.1, 0, 0.98), shapeOf(336.1, 0.2, 1, 0.71)],
  computed: [
    { ...drawn, name: 'monopole', frequencyHz: { value: 176, sigma: 12 } },
    { ...drawn, name: 'long dipole', frequencyHz: { value: 326, sigma: 20 } },
  ],
  likeness: [
    [0.96, 0.01],
    [0.02, 0.64],
  ],
  oddTaps: [2],
  missingSpots: [],
};
const record: InstrumentRecord = withPlan(
  appendStep(newRecord({ id: 'r', createdAtIso: atIso, name: 'Top' }), freshStep('s', atIso, undefined)),
  startPlan('right'),
);
const step = record.steps[0]!;

function told(given: TapShapes = answer) {
  const edit = vi.fn();
  let id = 0;
  const workshop = {
    shelf: { record: signal(record), edit },
    shapes: { now: signal({ roving: { state: signal({ kind: 'idle' }) } }) },
    bench: { listening: signal(false) },
    newId: () => `pin-${id++}`,
  };
  const page = show(
    <ShapesTold record={record} step={step} round={round} answer={given} tapIds={['a', 'b', 'c']} />,
    {},
    workshop,
  );
  return { page, edit };
}

describe('what a roving round tells', () => {
  test('each mode with its interval, what it is and how like it', () => {
    const { page } = told();
    const [first, second] = [...page.querySelectorAll('.forecast-modes button')].map(({ textContent }) => textContent!);
    expectFigure(first!, 173.4, 0.1, 'Hz');
    expect(first).toContain('monopole, likeness 0.98');
    expect(second).toContain('long dipole, likeness 0.71');
  });

  test('agreement in words names what moves otherwise than drawn', () => {
    const { page } = told();
    expect(page.querySelector('.verdict-line')!.textContent).toContain('1 of the 2 modes');
    expect(page.querySelector('.verdict-line')!.textContent).toContain('long dipole (336.1');
    const alike = { ...answer, shapes: [answer.shapes[0]!, shapeOf(336.1, 0.2, 1, 0.95)] };
    expect(told(alike).page.querySelector('.verdict-line')!.textContent).toContain('all 2 modes');
  });

  test('likeness of all with all, and the spot of a tap that does not go with the others', () => {
    const { page } = told();
    const table = 'Likeness of tapped and computed shapes, at the spots';
    expect(cellOf(page, table, '173.4', 'monopole, 176 Hz')).toBe('0.96');
    expect(cellOf(page, table, '336.1', 'long dipole, 326 Hz')).toBe('0.64');
    expect(figuresOf(page, /do not go with the others; tap them again, or leave them out: ([\d, ]+)\./)).toEqual(['3']);
  });

  test('the movement at each spot, in brackets where the sign is not sure', () => {
    const { page } = told();
    unfold(page, 'Movement at the spots');
    expect(figureIn(cellOf(page, 'Movement at the spots', '2', '173 Hz')).value).toBeCloseTo(-0.25, 2);
    expect(cellOf(page, 'Movement at the spots', '3', '173 Hz')).toMatch(/^\(.*\)$/);
  });

  test('names are taken in one press, each where its mode lies', () => {
    const { page, edit } = told();
    const press = [...page.querySelectorAll('button')].find(
      ({ textContent }) => textContent === 'Take the names for 2 modes',
    );
    act(() => press!.click());
    const [, name, change] = edit.mock.calls[0]!;
    expect(name).toBe('mode-names');
    expect((change(record) as InstrumentRecord).pins).toEqual([
      { id: 'pin-0', stepId: 's', mode: 'monopole', frequencyHz: 173.4 },
      { id: 'pin-1', stepId: 's', mode: 'long dipole', frequencyHz: 336.1 },
    ]);
  });

  test('no name is offered where the taps alone do not bear it out', () => {
    const { page } = told({
      ...answer,
      likeness: [
        [0.5, 0],
        [0, 0.5],
      ],
    });
    expect(page.textContent).not.toContain('Names by shape');
  });
});

describe('the spot to tap now', () => {
  const goTo = vi.fn();
  const shownAt = (length: 'mm' | 'inch', spot: number, places: RovingRound['roving']['spots'] = spots) =>
    show(
      <RovingSession record={record} step={step} />,
      { length },
      {
        shapes: {
          now: signal({
            roving: {
              state: signal({ kind: 'tapping', spot }),
              round: signal({ ...round, taps: round.taps.slice(0, 1), roving: { spots: places } }),
              doubtful: signal(new Set([0])),
              last: signal(undefined),
              level: signal(undefined),
              recordId: 'r',
              goTo,
            },
          }),
        },
      },
    );

  test('is told by its number and its place, in both unit systems', () => {
    for (const [length, unit, perMm] of [
      ['mm', 'mm', 1],
      ['inch', 'in', 1 / 25.4],
    ] as const) {
      const page = shownAt(length, 2);
      expect(page.querySelector('.spot-now strong')!.textContent).toBe('3');
      const [fromTail, offCentre] = figuresOf(page, /^(.*) from the tail, (.*) to the treble side$/);
      if (unit === 'in') {
        expectLength(fromTail!, 254 * perMm, unit);
        expectLength(offCentre!, 101.6 * perMm, unit);
      } else expect([fromTail, offCentre].map((text) => figureIn(text!).value)).toEqual([254, 102]);
    }
  });

  test('says how many taps it has, and which spots to tap again', () => {
    const page = shownAt('mm', 0);
    expect(figuresOf(page, /^(\d) of (\d) taps$/)).toEqual(['1', '2']);
    expect(figuresOf(page, /worth tapping again: (\d)\./)).toEqual(['1']);
  });

  test('stands in a list of numbers where nothing is drawn, and another one is chosen there', () => {
    const page = shownAt('mm', 1, [{}, {}, {}]);
    expect(page.querySelector('.spot-map')).toBeNull();
    const buttons = [...page.querySelectorAll<HTMLButtonElement>('.spot-list button')];
    expect(buttons.map(({ textContent }) => textContent)).toEqual(['1, again', '2, now', '3']);
    act(() => buttons[2]!.click());
    expect(goTo).toHaveBeenCalledWith(2);
  });
});
