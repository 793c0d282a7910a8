import type { Property } from '../../../forecast/properties.ts';
import type { TopAgreement } from '../../../forecast/top-agreement.ts';
import { count } from './count.ts';

const properties: Readonly<Record<Property, string>> = {
  'plate eL': 'Plate, stiffness along',
  'plate eR': 'Plate, stiffness across',
  'plate gLR': 'Plate, shear',
  'plate density': 'Plate, density',
  'brace eL': 'Braces, stiffness along',
  'brace gLR': 'Braces, shear',
  'brace density': 'Braces, density',
  'rim stiffness': 'Rim, resistance to turning',
};

/** By what the tapped modes were told to be the computed ones. */
function pairedBy(by: TopAgreement['pairedBy']): string {
  if (by.includes('frequency'))
    return 'No mode is named as computed and only one spot was tapped, so modes were told apart by frequency alone: name them, or tap a second spot, to be sure.';
  const spots = 'by their frequencies and by how loud they rang at each spot you tapped';
  if (!by.includes('name')) return `Modes were told apart ${spots}.`;
  return `Modes were told apart by the names you gave them${by.includes('spots') ? `, the unnamed ones ${spots}` : ''}.`;
}

/** The drawn top against the bench. */
export const agreement = {
  title: 'Against the bench',
  notTapped:
    'This top has not been tapped in this way yet. Tap it and name a mode or two: the woods are then fitted to what you hear, and every later step is held against its forecast.',
  toBench: 'To the bench',
  agreeing: 'Agreeing with the taps',
  nothingInCommon:
    'No tapped mode could be told to be a computed one. Name a mode on the bench as the list above calls it.',
  unsolvable: 'The drawing as it stood at these steps cannot be computed.',
  pairedBy,
  misfit:
    'The taps and the drawing do not agree: no woods within the stated spreads explain the modes measured. Look for a loose brace, a wrong name, or a wrong measure before you trust the forecast.',
  far: (which: readonly Property[]) =>
    `The taps put this further from the drawing than it was stated to be: ${which.map((property) => properties[property].toLowerCase()).join('; ')}. Measure that wood, or look for a wrong height or thickness, a loose brace or a wrong name.`,
  fits: 'The woods within their stated spreads explain the modes measured.',

  more: 'How each mode fits, and what the fit moved',
  first: 'First step tapped: what every later forecast rests on',
  latest: 'Latest step tapped: what the advice rests on',
  fitOf: (step: string) => `How each mode fits: ${step}`,
  mode: 'Mode',
  measured: 'Measured',
  computed: 'Computed after the fit',
  apart: 'Apart',
  apartHint: 'Apart is measured less computed; its ± is what taps and drawing together leave open.',
  movedOf: (step: string) => `What the fit moved: ${step}`,
  moved: 'Moved by the fit',
  times: 'Times what was drawn',
  beforehand: 'Beforehand',
  properties,

  noPast: 'After the next step is tapped, its forecast stands here beside what was measured.',
  right: (right: number, moves: number) => `Right within its own spread in ${right} of ${count(moves, 'move')} so far.`,
  against: 'Forecast against measured',
  earlier: (n: number) => count(n, 'earlier step'),
  againstEarlier: 'Forecast against measured, earlier steps',
  forecastHz: 'Forecast, Hz',
  measuredHz: 'Measured, Hz',
  held: 'Held?',
  nothingCut: 'nothing cut',
  yes: 'yes',
  no: 'no',
  pastHint:
    'The woods were fitted to the first step only; nothing of a later step went into its own forecast. A step where nothing was cut shows what weather and holding do.',
};
