// The stated spread of computed frequencies, held against many tops solved.
import { expect, test } from 'vitest';
import { computedFrequencies, computedMassG, MODEL_ERROR_SHARE, withFactors } from '../../src/forecast/properties.ts';
import { matched } from '../../src/forecast/shape-match.ts';
import { smallTop } from '../plate/plates.ts';
import { open, prepared, SHOWN, solved } from './open-top.ts';
import { seeded } from './trial.ts';

const DRAWS = 200;

const sigmaOf = (values: readonly number[]): number => {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1));
};

test('the stated spread of a computed frequency is that of tops solved with other woods and rims', () => {
  const random = seeded(20);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const { modes } = solved(smallTop, SHOWN);
  const drawn = Array.from({ length: DRAWS }, () => {
    const factors = open.map(({ relativeSigma }) => Math.exp(relativeSigma * normal()));
    const answer = solved(withFactors(smallTop, open, factors), SHOWN + 2, modes);
    const partners = matched(prepared, modes, answer.modes);
    return { hz: partners.map(({ partner }) => answer.modes[partner]!.frequencyHz), massG: answer.massG };
  });
  // The spread of so many draws is itself known to 1 / sqrt(2 n), 5 %; three times that, the sum of draws and bends.
  const agree = (stated: number, values: readonly number[]) =>
    expect(Math.abs(stated / sigmaOf(values) - 1)).toBeLessThan(3 / Math.sqrt(2 * DRAWS));
  computedFrequencies(prepared, smallTop, modes, open).forEach(({ value, sigma }, m) => {
    const ofModel = MODEL_ERROR_SHARE * value;
    agree(
      Math.sqrt(sigma ** 2 - ofModel ** 2),
      drawn.map(({ hz }) => hz[m]!),
    );
  });
  agree(
    computedMassG(prepared, smallTop, open).sigma,
    drawn.map(({ massG }) => massG),
  );
});
