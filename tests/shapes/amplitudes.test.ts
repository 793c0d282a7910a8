import { describe, expect, it } from 'vitest';
import { randomFrom } from '../../src/demo/random.ts';
import { addTap, type PieceMode, ringTruth, type Spot, shapeAt } from '../../src/demo/tap-synth.ts';
import { amplitudesAt } from '../../src/shapes/amplitudes.ts';
import { once } from '../once.ts';

const RATE_HZ = 44100;
const ONSET = 22050;
const MODES: readonly PieceMode[] = [
  { frequencyHz: 92, q: 45, level: 0.1, halfWaves: [1, 1] },
  { frequencyHz: 171, q: 55, level: 0.12, halfWaves: [2, 1] },
  { frequencyHz: 263, q: 60, level: 0.1, halfWaves: [1, 2] },
];
const POLES = MODES.map(({ frequencyHz, q }) => ({ frequencyHz, decayPerS: (Math.PI * frequencyHz) / q }));
const SPOTS: readonly Spot[] = [
  [0.3, 0.3],
  [0.7, 0.3],
  [0.3, 0.7],
  [0.7, 0.7],
];
const strikeAt = (spot: Spot) => ({ onsetS: ONSET / RATE_HZ, contactS: 0.003, strength: 1, spot, rustle: 0 });

function tapAt(spot: Spot, noise: number, seed: number) {
  const chance = randomFrom(seed);
  const sound = new Float64Array(ONSET + RATE_HZ);
  addTap(sound, RATE_HZ, MODES, strikeAt(spot), chance);
  return {
    samples: Float32Array.from(sound, (x) => x + noise * chance.normal()),
    sampleRateHz: RATE_HZ,
    onsetIndex: ONSET,
  };
}

describe('amplitudesAt', () => {
  const quiet = once(() =>
    amplitudesAt(
      SPOTS.map((spot, i) => tapAt(spot, 0, i)),
      POLES,
    ),
  );

  it('gives the amplitudes that the synthesis put in, extrapolated to the contact, within a per mille', () => {
    SPOTS.forEach((spot, i) => {
      ringTruth(MODES, strikeAt(spot)).forEach(({ amplitude }, k) => {
        const { cosine, sine } = quiet()[i]!.waves[k]!;
        expect(Math.hypot(cosine, sine) / amplitude).toBeCloseTo(1, 3);
      });
    });
  });

  it('turns the sign where a mode turns it', () => {
    const [first] = quiet();
    MODES.forEach((mode, k) => {
      SPOTS.forEach((spot, i) => {
        const [was, is] = [first!.waves[k]!, quiet()[i]!.waves[k]!];
        const along = was.cosine * is.cosine + was.sine * is.sine;
        expect(Math.sign(along)).toBe(Math.sign(shapeAt(mode, SPOTS[0]!) * shapeAt(mode, spot)));
      });
    });
  });

  it('tells its spread: 95 % intervals of 240 figures in noise hold', () => {
    const truth = quiet()[0]!;
    let held = 0;
    const heard = amplitudesAt(
      Array.from({ length: 40 }, (_, i) => tapAt(SPOTS[0]!, 0.02, 100 + i)),
      POLES,
    );
    for (const { waves, covariance } of heard)
      waves.forEach(({ cosine, sine }, k) => {
        if (Math.abs(cosine - truth.waves[k]!.cosine) < 1.96 * Math.sqrt(covariance[2 * k]![2 * k]!)) held++;
        if (Math.abs(sine - truth.waves[k]!.sine) < 1.96 * Math.sqrt(covariance[2 * k + 1]![2 * k + 1]!)) held++;
      });
    // Eight figures of noise a mode: a t distribution's 95 % is 91 to 93 % of these; 240 draws scatter by 1.8 %.
    expect(held / 240).toBeGreaterThan(0.87);
    expect(held / 240).toBeLessThan(0.985);
  });

  it('refuses a tap that is too short', () => {
    const tap = tapAt(SPOTS[0]!, 0, 1);
    expect(() => amplitudesAt([{ ...tap, samples: tap.samples.subarray(0, ONSET + 300) }], POLES)).toThrow(
      /amplitudesAt: .* samples of ring/,
    );
  });
});
