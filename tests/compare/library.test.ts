import { describe, expect, test } from 'vitest';
import {
  cardOf,
  libraryOf,
  modeSpreads,
  nearestInstruments,
  passes,
  recordFacts,
  sameAgain,
} from '../../src/compare/library.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import type { InstrumentRecord } from '../../src/record/record.ts';
import { freshPiece } from '../../src/record/wood-edit.ts';
import { inMould, story } from './story.ts';

/** An instrument measured twice, its last modes named. */
function instrument(id: string, modesHz: readonly number[], more: Partial<InstrumentRecord> = {}): InstrumentRecord {
  const names = ['monopole', 'cross dipole', 'long dipole'];
  return {
    ...story([{ modesHz: modesHz.map((hz) => hz * 1.02) }, { modesHz }]),
    id,
    name: `No. ${id}`,
    model: 'OM',
    pins: modesHz.map((frequencyHz, i) => ({ id: `p${i}`, stepId: 's1', mode: names[i]!, frequencyHz })),
    ...more,
  };
}
const selection = { model: 'OM', stage: 'braced', support: inMould } as const;
const five = [180, 182, 184, 186, 188].map((hz, i) => instrument(`i${i}`, [hz, 1.5 * hz]));

describe('the library', () => {
  test('mean and spread of a mode over five instruments by hand', () => {
    const [monopole, dipole] = modeSpreads(libraryOf(five), selection);
    expect(monopole).toMatchObject({ mode: 'monopole', meanHz: { value: 184 } });
    // Squares 16 + 4 + 0 + 4 + 16 = 40, over n - 1 = 4.
    expect(monopole!.spreadHz!.value).toBeCloseTo(Math.sqrt(10), 12);
    expect(monopole!.meanHz.sigma).toBeCloseTo(Math.sqrt(10 / 5), 12);
    expect(monopole!.spreadHz!.sigma).toBeCloseTo(Math.sqrt(10 / 8), 12);
    expect(dipole!.meanHz.value).toBeCloseTo(276, 12);
  });

  test('only the last signature of an instrument counts, and only of the same model, stage and support', () => {
    const others = [
      instrument('other-model', [500], { model: 'D' }),
      instrument('stick', [500], { kind: 'reference-stick' }),
      instrument('gone', [500], { deletedAtIso: '2026-11-25T08:00:00.000Z' }),
    ];
    const stage = { ...instrument('stage', [500]) };
    const moved = { ...stage, steps: stage.steps.map((step) => ({ ...step, stage: 'on-rims' as const })) };
    const library = libraryOf([...five, ...others, moved]);
    expect(modeSpreads(library, selection)[0]?.instruments.map((one) => one.recordId)).toEqual([
      'i0',
      'i1',
      'i2',
      'i3',
      'i4',
    ]);
    expect(modeSpreads(library, { ...selection, stage: 'on-rims' })[0]).toMatchObject({
      meanHz: { value: 500, sigma: 0.1 },
      spreadHz: undefined,
    });
    expect(modeSpreads(library, { ...selection, stage: 'strung' })).toEqual([]);
  });

  test('the same again is the mean with the spread of one instrument, from three instruments on', () => {
    const [spread] = modeSpreads(libraryOf(five), selection);
    expect(sameAgain(spread!, 'braced')).toEqual({
      kind: 'target',
      target: { mode: 'monopole', stage: 'braced', frequencyHz: 184, toleranceHz: spread!.spreadHz!.value },
      instruments: 5,
    });
    const [two] = modeSpreads(libraryOf(five.slice(0, 2)), selection);
    expect(sameAgain(two!, 'braced')).toEqual({ kind: 'too-few', have: 2, need: 3 });
  });

  test('instruments that agree better than the taps can tell have the tolerance of the taps', () => {
    const [spread] = modeSpreads(libraryOf(['a', 'b', 'c'].map((id) => instrument(id, [180]))), selection);
    expect(sameAgain(spread!, 'braced')).toMatchObject({ target: { toleranceHz: expect.closeTo(0.1, 12) } });
  });

  test('the nearest instrument is the one least far over the modes that both have', () => {
    const semitone = 2 ** (1 / 12);
    const bench = instrument('bench', [180, 270]);
    const library = libraryOf([
      bench,
      instrument('semitone', [180 * semitone, 270 / semitone]),
      instrument('quarter', [180 * semitone ** 0.5, 270 * semitone ** 0.5, 350]),
      instrument('one-mode', [180]),
    ]);
    const found = nearestInstruments(library[0]!, library);
    expect(found.map((one) => one.entry.recordId)).toEqual(['quarter', 'semitone']);
    expect(found.map((one) => Math.round(one.distanceCents.value * 1e6) / 1e6)).toEqual([50, 100]);
    expect(found[0]!.sharedModes).toEqual(['monopole', 'cross dipole']);
  });

  test('the sigma of a distance agrees with a numerical derivative (JCGM 100:2008 section 5.1.3 note 2)', () => {
    const pair = libraryOf([instrument('a', [180, 270]), instrument('b', [184, 272])]);
    const distance = (shifts: readonly number[]) => {
      const modes = new Map(
        [...pair[1]!.modes].map(([name, hz], i) => [name, { ...hz, value: hz.value + shifts[i]! }]),
      );
      return nearestInstruments(pair[0]!, [{ ...pair[1]!, modes }])[0]!.distanceCents;
    };
    // Either side's 0.1 Hz moves the interval nearly equally: sqrt 2 of one side, to the 2 % the frequencies differ by.
    const each = [0, 1].map((k) => distance([k === 0 ? 0.1 : 0, k === 1 ? 0.1 : 0]).value - distance([0, 0]).value);
    expect(distance([0, 0]).sigma / (Math.SQRT2 * Math.hypot(...each))).toBeCloseTo(1, 1);
  });

  test('modes are told in the order of their means, in whatever order they were met', () => {
    const high = { ...instrument('high', [400]), pins: [{ id: 'p', stepId: 's1', mode: 'ring', frequencyHz: 400 }] };
    const low = { ...instrument('low', [90]), pins: [{ id: 'p', stepId: 's1', mode: 'air', frequencyHz: 90 }] };
    for (const met of [
      [high, low, ...five],
      [low, ...five, high],
    ])
      expect(modeSpreads(libraryOf(met), selection).map(({ mode }) => mode)).toEqual([
        'air',
        'monopole',
        'cross dipole',
        'ring',
      ]);
  });

  test('every model together where none is asked for', () => {
    const library = libraryOf([...five, instrument('d', [190], { model: 'D' })]);
    expect(modeSpreads(library, selection)[0]?.instruments).toHaveLength(5);
    expect(modeSpreads(library, { ...selection, model: undefined })[0]?.instruments).toHaveLength(6);
  });

  test('a card holds the facts and the signatures of its record', () => {
    const card = cardOf(five[0]!);
    expect(card.facts).toEqual(recordFacts(five[0]!));
    expect(card.entries).toEqual(libraryOf([five[0]!]));
  });

  test('each filter lets through what it names, and none of them everything', () => {
    const none = {
      text: '',
      stage: undefined,
      species: undefined,
      pattern: undefined,
      model: undefined,
      lovedOnly: false,
    };
    const facts = { ...recordFacts(five[0]!), species: ['sitka-spruce'], pattern: 'x' as const };
    expect(passes(facts, none)).toBe(true);
    for (const [filter, wanted] of [
      [{ text: ' no. I0' }, true],
      [{ text: 'om' }, true],
      [{ text: 'ivory' }, false],
      [{ stage: 'braced' }, true],
      [{ stage: 'strung' }, false],
      [{ species: 'sitka-spruce' }, true],
      [{ species: 'cedar' }, false],
      [{ pattern: 'x' }, true],
      [{ pattern: 'fan' }, false],
      [{ model: 'OM' }, true],
      [{ model: 'O' }, false],
      [{ lovedOnly: true }, false],
    ] as const)
      expect({ filter, passes: passes(facts, { ...none, ...filter }) }).toEqual({ filter, passes: wanted });
    expect(passes({ ...facts, loved: true }, { ...none, lovedOnly: true })).toBe(true);
  });

  test('all taps of all rounds of all steps are counted', () => {
    const [first, ...more] = five[0]!.steps;
    const tap = { id: 't', atIso: first!.atIso, sampleRateHz: 48_000, aboveRoomDb: 40, hold: 0 };
    const rounds = [4, 3].map((count) => ({ ...first!.rounds[0]!, taps: Array.from({ length: count }, () => tap) }));
    const second = { ...more[0]!, rounds: [{ ...more[0]!.rounds[0]!, taps: [tap, tap] }] };
    expect(recordFacts({ ...five[0]!, steps: [{ ...first!, rounds }, second] }).taps).toBe(4 + 3 + 2);
  });

  test('the facts of a record', () => {
    expect(recordFacts(five[0]!)).toEqual({
      id: 'i0',
      kind: 'instrument',
      name: 'No. i0',
      model: 'OM',
      hand: 'right',
      stages: ['braced'],
      lastStage: 'braced',
      species: [],
      pattern: undefined,
      loved: false,
      steps: 2,
      taps: 0,
      namedModes: ['monopole', 'cross dipole'],
      firstAtIso: '2026-11-25T00:00:00.000Z',
      lastAtIso: '2026-11-25T01:00:00.000Z',
      archived: false,
      deleted: false,
    });
  });
});

test('the wood of an instrument is that of its tops, each named once, else what its plan was drawn with', () => {
  const top = (id: string, species: string, kind: 'top' | 'back' = 'top') => ({
    ...freshPiece(id, kind, id, species),
  });
  const drawn = startPlan('right');
  const plan = { ...drawn, wood: { ...drawn.wood, speciesId: 'engelmann-spruce' } };
  const of = (more: Partial<InstrumentRecord>) => recordFacts(instrument('wood', [180], more)).species;
  expect(
    of({ pieces: [top('a', 'sitka-spruce'), top('b', 'sitka-spruce'), top('c', 'rosewood', 'back')], plan }),
  ).toEqual(['sitka-spruce']);
  expect(of({ pieces: [top('c', 'rosewood', 'back')], plan })).toEqual(['engelmann-spruce']);
  expect(of({ plan })).toEqual(['engelmann-spruce']);
  expect(of({ pieces: [top('a', '')], plan })).toEqual([]);
  expect(of({})).toEqual([]);
});
