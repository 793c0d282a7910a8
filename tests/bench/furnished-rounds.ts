// Rounds of taps of pieces in rooms that the estimator's own signal model does not know: a rectangular room by its images, the
// piece a monopole or a dipole, the microphone at a distance.

import type { Tap } from '../../src/signal/tap.ts';
import { heardIn, type ImageRoom, type Point, plateResponse, pointResponse } from './image-room.ts';
import { colouredNoise, NOISE_COLOURS, normal, type Random, ring, seeded } from './tap-signals.ts';

/** Where and how a piece sounds. */
export interface Cell {
  readonly source: 'monopole' | 'dipole';
  readonly distanceM: number;
  readonly t60S: number;
}

export interface FurnishedMode {
  readonly frequencyHz: number;
  readonly q: number;
  /** root mean square over the taps, the loudest at 0 dB */
  readonly levelDb: number;
}

export interface FurnishedRound {
  /** those below the dense field, ascending in frequency */
  readonly modes: readonly FurnishedMode[];
  readonly taps: readonly Tap[];
}

const RATE_HZ = 16_000;
const TAPS = 5;
const GAP_S = 2.2;
const BEFORE_S = 0.5;
const AFTER_S = 1.6;
const SNR_DB = 45;
/** Above this a piece has more modes than anybody asks for; below, those of the truth, Hz. */
const DENSE_FROM_HZ = 620;
const CONTACT_S = [0.001, 0.003] as const;

/** The round of this seed. @param spots how many places of the piece are tapped in turn */
export function furnishedRound(cell: Cell, seed: number, spots = 3): FurnishedRound {
  const random = seeded(seed);
  const between = (low: number, high: number): number => low + (high - low) * random();
  const room: ImageRoom = { sizeM: [between(3, 6), between(3, 6), between(2.3, 3)], t60S: cell.t60S };
  const from: Point = [between(1, room.sizeM[0] - 1), between(1, room.sizeM[1] - 1), between(0.8, 1.3)];
  const [azimuth, tilt] = [2 * Math.PI * random(), between(-0.2, 0.9)];
  const reach = cell.distanceM;
  const to: Point = [
    from[0] + reach * Math.cos(azimuth) * Math.cos(tilt),
    from[1] + reach * Math.sin(azimuth) * Math.cos(tilt),
    from[2] + reach * Math.sin(tilt),
  ];
  const response = (cell.source === 'dipole' ? plateResponse : pointResponse)(room, from, to, RATE_HZ);
  const piece = drawnPiece(random);
  const field = denseField(random);
  // A mode has a pattern over the piece: its part at each place that is tapped, with its sign.
  const patternOf = () =>
    Array.from({ length: spots }, () => (random() < 0.5 ? -1 : 1) * 10 ** ((6 * normal(random)) / 20));
  const patterns = [...piece, ...field].map(patternOf);
  const frames = Math.round((BEFORE_S + TAPS * GAP_S) * RATE_HZ);
  const dry = new Float64Array(frames);
  const onsets: number[] = [];
  const amplitudes: number[][] = [];
  for (let k = 0; k < TAPS; k++) {
    const onset = Math.round((BEFORE_S + k * GAP_S) * RATE_HZ);
    onsets.push(onset);
    const strength = 10 ** ((3 * normal(random)) / 20);
    const contactS = between(...CONTACT_S);
    amplitudes.push(
      [...piece, ...field].map((mode, m) => {
        const scatter = 10 ** (normal(random) / 20);
        const hit = strength * scatter * patterns[m]![k % spots]! * lowPassOf(contactS, mode.frequencyHz);
        const amplitude = hit * 10 ** (mode.levelDb / 20);
        // As a half-sine leaves it: from its middle on, from rest.
        ring(dry, onset + Math.round((contactS / 2) * RATE_HZ), RATE_HZ, mode, amplitude, -Math.PI / 2);
        return amplitude;
      }),
    );
  }
  const sound = heardIn(response, dry);
  const level = (m: number) => 10 * Math.log10(amplitudes.reduce((sum, ofTap) => sum + ofTap[m]! ** 2, 0) / TAPS);
  const levels = piece.map((_, m) => level(m));
  const loudest = Math.max(...levels);
  const direct = gainOf(response);
  const noise = noiseFor(frames, loudest, direct, random);
  const peak = sound.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const arrival = Math.round((reach / 343) * RATE_HZ);
  const taps = onsets.map((onset): Tap => {
    const at = onset + arrival;
    const start = Math.max(0, at - Math.round(BEFORE_S * RATE_HZ));
    const end = Math.min(frames, at + Math.round(AFTER_S * RATE_HZ));
    const samples = Float32Array.from(
      { length: end - start },
      (_, n) => (0.5 * (sound[start + n]! + noise[start + n]!)) / peak,
    );
    return { samples, sampleRateHz: RATE_HZ, onsetIndex: at - start };
  });
  const modes = piece.map(({ frequencyHz, q }, m) => ({ frequencyHz, q, levelDb: levels[m]! - loudest }));
  return { modes: modes.toSorted((a, b) => a.frequencyHz - b.frequencyHz), taps };
}

