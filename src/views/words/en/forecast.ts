import type { EndName } from '../../../record/cut-place.ts';
import { advice } from './advice.ts';
import { agreement } from './agreement.ts';
import { ends } from './brace.ts';
import { nextPassWords } from './next-pass.ts';

/** The forecast of the drawn top: its modes, their shapes, what wood off each place does, and the pull of the strings. */
export const forecast = {
  title: 'Forecast',
  titleFor: (name: string) => `Forecast for ${name}`,
  needsPlan: 'A forecast needs a drawn top: its outline, its braces and its wood. Begin a plan first.',
  toPlan: 'To the plan',
  guide:
    'Computed from the drawing and the woods. Wood differs; a forecast is a guide, not a guarantee, and the next taps decide.',
  heldHow: 'Held how',
  notComputable: 'This drawing cannot be computed; the rest of the record works as before.',
  mendPlan: 'Mend it on the plan',
  computingModes: 'Computing the modes',
  noModes: 'No modes could be found for this drawing. Look at its woods and heights.',
  modes: 'Modes',
  tapped: (hz: string) => `tapped at ${hz}`,
  perhapsTapped: (hz: string) => `perhaps the ${hz} tapped`,
  missedModes: (count: number) =>
    `${count === 1 ? 'One more mode lies' : `${count} more modes lie`} below the highest shown and could not be found: do not name modes by their order.`,
  patchCut: 'Where a brace runs over the bridge plate, the bridge plate is taken as cut to fit.',
  fromWoods: (grams: string) => `From the woods as entered: the ± is their spread and the model’s. ${grams} in all.`,
  plateWood: (source: string) => `Plate: ${source}`,
  braceWood: (source: string) => `Braces: ${source}`,
  onDrawing: 'On the drawing',
  drawn: {
    shape: 'Shape: node lines, where to tap',
    'per-mm': (depth: string) => `What ${depth} off does, place by place`,
    'per-g': 'What 1 g off does, place by place',
  },
  shapeOfFree: 'Shape: node lines, where to hold and tap',

  computing: (what: string) => `${what} …`,
  stop: 'Stop',
  stopped: 'Stopped.',
  failed: (message: string) => `It could not be computed: ${message}.`,
  again: 'Compute again',

  tap: 'Tap',
  tapHere: 'Tap here',
  tapAt: (places: string) => `Tap at the cross: ${places}.`,
  place: (fromTail: string, offCentre: string) => `${fromTail} from the tail, ${offCentre} off the centre`,
  hold: 'Hold',
  holdHere: 'Hold here',
  holdAt: 'Hold at the rings, on a heavy line, where this mode is at rest.',
  holdByRim: 'It leaves no place inside the rim at rest: hold it by the rim.',
  areas: 'Dark and light areas move against each other; on a heavy line the plate is at rest.',

  hzPer: (hz: string, amount: string) => `${hz} Hz per ${amount}`,
  stretch: (brace: string, stretch: string, end: EndName) => `${brace}, ${stretch} from ${ends[end]}`,
  stretchDoes: (stretch: string, change: string) => `${stretch}: ${change}`,
  scaleOfColours: 'Scale of the colours',
  scaleHint: {
    mm: (depth: string, stretch: string) =>
      `Broader and darker moves the mode more; for ${depth} off a stretch of about ${stretch}. Dashed raises it.`,
    g: () => 'Broader and darker moves the mode more; for 1 g off that place. Dashed raises it.',
  },
  whatPlacesDo: 'What each place does',
  placesHint:
    'The ± is the model’s; other woods scale all places alike. Where braces cross, each stands for half of the joint: a plane along one takes both.',
  movesMost: 'Where it moves most',
  hzFor: (amount: string) => `Hz per ${amount}`,

  strung: 'Under the strings',
  wouldTurn: (turn: string, rise: string, pull: string, height: string) =>
    `With its bridge glued the saddle would turn by ${turn} and rise by ${rise} at once, under ${pull} at ${height} above the top.`,
  wouldTurnOnly: (turn: string, pull: string, height: string) =>
    `With its bridge glued the saddle would turn by ${turn} at once and rise by less than can be measured, under ${pull} at ${height} above the top.`,
  pullOfSet: (set: string) => `The pull of the set “${set}” as entered under Strings.`,
  pullUsual: 'No strings are entered yet, so a usual light steel set is taken.',
  enterStrings: 'Enter the strings',
  turn: {
    above: (limit: string) => `More than the ${limit} that is published as a limit (Gore and Gilet 2011).`,
    about: (limit: string) => `About at the ${limit} that is published as a limit (Gore and Gilet 2011).`,
    below: (limit: string) => `Below the ${limit} that is published as a limit (Gore and Gilet 2011).`,
  },
  turnGuide: 'A guide, not a guarantee; wood creeps, and the turn grows over months.',
  asStrung: 'Measured once strung',
  asStrungHint: 'Read the bridge slack and at pitch: the difference of the two, by angle and by height at the saddle.',
  afterTime: { '10 min': 'After 10 min', '1 day': 'After 1 day', '1 week': 'After 1 week', '1 year': 'After 1 year' },
  turnAgainst: (measured: string, foreseen: string, verdict: string) =>
    `Turn ${measured} measured, ${foreseen} foreseen: ${verdict}.`,
  riseAgainst: (measured: string, foreseen: string, verdict: string) =>
    `Rise ${measured} measured, ${foreseen} foreseen: ${verdict}.`,
  asForeseen: 'as foreseen',
  moreThanForeseen: (apart: string) => `${apart} more than foreseen`,
  lessThanForeseen: (apart: string) => `${apart} less than foreseen`,
  creep:
    'The forecast is of the first minutes. What is more after weeks is creep, which nobody computes from a drawing.',

  advice,
  agreement,
  nextPass: nextPassWords,
};
