// The stated spread of computed frequencies, held against many tops solved.
import { expect, test } from 'vitest';
import {
  computedFrequencies,
  computedMassG,
  MODEL_ERROR_SHARE,
  type Parameter,
  withFactors,
} from '../../src/forecast/properties.ts';
import { matched } from '../../src/forecast/shape-match.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { type PlateMode, plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { smallTop } from '../plate/plates.ts';
import { seeded } from './trial.ts';

/** About as handbooks and a maker's guess of the rim leave them. */
const open: readonly Parameter[] = [
  { property: 'plate eL', relativeSigma: 0.1 },
  { property: 'plate eR', relativeSigma: 0.2 },
  { property: 'plate gLR', relativeSigma: 0.15 },
  { property: 'plate density', relativeSigma: 0.08 },
  { property: 'brace eL', relativeSigma: 0.1 },
  { property: 'brace gLR', relativeSigma: 0.15 },
  { property: 'brace density', relativeSigma: 0.08 },
  { property: 'rim stiffness', relativeSigma: 0.5 },
];
// The coarsest mesh serves: spread and draws are both of it.
const prepared = preparePlate(smallTop, 120);
const SHOWN = 4;
const DRAWS = 200;

const solved = (plate: PlateCase, count: number, near?: readonly PlateMode[]) => {
  const answer = plateModes(prepared, plate, { count, near });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  return answer;
};

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
