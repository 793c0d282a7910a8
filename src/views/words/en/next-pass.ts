import type { SinceWhen } from '../../../compare/last-pass.ts';
import type { NextPass } from '../../../forecast/next-pass.ts';

const since: Readonly<Record<SinceWhen, string>> = {
  last: 'Since the last taps',
  morning: 'Since this morning',
  start: 'Since the start',
};

const stopBecause: Readonly<Record<Extract<NextPass, { kind: 'stop' }>['because'], string>> = {
  reached: 'No pass betters the odds.',
  risk: 'Even the least pass would more likely go too far than you allow.',
  floor: 'There is no wood to spare above the floors.',
};

/** The next pass: what is proposed, taken, heard, and what it did. */
export const nextPassWords = {
  label: 'The next pass',
  proposed: 'The next pass',
  needsTarget: 'Set a target below: what each mode is to come to. Then the way there is shown here, pass by pass.',
  needsPlan:
    'Without a drawing the next pass is judged by what the last ones did. A plan adds where to shave, how much, and what it will do.',
  toPlan: 'To the plan',
  needsFloors:
    'Set floors on the plan for the stretches that may be shaved; where none is set, no wood is advised away.',
  needsTaps: 'Tap the top once as it is held now: that is the start every pass is held against.',
  looking: 'Looking for the next pass',
  lookingBack: 'Holding the drawing against the taps',
  /** without a plan: @param moves measured passes at that place */
  asLast: (depth: string, brace: string, moves: number) =>
    `Take ${depth} more${brace === '' ? '' : ` off ${brace}`}${moves === 0 ? '; how much that moves it is not measured yet' : ''}`,
  landsAt: (mode: string, hz: string) => `${mode} lands at ${hz}`,
  chancePast: (chance: string) => `${chance} to go past`,
  chanceWithin: (chance: string) => `${chance} to be within`,
  didThis: 'I did this',
  didElse: 'I did something else',
  tapOnly: 'Nothing was cut: tap again',
  tapNow: 'Tap now',
  cutNotTapped: 'Cut, and not tapped since',
  tapBeforeNext: 'Above is where it stood before. Tap before the next pass: what this one did decides what comes next.',
  otherWays: (n: number) => (n === 1 ? 'Another way' : `${n} other ways`),
  stopHere: 'Stop here.',
  stopOdds: (chance: string) => `${chance} that every mode is within its target.`,
  stopBecause,
  cautionStop: 'A hand that is unsure waits a day and taps again.',

  happened: 'What the last pass did',
  since: 'Since when',
  sinceWhen: since,
  moved: (mode: string, hz: string) => `${mode} moved ${hz}`,
  foreseen: (hz: string) => `foreseen ${hz}`,
  asForeseen: 'as foreseen',
  moreThanForeseen: 'more than foreseen',
  lessThanForeseen: 'less than foreseen',
  noMove: (mode: string) => `${mode}: no change you can trust`,
  off: (amount: string) => `${amount} off`,
  nothingEntered: 'nothing entered as cut',
  whatWasDone: (modes: readonly string[]) =>
    `${modes.join(', ')} came down by more than holding and weather explain, and no cut is entered. What was done?`,
  enterIt: 'Enter what was done',

  now: 'now',
  wanted: (hz: string, toleranceHz: string) => `wanted ${hz} ± ${toleranceHz}`,
  toGo: (hz: string) => `${hz} to go`,
  reached: 'within the target',
  past: 'below the target',
  band: (mode: string, now: string, wanted: string) => `${mode}: now ${now}, wanted ${wanted}`,

  more: 'Since when, and hear it',
  hearBefore: 'Before',
  hearAfter: 'After',
  hearBoth: 'Before, then after',
  hearMode: (mode: string) => `Only the ${mode}`,
};
