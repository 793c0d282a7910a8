// What a round of a closed box was taken for, by every way of holding and loading it.
import { expect, test } from 'vitest';
import { boxSpots, boxStates, stateOfRound, supportOf } from '../../src/compare/box-state.ts';
import type { Round, Support } from '../../src/record/record.ts';
import { roundOf } from '../record/small-record.ts';
import { inMould } from './story.ts';

const plain: Support = { hold: 'box-open', bridge: 'glued', strung: false };
const round = (support: Support, spot = boxSpots.open): Round => ({ ...roundOf('r', []), support, spot });

test('each state is told from how it is set up', () => {
  for (const state of boxStates) expect(stateOfRound(round(supportOf(state, plain, 10), boxSpots[state]))).toBe(state);
});

test('one thing is done at a time: two masses, or a mass beside a stopped part, are no state', () => {
  const [top, back] = [{ addedMassG: 10 }, { addedMassOnBackG: 10 }];
  expect(stateOfRound(round({ ...plain, ...top, ...back }))).toBeUndefined();
  for (const hold of ['box-hole-blocked', 'box-back-damped'] as const)
    for (const mass of [top, back, { ...top, ...back }])
      expect(stateOfRound(round({ ...plain, hold, ...mass }))).toBeUndefined();
  expect(stateOfRound(round(inMould))).toBeUndefined();
});

test('a mass decides, wherever was tapped; without one the spot does', () => {
  const behind = boxSpots['tap-on-back'];
  expect(stateOfRound(round({ ...plain, addedMassG: 10 }, behind))).toBe('mass');
  expect(stateOfRound(round({ ...plain, addedMassOnBackG: 10 }, behind))).toBe('mass-on-back');
  expect(stateOfRound(round(plain, behind))).toBe('tap-on-back');
  expect(stateOfRound(round(plain, 'anywhere else'))).toBe('open');
});
