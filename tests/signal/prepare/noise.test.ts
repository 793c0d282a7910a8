// What rings on from the tap before is no room noise: whoever takes it for noise whitens the low modes away.
import { describe, expect, test } from 'vitest';
import { decimate, decimator } from '../../../src/signal/filter/decimate.ts';
import { powerGain } from '../../../src/signal/filter/whiten.ts';
import { noiseBefore } from '../../../src/signal/prepare/noise.ts';
import { fitRound } from '../../../src/signal/round.ts';
import type { Tap } from '../../../src/signal/tap.ts';
import { colouredNoise, NOISE_COLOURS, normal, ring, seeded } from '../../bench/tap-signals.ts';

const rateHz = 16_000;
const piece = [
  [47, 45],
  [70, 126],
  [98, 60],
  [131, 80],
  [165, 70],
  [204, 90],
  [251, 110],
  [312, 100],
  [384, 125],
].map(([frequencyHz, q], i) => ({ frequencyHz: frequencyHz!, q: q!, levelDb: -2 * (i % 4) }));

/** Five taps so far apart, each cut with half a second of what was heard before it. */
function taps(gapS: number, snrDb: number, seed: number): readonly Tap[] {
  const random = seeded(seed);
  const onsets = Array.from({ length: 5 }, (_, k) => Math.round((0.6 + gapS * k) * rateHz));
  const frames = onsets.at(-1)! + 2 * rateHz;
  const perHz = 0.5 / 10 ** (snrDb / 10) / 1500;
  const sound = colouredNoise(frames, rateHz, () => perHz, random);
  for (const onset of onsets)
    for (const mode of piece)
      ring(sound, onset, rateHz, mode, 10 ** ((mode.levelDb + 2 * normal(random)) / 20), -Math.PI / 2);
  return onsets.map((onset) => ({
    samples: Float32Array.from(
      sound.subarray(onset - rateHz / 2, onset + Math.round(Math.min(1.6, gapS - 0.2) * rateHz)),
      (x) => 0.05 * x,
    ),
    sampleRateHz: rateHz,
    onsetIndex: rateHz / 2,
  }));
}

describe('the noise where the tap before still rings', () => {
  test.each([
    [2, 60, 1],
    [2, 75, 2],
    [2, 75, 3],
    [3, 75, 4],
  ])('%d s apart, %d dB over the noise: no mode is lost to it', (gapS, snrDb, seed) => {
    const { modes } = fitRound([taps(gapS, snrDb, seed)]);
    for (const { frequencyHz, q } of piece) {
      const nearest = Math.min(...modes.map((mode) => Math.abs(mode.frequencyHz.value - frequencyHz)));
      expect(nearest, `${frequencyHz} Hz`).toBeLessThan((0.1 * frequencyHz) / q);
    }
    expect(modes).toHaveLength(piece.length);
  });
});

describe('the noise of a room in which nothing rings', () => {
  test.each(['white', 'pink', 'room'] as const)('%s: its colour and its level are those it was made with', (name) => {
    const random = seeded(11);
    const filter = decimator(rateHz, 1200);
    const perHz = (hz: number) => 1e-9 * (NOISE_COLOURS[name](hz) / NOISE_COLOURS[name](200));
    const series = Array.from({ length: 8 }, () => {
      const sound = colouredNoise(2 * rateHz, rateHz, perHz, random);
      // What follows the onset is louder, as a tap is.
      for (let n = rateHz / 2; n < sound.length; n++) sound[n]! *= 3;
      return decimate(Float32Array.from(sound), rateHz / 2, filter);
    });
    const { whitener, levels, heard } = noiseBefore(series, filter);
    expect(heard).toBe(true);
    const gain = powerGain(whitener, series[0]!.sampleRateHz);
    const level = Math.exp(levels.reduce((sum, one) => sum + Math.log(one), 0) / levels.length);
    for (const hz of [60, 100, 200, 400, 800, 1100]) {
      // One-sided density of white noise of unit variance is 2 over the rate; a model of order 12 follows to 1.5 dB.
      const told = (level ** 2 / gain(hz)) * (2 / series[0]!.sampleRateHz);
      expect(Math.abs(10 * Math.log10(told / perHz(hz))), `${hz} Hz`).toBeLessThan(2);
    }
  });
});

describe('taps so fast that the tap before rings on', () => {
  /** Twelve modes, 70 dB over the noise: the rounds of the threshold's source had other seeds. */
  function fastTaps(gapS: number, seed: number, withFirst: boolean): readonly Tap[] {
    const random = seeded(seed);
    const modes = Array.from({ length: 12 }, (_, i) => ({
      frequencyHz: 60 * 1.18 ** i * (1 + 0.06 * random()),
      q: 20 + 60 * random(),
      levelDb: -25 * random(),
    }));
    const onsets = Array.from({ length: 5 }, (_, k) => Math.round((0.7 + gapS * k) * rateHz));
    const sound = colouredNoise(onsets.at(-1)! + 2 * rateHz, rateHz, () => 0.5 / 10 ** 7 / 1500, random);
    for (const onset of onsets)
      for (const mode of modes) ring(sound, onset, rateHz, mode, 10 ** (mode.levelDb / 20), -Math.PI / 2);
    const before = Math.round(Math.min(0.5, gapS / 2) * rateHz);
    return onsets.slice(withFirst ? 0 : 1).map((onset) => ({
      samples: Float32Array.from(
        sound.subarray(onset - before, onset + Math.round(Math.min(1.6, gapS - 0.1) * rateHz)),
        (x) => 0.05 * x,
      ),
      sampleRateHz: rateHz,
      onsetIndex: before,
    }));
  }

  test.each([501, 502, 503])('the round says that nothing was heard of the room (%d)', (seed) => {
    expect(fitRound([fastTaps(0.8, seed, false)]).isRungOver).toBe(true);
  });

  test.each([511, 512, 513])('one quiet stretch, or three seconds more, and nothing is said (%d)', (seed) => {
    expect(fitRound([fastTaps(0.8, seed, true)]).isRungOver).toBeUndefined();
    expect(fitRound([fastTaps(3.8, seed, false)]).isRungOver).toBeUndefined();
  });
});
