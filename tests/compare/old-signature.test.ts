import { describe, expect, test } from 'vitest';
import {
  bridgeAim,
  matchTop,
  oldReadings,
  oldWoodNow,
  repairWoodOf,
  withMoistures,
  withStrip,
} from '../../src/compare/old-signature.ts';
import { modeNow, stageJumps } from '../../src/compare/stage-jumps.ts';
import type { BoxRepair } from '../../src/record/box-edit.ts';
import type { InstrumentRecord } from '../../src/record/record.ts';
import { freshPiece } from '../../src/record/wood-edit.ts';
import { story } from './story.ts';

const openBox = { hold: 'box-open' as const, bridge: 'glued' as const, strung: false };

/** Braced with a monopole at 180 Hz, then closed with air, top and back; blocked at the same step to be kept out. */
function instrument(id: string, topHz: number): InstrumentRecord {
  const record = story([
    { modesHz: [180, 240], stage: 'braced' },
    { modesHz: [112, topHz, 231], stage: 'closed', support: openBox },
  ]);
  const [braced, closed] = record.steps;
  const blocked = { ...closed!.rounds[0]!, id: 'blocked', support: { ...openBox, hold: 'box-hole-blocked' as const } };
  return {
    ...record,
    id,
    name: id,
    steps: [braced!, { ...closed!, rounds: [...closed!.rounds, blocked] }],
    pins: [
      { id: 'p0', stepId: 's0', mode: 'monopole', frequencyHz: 180 },
      { id: 'p1', stepId: 's1', mode: 'air', frequencyHz: 112 },
      { id: 'p2', stepId: 's1', mode: 'top', frequencyHz: topHz },
      { id: 'p3', stepId: 's1', mode: 'back', frequencyHz: 231 },
    ],
  };
}

const estimateOf = (value: number) => ({ value, sigma: 0.02 * value });
const wood = (densityKgM3: number, eLongGpa: number, eCrossGpa: number) => ({
  densityKgM3: estimateOf(densityKgM3),
  eLongGpa: estimateOf(eLongGpa),
  eCrossGpa: estimateOf(eCrossGpa),
});

const repair: BoxRepair = {
  recordId: 'old',
  stepId: 's1',
  topDamage: ['cracked'],
  oldWood: wood(400, 12, 0.8),
  newWood: wood(400, 12, 0.8),
  oldThicknessMm: { value: 2.8, sigma: 0.03 },
  matchBy: 'both',
};

describe('what one instrument tells another', () => {
  test('a change of stage takes the mode by the name it has on either side, one jump an instrument', () => {
    const change = { from: 'braced', to: 'closed', nameBefore: 'monopole', nameAfter: 'top' } as const;
    // As the readings of the story have it.
    const readAt = (value: number) => ({ value, sigma: 0.1 });
    expect(stageJumps([instrument('a', 190), instrument('b', 200), story([{ modesHz: [180] }])], change)).toEqual([
      { recordId: 'a', instrument: 'a', fromHz: 180, toHz: 190, before: readAt(180), after: readAt(190) },
      { recordId: 'b', instrument: 'b', fromHz: 180, toHz: 200, before: readAt(180), after: readAt(200) },
    ]);
    expect(modeNow(instrument('a', 190), 'braced', 'monopole')?.value).toBe(180);
  });

  test('damage counts against what was read damaged: the closed top, not the air, the back or the top while it was built', () => {
    const readings = oldReadings(instrument('old', 190), repair);
    expect(readings.map(({ mode, readAt, part, damage }) => [mode, readAt, part, damage])).toEqual([
      ['monopole', 'braced', 'top', []],
      ['air', 'closed', 'air', []],
      ['top', 'closed', 'top', ['cracked']],
      ['back', 'closed', 'back', 'unasked'],
    ]);
  });

  test('steps after the repair are not the old instrument', () => {
    expect(oldReadings(instrument('old', 190), { ...repair, stepId: 's0' }).map(({ mode }) => mode)).toEqual([
      'monopole',
    ]);
  });

  test('the same wood needs the same thickness; a wood half as stiff both ways needs the cube root of two more', () => {
    const same = matchTop(repair);
    expect(same.kind === 'match' && same.thicknessMm.both.value).toBeCloseTo(2.8, 12);
    const softer = matchTop({ ...repair, newWood: wood(400, 6, 0.4) });
    // D ~ E h^3
    expect(softer.kind === 'match' && softer.thicknessMm.both.value).toBeCloseTo(2.8 * Math.cbrt(2), 12);
    expect(softer.kind === 'match' && softer.ratios.arealMass.value).toBeCloseTo(Math.cbrt(2), 12);
  });

  test('what is still to be measured is listed', () => {
    expect(matchTop({ ...repair, newWood: {} })).toEqual({
      kind: 'missing',
      needs: ['new-density', 'new-along', 'new-across'],
    });
  });
});

