// One day at an invented bench: a left-handed steel-string top from bare plate to "stop here". Plain data; the sounds are
// made from it by demo-recording.ts and the record by whoever opens the demo. No real maker, shop or instrument.
import type { Climate, Floor, InstrumentRecord, Shaving, Stage, Support, Target } from '../record/record.ts';
import type { PieceMode, Spot } from './tap-synth.ts';

/** A step of the demo day with what was done, read and heard, and the modes the piece truly had then. */
export interface DemoStep {
  /** file name without number and ending */
  readonly slug: string;
  readonly atIso: string;
  readonly stage: Stage;
  readonly support: Support;
  readonly spot: string;
  readonly spotAt: Spot;
  readonly climate: Climate;
  readonly massG: number;
  readonly done: string;
  readonly shavings: readonly Shaving[];
  readonly heard: string;
  readonly modes: readonly PieceMode[];
  /** what spoils the round: the piece slips in its clamps halfway, and a loose washer buzzes */
  readonly fault?: 'slips-and-buzzes';
}

/** What the demo's record says beside its steps. */
export const demoInstrument: Pick<InstrumentRecord, 'name' | 'model' | 'hand' | 'notes'> & {
  readonly targets: readonly Omit<Target, 'id'>[];
  readonly floors: readonly Omit<Floor, 'id'>[];
} = {
  name: 'Alder Lane no. 23',
  model: 'steel-string, 645 mm scale, X pattern mirrored',
  hand: 'left',
  notes:
    'Demo: invented wood, invented day, taps made by the program. Top W-097, 2.75 mm, bends 5.55 mm under 22.2 N on a ' +
    '457 mm span. The dial on the shelf reads 3 % too damp. Pattern mirrored for the left hand: bass side on the right ' +
    'seen from outside.',
  targets: [
    {
      mode: 'monopole',
      stage: 'braced',
      frequencyHz: 176,
      toleranceHz: 2,
      origin: 'Typed: where the last top of this pattern ended.',
    },
  ],
  floors: [{ brace: 'X lower legs', heightMm: 9.5 }],
};

const freeAtNode: Support = { hold: 'at-node', bridge: 'off', strung: false };
const inMould: Support = { hold: 'in-mould', bridge: 'taped', strung: false };

function climate(humidityPercent: number, tempC: number): Climate {
  return { humidityPercent, tempC, hygrometer: 'dial on the shelf', hygrometerOffsetPercent: -3 };
}

/** A free piece held at a node: every mode sounds about as strong at the edge where it is tapped. */
function free(...rows: readonly (readonly [number, number, number])[]): PieceMode[] {
  return rows.map(([frequencyHz, q, level]) => ({ frequencyHz, q, level }));
}

/**
 * The braced top in the mould: monopole, cross dipole and long dipole as the day gives them, and weaker modes above that
 * follow them by fixed ratios (invented).
 */
function braced(monopoleHz: number, crossHz: number, longHz: number): PieceMode[] {
  return [
    { frequencyHz: monopoleHz, q: 38, level: 0.14, halfWaves: [1, 1] },
    { frequencyHz: crossHz, q: 46, level: 0.17, halfWaves: [1, 2] },
    { frequencyHz: longHz, q: 52, level: 0.15, halfWaves: [2, 1] },
    { frequencyHz: round2(1.74 * crossHz), q: 48, level: 0.1, halfWaves: [2, 2] },
    { frequencyHz: round2(1.83 * longHz), q: 44, level: 0.045, halfWaves: [3, 1] },
    { frequencyHz: round2(2.92 * crossHz), q: 50, level: 0.05, halfWaves: [1, 3] },
  ];
}

function round2(x: number): number {
  return Math.round(x * 100) / 100;
}

const bridgeSpot = { spot: 'bridge, bass side of the centre line', spotAt: [0.41, 0.6] as const };
const onBench = { stage: 'braced', support: inMould, ...bridgeSpot } as const;

/**
 * The day in order: eleven rounds. Shavings, grams and the three main modes are a scenario with checked arithmetic; the
 * weather of the early afternoon takes 0.6 % off every mode and puts 1.2 g of water into the top.
 */
