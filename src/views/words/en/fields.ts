import { count } from './count.ts';

/** What fields say of themselves, and how figures and conditions are put together. */
export const fields = {
  needed: 'Needed here.',
  mendFirst: 'Put right what is marked first.',
  notANumber: 'Not a number',
  between: (least: string, most: string) => `Between ${least} and ${most}`,
  /** one of several fields of a quantity */
  numbered: (label: string, n: number) => `${label} ${n}`,
  range: (least: string, most: string) => `${least} to ${most}`,

  /** units that are words */
  units: { cents: 'cents', years: 'years', litres: 'litres' },

  taps: (n: number) => count(n, 'tap'),
  modes: (n: number) => count(n, 'mode'),

  photo: {
    alt: 'The piece at this step',
    add: 'Add a photo',
    another: 'Another photo',
    remove: 'Remove the photo',
    of: 'What it shows',
    ofExample: 'front, back, inside, a crack …',
  },

  /** parts of "Braced, clamped in the mould, bridge taped, strung, 10.0 g at the bridge" */
  strung: 'strung',
  atTheBridge: (mass: string) => `${mass} at the bridge`,
  onTheBack: (mass: string) => `${mass} on the back`,
};