test('the old wood is compared where all of it was measured, at the moisture of the new', () => {
  const { oldThicknessMm, ...unmeasured } = repair;
  expect(oldWoodNow({ ...repair, oldWood: {} })).toBeUndefined();
  expect(oldWoodNow({ ...repair, newWood: {} })).toBeUndefined();
  expect(oldWoodNow(unmeasured)).toBeUndefined();
  const plain = oldWoodNow(repair)!;
  expect(plain.thicknessMm).toEqual(oldThicknessMm);
  expect(plain.wood.eLongGpa.value).toBe(12);
  // Drier wood is stiffer, and the new one stays as it is.
  const drier = oldWoodNow({ ...repair, moistureDifferencePercent: -3 })!;
  expect(drier.wood.eLongGpa.value).toBeGreaterThan(12);
  expect(drier.fresh).toEqual(plain.fresh);
});

test('each reading is of a part in a state that the translation knows', () => {
  const plate = { hold: 'at-node' as const, bridge: 'off' as const, strung: false };
  const chapters = [
    { modesHz: [50], stage: 'board' as const, support: plate },
    { modesHz: [60, 80, 110], stage: 'thicknessed' as const, support: plate },
    { modesHz: [180], stage: 'braced' as const },
    { modesHz: [170], stage: 'on-rims' as const },
    { modesHz: [112], stage: 'strung' as const, support: { ...openBox, strung: true } },
  ];
  const told = story(chapters);
  const pin = (i: number, mode: string, frequencyHz: number) => ({
    id: `${mode}${i}`,
    stepId: `s${i}`,
    mode,
    frequencyHz,
  });
  const record = {
    ...told,
    pins: [
      pin(0, 'twist', 50),
      pin(1, 'twist', 60),
      pin(1, 'cross-grain bending', 80),
      pin(1, 'long-grain bending', 110),
      pin(2, 'monopole', 180),
      pin(3, 'monopole', 170),
      pin(4, 'air', 112),
    ],
  };
  const readings = oldReadings(record, { ...repair, stepId: 's4' });
  expect(readings.map(({ part, mode, stage }) => [part, mode, stage])).toEqual([
    ['top', 'twist', 'bare plate, twist'],
    ['top', 'cross-grain bending', 'bare plate, cross'],
    ['top', 'long-grain bending', 'bare plate, long'],
    ['top', 'monopole', 'braced, free'],
    ['top', 'monopole', 'on the rims'],
    ['air', 'air', 'in the closed box'],
  ]);
});

test('the wood of a piece is what was read of it, and moisture is known where both pieces are', () => {
  const reading = { method: 'test', atIso: '2026-11-25T08:00:00.000Z', eLongGpa: { value: 11, sigma: 0.2 } };
  const piece = (id: string, moisturePercent?: number) => ({
    ...freshPiece(id, 'top', id, 'sitka-spruce'),
    reading,
    ...(moisturePercent === undefined ? {} : { moisturePercent }),
  });
  expect(repairWoodOf(piece('a'))).toEqual({ pieceId: 'a', eLongGpa: { value: 11, sigma: 0.2 } });
  const both = {
    ...repair,
    oldWood: { ...repair.oldWood, pieceId: 'a' },
    newWood: { ...repair.newWood, pieceId: 'b' },
  };
  const difference = (...pieces: Parameters<typeof withMoistures>[1]) =>
    withMoistures(both, pieces).moistureDifferencePercent;
  expect(difference(piece('a', 9), piece('b', 7.5))).toBeCloseTo(-1.5, 12);
  expect(difference(piece('a', 9))).toBe(both.moistureDifferencePercent);
  expect(difference(piece('a'), piece('b', 7))).toBe(both.moistureDifferencePercent);
});

test('a thickness of the maker’s own is what the aims are for', () => {
  const own = matchTop({ ...repair, newThicknessMm: 3.1 });
  const wished = matchTop(repair);
  if (own.kind !== 'match' || wished.kind !== 'match') throw new Error('missing');
  expect(own.chosenMm).toEqual({ value: 3.1, sigma: 0 });
  expect(wished.chosenMm).toEqual({ value: wished.thicknessMm[repair.matchBy].value, sigma: 0 });
});

