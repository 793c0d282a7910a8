// The files in reference-audio/demo are what the generator makes, and what the estimator reads from them is the truth.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { centsBetween } from '../../src/compare/match.ts';
import { demoRounds } from '../../src/demo/demo-record.ts';
import { demoRateHz, demoSound } from '../../src/demo/demo-sound.ts';
import type { DemoRound } from '../../src/demo/demo-steps.ts';
import { type HeardRound, hearTaps, holdsOf, type TapTimes } from '../../src/demo/demo-taps.ts';
import { ringTruth } from '../../src/demo/tap-synth.ts';
import { readWav } from '../../src/files/wav.ts';
import { writeWav16 } from '../../src/files/wav-write.ts';
import { recorderFault } from '../../src/signal/prepare/recorder.ts';
import { fitRound, METHOD } from '../../src/signal/round.ts';

const folder = path.resolve(import.meta.dirname, '../../reference-audio/demo');
const file = (name: string) => readFileSync(path.join(folder, name));
const heard = JSON.parse(file('heard.json').toString()) as Record<string, HeardRound>;

function samplesOf(round: DemoRound): Float32Array {
  const audio = readWav(file(`${round.file}.wav`));
  const samples = audio.kind === 'audio' ? audio.channels[0] : undefined;
  if (samples === undefined) throw new Error(`${round.file}.wav cannot be read`);
  return samples;
}
const timesOf = (round: DemoRound) => JSON.parse(file(`${round.file}.truth.json`).toString()) as TapTimes;

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

  test.each(demoRounds.map((round) => [round.file, round] as const))(
    'every tap of %s is heard, where it is stored',
    (name, round) => {
      const cuts = hearTaps(samplesOf(round), demoRateHz, timesOf(round));
      const holds = holdsOf(samplesOf(round), demoRateHz, cuts);
      expect(holds.map((hold) => hold.length)).toEqual(Array.from({ length: round.holds }, () => round.tapsPerHold));
      expect(cuts).toEqual(heard[name]?.taps);
      expect(heard[name]?.fit.method).toBe(METHOD);
    },
  );

  test('no recorder is accused', () => {
    const accused = demoRounds.filter(
      (round) => recorderFault(holdsOf(samplesOf(round), demoRateHz, heard[round.file]!.taps).flat()) !== undefined,
    );
    expect(accused.map((round) => round.file)).toEqual([]);
  });

  test('the stored modes are what the estimator reads today', () => {
    const round = demoRounds[3]!;
    const { taps, fit } = heard[round.file]!;
    const read = fitRound(holdsOf(samplesOf(round), demoRateHz, taps));
    expect(JSON.parse(JSON.stringify(read))).toEqual(fit);
  });

  test.each(demoRounds.filter((round) => !round.setAside).map((round) => [round.file, round] as const))(
    'the modes read from %s are the truth: strong ones within 0.2 %%, and no mode beside them',
    (name, round) => {
      const { modes } = heard[name]!.fit;
      const strong = strongModes(round);
      for (const truth of strong) {
        const nearest = Math.min(...modes.map((mode) => Math.abs(mode.frequencyHz.value / truth.frequencyHz - 1)));
        expect({ truth: truth.frequencyHz, within: nearest < 0.002 }).toEqual({
          truth: truth.frequencyHz,
          within: true,
        });
      }
      const spurious = modes.filter(
        (mode) => !round.modes.some((truth) => Math.abs(centsBetween(truth.frequencyHz, mode.frequencyHz.value)) < 10),
      );
      expect(spurious.map((mode) => mode.frequencyHz.value)).toEqual([]);
    },
  );
});
