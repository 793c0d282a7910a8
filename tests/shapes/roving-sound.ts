// Sounds of a roving round on a piece whose shapes are known: the plate solver's modes, struck by fingers of unlike strength and
// contact that land beside the spots, heard by one microphone to which each mode radiates as it will, in noise.
import type { Random } from '../../src/demo/random.ts';
import { addTap } from '../../src/demo/tap-synth.ts';
import { sampled } from '../../src/plate/mode-shape.ts';
import type { Point } from '../../src/plate/outline.ts';
import type { PreparedPlate } from '../../src/plate/plate-modes.ts';
import type { Tap } from '../../src/signal/tap.ts';

const RATE_HZ = 44_100;

export { RATE_HZ as roundRateHz };

const ONSET_S = 0.5;
const RING_S = 1.5;
/** How long one maker's finger stays on the wood, and how much that differs from tap to tap: common practice, no source. */
const CONTACT_S = [0.0015, 0.003] as const;
const CONTACT_SCATTER = 0.15;
const STRENGTH = 0.3;
const FINGER_MM = 5;
/** The onset is found so closely, s: as the listener finds it on the bench's rounds. */
const ONSET_OFF_S = 0.0001;
const Q = [35, 70] as const;

/** A piece as it rings before one microphone at rest. */
export interface RingingPiece {
  readonly frequenciesHz: readonly number[];
  readonly qs: readonly number[];
  /** of each mode to the microphone, with its sign */
  readonly radiates: readonly number[];
  /** how long the finger of its maker usually stays, s */
  readonly contactS: number;
}

export function ringingPiece(random: Random, frequenciesHz: readonly number[]): RingingPiece {
  return {
    frequenciesHz,
    qs: frequenciesHz.map(() => random.between(...Q)),
    radiates: frequenciesHz.map(() => (random.uniform() < 0.5 ? -1 : 1) * 10 ** (0.2 * random.normal())),
    contactS: random.between(...CONTACT_S),
  };
}

/** The deflection of every mode where a finger aimed at a spot lands, (modes,). */
export function landed(
  random: Random,
  { mesh }: PreparedPlate,
  shapes: readonly Float64Array[],
  [x, y]: Point,
): readonly number[] {
  const off = () => (FINGER_MM / Math.SQRT2) * random.normal();
  const at: Point = [x + off(), y + off()];
  return shapes.map((shape) => sampled(mesh, shape, [at])[0] ?? sampled(mesh, shape, [[x, y]])[0] ?? 0);
}

/** One tap, without noise; its loudest about 0.1 of full scale. */
export function struck(random: Random, piece: RingingPiece, deflections: readonly number[]): Float64Array {
  const sound = new Float64Array(Math.round((ONSET_S + RING_S) * RATE_HZ));
  strikeInto(sound, ONSET_S + ONSET_OFF_S * random.normal(), random, piece, deflections);
  return sound;
}

/** Adds a tap to a sound. @param sound changed in place; at `roundRateHz` */
export function strikeInto(
  sound: Float64Array,
  onsetS: number,
  random: Random,
  piece: RingingPiece,
  deflections: readonly number[],
): void {
  const modes = piece.frequenciesHz.map((frequencyHz, k) => ({
    frequencyHz,
    q: piece.qs[k]!,
    level: 0.05 * piece.radiates[k]! * deflections[k]!,
  }));
  const strike = {
    onsetS,
    contactS: piece.contactS * Math.exp(CONTACT_SCATTER * random.normal()),
    strength: Math.exp(STRENGTH * random.normal()),
    spot: [0.5, 0.5] as const,
    rustle: 0.2,
  };
  addTap(sound, RATE_HZ, modes, strike, random);
}

/** How loud the first tenth of a second of a ring is, root mean square. */
const loudness = (sound: Float64Array): number => {
  const ring = sound.subarray(ONSET_S * RATE_HZ, (ONSET_S + 0.1) * RATE_HZ);
  return Math.sqrt(ring.reduce((sum, x) => sum + x * x, 0) / ring.length);
};

/** Sounds as recorded, in white noise so far below their middle loudness, dB. */
export function recorded(random: Random, sounds: readonly Float64Array[], noiseDb: number): readonly Tap[] {
  const loud = sounds.map(loudness).toSorted((a, b) => a - b)[sounds.length >> 1]!;
  const noise = loud * 10 ** (-noiseDb / 20);
  return sounds.map((sound) => ({
    samples: Float32Array.from(sound, (x) => x + noise * random.normal()),
    sampleRateHz: RATE_HZ,
    onsetIndex: ONSET_S * RATE_HZ,
  }));
}
