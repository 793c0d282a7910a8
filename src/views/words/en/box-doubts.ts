import type { BoxState } from '../../../compare/box-state.ts';
import { boxCodes } from './box-codes.ts';

/** Rounds that were not taken as they are noted. */
export const boxDoubtWords = {
  doubts: {
    holeNotBlocked: (hz: string) =>
      `The hole was open in “${boxCodes.states.blocked}”: the air’s peak at ${hz} is still there. Close it tight and take the round again; until then nothing follows from it.`,
    holesExchanged: `The air’s peak is in “${boxCodes.states.blocked}” and not in “${boxCodes.states.open}”: the two rounds look exchanged. Take them again, or set them aside.`,
    airNotByRuler: (state: BoxState, called: string, own: string) =>
      `In “${boxCodes.states[state]}” the peak at ${called} is called the air. By its sizes the air of this box rings at ${own} with still walls, and lower in the guitar: look for a weaker peak there, or measure the sizes again.`,
    backNotHeld: `In “${boxCodes.states['back-damped']}” every peak is where it was and rings as long: the back was free. Press it flat against you and take the round again; until then nothing follows from it.`,
    lump: {
      'too-heavy': (mass: string, area: string) =>
        `From this lump the top would weigh ${mass} and push with ${area}: more than any top of this outline. Was the lump lighter than was typed, or not fixed firmly?`,
      'too-light': (mass: string, area: string) =>
        `From this lump the top would weigh ${mass} and push with ${area}: less than any top of this outline. Was the lump heavier than was typed?`,
    },
    names: 'Whose peaks they are',
    namesWait: (peaks: number) =>
      peaks === 1
        ? 'One name of a peak is only proposed. As the old reading of this guitar it counts once you have said so.'
        : `${peaks} names of peaks are only proposed. As the old readings of this guitar they count once you have said so.`,
    namesAll: 'All of them are right',
  },
};
