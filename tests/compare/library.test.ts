import { describe, expect, test } from 'vitest';
import {
  cardOf,
  libraryOf,
  modeSpreads,
  nearestInstruments,
  passes,
  recordFacts,
  sameAgain,
  shownMean,
} from '../../src/compare/library.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { patternBraces } from '../../src/record/plan-patterns.ts';
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
      favouritesOnly: false,
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
      [{ favouritesOnly: true }, false],
    ] as const)
      expect({ filter, passes: passes(facts, { ...none, ...filter }) }).toEqual({ filter, passes: wanted });
    expect(passes({ ...facts, loved: true }, { ...none, favouritesOnly: true })).toBe(true);
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

describe('what a card says of its record', () => {
  test('first and last moment are those of the clock, in whatever zone or order they were written', () => {
    const record = instrument('zones', [180]);
    const at = (createdAtIso: string, ...times: readonly string[]) => {
      const steps = record.steps.map((step, i) => ({ ...step, atIso: times[i]! }));
      const { firstAtIso, lastAtIso } = recordFacts({ ...record, createdAtIso, steps });
      return [firstAtIso, lastAtIso];
    };
    // 23:30 at +02:00 is 21:30 UTC, before 22:00 UTC.
    const [early, middle, late] = ['2026-01-01T23:30:00+02:00', '2026-01-01T22:00:00Z', '2026-01-02T00:00:00+01:00'];
    expect(at(middle!, late!, early!)).toEqual([early, late]);
    expect(at(early!, middle!, late!)).toEqual([early, late]);
  });

  test('stages once each as they came, the last one reached, the drawn pattern, the maker’s marks', () => {
    const record = instrument('facts', [180, 270]);
    const [one, two] = record.steps;
    const steps = [
      { ...one!, stage: 'braced' as const },
      { ...two!, stage: 'braced' as const },
      { ...two!, id: 's2', stage: 'on-rims' as const },
    ];
    const bare = startPlan('right');
    const plan = { ...bare, braces: [...patternBraces('ladder', bare)] };
    const pins = [...record.pins, { ...record.pins[0]!, id: 'again', stepId: 's0' }];
    expect(
      recordFacts({
        ...record,
        steps,
        plan,
        pins,
        loved: true,
        archived: true,
        hand: 'left',
        deletedAtIso: one!.atIso,
      }),
    ).toMatchObject({
      stages: ['braced', 'on-rims'],
      lastStage: 'on-rims',
      pattern: 'ladder',
      loved: true,
      archived: true,
      deleted: true,
      hand: 'left',
      steps: 3,
      namedModes: ['monopole', 'cross dipole'],
    });
    expect(recordFacts({ ...record, steps: [] })).toMatchObject({
      stages: [],
      lastStage: undefined,
      steps: 0,
      taps: 0,
    });
  });
});

describe('an entry of the library', () => {
  test('is the last step that has a named mode, for each stage and support, with those modes alone', () => {
    const record = instrument('entry', [180, 270, 350]);
    const pins = record.pins.slice(0, 1);
    const strange = { ...record.steps[1]!, id: 's2', atIso: '2026-11-25T02:00:00.000Z' };
    const [round] = strange.rounds;
    // Modes so far off that no name reaches them.
    const modes = round!.fit!.modes.map((mode) => ({ ...mode, frequencyHz: { value: 900, sigma: 0.1 } }));
    const later = { ...strange, rounds: [{ ...round!, fit: { ...round!.fit!, modes: modes.slice(0, 1) } }] };
    const entries = libraryOf([{ ...record, pins, steps: [...record.steps, later] }]);
    expect(entries).toEqual([
      {
        recordId: 'entry',
        name: 'No. entry',
        model: 'OM',
        stage: 'braced',
        support: inMould,
        atIso: '2026-11-25T01:00:00.000Z',
        modes: new Map([['monopole', { value: 180, sigma: 0.1 }]]),
      },
    ]);
    expect(libraryOf([{ ...record, pins: [] }])).toEqual([]);
  });

  test('two supports of one step are two entries', () => {
    const told = story([{ modesHz: [180] }, { modesHz: [120], support: { ...inMould, hold: 'at-node' } }]);
    const pins = [
      { id: 'a', stepId: 's0', mode: 'monopole', frequencyHz: 180 },
      { id: 'b', stepId: 's0', mode: 'free', frequencyHz: 120 },
    ];
    const rounds = told.steps.flatMap((step) => step.rounds);
    const entries = libraryOf([{ ...told, pins, steps: [{ ...told.steps[0]!, rounds }] }]);
    expect(entries.map(({ support, modes }) => [support.hold, [...modes.keys()]]).toSorted()).toEqual([
      ['at-node', ['free']],
      ['in-mould', ['monopole']],
    ]);
  });
});

