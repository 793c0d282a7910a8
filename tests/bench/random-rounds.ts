// Rounds of taps of plates drawn by lot: modes, levels, spots, contact, noise and room, each round from a seed of its own.
import { shapeAt } from '../../src/demo/tap-synth.ts';
import { type Bound, jointBound } from './bound.ts';
import {
  type Disturbance,
  NOISE_COLOURS,
  type NoiseColour,
  type Random,
  seeded,
  type TrueMode,
  type TrueTap,
  trueTap,
} from './tap-signals.ts';

/** What lies about the taps; what is drawn for each round is added to it. */
export interface Surroundings {
  readonly name: string;
  readonly noise: NoiseColour;
  readonly hasHum?: boolean;
  readonly room?: { readonly tail: number; readonly t60S: number };
  readonly hasModesAbove?: boolean;
}

export const SURROUNDINGS: readonly Surroundings[] = [
  { name: 'white noise', noise: 'white' },
  { name: 'room noise and hum', noise: 'room', hasHum: true },
  { name: 'living room, -34 dB, 0.35 s', noise: 'room', room: { tail: 0.02, t60S: 0.35 } },
  { name: 'bare room, -20 dB, 0.6 s', noise: 'room', room: { tail: 0.1, t60S: 0.6 } },
  { name: 'modes above the band', noise: 'white', hasModesAbove: true },
];

/** One round and its truth. */
export interface RandomRound {
  /** ascending in frequency; level: root mean square over the taps, the loudest at 0 dB */
  readonly modes: readonly TrueMode[];
  /** what else rings, above the band */
  readonly above: readonly TrueMode[];
  readonly taps: readonly TrueTap[];
  readonly bounds: readonly Bound[];
  readonly snrDb: number;
  readonly contactMs: number;
}

/** Far from the seeds of every other bench. */
const FIRST_SEED = 310_000_000;
const SEEDS_A_CASE = 1_000_000;

const LOWEST_HZ = 60;
const HIGHEST_HZ = 900;
/** Chance that a mode is drawn beside another one, and how near, bandwidths. */
const BESIDE = 0.15;
const BESIDE_BANDWIDTHS = [0.3, 1.5] as const;
/** A finger never hits a node line quite: least part of a mode's largest amplitude. Our estimate, no source. */
const LEAST_HIT = 0.05;
const MOST_SPOTS = 3;

/** The round of this number; the same number gives the same round. */
export function randomRound(around: Surroundings, number: number): RandomRound {
  const random = seeded(FIRST_SEED + SEEDS_A_CASE * SURROUNDINGS.indexOf(around) + number);
  const between = (low: number, high: number): number => low + (high - low) * random();
  const plate = drawnModes(random);
  const tapCount = 1 + Math.floor(8 * random());
  const levelsDb = levelsOfTaps(plate, tapCount, random);
  const snrDb = between(20, 50);
  const contactMs = between(0, 4);
  const above = around.hasModesAbove
    ? Array.from({ length: 1 + Math.floor(5 * random()) }, () => ({
        frequencyHz: between(1300, 4500),
        q: between(30, 80),
        levelDb: between(-25, 0),
      }))
    : [];
  const how: Disturbance = {
    sampleRateHz: random() < 0.5 ? 44_100 : 48_000,
    noise: around.noise,
    hitMs: contactMs,
    others: above,
    ...(around.hasHum && { humDb: between(-30, -10), mainsHz: (random() < 0.5 ? 50 : 60) + between(-0.05, 0.05) }),
    ...(around.room && { room: { ...around.room, seed: number } }),
  };
  const taps = levelsDb.map((ofTap) =>
    trueTap(
      plate.map((mode, m) => ({ ...mode, levelDb: ofTap[m]! })),
      snrDb,
      random,
      how,
    ),
  );
  const modes = plate.map((mode, m) => ({ ...mode, levelDb: meanDb(levelsDb.map((ofTap) => ofTap[m]!)) }));
  const bounds = jointBound(modes, taps, NOISE_COLOURS[around.noise], contactMs / 1000);
  return { modes, above, taps, bounds, snrDb, contactMs };
}

function drawnModes(random: Random): TrueMode[] {
  const modes: TrueMode[] = [];
  const count = 1 + Math.floor(8 * random());
  while (modes.length < count) {
    const q = 15 * 6 ** random();
    const beside = modes.length > 0 && random() < BESIDE ? modes[Math.floor(modes.length * random())] : undefined;
    const [near, far] = BESIDE_BANDWIDTHS;
    const side = random() < 0.5 ? -1 : 1;
    const frequencyHz = beside
      ? beside.frequencyHz * (1 + (side * (near + (far - near) * random())) / beside.q)
      : LOWEST_HZ * (HIGHEST_HZ / LOWEST_HZ) ** random();
    if (frequencyHz < LOWEST_HZ || frequencyHz > HIGHEST_HZ) continue;
    modes.push({ frequencyHz, q, levelDb: modes.length === 0 ? 0 : -40 * random() });
  }
  return modes.sort((a, b) => a.frequencyHz - b.frequencyHz);
}

/** Level of every mode in every tap, dB, (K, M): tapped at one to three spots, the loudest mode's mean at 0. */
function levelsOfTaps(modes: readonly TrueMode[], tapCount: number, random: Random): number[][] {
  const shapes = modes.map(({ frequencyHz, q }) => ({
    frequencyHz,
    q,
    level: 1,
    halfWaves: [1 + Math.floor(4 * random()), 1 + Math.floor(4 * random())] as const,
  }));
  const spotCount = 1 + Math.floor(Math.min(tapCount, MOST_SPOTS) * random());
  const spots = Array.from({ length: spotCount }, () => [0.1 + 0.8 * random(), 0.1 + 0.8 * random()] as const);
  const levels = Array.from({ length: tapCount }, (_, k) => {
    const strengthDb = 4 * (random() - 0.5);
    return modes.map(({ levelDb }, m) => {
      const hit = Math.max(LEAST_HIT, Math.abs(shapeAt(shapes[m]!, spots[k % spotCount]!)));
      return levelDb + strengthDb + 20 * Math.log10(hit) + (random() - 0.5);
    });
  });
  const loudest = Math.max(...modes.map((_, m) => meanDb(levels.map((ofTap) => ofTap[m]!))));
  return levels.map((ofTap) => ofTap.map((level) => level - loudest));
}

/** Root mean square of amplitudes given in dB, dB. */
const meanDb = (levels: readonly number[]): number =>
  10 * Math.log10(levels.reduce((sum, level) => sum + 10 ** (level / 10), 0) / levels.length);
