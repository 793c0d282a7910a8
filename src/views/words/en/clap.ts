// The clap that tells what the room itself rings at.
import { count } from './count.ts';

export const clap = {
  label: 'Clap for the room',
  clapNow: 'Put the piece away, clap your hands once where you will hold it, and keep still for two seconds.',
  trouble: {
    clipped: 'Too loud: stand further from the microphone and clap again.',
    'too-quiet': 'Too quiet over the room: clap harder, or nearer.',
    'cut-short': 'The ring was cut short. Clap once and keep still for two seconds.',
    'no-clap': 'That did not sound like a clap.',
  },
  leave: 'Leave it',
  none: 'The clap showed no resonance of the room.',
  ringsAt: (hz: readonly string[], more: number) =>
    `The room itself rings at ${hz.join(', ')}${more > 0 ? ` and ${count(more, 'higher place')}` : ''}.`,
  known: (rings: string, when: string) => `${rings} (clap of ${when})`,
  listening: 'Listening to the room …',
  clapOnce: 'Clap once for the room',
  clapAgain: 'Clap again',
  optional: 'optional: tells what the room rings at from what the piece does',
  forget: 'Forget this room',
};
