import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { demoInstrument, demoSteps } from '../../src/demo/demo-instrument.ts';
import { DEMO_RATE_HZ, demoRecording } from '../../src/demo/demo-recording.ts';
import { splitTaps } from '../../src/signal/listener.ts';
import { readWav } from '../../src/signal/wav.ts';

const nameOf = (i: number) => `${String(i + 1).padStart(2, '0')}-${demoSteps[i]!.slug}`;
const fileOf = (name: string) => readFileSync(new URL(`../../reference-audio/demo/${name}`, import.meta.url));

function recordingOf(i: number): Float32Array {
  const audio = readWav(fileOf(`${nameOf(i)}.wav`));
  if (audio.kind !== 'audio') throw new Error(`${nameOf(i)}: ${audio.because}`);
  return audio.channels[0]!;
}

describe('the demo recordings', () => {
  it('are made again sample for sample from their seeds', () => {
    for (const i of [2, 6]) {
      const { samples, truth } = demoRecording(demoSteps[i]!, i + 1);
      const kept = recordingOf(i);
      expect([kept.length, kept.every((x, n) => x === samples[n])]).toEqual([samples.length, true]);
      expect(JSON.parse(fileOf(`${nameOf(i)}.truth.json`).toString())).toEqual({ file: `${nameOf(i)}.wav`, ...truth });
    }
  });

  it('give every sound tap to the listener, its onset to the sample, and stay small', () => {
    let bytes = 0;
    for (const [i, step] of demoSteps.entries()) {
      bytes += fileOf(`${nameOf(i)}.wav`).length;
      const truth = JSON.parse(fileOf(`${nameOf(i)}.truth.json`).toString());
      const accepted = splitTaps(recordingOf(i), DEMO_RATE_HZ).filter((verdict) => verdict.kind === 'accepted');
      if (step.fault === undefined) expect([step.slug, accepted.length]).toEqual([step.slug, truth.taps.length]);
      for (const { timeS } of accepted) {
        const misses = truth.taps.map((tap: { onsetS: number }) => Math.abs(tap.onsetS - timeS) * DEMO_RATE_HZ);
        expect(Math.min(...misses)).toBeLessThanOrEqual(1.5);
      }
    }
    expect(bytes).toBeLessThan(5e6);
  });
});

describe('the demo day', () => {
  it('takes off the grams its shavings say, but for the water of the afternoon', () => {
    for (const [i, step] of demoSteps.entries()) {
      const before = demoSteps[i - 1];
      if (before === undefined || before.stage !== step.stage || step.slug === 'after-the-rain') continue;
      const off = step.shavings.reduce((sum, shaving) => sum + (shaving.massOffG ?? 0), 0);
      expect([step.slug, before.massG - step.massG]).toEqual([step.slug, expect.closeTo(off, 6)]);
    }
  });

  it('ends inside its target, above its floor, in order of time', () => {
    const target = demoInstrument.targets[0]!;
    const last = demoSteps.at(-1)!;
    expect(Math.abs(last.modes[0]!.frequencyHz - target.frequencyHz)).toBeLessThanOrEqual(target.toleranceHz);
    expect(last.shavings[0]!.heightLeftMm).toBeGreaterThan(demoInstrument.floors[0]!.heightMm);
    const times = demoSteps.map((step) => Date.parse(step.atIso));
    expect(times).toEqual(times.toSorted((a, b) => a - b));
  });
});
