import { count } from './count.ts';

/** Before and after: course, diary, comparison, targets. */
export const steps = {
  title: 'Steps',
  nothing:
    'Nothing has been measured yet. Tap the piece once before you take anything off: that is the start that every later step is held against.',
  toBench: 'To the bench',
  of: (name: string) => `Steps of ${name}`,
  nothingRead: 'No round has been read yet. Tap the piece on the bench; its modes and their course appear here.',
  series: (conditions: string, steps: number) => `${conditions} (${count(steps, 'step')})`,
  measuredHow: 'Measured how',

  step: 'Step',
  eachStep: 'What each step did',
  takenOff: (amount: string) => `${amount} off`,
  humidityMoved: (percent: string) => `humidity ${percent} %RH`,
  temperatureMoved: (change: string) => `temperature ${change}`,
  noTrustedChange: 'no change you can trust',
  notHeard: 'not heard',
  wantedOnly: (figures: string) =>
    `Wanted ${figures}. No mode measured here has that name yet: name it on the bench, under its figure.`,
  now: 'Now',
  wanted: 'Wanted',
  left: 'Left',
  perGram: 'A gram moved it',
  perDepth: (depth: string) => `${depth} off moved it`,
  within: 'Within the target. Stop here.',
  withinUnsure: 'Within the target, though its uncertainty reaches outside. Stop here and tap again tomorrow.',
  past: 'Below the target. Take nothing more off; wood cannot be put back.',
  overshoots: (hz: string) => `The next pass like the last may well go past: about ${hz}. Take less.`,
  keepGoing: (passes: string, hz: string) =>
    `About ${passes} more passes like the last; the next one leads to about ${hz}.`,
  cannotSay: (because: string) => `No forecast: ${because}.`,

  diary: 'Diary',
  older: 'Show older steps',
  notMeasured: 'not measured',
  trust: { go: 'go', 'look-again': 'look again', 'too-few': 'too few checks' },
  trustOf: (verdict: string) => `reference stick: ${verdict}`,
  deleteStep: 'Delete this step',
  round: (spot: string, hold: string, bridge: string, taps: string) => `${spot}, ${hold}, ${bridge}: ${taps}`,
  notRead: 'not read',
  isAside: 'set aside',
  correct: 'Held or tapped otherwise? Put it right',
  hear: 'Hear its best tap',
  readAgain: 'Read again',
  countIt: 'Count it',
  setAside: 'Set aside',
  delete: 'Delete',

  stage: 'Stage',
  done: 'What was done',
  doneExample: (off: string, over: string) => `For instance: lower X legs ${off} off over ${over}`,
  gluedIn: (air: string) => `Glued in ${air}.`,
  heard: 'What you heard',
  heardExample: 'In your own words: tight, knocky, opens up …',
  shaving: (n: number) => `Shaving ${n}`,
  brace: 'Brace or area',
  floor: (height: string) => `Floor ${height}`,
  atFloor: 'At its floor: take no more off here.',
  remove: 'Remove',
  addShaving: 'Add a shaving',
  /** "X treble leg 0.40 mm off, 70 mm to 180 mm" */
  cutAt: (brace: string, off: string | undefined, stretch: readonly [string, string] | undefined) =>
    `${brace === '' ? 'Shaving' : brace}${off === undefined ? '' : ` ${off} off`}${stretch === undefined ? '' : `, ${stretch[0]} to ${stretch[1]}`}`,
  /** a weight worked out from an earlier one */
  about: (weight: string) => `about ${weight}`,
  onThePlan: 'On the plan',
  inWordsOnly: 'not on the plan',
  onBothSides: (name: string) => `${name}, both sides`,
  cutByHeights: 'Cut to heights at places; what it took off is worked out from them.',
  heightAt: (at: string) => `Height left at ${at}`,
  workedOutMass: (mass: string) => `Worked out: ${mass}. Type it if it was weighed.`,
  workedOutHeight: (height: string) => `Worked out: ${height}. Type it if it was measured.`,
  /** a weight that nobody read from the scale at this step */
  carried: (now: string, weighed: string, step: number, off: string) =>
    `Not weighed here: ${now}, from ${weighed} at step ${step} less ${off} cut since.`,
  trueHumidity: (percent: string, offset: string) => `True: ${percent} % (${offset})`,

  compared: 'Two steps compared',
  oneOnly: 'One step is measured. Take something off, begin a new step and tap again: what moved appears here.',
  before: 'Before',
  after: 'After',
  forbidden: (why: string) =>
    `These two cannot be compared as they stand: ${why}. The numbers belong to different things.`,
  allTheSame: 'Show the difference all the same',
  atYourWish: (why: string) => `Compared at your wish although ${why}.`,
  weatherOut: 'Take the weather out of the moves',
  weatherHint:
    'As the wood would have read in the air of the later step, by the Wood Handbook; the doubt of doing so is in the ±.',
  readingSound: 'Reading the sound …',
  noSound: 'The sound of these steps is not on this machine; the table below stands.',
  spectra: 'Spectra of the two steps',
  spectraAt: (spots: readonly string[]) => `At the spots of both steps: ${spots.join('; ')}`,
  noSharedSpot: (before: readonly string[], after: readonly string[]) =>
    `No spot was tapped at both steps (${before.join('; ')} before, ${after.join('; ')} after). Spectra of different spots differ though the wood is the same, and are not drawn.`,
  dbAxis: 'dB re full scale',
  whatMoved: 'What moved',
  mode: 'Mode',
  moved: 'Moved',
  cents: 'Cents',
  noChange: (hz: string) => `no change you can trust (under ${hz} Hz)`,
  appeared: 'appeared',
  notHeardAgain: 'not heard again',
  oneHold: (from: string, to: string) =>
    `A step was measured in one hold only: the scatter of holding the piece anew (${from} to ${to} % is usual; common practice, no source) is not in these intervals.`,

  targetFor: (stage: string) => `Target for the stage “${stage}”`,
  targetFrom: (origin: string) => `From: ${origin}`,
  /** stored with the target as the maker reads it now */
  originOf: (name: string, step: number) => `${name}, step ${step}`,
  typeTarget: 'Type a target',
  fromSignature: 'Take the named modes of another step',
  instrument: 'Instrument',
  otherStage: (stage: string) => `That step is of another stage (${stage}). Its modes mean something else here.`,
  takeTarget: 'Take as target',
};