/** Kinds of pieces: braced tops, free plates, and what has few modes, a stick or a small board. */
function drawnPiece(random: Random): FurnishedMode[] {
  const kind = random();
  const [count, lowHz, qs] =
    kind < 0.5
      ? [8 + Math.floor(5 * random()), 75, [20, 60]]
      : kind < 0.8
        ? [5 + Math.floor(6 * random()), 50, [40, 120]]
        : [1 + Math.floor(4 * random()), 80, [30, 150]];
  const modes: FurnishedMode[] = [];
  while (modes.length < count) {
    const frequencyHz = lowHz * (570 / lowHz) ** random();
    const q = qs[0]! * (qs[1]! / qs[0]!) ** random();
    // Modes of one piece keep their distance for most; those that run together are told of in another table.
    const isNear = modes.some(
      (other) =>
        Math.abs(other.frequencyHz - frequencyHz) < (1.5 * (frequencyHz / q + other.frequencyHz / other.q)) / 2,
    );
    if (!isNear) modes.push({ frequencyHz, q, levelDb: -14 * random() });
    else if (random() < 0.05) break;
  }
  return modes;
}

/** What rings above the modes that are asked for. */
const denseField = (random: Random): FurnishedMode[] =>
  Array.from({ length: 40 }, () => ({
    frequencyHz: DENSE_FROM_HZ * (2500 / DENSE_FROM_HZ) ** random(),
    q: 20 + 30 * random(),
    levelDb: -8 - 12 * random(),
  }));

/** What a half-sine contact leaves of a mode. Source: its transform, any table. */
export function lowPassOf(contactS: number, frequencyHz: number): number {
  const x = 2 * frequencyHz * contactS;
  return Math.abs(x - 1) < 1e-6 ? Math.PI / 4 : Math.abs(Math.cos((Math.PI * x) / 2) / (1 - x * x));
}

/** Gain of the direct sound at the modes' frequencies, by the first two milliseconds' energy at the piece's own spectrum. */
function gainOf(response: Float64Array): number {
  const tone = new Float64Array(response.length);
  ring(tone, 0, RATE_HZ, { frequencyHz: 200, q: 30, levelDb: 0 }, 1, 0);
  const heard = heardIn(response, tone);
  return heard.subarray(0, Math.round(0.05 * RATE_HZ)).reduce((most, value) => Math.max(most, Math.abs(value)), 0);
}

/** Room noise so far under the loudest mode in 0 to 1500 Hz. */
function noiseFor(frames: number, loudestDb: number, direct: number, random: Random): Float64Array {
  const colour = NOISE_COLOURS.pink;
  let power = 0;
  for (let f = 0.5; f < 1500; f++) power += colour(f);
  const perHz = (0.5 * (direct * 10 ** (loudestDb / 20)) ** 2) / 10 ** (SNR_DB / 10) / power;
  return colouredNoise(frames, RATE_HZ, (f) => perHz * colour(f), random);
}

/** One mode as any method tells it; sigma is NaN where the method states none. */
export interface Told {
  readonly frequencyHz: { readonly value: number; readonly sigma: number };
  readonly q: { readonly value: number; readonly sigma: number };
}

export interface RoundScore {
  readonly truths: number;
  readonly found: number;
  readonly spurious: number;
  readonly heldF: number;
  readonly heldQ: number;
  /** errors of the found: of f as a part of the true bandwidth, and of ln Q */
  readonly errorsF: readonly number[];
  readonly errorsLnQ: readonly number[];
}

/** A round as far as it is scored. */
export interface Truth {
  readonly modes: readonly FurnishedMode[];
  /** what is told above is not asked for, Hz; without it the dense field's of this file */
  readonly denseFromHz?: number;
  /** modes so far under the loudest are asked for, dB; without it 20 dB */
  readonly askedDownToDb?: number;
}

/** Truths asked for, found within half a bandwidth; a spurious mode is any other told mode below the dense field. */
export function scoreOf(
  { modes, denseFromHz = DENSE_FROM_HZ, askedDownToDb = -20 }: Truth,
  told: readonly Told[],
): RoundScore {
  const taken = new Set<Told>();
  const found: { truth: FurnishedMode; mode: Told }[] = [];
  for (const truth of modes.toSorted((a, b) => b.levelDb - a.levelDb)) {
    const away = (mode: Told) => Math.abs(mode.frequencyHz.value - truth.frequencyHz);
    const mode = told.filter((one) => !taken.has(one)).toSorted((a, b) => away(a) - away(b))[0];
    if (mode === undefined || away(mode) > (0.5 * truth.frequencyHz) / truth.q) continue;
    taken.add(mode);
    found.push({ truth, mode });
  }
  const asked = found.filter(({ truth }) => truth.levelDb > askedDownToDb);
  const isHeld = (mode: { value: number; sigma: number }, truth: number) =>
    Math.abs(mode.value - truth) < 1.959964 * mode.sigma;
  return {
    truths: modes.filter(({ levelDb }) => levelDb > askedDownToDb).length,
    found: asked.length,
    spurious: told.filter(
      (mode) => !taken.has(mode) && mode.frequencyHz.value > 30 && mode.frequencyHz.value < 0.95 * denseFromHz,
    ).length,
    heldF: asked.filter(({ mode, truth }) => isHeld(mode.frequencyHz, truth.frequencyHz)).length,
    heldQ: asked.filter(({ mode, truth }) => isHeld(mode.q, truth.q)).length,
    errorsF: asked.map(
      ({ mode, truth }) => ((mode.frequencyHz.value - truth.frequencyHz) * truth.q) / truth.frequencyHz,
    ),
    errorsLnQ: asked.map(({ mode, truth }) => Math.log(mode.q.value / truth.q)),
  };
}
