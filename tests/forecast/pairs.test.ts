// Pairs of braces and pairs of modes, told by hand: which belong together, and at which distance no more.
import { describe, expect, test } from 'vitest';
import { pairMeasured } from '../../src/forecast/measured-match.ts';
import { mirrorPairs } from '../../src/forecast/mirror-pairs.ts';
import { computedModes } from '../../src/forecast/plan-question.ts';
import { cutPlate, MOVE_ERROR_SHARE, moveSigmas } from '../../src/forecast/shaving.ts';
import type { TopModes } from '../../src/forecast/top-modes.ts';
import type { BraceCase, PlateCase } from '../../src/plate/plate-case.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { rectangle, smallTop, spruce } from '../plate/plates.ts';

describe('braces that mirror each other', () => {
  const brace = (from: readonly [number, number], to: readonly [number, number]): BraceCase => ({
    ...smallTop.braces![0]!,
    from,
    to,
  });
  const groups = (...braces: readonly BraceCase[]) => mirrorPairs(braces).map((group) => [...group]);
  const bass = brace([40, 15], [200, 80]);

  test('are one group, each told from its own first end; others stand alone', () => {
    expect(groups(bass, brace([100, 10], [150, 90]), brace([40, -15], [200, -80]))).toEqual([[0, 2], [1]]);
    // Turned about it is no mirror image: what is cut from its first end on would lie elsewhere.
    expect(groups(bass, brace([200, -80], [40, -15]))).toEqual([[0], [1]]);
    expect(groups()).toEqual([]);
  });

  test('no more where an end lies two millimetres off, either end', () => {
    expect(groups(bass, brace([41.9, -15], [200, -80]))).toEqual([[0, 1]]);
    expect(groups(bass, brace([40, -15], [200, -81.9]))).toEqual([[0, 1]]);
    expect(groups(bass, brace([42.1, -15], [200, -80]))).toEqual([[0], [1]]);
    expect(groups(bass, brace([40, -15], [200, -82.1]))).toEqual([[0], [1]]);
  });

  test('are two at most: a third like one of them stands alone, and one on the middle is its own', () => {
    const treble = brace([40, -15], [200, -80]);
    expect(groups(bass, treble, treble)).toEqual([[0, 1], [2]]);
    expect(groups(brace([40, 0], [200, 0]))).toEqual([[0]]);
  });
});

describe('modes without a name', () => {
  const computed = [200, 300, 450].map((frequencyHz) => ({ name: undefined, frequencyHz }));
  const cents = (hz: number, by: number) => hz * 2 ** (by / 1200);
  const pairs = (...hz: readonly number[]) =>
    pairMeasured(
      computed,
      hz.map((frequencyHz) => ({ name: undefined, frequencyHz })),
    ).map(({ computed: c, measured, by }) => [c, measured, by]);

  test('are paired by frequency, all shifted alike: a semitone and a half is open wood', () => {
    const all = [
      [0, 0, 'frequency'],
      [1, 1, 'frequency'],
      [2, 2, 'frequency'],
    ];
    expect(pairs(200, 300, 450)).toEqual(all);
    expect(pairs(...[200, 300, 450].map((hz) => cents(hz, 150)))).toEqual(all);
    expect(pairs(...[200, 300, 450].map((hz) => cents(hz, -150)))).toEqual(all);
  });

  test('a large shift of all is dearer than leaving one alone', () => {
    // 200 cents off: shift and own spread together have chi squared 200^2 / (60^2 + 125^2) = 2.08, less than two alone.
    expect(pairs(cents(200, 200))).toEqual([[0, 0, 'frequency']]);
    // 350 cents: 6.4, more than the price of two alone, 4.
    expect(pairs(cents(200, 350))).toEqual([]);
    expect(pairs(cents(200, -350))).toEqual([]);
  });

  test('one far off is left alone and spoils none of the others', () => {
    expect(pairs(200, 300, 700)).toEqual([
      [0, 0, 'frequency'],
      [1, 1, 'frequency'],
    ]);
    expect(pairs()).toEqual([]);
  });
});

