// The sound of a demo step: two holds of four taps in a room with noise, hum and reverberation, and the truth about it.
import type { DemoStep } from './demo-instrument.ts';
import { type Random, randomFrom } from './random.ts';
import { addHum, reverberated, roomNoise } from './room.ts';
import { addTap, type PieceMode, quantised, ringTruth, type Strike } from './tap-synth.ts';

export const DEMO_RATE_HZ = 16_000;

const HOLDS = 2;
const TAPS_A_HOLD = 4;
const LEAD_S = 0.8;
const APART_S = 1.2;
const PAUSE_S = 1;

/** One tap as it was made. */
export interface TapTruth {
  readonly onsetS: number;
  readonly hold: number;
  /** what was wrong with it, if anything */
  readonly fault?: 'slipped' | 'buzz';
  /** amplitude of each mode's ring at first contact, full scale = 1, without the room, in the order of `modes` */
  readonly amplitudes: readonly number[];
}

/** What is true of a demo recording, kept beside it. */
export interface RecordingTruth {
  readonly seed: number;
  readonly sampleRateHz: number;
  /** mean over the holds, faulty taps left out; level of the mode at an antinode, full scale = 1 */
  readonly modes: readonly { readonly frequencyHz: number; readonly q: number; readonly level: number }[];
  /** stretch of each hold, s, and the frequencies the piece had while held so, Hz, in the order of `modes` */
  readonly holds: readonly {
    readonly fromS: number;
    readonly toS: number;
    readonly frequenciesHz: readonly number[];
  }[];
  readonly taps: readonly TapTruth[];
}

/** A furnished workshop corner, the microphone a hand's width from the plate: the room lies 34 dB under the direct sound. */
const CORNER = {
  modes: [
    { frequencyHz: 68, q: 16, level: 0.01 },
    { frequencyHz: 104, q: 22, level: 0.01 },
    { frequencyHz: 143, q: 28, level: 0.01 },
  ],
  t60S: 0.2,
  tail: 0.02,
};

const NOISE_RMS = 0.0006;
const HUM = { lineHz: 50.02, levels: [0.0006, 0.0002, 0.0003] };

/** Scatter between holds (the piece picked up anew) and between taps; invented, of the size makers report. */
const HOLD_SCATTER = 0.001;
const MODE_SCATTER = 0.0003;
const SPOT_SCATTER = 0.008;
const STRENGTH_SCATTER = 0.25;
const SLIP = 0.985;

/**
 * The recording of one demo step.
 * @param seed whole number; the same seed gives the same samples on every machine
 * @returns samples as a 16-bit file holds them, (n,), and what is true of them
 */
export function demoRecording(step: DemoStep, seed: number): { samples: Float32Array; truth: RecordingTruth } {
  const chance = randomFrom(seed);
  const rate = DEMO_RATE_HZ;
  const holdS = TAPS_A_HOLD * APART_S;
  const length = Math.round((LEAD_S + HOLDS * holdS + (HOLDS - 1) * PAUSE_S + 0.3) * rate);
  const dry = new Float64Array(length);
  const taps: TapTruth[] = [];
  const holds = Array.from({ length: HOLDS }, (_, hold) => {
    const startS = LEAD_S + hold * (holdS + PAUSE_S);
    const held = heldAnew(step.modes, chance);
    for (let tap = 0; tap < TAPS_A_HOLD; tap++) {
      taps.push(strikeOnce(dry, step, held, { hold, tap, atS: startS + tap * APART_S }, chance));
    }
    return {
      fromS: round(startS - 0.4),
      toS: round(startS + holdS),
      frequenciesHz: held.map((m) => round(m.frequencyHz)),
    };
  });
  const sound = reverberated(dry, rate, CORNER, chance);
  const noise = roomNoise(length, rate, NOISE_RMS, chance);
  addHum(noise, rate, HUM.lineHz, HUM.levels, chance);
  for (let n = 0; n < length; n++) sound[n] = sound[n]! + noise[n]!;
  const modes = step.modes.map(({ q, level }, m) => ({
    frequencyHz: round(holds.reduce((sum, hold) => sum + hold.frequenciesHz[m]!, 0) / HOLDS),
    q,
    level,
  }));
  return { samples: quantised(sound), truth: { seed, sampleRateHz: rate, modes, holds, taps } };
}

/** The piece picked up anew: all modes shifted together and each a little by itself. */
function heldAnew(modes: readonly PieceMode[], chance: Random): PieceMode[] {
  const shift = HOLD_SCATTER * chance.normal();
  return modes.map((mode) => ({
    ...mode,
    frequencyHz: mode.frequencyHz * (1 + shift + MODE_SCATTER * chance.normal()),
  }));
}

function strikeOnce(
  dry: Float64Array,
  step: DemoStep,
  held: readonly PieceMode[],
  at: { readonly hold: number; readonly tap: number; readonly atS: number },
  chance: Random,
): TapTruth {
  const strike: Strike = {
    onsetS: at.atS + chance.between(0, 0.05),
    contactS: chance.between(0.001, 0.0013),
    strength: Math.exp(STRENGTH_SCATTER * (2 * chance.uniform() - 1)),
    spot: [step.spotAt[0] + SPOT_SCATTER * chance.normal(), step.spotAt[1] + SPOT_SCATTER * chance.normal()],
    rustle: chance.between(0.05, 0.15),
  };
  const isFaulty = step.fault !== undefined;
  const hasSlipped = isFaulty && at.hold === 1;
  const modes = hasSlipped ? held.map((mode) => ({ ...mode, frequencyHz: mode.frequencyHz * SLIP ** at.tap })) : held;
  addTap(dry, DEMO_RATE_HZ, modes, strike, chance);
  const buzzes = isFaulty && at.hold === 0 && at.tap % 2 === 1;
  if (buzzes) addBuzz(dry, modes[0]!.frequencyHz, strike, chance);
  return {
    onsetS: Math.round(strike.onsetS * 1e6) / 1e6,
    hold: at.hold,
    ...(hasSlipped && at.tap > 0 ? { fault: 'slipped' as const } : buzzes ? { fault: 'buzz' as const } : {}),
    amplitudes: ringTruth(modes, strike).map((ring) => Number(ring.amplitude.toPrecision(4))),
  };
}

/** A loose washer: a click once a period of the main mode, while its motion is large enough to lift it. */
function addBuzz(dry: Float64Array, frequencyHz: number, strike: Strike, chance: Random): void {
  for (let k = 2; k < 24; k++) {
    const first = Math.round((strike.onsetS + (k + 0.1 * chance.normal()) / frequencyHz) * DEMO_RATE_HZ);
    const level = 0.15 * strike.strength * Math.exp(-k / 12);
    for (let n = first; n < Math.min(dry.length, first + 24); n++) {
      dry[n] = dry[n]! + level * chance.normal() * Math.exp((first - n) / 8);
    }
  }
}

/** Frequencies and times are written to 0.001. */
function round(x: number): number {
  return Math.round(x * 1000) / 1000;
}