describe('means, aims and neighbours by hand', () => {
  const entry = (recordId: string, modes: Readonly<Record<string, readonly [number, number]>>) => ({
    recordId,
    name: recordId,
    model: ' OM ',
    stage: 'braced' as const,
    support: inMould,
    atIso: '2026-11-25T01:00:00.000Z',
    modes: new Map(Object.entries(modes).map(([name, [value, sigma]]) => [name, { value, sigma }])),
  });
  const spreadOf = (...readings: readonly (readonly [number, number])[]) =>
    modeSpreads(
      readings.map((reading, i) => entry(`r${i}`, { air: reading })),
      selection,
    )[0]!;

  test('the mean of three is shown with Student’s 4.303 (two degrees of freedom), of one with its own sigma', () => {
    const three = spreadOf([100, 0.2], [102, 0.2], [104, 0.2]);
    // Spread 2, of the mean 2 / sqrt 3; half width of the 95 % interval 4.303 of it (any table of Student's t).
    expect(1.959964 * shownMean(three).sigma).toBeCloseTo((4.3027 * 2) / Math.sqrt(3), 3);
    expect(shownMean(three).value).toBe(102);
    const two = spreadOf([100, 0.2], [102, 0.2]);
    expect(1.959964 * shownMean(two).sigma).toBeCloseTo(12.7062 * 1, 3);
    expect(shownMean(spreadOf([100, 0.2]))).toEqual({ value: 100, sigma: 0.2 });
    expect(spreadOf([100, 0.2]).spreadHz).toBeUndefined();
  });

  test('the model is compared without the blanks around it', () => {
    expect(modeSpreads([entry('a', { air: [100, 1] })], { ...selection, model: 'OM  ' })).toHaveLength(1);
    expect(modeSpreads([entry('a', { air: [100, 1] })], { ...selection, model: 'O' })).toEqual([]);
    const grouped = { ...inMould, hold: 'at-node' as const };
    expect(modeSpreads([entry('a', { air: [100, 1] })], { ...selection, support: grouped })).toEqual([]);
  });

  test('a target is never narrower than the taps tell, root mean square, nor than a thousandth of a hertz', () => {
    const tolerance = (...readings: readonly (readonly [number, number])[]) => {
      const aim = sameAgain(spreadOf(...readings), 'braced');
      return aim.kind === 'target' ? aim.target.toleranceHz : aim.kind;
    };
    expect(tolerance([100, 0.3], [100, 0.4], [100, 1.2])).toBeCloseTo(Math.sqrt((0.09 + 0.16 + 1.44) / 3), 12);
    expect(tolerance([100, 0], [100, 0], [100, 0])).toBe(1e-3);
    expect(tolerance([99, 0.1], [100, 0.1], [101, 0.1])).toBe(1);
    expect(tolerance([99, 0.1], [100, 0.1])).toBe('too-few');
  });

  test('the distance is the root mean square of the intervals, its sigma theirs by the slopes', () => {
    const bench = entry('bench', { air: [100, 0.1], top: [200, 0.3], back: [240, 0.2] });
    const other = entry('other', { air: [102, 0.2], top: [198, 0.1], neck: [60, 1] });
    const [found, ...more] = nearestInstruments(bench, [bench, other]);
    expect(more).toEqual([]);
    const cents = (ratio: number) => 1200 * Math.log2(ratio);
    const [air, top] = [cents(1.02), cents(0.99)];
    const rms = Math.sqrt((air ** 2 + top ** 2) / 2);
    expect(found!.distanceCents.value).toBeCloseTo(rms, 9);
    // 1200 / ln 2 cents for each relative change; d rms / d interval = interval / (2 rms).
    const perLog = 1200 / Math.log(2);
    const airSigma = perLog * Math.sqrt((0.1 / 100) ** 2 + (0.2 / 102) ** 2);
    const topSigma = perLog * Math.sqrt((0.3 / 200) ** 2 + (0.1 / 198) ** 2);
    const sigma = Math.sqrt(((air / (2 * rms)) * airSigma) ** 2 + ((top / (2 * rms)) * topSigma) ** 2);
    expect(found!.distanceCents.sigma).toBeCloseTo(sigma, 9);
    expect(found!.sharedModes).toEqual(['air', 'top']);
  });

  test('a twin is nought away, as sure as the least sure of its modes', () => {
    const modes = { air: [100, 0.1], top: [200, 0.1] } as const;
    const [twin] = nearestInstruments(entry('a', modes), [entry('b', modes)]);
    expect(twin!.distanceCents.value).toBe(0);
    // 0.1 of 100 Hz twice, at right angles.
    expect(twin!.distanceCents.sigma).toBeCloseTo(((1200 / Math.log(2)) * Math.SQRT2 * 0.1) / 100, 9);
  });

  test('near is only what was measured at the same stage, in the same way, and shares two modes', () => {
    const modes = { air: [100, 0.1], top: [200, 0.1] } as const;
    const bench = entry('bench', modes);
    const others = [
      { ...entry('stage', modes), stage: 'closed' as const },
      { ...entry('hold', modes), support: { ...inMould, hold: 'at-node' as const } },
      entry('one', { air: [100, 0.1], neck: [60, 0.1] }),
      entry('far', { air: [110, 0.1], top: [220, 0.1] }),
      entry('near', { air: [101, 0.1], top: [201, 0.1] }),
    ];
    expect(nearestInstruments(bench, others).map((one) => one.entry.recordId)).toEqual(['near', 'far']);
  });
});

test('a search finds what stands in name or model, and a model is asked for whole', () => {
  const none = { stage: undefined, species: undefined, pattern: undefined, model: undefined, favouritesOnly: false };
  const facts = { ...recordFacts(five[0]!), name: 'Ash', model: ' OM ' };
  const finds = (text: string) => passes(facts, { ...none, text });
  expect(['ash', '  ASH ', 'om', 'sh  o', '', 'ashom', 'oak'].map(finds)).toEqual([
    true,
    true,
    true,
    true,
    true,
    false,
    false,
  ]);
  expect(passes(facts, { ...none, text: '', model: 'OM' })).toBe(true);
  expect(passes(facts, { ...none, text: '', model: 'om' })).toBe(false);
});