test('what was read at the step before the repair is read damaged: the top by the top’s, the back by the back’s', () => {
  const backDamage = ['loose-brace'] as const;
  const damage = (more: Partial<BoxRepair>, stepId = 's1') =>
    oldReadings(instrument('old', 190), { ...repair, ...more, stepId }).map((one) => one.damage);
  expect(damage({ topDamage: [], isTopSound: true, isBackSound: true })).toEqual([[], [], [], []]);
  expect(damage({ topDamage: [] })).toEqual([[], [], 'unasked', 'unasked']);
  expect(damage({ backDamage: [...backDamage] })).toEqual([[], [], ['cracked'], ['loose-brace']]);
  expect(damage({}, 's0')).toEqual([['cracked']]);
  expect(damage({}, 'a step that was deleted')).toEqual([]);
});

test('of several readings at one stage the last counts, at its own place', () => {
  const told = story([
    { modesHz: [200, 240] },
    { modesHz: [196, 235] },
    { modesHz: [112, 190, 231], stage: 'closed', support: openBox },
  ]);
  const pins = [
    { id: 'p0', stepId: 's0', mode: 'monopole', frequencyHz: 200 },
    { id: 'p1', stepId: 's2', mode: 'air', frequencyHz: 112 },
  ];
  const readings = oldReadings({ ...told, pins }, { ...repair, stepId: 's2' });
  expect(readings.map(({ mode, frequencyHz }) => [mode, frequencyHz])).toEqual([
    ['monopole', { value: 196, sigma: 0.1 }],
    ['air', { value: 112, sigma: 0.1 }],
  ]);
});

test('each wish has its own law: along and across by the cube root of E, mass by the density', () => {
  const newWood = wood(440, 9, 1);
  const match = (matchBy: BoxRepair['matchBy']) => {
    const found = matchTop({ ...repair, newWood, matchBy });
    if (found.kind !== 'match') throw new Error(found.kind);
    return found;
  };
  const wanted = {
    along: 2.8 * Math.cbrt(12 / 9),
    across: 2.8 * Math.cbrt(0.8),
    both: 2.8 * Math.sqrt(Math.cbrt(12 / 9) * Math.cbrt(0.8)),
    mass: (2.8 * 400) / 440,
  };
  for (const wish of ['along', 'across', 'both', 'mass'] as const) {
    const { thicknessMm, chosenMm, ratios } = match(wish);
    for (const other of ['along', 'across', 'both', 'mass'] as const)
      expect(thicknessMm[other].value).toBeCloseTo(wanted[other], 9);
    expect(chosenMm).toEqual({ value: thicknessMm[wish].value, sigma: 0 });
    const thicker = wanted[wish] / 2.8;
    expect(ratios.along.value).toBeCloseTo((9 / 12) * thicker ** 3, 9);
    expect(ratios.across.value).toBeCloseTo((1 / 0.8) * thicker ** 3, 9);
    expect(ratios.arealMass.value).toBeCloseTo(1.1 * thicker, 9);
  }
});

test('each figure that is missing is asked for by its own name', () => {
  const missing = (more: Partial<BoxRepair>) => {
    const found = matchTop({ ...repair, ...more });
    return found.kind === 'missing' ? found.needs : found.kind;
  };
  const { densityKgM3, eLongGpa, eCrossGpa } = repair.oldWood;
  const less = [
    { eLongGpa, eCrossGpa },
    { densityKgM3, eCrossGpa },
    { densityKgM3, eLongGpa },
  ];
  // What is left out is told by being absent.
  const part = less.map((one) => one as BoxRepair['oldWood']);
  expect(part.map((oldWood) => missing({ oldWood }))).toEqual([['old-density'], ['old-along'], ['old-across']]);
  expect(part.map((newWood) => missing({ newWood }))).toEqual([['new-density'], ['new-along'], ['new-across']]);
  const { oldThicknessMm: _, ...unmeasured } = repair;
  expect(matchTop(unmeasured)).toEqual({ kind: 'missing', needs: ['old-thickness'] });
  expect(matchTop({ ...unmeasured, oldWood: {}, newWood: {} })).toEqual({
    kind: 'missing',
    needs: ['old-density', 'old-along', 'old-across', 'old-thickness', 'new-density', 'new-along', 'new-across'],
  });
});

test('a piece read in full gives its three figures, one that was not read gives none', () => {
  const figures = wood(410, 11, 0.9);
  const piece = freshPiece('a', 'top', 'a', 'sitka-spruce');
  expect(repairWoodOf({ ...piece, reading: { method: 'test', atIso: '', ...figures } })).toEqual({
    pieceId: 'a',
    ...figures,
  });
  expect(repairWoodOf(piece)).toEqual({ pieceId: 'a' });
});

