import type { TopAdvice } from '../../../forecast/top-advice.ts';

const cannot: Readonly<Record<Extract<TopAdvice, { kind: 'cannot' }>['because'], string>> = {
  'only-shaving-lowers':
    'Shaving cannot bring the modes there: it takes stiffness away, and the target lies the other way.',
  'no-wood-to-spare': 'There is no wood to spare above the floors.',
  unsolvable: 'The drawing could not be computed on the way.',
};

/** What to shave next. */
export const advice = {
  title: 'What to shave next',
  needsTarget: 'Set a target for this stage first.',
  toSteps: 'To the steps',
  needsFloors:
    'Set floors first, for every stretch that may be shaved. Where no floor is set, no wood is advised away.',
  toPlan: 'To the plan',
  target: (mode: string, hz: string, toleranceHz: string) => `${mode} ${hz} Hz within ${toleranceHz}`,
  toward: (targets: string, deepest: string) =>
    `Toward ${targets}. Only where a floor is set, never below it, ${deepest} at most in one pass.`,
  find: 'Find ways',
  tooEarly: 'The modes and the past come first; then ways can be looked for.',
  looking: 'Looking for ways',

  notTested: 'No forecast for this top has been put to the test yet.',
  heldIn: (held: number, moves: number) => `Its forecasts for this top held in ${held} of ${moves} moves.`,
  wider: (times: string) => `The spreads below are ${times} times wider for what was missed.`,
  misfit: 'The taps and the drawing do not agree at present: do not lean on this.',

  reachedAll: 'Every target is reached. Stop here.',
  noSuchMode: (name: string) =>
    `No computed mode is called ${name}. Name the target as the list of modes does, or it cannot be aimed at.`,
  notTapped: (name: string) =>
    `None of the modes tapped last is known to be the ${name}, so where it stands is not known: give it its name on the bench, under its figure, or tap another spot.`,
  cannot,
  /** a way by its result */
  way: (mass: string, lands: string, past: string) => `${mass} off: ${lands}, ${past} to go past in one go`,
  lands: (mode: string, hz: string) => `${mode} to ${hz}`,
  chance: (inHundred: string) => `${inHundred} in 100`,
  /** odds below one in a hundred */
  chanceSmall: 'less than 1 in 100',
  nextPass: (depth: string, past: string, within: string) =>
    `First pass: ${depth} at the deepest, the rest in proportion: ${past} to go past, ${within} to end within.`,
  noPass: {
    reached: (within: string) => `Stop here: no pass betters the odds, ${within} that it stands within.`,
    risk: (within: string) => `Stop here: the least pass would go past too easily. ${within} that it stands within.`,
    floor: (within: string) => `Stop here: there is no wood to spare. ${within} that it stands within.`,
  },
  caution: {
    'others-reach': 'It shaves a brace that carries the strings: take another way first, shave this last, and little.',
    'nothing-else-reaches':
      'It shaves a brace that carries the strings, and nothing else reaches: shave it last, and little.',
  },
  wouldNarrow: (mode: string) => `What would narrow the first of these most, for the ${mode}:`,
  stillToMeasure: {
    heights: 'the heights by caliper after the cut',
    sticks: 'the sticks of the braces, tapped in Wood',
    mass: 'the top on the scale',
  },
  tapMode: (mode: string) => `the ${mode} tapped and named`,
  narrows: (what: string, percent: string) => `${what}: to ${percent} % of its spread`,
  inAll: (mass: string) => `${mass} of wood in all.`,
  modeMoves: (mode: string, change: string) => `${mode} ${change}`,
  reaches: (move: string, after: string, hz: string, toleranceHz: string) =>
    `${move}, to ${after}: reaches ${hz} Hz within ${toleranceHz}.`,
  doesNotReach: (move: string, after: string, hz: string, toleranceHz: string) =>
    `${move}, to ${after}: does not reach ${hz} Hz within ${toleranceHz}.`,
  movesWithIt: (n: number) => (n === 1 ? 'Another mode moves with it' : `${n} other modes move with it`),
  unnamed: (n: number) => `mode ${n}`,
  bridgeThen: (turn: string, rise: string) =>
    `The strings would then turn the bridge by ${turn} and lift it by ${rise}.`,
  bridgeThenAndNow: (turn: string, turnNow: string, rise: string) =>
    `The strings would then turn the bridge by ${turn} (now ${turnNow}) and lift it by ${rise}.`,
  guide: 'A guide, not a guarantee.',
};
