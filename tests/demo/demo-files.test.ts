// The files in reference-audio/demo are what the generator makes, and what the estimator reads from them is the truth.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { centsBetween } from '../../src/compare/match.ts';
import { demoRounds } from '../../src/demo/demo-record.ts';
import { demoRateHz, demoSound } from '../../src/demo/demo-sound.ts';
import type { DemoRound } from '../../src/demo/demo-steps.ts';
import { demoHolds } from '../../src/demo/demo-taps.ts';
import { ringTruth } from '../../src/demo/tap-synth.ts';
import { fitRound } from '../../src/signal/round.ts';
import type { RoundFit } from '../../src/signal/tap.ts';
import { writeWav16 } from '../../src/signal/wav-write.ts';

const folder = path.resolve(import.meta.dirname, '../../reference-audio/demo');
const file = (name: string) => readFileSync(path.join(folder, name));
const fits = JSON.parse(file('fits.json').toString()) as Record<string, RoundFit>;

/** Modes whose ring is within 30 dB of the strongest once the finger has left; a finger pad hardly excites the high ones. */
function strongModes(round: DemoRound): readonly { readonly frequencyHz: number }[] {
  const rings = ringTruth(round.modes, { onsetS: 0, contactS: 0.003, strength: 1, spot: [0.5, 0.5], rustle: 0 });
  const strongest = Math.max(...rings.map((ring) => ring.amplitude));
  return rings.filter((ring) => ring.amplitude > strongest * 10 ** (-30 / 20));
}

describe('the files of the demo', () => {
  test.each([demoRounds[0]!, demoRounds.at(-1)!].map((round) => [round.file, round] as const))(
    '%s is made again byte for byte',
    (name, round) => {
      const made = writeWav16([demoSound(round).samples], demoRateHz);
      expect(Buffer.from(made).equals(file(`${name}.wav`))).toBe(true);
    },
  );

  test.each(demoRounds.map((round) => [round.file, round] as const))('every tap of %s is heard', (_name, round) => {
    const { samples, taps } = demoSound(round);
    expect(demoHolds(samples, demoRateHz, { taps }).map((hold) => hold.length)).toEqual(
      Array.from({ length: round.holds }, () => round.tapsPerHold),
    );
  });

  test('the stored modes are what the estimator reads today', () => {
    const round = demoRounds[3]!;
    const { samples, taps } = demoSound(round);
    const fit = fitRound(demoHolds(samples, demoRateHz, { taps }).map((hold) => hold.map(({ tap }) => tap)));
    expect(JSON.parse(JSON.stringify(fit))).toEqual(fits[round.file]);
  });

  test.each(demoRounds.filter((round) => !round.setAside).map((round) => [round.file, round] as const))(
    'the modes read from %s are the truth: strong ones within 0.2 %%, and no mode beside them',
    (name, round) => {
      const { modes } = fits[name]!;
      const strong = strongModes(round);
      for (const truth of strong) {
        const nearest = Math.min(...modes.map((mode) => Math.abs(mode.frequencyHz.value / truth.frequencyHz - 1)));
        expect({ truth: truth.frequencyHz, within: nearest < 0.002 }).toEqual({
          truth: truth.frequencyHz,
          within: true,
        });
      }
      const strangers = modes.filter(
        (mode) => !round.modes.some((truth) => Math.abs(centsBetween(truth.frequencyHz, mode.frequencyHz.value)) < 10),
      );
      expect(strangers.map((mode) => mode.frequencyHz.value)).toEqual([]);
    },
  );
});
