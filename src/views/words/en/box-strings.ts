import type { StringsNeed } from '../../../compare/string-load.ts';
import type { LoadCaution } from '../../../strings/bridge.ts';

const cautions: Readonly<Record<LoadCaution, string>> = {
  'pull-above-limit': 'This set pulls harder than six steel strings usually do (900 N). Was the box built for it?',
  'heavy-for-age': 'An old instrument and more pull than a light set: do not bring it to pitch without thought.',
  'turn-above-limit': 'The bridge turns by more than 2°. Slacken; the top or its braces give way more than is good.',
  'turn-near-limit': 'The bridge’s turn is near 2°. Read it again in a day and a week.',
  'heavier-than-before': 'This set pulls over 5 % more than the one it had. Watch neck, bridge and action.',
  'slacken-first': 'Slacken the strings evenly before any work, eyes away from them.',
};

const needs: Readonly<Record<StringsNeed, string>> = {
  'own-gauges': 'Type the gauges (or the weight per metre) of every string of your own set.',
  'core-not-thinner': 'A core is not thinner than its string. Look at the gauges of the wound strings.',
  'string-count': 'The set and the tuning have different numbers of strings.',
};

/** The strings: pull, bridge, frets. */
export const boxStrings = {
  strings: {
    title: 'Strings',
    cautions,
    needs,
    /** a set of strings or a tuning, which are stored in records by their English names */
    named: (stored: string) => stored,
    otherNeeds: (need: StringsNeed) => `The set to compare: ${needs[need]}`,
    strung: 'What is strung',
    set: 'Set',
    compareWith: 'Compare with',
    nothing: 'nothing',
    tuning: 'Tuning',
    scaleHint: 'Nut to saddle',
    saddleHeightHint: (least: string, most: string) => `${least} to ${most} is usual`,
    breakAngleHint: 'String down to the pins',
    slopeHint: 'A level on the bridge, against the top at the rim; the same place each time',
    turnsBy: (by: string) => `The strings turn this bridge by ${by}, as it is.`,
    neckAngleHint: 'String against the top; a set-back neck is negative',
    years: 'years',
    pullLabel: 'Pull of the strings',
    pull: (newtons: string) => `hang from the bridge, as it were: the pull of all strings together, ${newtons}.`,
    torque: 'Torque that turns the bridge',
    saddleDown: 'Presses the saddle down',
    pinLift: 'Lifts the pins',
    netLift: 'Net lift on the top',
    netPress: 'Net press on the top',
    stringByString: 'String by string',
    eachLabel: 'Pull of each string',
    string: 'String',
    difference: 'Difference',
    all: 'All',
    doubtHint:
      'Plain steel is known from its gauge to 1 %, wound strings to 4 %, because their cores are rarely told, nylon to 6 and 8 %; errors of one maker’s set add up.',
    differenceHint: 'Difference: the set strung against the other.',
    turns: 'How far the bridge turns',
    turnsLead: (mostDeg: number) =>
      `Lay a small straightedge on the bridge and read its angle slack, then at pitch. A guideline: not more than ${mostDeg}°, and no growth from week to week.`,
    times: { '10 min': '10 min', '1 day': '1 day', '1 week': '1 week', '1 year': '1 year' },
    after: (time: string) => `After ${time}`,
    againstPull: (degrees: string) =>
      `A turn of ${degrees}° is against the pull. Read slack and at pitch again; the two may be exchanged.`,
    resists: (stiffness: string) => `Each degree that it turns takes ${stiffness}.`,
    wouldTurn: (set: string, degrees: string) => `Under the set “${set}” the bridge would turn about ${degrees}.`,
    between: (first: string, last: string, degrees: string) => `Between ${first} and ${last} it went ${degrees}.`,
  },

  ownSet: {
    title: 'Own set, 1st string first',
    builds: {
      'plain steel': 'Plain steel',
      'wound steel': 'Wound, phosphor bronze on steel',
      'plain nylon': 'Plain nylon',
      'wound nylon': 'Wound, silvered copper on nylon',
      weighed: 'Weight per metre known',
    },
    string: (n: number, note: string) => `String ${n}, ${note}`,
  },

  frets: {
    title: 'Frets and saddle',
    eighteen: 'By the old rule of eighteen',
    eighteenHint: 'As found on old instruments: each fret an eighteenth of what is left',
    tableLabel: 'Frets from the nut',
    fret: 'Fret',
    fromNut: 'From the nut',
    fromBefore: 'From the fret before',
    saddle: (scale: string) => `Saddle behind the scale length ${scale}`,
    needsPull: 'Needs the pull of the strings, above.',
    notToSay: 'not to be said of a string known by its weight alone',
    usualAction: (first: string, last: string) =>
      `With a usual action at the 12th fret of ${first} under the first and ${last} under the last string; note your own above.`,
    notedAction: (first: string, last: string) =>
      `With your action at the 12th fret, ${first} under the first and ${last} under the last string.`,
    setbackHint:
      'For a true octave at the 12th fret: pressing the string down stretches it, and a stiff string sounds shorter. The tuner on the finished instrument has the last word.',
  },
};