test('old readings are carried to the air of the new wood; what was not noted is in their ±, the air mode stays', () => {
  const record = (humidityPercent?: number) => ({
    ...story([
      {
        modesHz: [112, 190],
        stage: 'closed',
        support: openBox,
        ...(humidityPercent !== undefined && { humidityPercent }),
      },
    ]),
    pins: [
      { id: 'p1', stepId: 's0', mode: 'air', frequencyHz: 112 },
      { id: 'p2', stepId: 's0', mode: 'top', frequencyHz: 190 },
    ],
  });
  const told = (from?: number, to?: number) =>
    oldReadings(
      record(from),
      { ...repair, stepId: 's0' },
      to === undefined ? undefined : { humidityPercent: to, tempC: 20 },
    );
  const [air, top] = told(30, 55);
  expect(air!.sameAirHz).toEqual(air!.frequencyHz);
  expect(top!.frequencyHz.value).toBe(190);
  // Equilibrium moisture 6.2 % at 30 %RH and 10.1 % at 55 %RH, 20 deg C (FPL-GTR-282, Table 4-2); -1.2 % in frequency for each per
  // cent of water as in wood/climate.ts, half a per cent of it as a margin for the table's rounding.
  expect(top!.sameAirHz.value / 190 - 1).toBeCloseTo(-0.045, 2);
  const same = told(45, 45)[1]!;
  expect(same.sameAirHz.value).toBeCloseTo(190, 9);
  expect(same.isAirNoted).toBe(true);
  const [half, none] = [told(45)[1]!, told()[1]!];
  expect([half.isAirNoted, none.isAirNoted]).toEqual([false, false]);
  expect(half.sameAirHz.sigma).toBeGreaterThan(same.sameAirHz.sigma);
  expect(none.sameAirHz.sigma).toBeGreaterThan(half.sameAirHz.sigma);
});

test('under the weight that was set on the old bridge a new top of the same wood goes down as far, a damaged old one gave more', () => {
  const sound: BoxRepair = { ...repair, topDamage: [], isTopSound: true };
  const down = { bridgeLoadG: 1500, bridgeDownMm: { value: 0.62, sigma: 0.01 } };
  const air = { humidityPercent: 45, tempC: 20 };
  const record = story([{ modesHz: [190], stage: 'closed', support: openBox, humidityPercent: 45 }]);
  const aimOf = (of: Partial<BoxRepair>, newAir = air) => {
    const asked = { ...sound, stepId: 's0', ...down, ...of };
    const match = matchTop(asked);
    if (match.kind !== 'match') throw new Error(match.kind);
    return bridgeAim(record, asked, match.ratios, newAir);
  };
  const same = aimOf({})!;
  expect(same.value).toBeCloseTo(0.62, 9);
  expect(same.sigma).toBeGreaterThan(0.02);
  expect(same.sigma).toBeLessThan(0.08);
  // A fifth thicker: the plate's share of the stiffness, 54 in 100, is 1.728 times as much.
  expect(aimOf({ newThicknessMm: 1.2 * 2.8 })!.value).toBeCloseTo(0.62 / (0.54 * 1.2 ** 3 + 0.46), 9);
  // A crack took half of 2.5 % off the frequency, on average: what the sound top gave is less by its square.
  const cracked = aimOf({ topDamage: ['cracked'] })!;
  expect(cracked.value).toBeCloseTo(0.62 / 1.025 ** 2, 9);
  expect(cracked.sigma).toBeGreaterThan(same.sigma);
  // Damp wood is less stiff: the same top gives more in 65 %RH.
  expect(aimOf({}, { humidityPercent: 65, tempC: 20 })!.value).toBeGreaterThan(1.03 * 0.62);
  expect(aimOf({ bridgeLoadG: undefined } as unknown as Partial<BoxRepair>)).toBeUndefined();
});

test('two strips make one wood: each gives E along its own length, the one cut across gives E across', () => {
  const strip = (id: string, gpa: number, densitySigma: number) => ({
    ...freshPiece(id, 'brace-stock', id, 'sitka-spruce'),
    reading: {
      method: 'test',
      atIso: '2026-11-25T08:00:00.000Z',
      densityKgM3: { value: 420, sigma: densitySigma },
      eLongGpa: { value: gpa, sigma: 0.02 * gpa },
    },
  });
  const along = withStrip({ pieceId: 'whole' }, 'along', strip('a', 11.2, 6));
  expect(along).toEqual({
    alongPieceId: 'a',
    eLongGpa: { value: 11.2, sigma: 0.02 * 11.2 },
    densityKgM3: { value: 420, sigma: 6 },
  });
  const both = withStrip(along, 'across', strip('b', 0.74, 3));
  expect(both).toMatchObject({
    alongPieceId: 'a',
    acrossPieceId: 'b',
    eLongGpa: { value: 11.2 },
    eCrossGpa: { value: 0.74 },
  });
  // The density of the strip read more surely.
  expect(both.densityKgM3!.sigma).toBe(3);
  expect(withStrip(both, 'along', strip('c', 11, 9)).densityKgM3!.sigma).toBe(3);
});
