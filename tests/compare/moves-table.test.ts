// Every field of the table of moves, by hand.
import { describe, expect, test } from 'vitest';
import { movesTable } from '../../src/compare/moves-table.ts';
import type { InstrumentRecord } from '../../src/record/record.ts';
import { once } from '../once.ts';
import { story } from './story.ts';

/** The rows by the names of their fields. */
const rowsOf = (record: InstrumentRecord) => {
  const { header, rows } = movesTable([record]);
  return rows.map((row) => Object.fromEntries(header.map((name, i) => [name, row[i]])));
};

const glued = { hold: 'at-node', bridge: 'glued', strung: true } as const;
const told = story([
  { modesHz: [200, 300], sigmaHz: 0.3, humidityPercent: 45, support: glued },
  { modesHz: [120], massOffG: 0.5 },
  { modesHz: [190, 500], sigmaHz: 0.4, massOffG: 0.25, humidityPercent: 48, support: glued },
]);
const record: InstrumentRecord = {
  ...told,
  model: 'OM',
  pins: [
    { id: 'a', stepId: 's0', mode: 'monopole', frequencyHz: 200 },
    { id: 'b', stepId: 's0', mode: 'lost', frequencyHz: 300 },
    { id: 'c', stepId: 's2', mode: 'found', frequencyHz: 500 },
  ],
};

describe('a row of the moves', () => {
  const rows = once(() => rowsOf(record));
  const common = {
    record_id: 'i1',
    record: 'test',
    model: 'OM',
    from_step: 1,
    to_step: 3,
    to_step_id: 's2',
    stage: 'braced',
    hold: 'at-node',
    bridge: 'glued',
    strung: 'yes',
    mass_off_g: 0.75,
    height_off_mm: 0.75,
    humidity_change_percent: 3,
    same_spot: 'yes',
  };
  const nothing = {
    move_hz: null,
    move_sigma_hz: null,
    move_percent: null,
    move_percent_sigma: null,
    move_cents: null,
    move_cents_sigma: null,
    smallest_hz: null,
    trusted: null,
  };

  test('has both frequencies and the move in Hz, per cent and cents, each with its sigma', () => {
    const near = (value: number) => expect.closeTo(value, 9);
    // -10 of 200 Hz; 0.3 and 0.4 at right angles are 0.5; the ratio is 0.95.
    const ofRatio = Math.sqrt((0.3 / 200) ** 2 + (0.4 / 190) ** 2);
    expect(rows()[0]).toEqual({
      ...common,
      name: 'monopole',
      mode: 'moved',
      before_hz: 200,
      before_sigma_hz: 0.3,
      after_hz: 190,
      after_sigma_hz: 0.4,
      move_hz: -10,
      move_sigma_hz: near(0.5),
      move_percent: near(-5),
      move_percent_sigma: near(95 * ofRatio),
      move_cents: near(1200 * Math.log2(0.95)),
      move_cents_sigma: near((1200 / Math.log(2)) * ofRatio),
      smallest_hz: expect.closeTo(0.5 * 1.959964, 5),
      trusted: 'yes',
    });
  });

  test('of a mode not heard again has what it was, of one that appeared what it is, under its name', () => {
    const [, lost, found, ...more] = rows();
    expect(more).toEqual([]);
    expect(lost).toEqual({
      ...common,
      ...nothing,
      name: 'lost',
      mode: 'not-heard-again',
      before_hz: 300,
      before_sigma_hz: 0.3,
      after_hz: null,
      after_sigma_hz: null,
    });
    expect(found).toEqual({
      ...common,
      ...nothing,
      name: 'found',
      mode: 'appeared',
      before_hz: null,
      before_sigma_hz: null,
      after_hz: 500,
      after_sigma_hz: 0.4,
    });
  });

  test('is from the last step before it that may be compared; what came off at that one is not counted again', () => {
    const three = story([
      { modesHz: [200], massOffG: 4 },
      { modesHz: [190], massOffG: 2 },
      { modesHz: [189.9], massOffG: 1, spot: 'waist' },
    ]);
    expect(
      rowsOf(three).map(({ from_step, to_step, mass_off_g, trusted, same_spot }) => [
        from_step,
        to_step,
        mass_off_g,
        trusted,
        same_spot,
      ]),
    ).toEqual([
      [1, 2, 2, 'yes', 'yes'],
      [2, 3, 1, 'no', 'no'],
    ]);
  });

  test('says nothing of humidity or wood where either step did not note it', () => {
    const before = story([{ modesHz: [200], humidityPercent: 45 }, { modesHz: [190] }]);
    const after = story([{ modesHz: [200] }, { modesHz: [190], humidityPercent: 45 }]);
    for (const one of [before, after])
      expect(rowsOf(one)[0]).toMatchObject({ humidity_change_percent: null, mass_off_g: null, height_off_mm: null });
  });

  test('one spot of many is enough to be the same', () => {
    const spots = story([{ modesHz: [200] }, { modesHz: [200], spot: 'waist' }, { modesHz: [190], spot: 'tail' }]);
    const [centre, waist, tail] = spots.steps.map((step) => step.rounds[0]!);
    const sameSpot = (before: readonly (typeof waist)[], after: readonly (typeof waist)[]) => {
      const steps = [before, after].map((rounds, i) => ({ ...spots.steps[i]!, rounds: rounds.map((one) => one!) }));
      return rowsOf({ ...spots, steps })[0]!['same_spot'];
    };
    expect(sameSpot([centre, waist], [waist, tail])).toBe('yes');
    expect(sameSpot([centre, waist], [tail])).toBe('no');
  });

  test('two ways of holding at one step are not compared with one another', () => {
    const two = story([{ modesHz: [200] }, { modesHz: [199], support: glued }]);
    const rounds = two.steps.flatMap((step) => step.rounds);
    expect(rowsOf({ ...two, steps: [{ ...two.steps[0]!, rounds }] })).toEqual([]);
  });
});
