// Which of several holds is not borne out by the others: readings made up by hand, the answer by plain arithmetic.
import { describe, expect, test } from 'vitest';
import { type HoldReading, holdDisagreement } from '../../../src/signal/agree/hold-disagreement.ts';

const hz = [98, 172, 205, 318];

/** A hold whose modes all lie off by a part of their frequency, known to 0.01 %. */
const held = (hold: number, off: number | readonly number[], sigma = 1e-4): HoldReading => ({
  hold,
  modes: hz.map((at, m) => {
    const value = at * (1 + (typeof off === 'number' ? off : off[m]!));
    return { frequencyHz: { value, sigma: sigma * value }, levelDb: -m };
  }),
});

describe('holds of a round', () => {
  test('that agree to a tenth of a per cent are not disagreed with', () => {
    expect(holdDisagreement([held(0, 0), held(1, 0.001), held(2, -0.001)])).toBeUndefined();
  });

  test.each([0, 1, 2])('the one that lies 2 %% off is hold %i', (odd) => {
    const found = holdDisagreement([0, 1, 2].map((hold) => held(hold, hold === odd ? 0.02 : 0.0001 * hold)));
    expect(found?.hold).toBe(odd);
    expect(found?.apart).toBeCloseTo(0.02, 3);
  });

  test('one mode of four that is 2 % off makes a hold lie 1 % off, the root of the mean square', () => {
    const found = holdDisagreement([held(0, 0), held(1, [0, 0.02, 0, 0]), held(2, 0)]);
    expect(found?.hold).toBe(1);
    expect(found?.apart).toBeCloseTo(0.01, 3);
  });

  test('of two nobody can tell which, nor of three that all differ', () => {
    expect(holdDisagreement([held(0, 0), held(1, 0.02)])).toEqual({ apart: expect.closeTo(0.02, 3) });
    expect(holdDisagreement([held(0, 0), held(1, 0.01), held(2, 0.025)])).toEqual({ apart: expect.closeTo(0.025, 3) });
  });

  test('what their own noise allows is no disagreement', () => {
    expect(holdDisagreement([held(0, 0), held(1, 0.01, 0.01)])).toBeUndefined();
  });

  test('holds that share no mode say nothing of one another', () => {
    expect(holdDisagreement([held(0, 0), held(1, [0.3, 0.09, 0.17, 0.26])])).toBeUndefined();
  });

  test('a mode that one of them did not hear is not held against its neighbour', () => {
    const without = (hold: number, deafTo: number): HoldReading => ({
      hold,
      modes: [98, 172, 205, 318, 331].flatMap((hz, m) =>
        m === deafTo ? [] : [{ frequencyHz: { value: hz, sigma: 0.01 }, levelDb: -m }],
      ),
    });
    expect(holdDisagreement([without(0, 3), without(1, -1)])).toBeUndefined();
    expect(holdDisagreement([without(0, -1), without(1, 4)])).toBeUndefined();
  });

  test('only modes within 20 dB of the strongest are asked', () => {
    const faint: HoldReading = {
      hold: 1,
      modes: held(1, [0, 0, 0, 0.03]).modes.map((mode, m) => ({ ...mode, levelDb: m === 3 ? -25 : 0 })),
    };
    expect(holdDisagreement([held(0, 0), faint])).toBeUndefined();
  });
});
