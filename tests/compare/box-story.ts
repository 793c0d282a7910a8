// Records of a synthetic closed box: each guided state with the peaks that the piston model gives it, read with noise.
import { airIn, STANDARD_PRESSURE_PA } from '../../src/box/air.ts';
import { type Box, boxModes } from '../../src/box/pistons.ts';
import { type BoxState, boxSpots, supportOf } from '../../src/compare/box-state.ts';
import { type InstrumentRecord, newRecord, type Round } from '../../src/record/record.ts';
import { piston } from '../box/workshop-box.ts';

export const holeRadiusM = 0.05;
export const holeEdgeM = 0.0035;

export const trueBox = {
  air: airIn({ tempC: 20, humidityPercent: 50, pressurePa: STANDARD_PRESSURE_PA }),
  volumeM3: 0.0165,
  // between the two end corrections that the ruler allows for
  hole: { radiusM: holeRadiusM, effectiveLengthM: holeEdgeM + 1.63 * holeRadiusM, endCorrectionRatio: 1.7, q: 22 },
  top: piston(0.09, 172, 0.045, 32),
  back: piston(0.19, 222, 0.042, 38),
} as const satisfies Box;

export const massG = 10;

/** The box as it is set up in a state. */
export function boxIn(state: BoxState, box: typeof trueBox | Box = trueBox): Box {
  switch (state) {
    case 'blocked':
      return { ...box, hole: 'blocked' };
    case 'back-damped':
      return { ...box, back: 'held' };
    case 'mass':
      return { ...box, top: { ...box.top, massKg: box.top.massKg + massG / 1000 } };
    case 'mass-on-back':
      return { ...box, back: { ...trueBox.back, massKg: trueBox.back.massKg + massG / 1000 } };
    default:
      return box;
  }
}

export interface Telling {
  readonly sigmaHz?: number;
  /** standard normal noise; none where left out */
  readonly normal?: () => number;
  readonly scatterKnown?: boolean;
  /** peaks of a round instead of the true ones, Hz */
  readonly peaksHz?: Partial<Record<BoxState, readonly number[]>>;
}

function roundIn(state: BoxState, telling: Telling): Round {
  const sigma = telling.sigmaHz ?? 0.1;
  const modes = telling.peaksHz?.[state]?.map((frequencyHz) => ({ frequencyHz, q: 30 })) ?? boxModes(boxIn(state));
  return {
    id: `round-${state}`,
    atIso: '2026-11-25T08:00:00.000Z',
    support: supportOf(state, { hold: 'box-open', bridge: 'glued', strung: false }, massG),
    spot: boxSpots[state],
    source: 'test',
    state: 'closed',
    taps: [],
    fit: {
      method: 'test',
      modes: [
        ...modes.map(({ frequencyHz, q }) => ({
          frequencyHz: { value: frequencyHz + sigma * (telling.normal?.() ?? 0), sigma },
          q: { value: q, sigma: 0.5 },
          levelDb: -20,
          amplitudes: [],
          resolution: 'single' as const,
        })),
        // a weak mode that is none of the three
        {
          frequencyHz: { value: 308, sigma },
          q: { value: 50, sigma: 1 },
          levelDb: -45,
          amplitudes: [],
          resolution: 'single' as const,
        },
      ],
      used: [],
      setAside: [],
      scatterKnown: telling.scatterKnown ?? true,
    },
  };
}

/** A record with one closed step and a round in each state given. */
export function boxRecord(states: readonly BoxState[], telling: Telling = {}): InstrumentRecord {
  return {
    ...newRecord({ id: 'box', createdAtIso: '2026-11-25T00:00:00.000Z', name: 'box' }),
    steps: [
      {
        id: 's1',
        atIso: '2026-11-25T08:00:00.000Z',
        stage: 'closed',
        done: '',
        cuts: [],
        climate: { tempC: 20, humidityPercent: 50 },
        heard: '',
        rounds: states.map((state) => roundIn(state, telling)),
      },
    ],
    box: {
      cavity: {
        from: 'volume',
        volumeL: 1000 * trueBox.volumeM3,
        holeRadiusMm: 1000 * holeRadiusM,
        holeEdgeMm: 1000 * holeEdgeM,
        tailDepthMm: 116,
        neckDepthMm: 96,
      },
    },
  };
}
