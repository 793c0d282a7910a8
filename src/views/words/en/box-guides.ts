// How each round of the box is tapped.
import type { BoxState } from '../../../compare/box-state.ts';

/** What to do, and what it tells. */
export const stateGuides: Readonly<Record<BoxState, { readonly todo: string; readonly tells: string }>> = {
  open: {
    todo: 'Stand the box on its tail between soft blocks, hole open, back free. Damp the strings. Tap at the middle of the bridge.',
    tells: 'This is what every other round is held against.',
  },
  blocked: {
    todo: 'Close the hole tightly: a card with a ring of putty, or a thick book with felt under it. Nothing may touch the top elsewhere. Tap at the bridge.',
    tells: 'The air can no longer swing. The peak that disappears is the air’s, and what is left moves down.',
  },
  'back-damped': {
    todo: 'Hole open. Press the back flat against your body or a folded blanket so that it cannot swing. Tap at the bridge.',
    tells: 'The peak that dulls or disappears is the back’s.',
  },
  mass: {
    todo: 'Hole open, back free. Weigh a lump of putty, fix it firmly at the middle of the bridge. Tap beside it.',
    tells: 'The peaks go down by as much as the top moves in them. From that follow masses, stiffness and areas.',
  },
  'tap-on-back': {
    todo: 'Hole open, nothing fixed. Turn the box and tap the middle of the back, the microphone where it was.',
    tells: 'The back’s own peak grows, the top’s shrinks.',
  },
  'mass-on-back': {
    todo: 'Hole open, back free. Fix the weighed lump firmly at the middle of the back, nothing at the bridge. Tap at the bridge.',
    tells: 'The mass, stiffness and area of the back follow. Leave it out if only the top is of interest.',
  },
};
