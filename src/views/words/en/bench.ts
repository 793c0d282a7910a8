import { clap } from './clap.ts';
import { count } from './count.ts';

/** The bench: one round from the first press to the answer. */
export const bench = {
  title: 'Bench',
  nothing: 'Nothing is on the bench. Choose or begin an instrument first.',
  toRecords: 'To the records',
  stock: 'The stock shelf is open. Boards and sticks are tapped in Wood, where the page shows how to hold them.',
  toWood: 'To the wood',
  chooseInstrument: 'Choose an instrument',

  setup: 'What is on the bench',
  onBench: 'On the bench',
  support: 'Support',
  bridge: 'Bridge',
  strings: 'Strings',
  stringChoices: { off: 'No strings', on: 'Strung, strings damped' },
  firstStep: 'Begin the first step',
  newStep: 'Something was done: new step',
  step: (n: number, done: string) => `Step ${n}: ${done}`,
  tapAt: 'Tap at',
  anotherSpot: 'Another spot …',
  ownSpot: 'Spot in your words',

  listening: 'Taps and modes',
  lead: (taps: number, holds: number) =>
    `Hold the piece, tap it with a fingertip, let it ring out. ${count(taps, 'tap')} a hold, ${count(holds, 'hold')}; the page counts and stops by itself.`,
  start: 'Start listening',
  opening: 'Opening the microphone …',
  doNotWait: 'Do not wait for it',
  waitsFor: {
    permission:
      'The browser is asking whether this page may listen: answer it, it may stand beside the address. If nothing asks, press the sign beside the address.',
    sound: 'The sound of this machine does not start. Close other programs that use it, or give up and try again.',
  },
  supportLabel: 'How the piece is held',
  howIsItHeld: (stage: string) => `First taps of the stage "${stage}": is it held like this?`,
  soItIs: 'Yes, like this',
  saySupportFirst: 'Asked once a stage: bridge and strings move every mode, and only rounds held alike are compared.',
  otherInstrument: (name: string) => `This round belongs to "${name}", and is kept there.`,
  backTo: (name: string) => `Back to ${name}`,
  startHint:
    'Space starts and stops. Put the microphone a hand’s width to a hand’s length from the piece. The sound stays on this machine.',
  brokenOff: (taps: number) => `A round with ${count(taps, 'tap')} was broken off.`,
  goOnWithIt: 'Go on with it',
  readWhatThereIs: 'Read what there is',
  lastMeasured: 'Last measured at this step',

  taken: (taken: number, wanted: number) => `${taken} of ${wanted} taps`,
  hold: (n: number, of: number) => (n > of ? `hold ${n}` : `hold ${n} of ${of}`),
  putDown: 'Put it down, pick it up again.',
  holdIn: (n: number, of: number, seconds: number) => `hold ${n} of ${of} in ${seconds} s`,
  stopAndRead: 'Stop and read',
  skipHolds: 'Skip the other holds',
  soFar: 'So far',
  interrupted: 'Listening was broken off.',
  goOn: 'Go on',
  readingModes: 'Reading the modes …',
  readingLabel: 'Reading the modes',
  cancel: 'Cancel',
  notRead: 'The taps are stored but not read yet.',
  noMode: 'No mode stands clear of the room in these taps. Tap closer to the microphone, or at another spot.',
  leftOut: (n: number) =>
    n === 1
      ? '1 tap disagreed with the others and was left out.'
      : `${n} taps disagreed with the others and were left out.`,
  /** @param n of the hold, from 1 */
  oddHold: (n: number, percent: string) =>
    `Hold ${n} disagrees with the others: its modes lie ${percent} % off. It is left out. Was the piece held, leaned on or taped otherwise? Tap one hold more in its place.`,
  holdsApart: (percent: string) =>
    `The holds disagree: the same modes lie ${percent} % apart, so the ± is wide. Nobody can tell which one is right: hold the piece as before and tap one hold more.`,
  roundsApart: (percent: string) =>
    `Rounds of this step are labelled alike, yet the same modes lie ${percent} % apart. One was held, taped or tapped otherwise, or belongs to another step: put its label right in the diary of Voicing, or set it aside.`,
  oddRound: (n: number, spot: string, percent: string) =>
    `Round ${n} of this step (${spot}) disagrees with the others, by ${percent} %, though it is labelled alike. Put its label right in the diary of Voicing, or set it aside.`,
  setOddAside: 'Set it aside',
  oneHoldMore: 'Tap one hold more',
  countEveryHold: 'Count that hold after all',
  /** @param list frequencies in Hz */
  notMeasurable: (list: string) => `Heard near ${list} Hz, but not measurable here: not even the note is certain.`,
  qNotMeasurable: 'Q not measurable here',
  ofRoom: (list: string) => `Left out: ${list}. The clap showed that the room itself rings there.`,
  loudRoom: (db: string) =>
    `The room rings along, only ${db} dB under the piece: every mode is pulled a little, and weak ones are lost. Come nearer with the microphone, a hand’s width to a hand’s length from the wood: half as far is 6 to 12 dB better. Tapping three spots in turn tells the piece from the room.`,
  ringsOn:
    'Before every tap the one before still rang, so the noise of the room is not known, and weak modes may be missing. Let it ring out: three seconds more between taps.',
  recorder: {
    'gain-control':
      'The recorder turned itself down at each tap and up again while the piece rang, so rings read too long or too short and no Q is told. The frequencies hold. Switch off automatic gain or “voice enhancement”, or use another recorder or microphone.',
    'noise-suppression':
      'The recorder took away what it held for noise, and the end of each ring with it, so rings read too short or too long and no Q is told. The frequencies hold. Switch off noise suppression or “voice enhancement”, or use another recorder or microphone.',
    'lossy-coding':
      'This sound was compressed, as messengers and some recorders do to save space, and the compressor writes noise of its own: a faint mode may be its work. Frequencies and Q hold. Record as WAV, or straight into this page, where a faint mode matters.',
  },
  probably: 'probably the piece',
  mayBeRoom: 'may be the room',
  inDoubt:
    'Modes without a mark are surely the piece’s. The marked ones sound, in these taps, as the room’s answer to another mode might.',
  countThem: 'Count them after all',
  shapes: {
    offer: 'Shapes from taps: where each mode moves',
    hint: 'from spot to spot, about two minutes',
    see: 'See the shapes',
    inDiary: (spots: number, taps: string) => `From spot to spot, ${count(spots, 'spot')}, ${taps}`,
  },
  listenAgain: 'Listen again',
  compareEarlier: 'Compare with earlier steps',
  readAgain: 'Read again',
  setAside: 'Set this round aside',
  countAfterAll: 'Count this round after all',

  microphone: 'Microphone',
  processing: {
    echo: 'echo cancellation',
    noise: 'noise suppression',
    gain: 'automatic gain',
  },
  inUse: (microphone: string, sampleRateHz: number) => `${microphone}, ${sampleRateHz} Hz`,
  unprocessed: (inUse: string) => `${inUse}, unprocessed`,
  notSaid: (inUse: string, names: readonly string[]) =>
    `${inUse}; the browser does not say whether ${names.join(', ')} ${names.length === 1 ? 'is' : 'are'} off`,
  keptOn: (names: readonly string[]) =>
    `The browser kept ${names.join(' and ')} on. Q and level cannot be trusted; use another browser or microphone.`,
  slow: (sampleRateHz: number) =>
    `This microphone runs at ${sampleRateHz} Hz, as wireless headsets do. Use the built-in one or a wired one.`,

  tapKept: (db: string) => `Tap kept, ${db} dB above the room`,
  keptAllTheSame: (refusal: string) => `Kept all the same. ${refusal}`,
  keepAnyway: 'Keep it anyway',

  takeRecordings: 'Or take recordings …',
  recordingsLabel: 'Recordings of taps',
  dropHint: 'or drop sound files here, one file a hold',

  weaker: (list: string) => `Weaker: ${list}`,
  withScatter: '± is the 95 % interval, the scatter between holds included.',
  withoutScatter: '± is the 95 % interval within this one hold. Pick the piece up anew for the scatter that counts.',
  cents: 'cents',
  pair: 'two modes, not told apart',
  nameThis: 'Name this mode',
  whichMode: (hz: string) => `Which mode is ${hz} Hz?`,
  nameHint:
    'Move the tap to be sure: off its node lines a mode grows, on them it dies. The name is carried to every step.',
  computedBy: {
    shape: (name: string, hz: string) =>
      `By its shape, tapped from spot to spot, this is the ${name}, computed at ${hz}.`,
    spots: (name: string, hz: string) =>
      `By its frequency and by how loud it rang at each spot this is the ${name}, computed at ${hz}.`,
    frequency: (name: string, hz: string) => `The forecast of the drawn top has the ${name} nearest, at ${hz}.`,
  },
  computedTap: (fromTail: string, offCentre: string) =>
    `It answers a tap ${fromTail} from the tail, ${offCentre} off the centre, most.`,
  takeName: 'Take this name',
  name: 'Name',
  nameIt: 'Name it',
  noName: 'No name',

  level: (db: number) => `Input level ${db} dB re full scale`,
  overdriven: 'Overdriven: tap more gently or move the microphone away.',
  hearingRoom: 'Listening to the room …',
  loudHum: (db: number) =>
    `Mains hum of ${db} dB is taken off, but may cost modes and taps. Switch off lamps, motors and chargers.`,
  levels: (roomDb: number, loudestDb: number) => `Room ${roomDb} dB, loudest ${loudestDb} dB (0 is as loud as it goes)`,

  trust: 'Trust check',
  trustLead:
    'Keep one stick of dry wood only for this. Tap it at the start of a day or in a new room: if it reads as it always does, so will your plates.',
  trustGo: 'Go: the stick reads as it always does.',
  trustLook:
    'Look again: the stick does not read as it did. Check the hold, the room, the humidity and the microphone before you trust a plate.',
  trustFew: (n: number) => `Too few checks to judge by (${n}). It takes five.`,
  trustNotRead:
    'Not read well enough to say anything of today. Tap the stick again: on its node lines, let it ring out.',
  trustFirst: (reading: string, day: string) => `Last reading ${reading}, ${day}`,
  trustOld: (day: string) => `This check is of ${day}. Tap the stick again before you trust today’s taps.`,
  /** @param usual with the half width of the 95 % interval of one reading */
  trustToday: (reading: string, day: string, usual: string) => `Last reading ${reading}, ${day}; usually ${usual}`,
  trustChart: 'Reference stick over time',
  trustAxis: 'Check',
  trustMean: 'usual',
  trustSigma: (k: string) => `${k} times its usual scatter`,
  trustStick: 'stick',

  promise:
    'Platewright repeats, compares, foresees and warns. It does not promise good tone or strength: those stay with your ears, your hands and your experience.',
  takeCare: 'Take care',
  cautions: {
    shaving:
      'Both hands behind the edge, the plate flat on a hard support. Mark your lowest brace heights before you begin.',
    strings:
      'Slacken strings evenly before work inside, eyes away. A thin brace that taps well may still not bear the strings.',
    dust: 'Wood dust harms the lungs and nose: extraction and a mask while thinning, extraction off while tapping.',
    heat: 'Hot irons and glue pots burn; heat loosens braces near by.',
    stop: 'Wood cannot be put back. In doubt, wait a day and tap again.',
  },
  localRules: 'Your local rules and your own experience come first.',

  room: clap,
};