describe('spots that were tapped harder', () => {
  // Two modes close by: one moves most at A and rests at B, the other the other way.
  const at = { a: [0, 0] as const, b: [1, 0] as const, c: [2, 0] as const };
  const shape = (a: number, b: number, c: number) => (place: readonly [number, number]) => [a, b, c][place[0]];
  const computed = [
    { name: undefined, frequencyHz: 400, deflectionAt: shape(1, 0.1, 0.5) },
    { name: undefined, frequencyHz: 405, deflectionAt: shape(0.1, 1, 0.5) },
  ];
  const heard = (frequencyHz: number, a: number, b: number, c: number) => ({
    name: undefined,
    frequencyHz,
    heardAt: [
      { at: at.a, levelDb: a },
      { at: at.b, levelDb: b },
      { at: at.c, levelDb: c },
    ],
  });
  const pairs = (...modes: readonly ReturnType<typeof heard>[]) =>
    pairMeasured(computed, modes).map(({ computed: c, measured, by }) => [c, measured, by]);
  const crossed = [
    [0, 1, 'spots'],
    [1, 0, 'spots'],
  ];

  test('the shapes decide against the frequencies', () => {
    // 20 dB are a tenth, 6 dB a half.
    expect(pairs(heard(400, -40, -20, -26), heard(405, -20, -40, -26))).toEqual(crossed);
    expect(pairs(heard(400, -20, -40, -26), heard(405, -40, -20, -26))).toEqual([
      [0, 0, 'spots'],
      [1, 1, 'spots'],
    ]);
  });

  test('also where all taps at one spot were stronger, as they are for both modes', () => {
    expect(pairs(heard(400, -40, -20 + 12, -26), heard(405, -20, -40 + 12, -26))).toEqual(crossed);
  });

  test('a spot off the plate says nothing', () => {
    const off = [{ name: undefined, frequencyHz: 400, deflectionAt: () => undefined }];
    expect(pairMeasured(off, [heard(400, -20, -40, -26)])).toEqual([{ computed: 0, measured: 0, by: 'frequency' }]);
  });
});

test('the computed modes of an answer know how far they move at the spots that were asked, and at no other', () => {
  const top = (name: string, value: number, atSpots: readonly (number | undefined)[]) => ({
    ...{ name, frequencyHz: { value, sigma: 1 }, atSpots },
    ...{ contours: [], bands: [], places: { hold: [], tap: [] } },
  });
  const modes = [top('monopole', 180, [0.9, undefined]), top('long dipole', 320, [-0.2, 0.4])];
  const answer: TopModes = { kind: 'modes', modes, massG: { value: 200, sigma: 2 }, sensitivity: [] };
  const spots = [
    [10, 20],
    [10, 30],
  ] as const;
  const found = computedModes(answer, { plate: smallTop, parameters: [], spots });
  expect(found.map(({ name, frequencyHz, top: own }) => [name, frequencyHz, own])).toEqual([
    ['monopole', 180, modes[0]],
    ['long dipole', 320, modes[1]],
  ]);
  expect(found.map(({ deflectionAt }) => spots.map((at) => deflectionAt!(at)))).toEqual([
    [0.9, undefined],
    [-0.2, 0.4],
  ]);
  for (const at of [
    [20, 20],
    [10, 21],
    [20, 30],
  ] as const)
    expect(found[1]!.deflectionAt!(at)).toBeUndefined();
  expect(computedModes(answer, { plate: smallTop, parameters: [] })[1]!.deflectionAt!([10, 20])).toBeUndefined();
});

describe('how sure a move is', () => {
  const top: PlateCase = { ...smallTop, outline: rectangle(260, 200), material: spruce };
  const prepared = preparePlate(top, 120);
  const modesOf = (plate: PlateCase) => {
    const answer = plateModes(prepared, plate, { count: 1 });
    if (answer.kind !== 'modes') throw new Error(answer.kind);
    return { plate, modes: answer.modes, slopes: undefined };
  };
  const cut = (offMm: number, braceId = 'slanted') => cutPlate(top, [{ braceId, fromMm: 0, toMm: 203, offMm }]);
  const before = modesOf(top);
  const sigmaOf = (plate: PlateCase) => {
    const after = modesOf(plate);
    return {
      move: after.modes[0]!.frequencyHz - before.modes[0]!.frequencyHz,
      sigma: moveSigmas(prepared, before, after)[0]!,
    };
  };

  test('nothing cut, nothing open', () => {
    expect(sigmaOf(top).sigma).toBeCloseTo(0, 6);
  });

  test('a tenth of a millimetre of all that was cut on a brace, and a share of the move', () => {
    const { move, sigma } = sigmaOf(cut(1));
    // What a tenth more or less does, by solving again.
    const slip = (sigmaOf(cut(1.1)).move - sigmaOf(cut(0.9)).move) / 2;
    expect(Math.abs(sigma / Math.hypot(MOVE_ERROR_SHARE * move, slip) - 1)).toBeLessThan(0.05);
  });

  test('two braces slip each by itself', () => {
    const both = cutPlate(cut(1), [{ braceId: 'across', fromMm: 0, toMm: 107, offMm: 1 }]);
    const { move, sigma } = sigmaOf(both);
    const slips = ['slanted', 'across'].map((braceId) => {
      const again = (offMm: number) => sigmaOf(cutPlate(both, [{ braceId, fromMm: 0, toMm: 203, offMm }])).move;
      return again(0.1) - again(0);
    });
    expect(Math.abs(sigma / Math.hypot(MOVE_ERROR_SHARE * move, ...slips) - 1)).toBeLessThan(0.08);
  });
});
