import { boxCodes } from './box-codes.ts';
import { boxDoubtWords } from './box-doubts.ts';
import { boxFound } from './box-found.ts';
import { boxJob } from './box-job.ts';
import { boxNewTop } from './box-new-top.ts';
import { boxStages } from './box-stages.ts';
import { boxStrings } from './box-strings.ts';

/** The closed box: its air and its rounds, and by parts what follows from them. */
export const box = {
  title: 'Box',
  nothing: 'Nothing is on the bench. Choose or begin an instrument first.',
  noBox: 'A reference stick has no box. Choose an instrument first.',
  toRecords: 'To the records',
  partsLabel: 'Parts of the box',
  parts: {
    job: 'The job',
    air: 'Air',
    rounds: 'Rounds',
    found: 'What moves',
    'what-if': 'What if',
    response: 'Response',
    strings: 'Strings',
    stages: 'Before gluing',
    'new-top': 'New top',
  },
  choose: 'Choose …',
  whatIsMissing: 'What is missing',

  step: {
    none: 'No closed box yet',
    noneHint:
      'The rounds belong to a step of the stage “closed box”. Begin it when top and back are glued on; nothing of the earlier steps changes.',
    begin: 'Begin the step “closed box”',
  },

  air: {
    title: 'The air in the box',
    ownLabel: 'The air’s own resonance',
    sizes: 'Sizes, measured inside',
    volumeFrom: 'Volume from',
    volumeFroms: { outline: 'Outline and depths', volume: 'A volume I measured' },
    beginFrom: 'Begin from a usual body',
    bodies: { dreadnought: 'dreadnought', concert: 'concert', parlour: 'parlour', jumbo: 'jumbo' },
    depthHint: 'Only for “What if”: what a deeper box does',
    domeHint: 'Empty: flat',
    occupiedHint: 'About half a litre is usual',
    volumeHint: 'Filled with beads or rice and poured out again',
    volumeDoubtHint: (percent: number) => `Empty: ${percent} %`,
    holeEdgeHint: 'With the rosette and its patch',
    litres: 'litres',
    room: 'The room',
    roomHint: 'Temperature and humidity belong to the step “closed box”; begin it under Rounds.',
    pressureHint: 'Empty: sea level, 1013',
    humidityHint: 'The hygrometer’s reading with its offset',
    byItself:
      'The air by itself, with walls that do not move. The peak you will hear lies lower, because top and back give way.',
    soundSpeed: 'Speed of sound',
    roomIs: 'Room',
    assumed: '20 °C, 50 % assumed where not noted',
  },

  rounds: {
    title: 'Rounds on the closed box',
    lead: 'Peaks are told apart by doing: take the box as it is, then change one thing at a time and tap again.',
    allTaken: 'All of them are taken.',
    next: (state: keyof typeof boxCodes.states) => `Next: ${boxCodes.states[state].toLowerCase()}.`,
    taps: 'Taps',
    backAnswers: 'The back shows a peak of its own',
    backAnswersHint: 'Off for a back so stiff or so heavy that two peaks are all there is.',
    whatTheySay: 'What the rounds say',
    taken: 'taken',
    lumpHint: 'Weigh it to a tenth of a gram. 5 to 20 g tells most.',
    listen: 'Listen',
    listenAgain: 'Listen again',
    takeRecordings: 'Take recordings …',
    recordings: (state: keyof typeof boxCodes.states) => `Recordings, ${boxCodes.states[state].toLowerCase()}`,
    setAside: 'Set this round aside',
    drawings: {
      open: 'The box from the side, hole open; a finger taps the bridge.',
      blocked: 'The box from the side, a card over the hole; a finger taps the bridge.',
      'back-damped': 'The box from the side, a cushion pressed against the whole back; a finger taps the bridge.',
      mass: 'The box from the side, a lump fixed on the bridge; a finger taps beside it.',
      'tap-on-back': 'The box from the side, nothing fixed; a finger taps the middle of the back.',
      'mass-on-back': 'The box from the side, a lump fixed under the middle of the back; a finger taps the bridge.',
    },
    drawn: { closedTight: 'closed tight', pressed: 'pressed against you', mass: 'mass', hole: 'hole', tap: 'tap' },
  },

  peaks: {
    noneClear: 'No peak stands clear of the room in these taps. Tap closer to the microphone.',
    noneHere: 'No peak between 60 and 380 Hz, where air, top and back lie. Was the box tapped at the right place?',
    label: 'Peaks',
    youSay: 'you say',
    proposed: 'proposed',
    right: 'These names are right',
    letPropose: 'Let the program propose',
  },

  ...boxFound,
  ...boxJob,
  ...boxDoubtWords,
  ...boxStrings,
  ...boxStages,
  ...boxNewTop,
  codes: boxCodes,
};
