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

test('a box is tapped at its bridge, but for the round that listens to its back; what sticks to it comes last', () => {
  expect(boxStates.map((state) => [state, boxSpots[state]])).toEqual([
    ['open', 'bridge-centre'],
    ['blocked', 'bridge-centre'],
    ['back-damped', 'bridge-centre'],
    ['mass', 'bridge-centre'],
    ['tap-on-back', 'back-centre'],
    ['mass-on-back', 'bridge-centre'],
  ]);
});

test('a state is set up from any other: its own hold and lump and no other, bridge and strings as they are', () => {
  const now: Support = { ...plain, strung: true, addedMassG: 7, addedMassOnBackG: 8 };
  const bare = { bridge: 'glued', strung: true } as const;
  expect(boxStates.map((state) => supportOf(state, now, 10))).toEqual([
    { ...bare, hold: 'box-open' },
    { ...bare, hold: 'box-hole-blocked' },
    { ...bare, hold: 'box-back-damped' },
    { ...bare, hold: 'box-open', addedMassG: 10 },
    { ...bare, hold: 'box-open' },
    { ...bare, hold: 'box-open', addedMassOnBackG: 10 },
  ]);
});