export const demoSteps: readonly DemoStep[] = [
  {
    slug: 'thicknessed',
    atIso: '2026-03-16T08:30:00+01:00',
    stage: 'thicknessed',
    support: freeAtNode,
    spot: 'edge of the lower bout',
    spotAt: [0.1, 0.5],
    climate: climate(46, 19.8),
    massG: 148.62,
    done: 'Thicknessed to 2.75 mm, outline cut, soundhole open.',
    shavings: [],
    heard: 'clear, long ring',
    modes: free(
      [58.4, 62, 0.05],
      [84.6, 48, 0.09],
      [121.9, 85, 0.1],
      [187.5, 66, 0.06],
      [266, 58, 0.04],
      [655, 52, 0.03],
    ),
  },
  {
    slug: 'braced-free',
    atIso: '2026-03-16T09:10:00+01:00',
    stage: 'braced',
    support: freeAtNode,
    spot: 'edge of the lower bout',
    spotAt: [0.1, 0.5],
    climate: climate(46, 19.9),
    massG: 205.3,
    done: 'Braced: X, two tone bars, finger braces, bridge plate. Glue cured four days.',
    shavings: [],
    heard: 'much of the ring gone',
    modes: free(
      [96.8, 58, 0.06],
      [148.2, 45, 0.1],
      [201.4, 60, 0.11],
      [271.3, 50, 0.06],
      [356.5, 52, 0.04],
      [690, 48, 0.03],
    ),
  },
  {
    ...onBench,
    slug: 'in-the-mould',
    atIso: '2026-03-16T09:40:00+01:00',
    climate: climate(46, 20),
    massG: 205.3,
    done: 'Clamped in the mould, bridge of 26 g taped on. Where the voicing starts.',
    shavings: [],
    heard: 'tight, knocky',
    modes: braced(193.6, 271, 352.6),
  },
  {
    ...onBench,
    slug: 'x-legs-one',
    atIso: '2026-03-16T10:05:00+01:00',
    climate: climate(46, 20.2),
    massG: 204.34,
    done: 'X lower legs down by 1 mm over 180 mm, both.',
    shavings: [{ brace: 'X lower legs', fromMm: 0, toMm: 180, offMm: 1, massOffG: 0.96, heightLeftMm: 11 }],
    heard: 'a little longer',
    modes: braced(188.9, 266.9, 349.7),
  },
  {
    ...onBench,
    slug: 'tone-bars',
    atIso: '2026-03-16T10:30:00+01:00',
    climate: climate(46, 20.3),
    massG: 203.7,
    done: 'Both tone bars down by 0.8 mm over 150 mm.',
    shavings: [{ brace: 'tone bars', fromMm: 20, toMm: 170, offMm: 0.8, massOffG: 0.64 }],
    heard: 'fuller below',
    modes: braced(186.2, 265.8, 344.4),
  },
  {
    ...onBench,
    slug: 'finger-braces',
    atIso: '2026-03-16T10:55:00+01:00',
    climate: climate(46, 20.4),
    massG: 203.4,
    done: 'Ends of the finger braces feathered.',
    shavings: [{ brace: 'finger braces', massOffG: 0.3 }],
    heard: 'no change in the main note',
    modes: braced(185.4, 262.3, 343.9),
  },
  {
    ...onBench,
    slug: 'bad-round',
    atIso: '2026-03-16T11:05:00+01:00',
    climate: climate(46, 20.4),
    massG: 203.4,
    done: 'Tapped again to be sure. A clamp worked loose and a washer buzzed: not to be used.',
    shavings: [],
    heard: 'rattle',
    modes: braced(185.4, 262.3, 343.9),
    fault: 'slips-and-buzzes',
  },
  {
    ...onBench,
    slug: 'x-legs-two',
    atIso: '2026-03-16T11:30:00+01:00',
    climate: climate(46, 20.5),
    massG: 202.73,
    done: 'X lower legs down by another 0.7 mm over 180 mm, both.',
    shavings: [{ brace: 'X lower legs', fromMm: 0, toMm: 180, offMm: 0.7, massOffG: 0.67, heightLeftMm: 10.3 }],
    heard: 'opens up',
    modes: braced(181.3, 259, 341.2),
  },
  {
    ...onBench,
    slug: 'x-ends',
    atIso: '2026-03-16T12:00:00+01:00',
    climate: climate(47, 20.6),
    massG: 202.39,
    done: 'X ends brought down to 2 mm at the lining.',
    shavings: [{ brace: 'X lower legs', fromMm: 0, toMm: 40, massOffG: 0.34, heightLeftMm: 10.1 }],
    heard: 'open, still even',
    modes: braced(178.9, 257.5, 338.8),
  },
  {
    ...onBench,
    slug: 'after-the-rain',
    atIso: '2026-03-16T13:20:00+01:00',
    climate: climate(53, 20.9),
    massG: 203.59,
    done: 'Nothing cut. Rain since noon, the window was open.',
    shavings: [],
    heard: 'softer',
    modes: braced(177.8, 256, 337.1),
  },
  {
    ...onBench,
    slug: 'last-pass',
    atIso: '2026-03-16T13:50:00+01:00',
    climate: climate(53, 21),
    massG: 203.46,
    done: 'X lower legs 0.2 mm over 120 mm, both. Within the target: stop.',
    shavings: [{ brace: 'X lower legs', fromMm: 0, toMm: 120, offMm: 0.2, massOffG: 0.13, heightLeftMm: 9.9 }],
    heard: 'the one',
    modes: braced(176.6, 255.2, 336.6),
  },
];
