import { expect, test } from 'vitest';
import { endsOf, namedCuts, readingOf } from '../../src/record/cut-place.ts';
import { mirroredPlan, startPlan } from '../../src/record/plan-edit.ts';
import { handbookWood, planWoodOf, withMeasuredWood } from '../../src/record/plan-wood.ts';
import { newRecord, type Piece } from '../../src/record/record.ts';
import { planWords, woodSourceWords } from '../../src/views/plan/words.ts';

const plan = startPlan('right');
const cutWords = (...asked: Parameters<typeof namedCuts>) =>
  namedCuts(...asked).map((cut) => planWords().cut(cut, say));
/** Not the page's way of saying them, so that a length that is said otherwise would show. */
const say = {
  off: (mm: number) => `<${mm}>`,
  place: (mm: number) => `[${mm}]`,
  stretch: (fromMm: number, toMm: number) => `[${fromMm} … ${toMm}]`,
};
const cut = (braceId: string, fromMm: number, toMm: number, offMm = 1.2) => ({ braceId, fromMm, toMm, offMm });

test('the same cut on both legs of the X is one sentence, another cut is its own', () => {
  expect(
    cutWords(plan, 'right', [
      cut('x-treble', 310, 380),
      cut('x-bass', 310, 380),
      cut('tone-1', 0, 40, 0.4),
      cut('x-treble', 330, 350),
    ]),
  ).toEqual([
    '<1.2> off X brace, lower end on both sides, between [61] from its tail end and the bridge plate',
    '<0.4> off Tone bar 1, between [115] from its tail end and its neck end',
    '<1.2> off X brace, lower end treble, [91 … 111] from its tail end',
  ]);
});

test('every place along a brace is counted from its tail end, or its bass end where it lies across, whichever end was drawn first', () => {
  const up = { from: { xMm: 100, yMm: 0 }, to: { xMm: 400, yMm: 0 } };
  const down = { from: up.to, to: up.from };
  for (const [brace, atMm] of [
    [up, 80],
    [down, 220],
  ] as const) {
    const reading = readingOf(brace, 'right');
    expect([reading.end, reading.otherEnd]).toEqual(['tail', 'neck']);
    expect(reading.turned(atMm)).toBe(80);
    expect(reading.turned(reading.turned(atMm))).toBe(atMm);
  }
  expect(readingOf(down, 'right').stretch(220, 280)).toEqual([20, 80]);
  const across = { from: { xMm: 400, yMm: -80 }, to: { xMm: 400, yMm: 80 } };
  expect(readingOf(across, 'right').turned(30)).toBe(30);
  expect(readingOf(across, 'left')).toMatchObject({ end: 'bass' });
  expect(readingOf(across, 'left').turned(30)).toBe(130);
});

test('ends are told by tail and neck, and by bass and treble where a brace lies across', () => {
  const along = { from: { xMm: 100, yMm: -20 }, to: { xMm: 300, yMm: 40 } };
  const across = { from: { xMm: 400, yMm: -80 }, to: { xMm: 400, yMm: 80 } };
  expect(endsOf(along, 'right')).toEqual(['tail', 'neck']);
  expect(endsOf(across, 'right')).toEqual(['bass', 'treble']);
  expect(endsOf(across, 'left')).toEqual(['treble', 'bass']);
});

test('the mirrored plan for the other hand is told in the same words', () => {
  const cuts = [cut('x-treble', 330, 420), cut('tone-2', 20, 60, 0.5)];
  expect(cutWords(mirroredPlan(plan), 'left', cuts)).toEqual(cutWords(plan, 'right', cuts));
});

const board: Piece = {
  id: 'board',
  kind: 'top',
  name: 'Board 3',
  species: 'sitka-spruce',
  climate: {},
  notes: '',
  rounds: [],
  modes: [],
  caliper: [],
  deflections: [],
  reading: {
    method: 'taps',
    atIso: '2026-01-02T03:04:05.000Z',
    densityKgM3: { value: 402, sigma: 3 },
    eLongGpa: { value: 11.7, sigma: 0.2 },
  },
};

test('a measured piece lends its wood to the plan, the handbook the rest, and it is said which', () => {
  const record = {
    ...newRecord({ id: 'r', createdAtIso: '2026-01-02T03:04:05.000Z', name: 'Test' }),
    pieces: [board],
  };
  const { wood, braceWood } = withMeasuredWood(record, plan);
  expect(wood).toEqual(planWoodOf(board));
  expect(wood.eLongGpa).toEqual({ value: 11.7, sigma: 0.2 });
  expect(wood.eCrossGpa).toEqual(handbookWood('sitka-spruce').eCrossGpa);
  expect(braceWood).toEqual(plan.braceWood);
  expect(woodSourceWords(record, wood)).toBe(
    'Measured on “Board 3”: stiffness along, density. The rest is from the handbook.',
  );
  expect(woodSourceWords(record, braceWood)).toMatch(/from the handbook or as typed/);
});
