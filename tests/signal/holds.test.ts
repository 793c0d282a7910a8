// The normal case at the bench: the piece is picked up anew and every mode moves by dozens of the noise's own sigma, in a
// room that answers. No mode may be split by that, and the interval must hold the truth.
import { describe, expect, test } from 'vitest';
import { randomFrom } from '../../src/demo/random.ts';
import { reverberated, roomNoise } from '../../src/demo/room.ts';
import { addTap, quantised } from '../../src/demo/tap-synth.ts';
import { HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
import { splitTaps } from '../../src/signal/hear/listener.ts';
import { type FitOptions, fitRound } from '../../src/signal/round.ts';

const rateHz = 16_000;
const modes = [
  { frequencyHz: 98, q: 35, level: 0.12 },
  { frequencyHz: 172, q: 45, level: 0.085 },
  { frequencyHz: 205, q: 60, level: 0.04 },
  { frequencyHz: 236, q: 50, level: 0.06 },
  { frequencyHz: 318, q: 70, level: 0.03 },
];

interface Room {
  readonly t60S: number;
  readonly tail: number;
}

/** Three holds of three taps whose modes are shifted together by the given part in each hold. */
function roundOf(shifts: readonly number[], seed: number, room?: Room, options: FitOptions = {}) {
  const chance = randomFrom(seed);
  const everyS = 1.7;
  const holds = shifts.map((shift) => {
    const dry = new Float64Array(Math.round((0.6 + 3 * everyS) * rateHz));
    const held = modes.map((mode) => ({ ...mode, frequencyHz: mode.frequencyHz * (1 + shift) }));
    for (let tap = 0; tap < 3; tap++)
      addTap(
        dry,
        rateHz,
        held,
        {
          onsetS: 0.6 + tap * everyS,
          contactS: 0.003,
          strength: chance.between(0.8, 1.2),
          spot: [0.5, 0.5],
          rustle: 0.2,
        },
        chance,
      );
    const wet = room === undefined ? dry : reverberated(dry, rateHz, { modes: [], ...room }, chance);
    const noise = roomNoise(wet.length, rateHz, 0.0006, chance);
    const sound = quantised(wet.map((x, n) => x + noise[n]!));
    return splitTaps(sound, rateHz).flatMap((verdict) => (verdict.kind === 'accepted' ? [verdict.tap] : []));
  });
  return fitRound(holds, options);
}

const read = (fit: ReturnType<typeof fitRound>) => fit.modes.map((mode) => mode.frequencyHz);

describe('modes of a piece that is picked up anew', () => {
  test.each([0.0005, 0.001, 0.003])(
    'a common shift of %f between holds splits no mode, and the mean is inside the interval',
    (spread) => {
      const shifts = [-spread, 0, spread];
      const fit = roundOf(shifts, 21);
      expect(fit.modes.map((mode) => mode.resolution)).toEqual(modes.map(() => 'single'));
      read(fit).forEach(({ value, sigma }, m) => {
        expect(Math.abs(value - modes[m]!.frequencyHz)).toBeLessThan(HALF_WIDTH_95 * sigma);
        // Three holds spread by this much leave the mean uncertain by spread / sqrt(3), times 2.2 for t of few degrees, at most 3.
        expect(sigma).toBeLessThan(3 * spread * modes[m]!.frequencyHz);
        expect(sigma).toBeGreaterThan((0.3 * spread * modes[m]!.frequencyHz) / Math.sqrt(3));
      });
    },
  );

  test('a room that answers with a diffuse tail 34 dB under the ring adds no mode near a strong one', () => {
    const fit = roundOf([-0.0005, 0, 0.0005], 22, { t60S: 0.35, tail: 0.02 });
    const loudest = Math.max(...fit.modes.map((mode) => mode.levelDb));
    const strong = fit.modes.filter((mode) => mode.levelDb > loudest - 25);
    expect(strong.map((mode) => Math.round(mode.frequencyHz.value))).toEqual(modes.map((mode) => mode.frequencyHz));
  });

  test('with one hold the interval says that it lacks the scatter of holding', () => {
    expect(roundOf([0], 23).scatterKnown).toBe(false);
    expect(roundOf([0, 0.0005], 23).scatterKnown).toBe(true);
  });
});

describe('a hold that was not held as the others', () => {
  const shifted = [0, 0.03, 0.0005];

  test('is left out and named, and the others say what the piece rings at', () => {
    const fit = roundOf(shifted, 31);
    expect(fit.disagreement?.hold).toBe(1);
    expect(fit.disagreement?.apart).toBeCloseTo(0.03, 2);
    expect(fit.setAside.every(({ hold }) => hold === 1)).toBe(true);
    expect(fit.used.some(({ hold }) => hold === 1)).toBe(false);
    for (const mode of modes) {
      const told = fit.modes.find(({ frequencyHz: { value } }) => Math.abs(value / mode.frequencyHz - 1) < 0.002)!;
      expect(told.frequencyHz.sigma / told.frequencyHz.value).toBeLessThan(0.002);
    }
  });

  test('counts where the maker says so, and the interval then holds both', () => {
    const fit = roundOf(shifted, 31, undefined, { countsEveryHold: true });
    expect(fit.disagreement).toBeUndefined();
    expect(new Set(fit.used.map(({ hold }) => hold)).size).toBe(3);
    const widest = Math.max(...fit.modes.map(({ frequencyHz: { value, sigma } }) => sigma / value));
    expect(widest).toBeGreaterThan(0.005);
  });
});
