import { expect, test } from 'vitest';
import { solveBox } from '../../src/box/inverse.ts';
import { type BoxRound, contradictions } from '../../src/box/rounds.ts';
import { estimate } from '../../src/quantity/estimate.ts';
import { measuredRound, randomBox, seeded } from './synthetic.ts';

const hz = (value: number) => estimate(value, 0.3);
const open: BoxRound = { hole: 'open', back: 'free', peaksHz: { air: hz(98), top: hz(181), back: hz(226) } };
const blocked: BoxRound = { hole: 'blocked', back: 'free', peaksHz: { top: hz(177), back: hz(225) } };
const heavy: BoxRound = {
  hole: 'open',
  back: 'free',
  addedAtBridgeKg: estimate(0.02, 1e-4),
  peaksHz: { air: hz(96), top: hz(168), back: hz(225) },
};
const reasons = (...rounds: BoxRound[]) => contradictions(rounds).map(({ because }) => because);

test('rounds that can all be right raise no objection', () => {
  expect(reasons(open, blocked, heavy)).toEqual([]);
});

test('random boxes measured in every state raise no objection', () => {
  const random = seeded(5);
  for (let i = 0; i < 50; i++) {
    const box = randomBox(random);
    const rounds = (['open', 'blocked'] as const).flatMap((hole) =>
      (['free', 'held'] as const).flatMap((back) => [
        measuredRound(box, { hole, back }, 1e-6, random),
        measuredRound(box, { hole, back, addedAtBridgeKg: estimate(0.03, 1e-4) }, 1e-6, random),
      ]),
    );
    expect(contradictions(rounds)).toEqual([]);
  }
});

test('open and blocked rounds noted in the wrong order show by the air that rings with the hole blocked', () => {
  expect(reasons({ ...blocked, hole: 'open' }, { ...open, hole: 'blocked' })).toContain('air-while-blocked');
});

test('a back peak with the back held is refused', () => {
  expect(reasons({ ...open, back: 'held' })).toEqual(['back-while-held']);
});

test('the air labelled above the top names both peaks', () => {
  const [found] = contradictions([{ ...open, peaksHz: { air: hz(181), top: hz(98), back: hz(226) } }]);
  expect(found).toMatchObject({
    because: 'air-above-plate',
    peak: { round: 0, part: 'air', frequencyHz: { value: 181 } },
    against: { round: 0, part: 'top', frequencyHz: { value: 98 } },
  });
});

test('a top that rises when the hole is blocked names the open peak it contradicts', () => {
  const raised = { ...blocked, peaksHz: { top: hz(186), back: hz(225) } };
  expect(contradictions([open, raised])).toMatchObject([
    { because: 'blocked-above-open', peak: { round: 1, part: 'top' }, against: { round: 0, part: 'top' } },
  ]);
});

test('a blocked mode below the open air mode, and a blocked back below the open top, are refused', () => {
  expect(reasons(open, { ...blocked, peaksHz: { top: hz(90), back: hz(225) } })).toEqual(['blocked-below-open']);
  expect(reasons(open, { ...blocked, peaksHz: { top: hz(177), back: hz(178) } })).toEqual(['blocked-below-open']);
});

test('an added mass that raises a mode, or pulls it past the next, is refused', () => {
  expect(reasons(open, { ...heavy, peaksHz: { air: hz(96), top: hz(184), back: hz(225) } })).toEqual(['mass-raised']);
  expect(reasons(open, { ...heavy, peaksHz: { air: hz(90), top: hz(95), back: hz(225) } })).toEqual([
    'mass-lowered-too-far',
  ]);
});

test('a breach within four sigma of reading error is let pass', () => {
  expect(reasons(open, { ...heavy, peaksHz: { air: hz(98.5), top: hz(168), back: hz(225) } })).toEqual([]);
});

test('the solver hands the contradictions on instead of solving', () => {
  const raised = { ...heavy, peaksHz: { air: hz(96), top: hz(184), back: hz(225) } };
  const setting = { volumeM3: estimate(0.016, 3e-4), air: { soundSpeedMPerS: 343, densityKgM3: 1.2 } };
  expect(solveBox([open, blocked, raised], setting)).toMatchObject({ kind: 'contradicted' });
});
