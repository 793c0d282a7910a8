// A guitar that the demo's invented maker finished before: its top as it was braced, and its closed box tapped in the
// guided states. Everything is made up; tests/demo/demo-guitar.test.ts holds the modes to the three pistons below.
import { type InstrumentRecord, newRecord, type Round, type Support } from '../record/record.ts';
import type { DemoRound } from './demo-steps.ts';

/** Truth of the box: what moves, its frequency without the air, the air it pushes. */
export const demoBox = {
  volumeL: 12.1,
  holeRadiusMm: 47,
  holeEdgeMm: 3.5,
  airQ: 24,
  top: { massG: 78, alone: 176, areaM2: 0.038, q: 30 },
  back: { massG: 160, alone: 214, areaM2: 0.033, q: 36 },
  humidityPercent: 47,
  tempC: 20,
} as const;

/** The known lump fixed at the bridge for one of the rounds, g. */
export const demoLumpG = 10;

const onRims: Support = { hold: 'box-open', bridge: 'glued', strung: false };

/** A state of the box: how it is set up, where it is tapped, and its modes as the pistons give them. */
export interface DemoBoxRound extends DemoRound {
  readonly support: Support;
}

const boxRound = (
  file: string,
  seed: number,
  support: Support,
  spot: string,
  modes: readonly (readonly [frequencyHz: number, q: number, level: number])[],
): DemoBoxRound => ({
  file,
  seed,
  spot,
  support,
  modes: [
    ...modes.map(([frequencyHz, q, level]) => ({ frequencyHz, q, level })),
    // a plate mode that pumps no air, the same in every state
    { frequencyHz: 312, q: 55, level: 0.012 },
  ],
  holds: 2,
  tapsPerHold: 3,
  holdScatter: 0.0003,
  tapScatter: 0.00005,
});

/** The rounds of the closed box. */
export const demoBoxRounds: readonly DemoBoxRound[] = [
  boxRound('box-open', 401, onRims, 'bridge-centre', [
    [121.21, 20.3, 0.05],
    [196.03, 33.2, 0.14],
    [227.56, 38.3, 0.113],
  ]),
  boxRound('box-blocked', 402, { ...onRims, hold: 'box-hole-blocked' }, 'bridge-centre', [
    [188.6, 32.1, 0.14],
    [220.74, 37.2, 0.047],
  ]),
  boxRound('box-back-damped', 403, { ...onRims, hold: 'box-back-damped' }, 'bridge-centre', [
    [123.55, 20.7, 0.031],
    [204.5, 34.7, 0.14],
  ]),
  boxRound('box-lump', 404, { ...onRims, addedMassG: demoLumpG }, 'bridge-centre', [
    [119.78, 20.4, 0.046],
    [188.18, 33.2, 0.14],
    [225.82, 38.2, 0.07],
  ]),
  boxRound('box-on-back', 405, onRims, 'back-centre', [
    [121.21, 20.3, 0.0093],
    [196.03, 33.2, 0.05],
    [227.56, 38.3, 0.14],
  ]),
];

/** The top as it was when its voicing ended. */
export const demoGuitarBraced: DemoRound = {
  file: 'guitar-braced',
  seed: 400,
  spot: 'bridge-centre',
  modes: [
    { frequencyHz: 180.4, q: 39, level: 0.16 },
    { frequencyHz: 394.2, q: 50, level: 0.08 },
    { frequencyHz: 417.8, q: 47, level: 0.06 },
    { frequencyHz: 468, q: 58, level: 0.03 },
  ],
  holds: 2,
  tapsPerHold: 3,
  holdScatter: 0.0005,
  tapScatter: 0.00005,
};

const bracedIso = '2025-10-02T09:10:00.000Z';
const closedIso = '2025-10-20T15:40:00.000Z';

/** The finished guitar of the demo. @param roundOf a round as it was heard in its file */
export function demoGuitar(roundOf: (round: DemoRound, support: Support, atIso: string) => Round): InstrumentRecord {
  const { humidityPercent, tempC, holeRadiusMm, holeEdgeMm } = demoBox;
  const step = { cuts: [], heard: '', climate: { humidityPercent, tempC } };
  return {
    ...newRecord({
      id: 'demo-guitar',
      createdAtIso: bracedIso,
      name: 'Demo guitar, finished before',
      model: 'Small concert, X brace',
      hand: 'right',
    }),
    notes: 'An invented earlier guitar, so that the closed box and the library have something to show.',
    steps: [
      {
        ...step,
        id: 'demo-guitar-braced',
        atIso: bracedIso,
        stage: 'braced',
        done: 'End of voicing, in the mould, bridge taped on',
        massG: 191.2,
        rounds: [roundOf(demoGuitarBraced, { hold: 'in-mould', bridge: 'taped', strung: false }, bracedIso)],
      },
      {
        ...step,
        id: 'demo-guitar-closed',
        atIso: closedIso,
        stage: 'closed',
        done: 'Box closed, bridge glued, before the strings',
        rounds: demoBoxRounds.map((round) => roundOf(round, round.support, closedIso)),
      },
    ],
    pins: [
      ...(
        [
          ['monopole', 180.4],
          ['long dipole', 394.2],
          ['cross dipole', 417.8],
        ] as const
      ).map(([mode, frequencyHz], i) => ({
        id: `demo-guitar-pin-${i + 1}`,
        stepId: 'demo-guitar-braced',
        mode,
        frequencyHz,
      })),
    ],
    box: {
      cavity: {
        from: 'outline',
        bodyLengthMm: 455,
        lowerBoutMm: 340,
        waistMm: 221,
        upperBoutMm: 253,
        tailDepthMm: 115,
        neckDepthMm: 97,
        occupiedL: 0.5,
        holeRadiusMm,
        holeEdgeMm,
      },
    },
  };
}
