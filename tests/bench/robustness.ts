// What becomes of taps of known truth on their way through a bad room, a bad recorder or the wrong settings.
import { randomFrom } from '../../src/demo/random.ts';
import { addHum, reverberated, roomNoise } from '../../src/demo/room.ts';
import { addTap, quantised } from '../../src/demo/tap-synth.ts';
import { HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
import { splitTaps } from '../../src/signal/hear/listener.ts';
import { fitRound } from '../../src/signal/round.ts';
import { SIX_MODES } from './tap-signals.ts';

/** What is done to the sound of a round. */
export interface Condition {
  readonly name: string;
  readonly sampleRateHz?: number;
  readonly bits?: 8 | 16 | 24;
  /** part of the loudest sample above which all is cut off */
  readonly clipAt?: number;
  /** amplitude of the mains hum over the strongest mode's, dB */
  readonly humDb?: number;
  /** energy of the room's diffuse answer, amplitude over the direct sound, and its reverberation time, s */
  readonly tail?: number;
  readonly t60S?: number;
  /** root mean square of the room's noise, full scale = 1; without it a tap is 50 dB over the noise */
  readonly noise?: number;
}

export const CONDITIONS: readonly Condition[] = [
  { name: '48 kHz, 24 bits, dead room' },
  { name: '44.1 kHz', sampleRateHz: 44_100 },
  { name: '96 kHz', sampleRateHz: 96_000 },
  { name: '192 kHz', sampleRateHz: 192_000 },
  { name: '16 kHz', sampleRateHz: 16_000 },
  { name: '8 kHz', sampleRateHz: 8000 },
  { name: '16 bits', bits: 16 },
  { name: '8 bits', bits: 8 },
  { name: 'clipped, top 3 % cut off', clipAt: 0.97 },
  { name: 'clipped, top 30 % cut off', clipAt: 0.7 },
  { name: 'hum 20 dB under the tap', humDb: -20 },
  { name: 'hum 20 dB over the tap', humDb: 20 },
  { name: 'living room, tail -34 dB, 0.35 s', sampleRateHz: 16_000, tail: 0.02, t60S: 0.35 },
  { name: 'living room, tap of 30 dB', sampleRateHz: 16_000, tail: 0.02, t60S: 0.35, noise: 0.003 },
  { name: 'bare room, tail -20 dB, 0.6 s', sampleRateHz: 16_000, tail: 0.1, t60S: 0.6 },
  { name: 'hall, tail -10 dB, 1.5 s', sampleRateHz: 16_000, tail: 0.32, t60S: 1.5 },
];

const MODES = SIX_MODES.map((mode) => ({ ...mode, level: 0.12 * 10 ** (mode.levelDb / 20) }));

/** Taps of one round. */
const TAPS = 4;
const EVERY_S = 1.8;
/** Seeds from here on: no constant of the estimator was chosen on them. */
const FIRST_SEED = 160_000;
/** A mode is found if it is read within this of the truth, as a part of it. */
const FOUND_WITHIN = 0.01;

/** What became of the rounds of one condition. */
export interface Outcome {
  readonly name: string;
  readonly rounds: number;
  readonly tapsKept: number;
  readonly tapsMade: number;
  /** reasons the listener gave for taps it did not keep, with their numbers */
  readonly refusals: Readonly<Record<string, number>>;
  /** part of the true modes found */
  readonly foundRatio: number;
  /** root mean square error of what was found, parts of the truth */
  readonly frequencyError: number;
  readonly qError: number;
  /** part of the 95 % intervals that hold the truth; frequency and Q */
  readonly coverage: number;
  readonly qCoverage: number;
  /** rounds that say how loudly the room answers */
  readonly loudRooms: number;
  /** modes within 25 dB of the loudest that are none of the piece's, a round */
  readonly spurious: number;
}

/** Rounds of taps of six known modes under one condition. */
export function outcomeOf(condition: Condition, rounds: number): Outcome {
  const refusals: Record<string, number> = {};
  const sums = { kept: 0, found: 0, f: 0, q: 0, held: 0, heldQ: 0, spurious: 0, loud: 0 };
  for (let number = 0; number < rounds; number++) {
    const taps = splitTaps(soundOf(condition, FIRST_SEED + number), condition.sampleRateHz ?? 48_000).flatMap(
      (verdict) => {
        if (verdict.kind === 'accepted') return [verdict.tap];
        const { because } = verdict.refusal;
        refusals[because] = (refusals[because] ?? 0) + 1;
        return [];
      },
    );
    sums.kept += taps.length;
    if (taps.length === 0) continue;
    const { modes, roomAnswerDb } = fitRound([taps]);
    if (roomAnswerDb !== undefined) sums.loud++;
    for (const truth of MODES) {
      const off = (hz: number): number => Math.abs(hz / truth.frequencyHz - 1);
      const best = modes.toSorted((a, b) => off(a.frequencyHz.value) - off(b.frequencyHz.value))[0];
      if (best === undefined || off(best.frequencyHz.value) > FOUND_WITHIN) continue;
      sums.found++;
      sums.f += off(best.frequencyHz.value) ** 2;
      sums.q += (best.q.value / truth.q - 1) ** 2;
      if (Math.abs(best.frequencyHz.value - truth.frequencyHz) < HALF_WIDTH_95 * best.frequencyHz.sigma) sums.held++;
      if (Math.abs(Math.log(best.q.value / truth.q)) < (HALF_WIDTH_95 * best.q.sigma) / best.q.value) sums.heldQ++;
    }
    const loudest = Math.max(...modes.map((mode) => mode.levelDb));
    sums.spurious += modes.filter(
      ({ frequencyHz, levelDb }) =>
        levelDb > loudest - 25 &&
        !MODES.some((truth) => Math.abs(frequencyHz.value / truth.frequencyHz - 1) < FOUND_WITHIN),
    ).length;
  }
  return {
    name: condition.name,
    rounds,
    tapsKept: sums.kept,
    tapsMade: rounds * TAPS,
    refusals,
    foundRatio: sums.found / (rounds * MODES.length),
    frequencyError: Math.sqrt(sums.f / sums.found),
    qError: Math.sqrt(sums.q / sums.found),
    coverage: sums.held / sums.found,
    qCoverage: sums.heldQ / sums.found,
    loudRooms: sums.loud,
    spurious: sums.spurious / rounds,
  };
}

function soundOf(condition: Condition, seed: number): Float32Array {
  const {
    sampleRateHz: rate = 48_000,
    bits = 24,
    clipAt,
    humDb,
    tail = 0,
    t60S = 0.35,
    noise: rms = 0.0003,
  } = condition;
  const chance = randomFrom(seed);
  const dry = new Float64Array(Math.round((0.7 + TAPS * EVERY_S) * rate));
  for (let tap = 0; tap < TAPS; tap++) {
    const onsetS = 0.7 + tap * EVERY_S + 0.01 * chance.uniform();
    const strike = {
      onsetS,
      contactS: 0.003,
      strength: chance.between(0.9, 1.1),
      spot: [0.5, 0.5] as const,
      rustle: 0.2,
    };
    addTap(dry, rate, MODES, strike, chance);
  }
  const wet = tail > 0 ? reverberated(dry, rate, { modes: [], t60S, tail }, chance) : dry;
  const noise = roomNoise(wet.length, rate, rms, chance);
  const sound = wet.map((x, n) => x + noise[n]!);
  if (humDb !== undefined) {
    // A finger pad of 3 ms excites the strongest mode to about 0.1 of full scale.
    const size = 0.1 * 10 ** (humDb / 20);
    addHum(sound, rate, 50.03, [size, size / 2, size / 4, size / 8], chance);
  }
  const peak = sound.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  if (clipAt !== undefined) {
    const limit = clipAt * peak;
    for (let n = 0; n < sound.length; n++) sound[n] = (Math.max(-limit, Math.min(limit, sound[n]!)) / limit) * 0.999;
  } else if (peak > 0.95 || bits === 8) for (let n = 0; n < sound.length; n++) sound[n] = (0.95 / peak) * sound[n]!;
  return quantised(sound, bits);
}

/** The table as text, Markdown. */
export function robustnessFigures(rounds: number): string[] {
  const percent = (x: number, digits = 1): string => (Number.isNaN(x) ? '' : `${(100 * x).toFixed(digits)} %`);
  const rows = CONDITIONS.map((condition) => {
    const one = outcomeOf(condition, rounds);
    const said = Object.entries(one.refusals).map(([because, n]) => `refused ${because}: ${n}`);
    if (one.loudRooms > 0) said.push(`room too loud: ${one.loudRooms} of ${rounds} rounds`);
    const cells = [
      one.name,
      `${one.tapsKept} of ${one.tapsMade}`,
      percent(one.foundRatio),
      percent(one.frequencyError, 3),
      percent(one.qError),
      percent(one.coverage),
      percent(one.qCoverage),
      one.spurious.toFixed(2),
      said.join(', '),
    ];
    return `| ${cells.join(' | ')} |`;
  });
  return [
    '| condition | taps kept | modes found | error f | error Q | 95 % holds f | holds Q | spurious a round | said |',
    '| --- | --- | --- | --- | --- | --- | --- | --- | --- |',
    ...rows,
  ];
}
