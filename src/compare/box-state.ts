// The states in which a closed box is tapped, so that its peaks can be told apart by doing.
import type { Round, Support } from '../record/record.ts';

/** In the order in which they are best taken: the box as it is first, what sticks to it last. */
export const boxStates = ['open', 'blocked', 'back-damped', 'mass', 'tap-on-back', 'mass-on-back'] as const;
export type BoxState = (typeof boxStates)[number];

/** Where the taps of a state go. */
export const boxSpots: Readonly<Record<BoxState, string>> = {
  open: 'bridge-centre',
  blocked: 'bridge-centre',
  'back-damped': 'bridge-centre',
  mass: 'bridge-centre',
  'tap-on-back': 'back-centre',
  'mass-on-back': 'bridge-centre',
};

/** Rounds that a weighed lump belongs to. */
export const takesLump = (state: BoxState): boolean => state === 'mass' || state === 'mass-on-back';

const holdOf: Readonly<Record<BoxState, Support['hold']>> = {
  open: 'box-open',
  blocked: 'box-hole-blocked',
  'back-damped': 'box-back-damped',
  mass: 'box-open',
  'tap-on-back': 'box-open',
  'mass-on-back': 'box-open',
};

/**
 * The support under which a state is measured; bridge and strings stay as they are.
 * @param massG the lump, g, > 0; only the states with a mass take it
 * @throws RangeError for such a state without one
 */
export function supportOf(state: BoxState, now: Support, massG: number | undefined): Support {
  if (takesLump(state) && !((massG ?? 0) > 0)) throw new RangeError(`supportOf: lump ${massG} g, need > 0`);
  const { addedMassG: _lump, addedMassOnBackG: _onBack, ...bare } = now;
  return {
    ...bare,
    hold: holdOf[state],
    ...(state === 'mass' ? { addedMassG: massG! } : {}),
    ...(state === 'mass-on-back' ? { addedMassOnBackG: massG! } : {}),
  };
}

/** The state in which a round was taken, or undefined where it was not a round of the closed box. */
export function stateOfRound({ support, spot }: Round): BoxState | undefined {
  const { addedMassG, addedMassOnBackG } = support;
  const isBare = addedMassG === undefined && addedMassOnBackG === undefined;
  switch (support.hold) {
    case 'box-hole-blocked':
      return isBare ? 'blocked' : undefined;
    case 'box-back-damped':
      return isBare ? 'back-damped' : undefined;
    case 'box-open':
      if (addedMassG !== undefined) return addedMassOnBackG === undefined ? 'mass' : undefined;
      if (addedMassOnBackG !== undefined) return 'mass-on-back';
      return spot === boxSpots['tap-on-back'] ? 'tap-on-back' : 'open';
    default:
      return undefined;
  }
}
