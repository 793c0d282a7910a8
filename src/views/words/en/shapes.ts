import { count } from './count.ts';

/** Shapes from taps: the round from spot to spot, and what it tells. */
export const shapes = {
  title: 'Shapes from taps',
  lead: 'Where does each mode move? Tap one spot after the other while microphone and plate stay as they are: the page reads the shape of every mode from how loud it rings at each.',
  backToBench: 'Back to the bench',
  needsInstrument: 'Shapes belong to an instrument. Open one first.',
  toRecords: 'To the records',
  needsModes:
    'First tap an ordinary round of this step at one good spot, with its holds: it tells which modes there are. Then come back.',

  begin: 'A new round from spot to spot',
  howMany: 'Spots',
  spotCounts: {
    '16': '16, for pictures: about two minutes',
    '9': '9, for names only',
  },
  howTo: (taps: number) =>
    `${count(taps, 'tap')} a spot, all alike: the same fingertip, brisk and short, straight down. Keep the microphone 15 cm off or more, and move neither it nor the plate.`,
  withoutDrawing:
    'Nothing is drawn of this plate as it is held: the shapes are told at the spots only. Mark the numbered spots on the plate yourself, spread evenly. With a plan the page shows where they lie.',
  modesFrom: (modes: number, spot: string) => `The modes are those of the last round: ${modes}, tapped at ${spot}.`,
  start: 'Start with spot 1',
  opening: 'Opening the microphone …',
  doNotWait: 'Do not wait for it',
  takeRecordings: 'Or take a recording …',
  recordingsLabel: 'Recordings of the taps from spot to spot',
  recordingsHint: (taps: number) => `all spots in their order, ${count(taps, 'tap')} each`,
  sheet: 'Print the spots at full size',
  sheetHint: 'Seen from outside. Lay it on the plate, prick the spots through, and mark them in chalk or pencil.',
  sheetOf: (name: string, spots: number) => `${name}, ${spots} spots`,

  now: 'Tap now',
  spot: (n: number) => `Spot ${n}`,
  spotNear: (n: number, near: string) => `Spot ${n}, ${near}`,
  /** @param side bass or treble */
  place: (fromTail: string, offCentre: string, side: string) =>
    `${fromTail} from the tail, ${offCentre} to the ${side}`,
  placeOnCentre: (fromTail: string) => `${fromTail} from the tail, on the centre line`,
  sides: { bass: 'bass side', treble: 'treble side' },
  taken: (taken: number, wanted: number) => `${taken} of ${count(wanted, 'tap')}`,
  soFar: (spots: number, of: number) => `${spots} of ${of} spots done`,
  spotsInOrder: 'The spots in their order',
  spotState: {
    now: (n: number) => `${n}, now`,
    done: (n: number) => `${n} ✓`,
    doubtful: (n: number) => `${n}, again`,
    open: (n: number) => `${n}`,
  },
  kept: (db: string) => `Kept, ${db} dB above the room`,
  again: 'This spot again',
  leaveOut: 'Leave it out',
  back: 'Back',
  finish: 'Stop and read',
  interrupted: 'Listening was broken off.',
  goOn: 'Go on',
  tapAgainLive: (spots: string) => `So far these do not go with the others, and are worth tapping again: ${spots}.`,
  allGood: 'So far all taps go together.',
  map: 'The spots on the plate, seen from outside, neck up',
  brokenOff: (done: number, of: number) => `A round was broken off after ${done} of ${of} spots.`,
  goOnWithIt: 'Go on with it',

  reading: 'Reading the shapes',
  failed: (message: string) => `The shapes could not be read: ${message}.`,
  tooFew: {
    modes:
      'Fewer than two modes are known: nothing holds the signs together. Tap the ordinary round again, at a livelier spot.',
    spots: 'Fewer than four spots were tapped: tap the others too.',
  },
  noSounds: 'The sounds of this round are not in this browser.',
  result: (when: string) => `Round from spot to spot, ${when}`,
  modes: 'Modes',
  noName: 'none like it on the drawing',
  likeness: (value: string) => `likeness ${value}`,
  asTapped: 'As tapped',
  asComputed: (name: string, hz: string) => `As computed: ${name}, ${hz}`,
  notComputed: 'No computed mode is like it: the shape is told at the spots only.',
  doubt: 'Grey: the node line lies somewhere in it, 19 times in 20.',
  atSpots: 'Larger rings move more; filled and open ones move against each other, faint ones are not told from rest.',
  noDrawingUse: 'The drawing could not be computed, or too few spots lie on it: shapes at the spots only.',
  said: {
    allAlike: (n: number) =>
      n === 1
        ? 'As far as the taps tell, the one mode that could be told moves as the drawing has it.'
        : `As far as the taps tell, all ${n} modes that could be told move as the drawing has them.`,
    someOther: (alike: number, of: number, others: string) =>
      `${alike} of the ${of} modes that could be told move as the drawing has them; otherwise: ${others}. Look there for what the drawing does not know: a height, a loose end, another wood.`,
    none: 'No mode could be told to be one of the drawing’s.',
    caution:
      'The drawing fills in between the spots, so a whole picture leans towards it: in trials it was hardly nearer to the truth than the drawing by itself. Names and the table rest on what the taps say alone.',
  },
  names: 'Names by shape',
  nameAll: (n: number) => (n === 1 ? 'Take the name for 1 mode' : `Take the names for ${n} modes`),
  nameThis: (name: string) => `Call it ${name}`,
  isNamed: (name: string) => `Its name is ${name}.`,
  named: 'All modes that could be told have their names.',
  table: 'Likeness of tapped and computed shapes, at the spots',
  tableHint: '1 is the same shape, 0 nothing alike; from the taps alone, nothing is taken from the drawing.',
  tapped: 'Tapped',
  spotsTable: 'Movement at the spots',
  spotHead: 'Spot',
  signHint: 'In brackets: the sign is not certain.',
  missing: (spots: string) => `Not tapped: ${spots}.`,
  odd: (spots: string) => `These taps do not go with the others; tap them again, or leave them out: ${spots}.`,
  tapAgain: (n: number) => `Tap spot ${n} again`,

  taps: 'Put taps right',
  tapsHint: 'A tap that was made at another spot is moved there; one that was none is left out.',
  tap: 'Tap',
  tapNumber: (n: number) => `Tap ${n}`,
  madeAt: (n: number) => `Tap ${n} was made at`,
  hear: 'Hear',
  isOut: 'left out',
  leaveTapOut: 'Leave out',
  takeIn: 'Take in',
  above: 'Above the room',

  uff: 'Save as universal file',
  csv: 'Save as table (CSV)',
  aside: 'Set this round aside',
};
