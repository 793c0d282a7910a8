// What would narrow a pass most: each offer held against doing it, that is fitting again with that much more known.
import { describe, expect, test } from 'vitest';
import { advise } from '../../src/forecast/advice.ts';
import { calibrate } from '../../src/forecast/calibration.ts';
import { measureNext } from '../../src/forecast/measure-next.ts';
import type { Parameter } from '../../src/forecast/properties.ts';
import { CUT_SIGMA_MM, forecastShaving, MOVE_ERROR_SHARE } from '../../src/forecast/shaving.ts';
import { plateModes } from '../../src/plate/plate-modes.ts';
import { once } from '../once.ts';
import { smallTop } from '../plate/plates.ts';
import { floors, prepared } from './trial.ts';

const parameters: readonly Parameter[] = [
  { property: 'plate eL', relativeSigma: 0.1 },
  { property: 'brace eL', relativeSigma: 0.1 },
  { property: 'brace density', relativeSigma: 0.1 },
];
const solved = once(() => {
  const answer = plateModes(prepared, smallTop, { count: 6 });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  return answer;
});
const heard = (count: number) =>
  solved()
    .modes.slice(0, count)
    .map(({ frequencyHz }, mode) => ({ mode, frequencyHz: { value: frequencyHz, sigma: 0.001 * frequencyHz } }));
const fitOf = (count: number, given = parameters) => {
  const fit = calibrate(prepared, smallTop, heard(count), given);
  if (fit.kind !== 'calibrated') throw new Error(fit.kind);
  return fit;
};
const way = once(() => {
  const fit = fitOf(1);
  const target = { mode: 0, frequencyHz: solved().modes[0]!.frequencyHz - 4, toleranceHz: 0.5 };
  const answer = advise(prepared, fit.plate, solved(), [target], floors, {}, fit);
  if (answer.kind !== 'advice') throw new Error(answer.kind);
  return answer.alternatives[0]!;
});
const offers = once(() => measureNext(prepared, smallTop, solved(), way(), 0, parameters, fitOf(1))!);
const left = (what: string, mode?: number) =>
  offers().find((offer) => offer.what === what && (offer.what !== 'mode' || offer.mode === mode))?.left ?? 1;
/** Spread of the same move after a fit, Hz. */
const spreadHz = (fit: ReturnType<typeof fitOf>) => {
  const answer = forecastShaving(prepared, smallTop, solved(), way().shavings, fit);
  if (answer.kind !== 'forecast') throw new Error(answer.kind);
  return answer.moves[0]!.move.sigma;
};

describe('of what is offered', () => {
  test('the sticks narrow as a fit with that much more known of them does', () => {
    const known = parameters.map((parameter) =>
      parameter.property === 'brace eL'
        ? { ...parameter, relativeSigma: 1 / Math.hypot(1 / parameter.relativeSigma, 1 / 0.02) }
        : parameter,
    );
    expect(left('sticks')).toBeCloseTo(spreadHz(fitOf(1, known)) / spreadHz(fitOf(1)), 2);
  });

  test('a mode more narrows as the fit that has it does', () => {
    expect(left('mode', 1)).toBeCloseTo(spreadHz(fitOf(2)) / spreadHz(fitOf(1)), 2);
  });

  test('the heights take away what the blade errs by, but for a caliper’s three hundredths', () => {
    // A tenth of a millimetre more and less on the way that is cut, the plate solved again.
    const hz = [-1, 1].map((side) => {
      const cuts = way().shavings.map((cut) => ({ ...cut, offMm: cut.offMm + side * CUT_SIGMA_MM }));
      const answer = forecastShaving(prepared, smallTop, solved(), cuts);
      if (answer.kind !== 'forecast') throw new Error(answer.kind);
      return answer.moves[0]!.move.value;
    });
    const blade = (hz[0]! - hz[1]!) / 2;
    const all = spreadHz(fitOf(1));
    expect(new Set(way().shavings.map(({ braceId }) => braceId)).size).toBe(1);
    // Where a cut runs out, the slopes count whole elements: so close, and no closer.
    expect(left('heights')).toBeCloseTo(Math.sqrt(1 - ((1 - 0.3 ** 2) * blade ** 2) / all ** 2), 1);
  });

  test('the most telling comes first, and what tells next to nothing is left out', () => {
    const all = offers().map((offer) => offer.left);
    expect(all).toEqual(all.toSorted((a, b) => a - b));
    expect(Math.max(...all)).toBeLessThan(0.95);
    expect(Math.min(...all)).toBeGreaterThan(0);
  });
});

test('where all is known but the model’s own error and the blade, only the heights are left to measure', () => {
  const exact: readonly Parameter[] = [{ property: 'brace eL', relativeSigma: 1e-6 }];
  const found = measureNext(prepared, smallTop, solved(), way(), 0, exact)!;
  expect(found.map(({ what }) => what)).toEqual(['heights']);
  const model = MOVE_ERROR_SHARE * way().moves[0]!.move.value;
  const exactly = fitOf(1, exact);
  const blade2 = spreadHz(exactly) ** 2 - model ** 2;
  expect(found[0]!.left).toBeCloseTo(Math.sqrt((model ** 2 + 0.09 * blade2) / (model ** 2 + blade2)), 4);
});
