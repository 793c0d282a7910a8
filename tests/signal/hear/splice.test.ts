import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { loudestChannel, readWav } from '../../../src/files/wav.ts';
import { splitTaps, TapListener } from '../../../src/signal/hear/listener.ts';
import { breakOf } from '../../../src/signal/hear/splice.ts';
import { fitTap } from '../../../src/signal/round.ts';
import type { TapVerdict } from '../../../src/signal/tap.ts';
import { type Struck, soundOf, spliced } from '../../bench/struck.ts';
import { seeded } from '../../bench/tap-signals.ts';

const RATE = 44_100;
const CONTACT_S = 1.2;
const mode = (frequencyHz: number, q: number, level = 1) => ({ frequencyHz, q, level, phaseRad: frequencyHz });
const top: Struck = {
  sampleRateHz: RATE,
  modes: [mode(97, 40), mode(171, 55, 0.7), mode(234, 45, 0.5), mode(415, 60, 0.4)],
  contactS: 0.002,
  rustle: 0.05,
  colour: 'pink',
  overRoomDb: 40,
  offset: 0,
  rumble: 0,
  onsetsS: [CONTACT_S],
  durationS: 3.2,
};
const said = (verdicts: readonly TapVerdict[]) =>
  verdicts.map((verdict) => (verdict.kind === 'accepted' ? 'accepted' : verdict.refusal.because));

describe('a ring of which 10 ms are gone', () => {
  it('is refused as spliced with its time, in rooms of any colour, and is kept where nothing is gone', () => {
    for (const [i, colour] of (['white', 'pink', 'brown'] as const).entries()) {
      const whole = soundOf({ ...top, colour }, seeded(100 + i));
      expect([colour, said(splitTaps(whole, RATE))]).toEqual([colour, ['accepted']]);
      for (const afterS of [0.03, 0.06, 0.11, 0.17]) {
        const [verdict] = splitTaps(spliced(whole, RATE, CONTACT_S + afterS, 0.01, 0.5), RATE);
        expect([colour, afterS, verdict]).toMatchObject([
          colour,
          afterS,
          // the filter reaches 1.3 ms to each side, and the window that holds the worst error begins up to 4 ms early
          { kind: 'refused', refusal: { because: 'spliced', afterS: expect.closeTo(afterS, 2) } },
        ]);
      }
    }
  });

  it('is refused in real recordings too, where as much of the ring is left', () => {
    const folder = new URL('../../../reference-audio/', import.meta.url);
    const files = readdirSync(folder).filter((file) => /^(glockenspiel|marimba|steel).*\.wav$/.test(file));
    expect(files.length).toBe(6);
    for (const file of files) {
      const audio = readWav(readFileSync(new URL(file, folder)));
      if (audio.kind !== 'audio') throw new Error(file);
      const { sampleRateHz } = audio;
      const sound = loudestChannel(audio.channels);
      const took = spliced(sound, sampleRateHz, 0.07, 0.01, 9);
      expect([file, said(splitTaps(sound, sampleRateHz))]).toEqual([file, ['accepted']]);
      expect([file, said(splitTaps(took, sampleRateHz)).includes('accepted')]).toEqual([file, false]);
    }
  });

  it('is told from a second touch, which is refused as one', () => {
    for (const gapS of [0.07, 0.14, 0.22]) {
      const sound = soundOf({ ...top, onsetsS: [CONTACT_S, CONTACT_S + gapS] }, seeded(7));
      expect([gapS, said(splitTaps(sound, RATE))]).toEqual([gapS, ['struck-twice']]);
    }
  });

  it('is told from a ring that a hand stops', () => {
    for (const [i, withinS] of [0.006, 0.015, 0.04].entries()) {
      const hand = { atS: CONTACT_S + 0.1, withinS, q: 5 };
      const verdicts = said(splitTaps(soundOf({ ...top, hand }, seeded(20 + i)), RATE));
      expect([withinS, verdicts.includes('spliced')]).toEqual([withinS, false]);
    }
  });

  it('is not looked for where the ring is lost in the room', () => {
    const whole = soundOf(top, seeded(3));
    expect(said(splitTaps(spliced(whole, RATE, CONTACT_S + 0.6, 0.01, 9), RATE))).toEqual(['accepted']);
  });
});

describe('a ring that breaks half a second and more after the contact', () => {
  const ringing = (times: number): Struck => ({
    ...top,
    modes: top.modes.map((one) => ({ ...one, q: times * one.q })),
  });
  const touched = (times: number, ...afterS: readonly number[]): Struck => ({
    ...ringing(times),
    onsetsS: [CONTACT_S, ...afterS.map((s) => CONTACT_S + s)],
    strengths: [1, ...afterS.map(() => 0.2)],
  });
  const lengthS = (verdict: TapVerdict | undefined): number =>
    verdict === undefined ? Number.NaN : (verdict.tap.samples.length - verdict.tap.onsetIndex) / RATE;

  it('ends there, and what rang before is a tap', () => {
    for (const [i, afterS] of [0.45, 0.55].entries()) {
      const put = soundOf(touched(2, afterS), seeded(30 + i));
      const lost = spliced(soundOf(ringing(2), seeded(40 + i)), RATE, CONTACT_S + afterS, 0.013, 9);
      for (const sound of [put, lost]) {
        const verdicts = splitTaps(sound, RATE);
        expect([afterS, said(verdicts)[0]]).toEqual([afterS, 'accepted']);
        // the window that holds the worst error begins up to 4 ms early, the filter reaches 1.3 ms
        expect(lengthS(verdicts[0])).toBeGreaterThan(afterS - 0.008);
        expect(lengthS(verdicts[0])).toBeLessThan(afterS + 0.001);
      }
    }
  });

  it('is refused where too little of its decay was heard by then, with the reason of the break', () => {
    const lost = spliced(soundOf(ringing(10), seeded(51)), RATE, CONTACT_S + 0.45, 0.013, 9);
    expect(splitTaps(lost, RATE)).toMatchObject([
      { kind: 'refused', refusal: { because: 'spliced', afterS: expect.closeTo(0.45, 2) } },
    ]);
  });

  it('is still refused for a touch in its first instants', () => {
    for (const [i, afterS] of [0.06, 0.12, 0.25].entries()) {
      const twice = { ...touched(2, afterS, 0.55), strengths: [1, 0.6, 0.6] };
      const [verdict] = splitTaps(soundOf(twice, seeded(60 + i)), RATE);
      expect([afterS, verdict]).toMatchObject([
        afterS,
        { kind: 'refused', refusal: { afterS: expect.closeTo(afterS, 2) } },
      ]);
    }
  });
});

it('samples that the audio clock shows are lost make the take they are lost from a drop-out, and no other', () => {
  const sound = soundOf({ ...top, onsetsS: [1.2, 3], durationS: 5 }, seeded(4));
  const listener = new TapListener(RATE);
  const verdicts: TapVerdict[] = [];
  for (let at = 0; at < sound.length; at += 2048) {
    const isRinging = at / RATE > 1.25 && at / RATE < 1.3;
    verdicts.push(...listener.push(sound.subarray(at, at + 2048), isRinging ? 441 : 0));
  }
  expect(said([...verdicts, ...listener.flush()])).toEqual(['drop-out', 'accepted']);
});

it('a ring without any noise, and one too short to foretell, has no break', () => {
  const ring = Float32Array.from({ length: RATE }, (_, n) => Math.exp(-n / 4000) * Math.sin(n / 30));
  expect(breakOf(ring, RATE, 0)).toBeUndefined();
  // the last of it is rounding, and then nothing
  const rounded = Float32Array.from({ length: 2 * RATE }, (_, n) => Math.round(32_768 * (ring[n] ?? 0)) / 32_768);
  expect(breakOf(rounded, RATE, 0)).toBeUndefined();
  expect(breakOf(ring.subarray(0, 900), RATE, 0)).toBeUndefined();
  expect(breakOf(new Float32Array(RATE), RATE, 0)).toBeUndefined();
});

describe('a hand laid on a ring late', () => {
  // 12 and 21 dB a second: by half a second 8 dB or more have gone
  const slow: Struck = { ...top, overRoomDb: 35, rustle: 0, modes: [mode(110, 145), mode(190, 160, 0.6)] };
  const laid = (atS: number, withinS: number, seed: number) =>
    splitTaps(soundOf({ ...slow, hand: { atS: CONTACT_S + atS, withinS, q: 6 } }, seeded(seed)), RATE);

  it('ends the tap before it, and the ring until then is read as it is', () => {
    for (const [i, withinS] of [0.01, 0.03, 0.05].entries())
      for (const atS of [0.75, 0.95]) {
        const [verdict] = laid(atS, withinS, 60 + i);
        expect([withinS, atS, verdict?.kind]).toEqual([withinS, atS, 'accepted']);
        if (verdict?.kind !== 'accepted') continue;
        const { samples, onsetIndex, sampleRateHz } = verdict.tap;
        const endS = (samples.length - onsetIndex) / sampleRateHz;
        expect(endS).toBeLessThan(atS + 0.005);
        expect(endS).toBeGreaterThan(atS - 0.12);
        const { modes } = fitTap(verdict.tap);
        for (const { frequencyHz, q } of slow.modes) {
          const told = modes.find((one) => Math.abs(one.frequencyHz.value - frequencyHz) < 0.3);
          expect(Math.abs(told!.q.value - q)).toBeLessThan(3 * told!.q.sigma);
        }
      }
  });

  it('leaves no tap where it comes early, and is called what it is', () => {
    expect(said(laid(0.2, 0.02, 70))).not.toContain('accepted');
    expect(said(laid(0.45, 0.02, 71))).toEqual(['decay-cut-short']);
  });

  it('is no excuse for a level that was held up until it fell', () => {
    // a hum of a voice: swells over 30 ms, stays, and drops at once
    const random = seeded(72);
    const held = Float32Array.from({ length: 3 * RATE }, (_, n) => {
      const t = n / RATE - CONTACT_S;
      const size =
        t < 0 ? 0 : t < 0.6 ? Math.min(1, t / 0.004) * 10 ** ((-4 * t) / 20) : Math.exp(-(t - 0.6) / 0.02) * 0.76;
      return 0.1 * size * Math.sin(2 * Math.PI * 140 * t) + 1e-4 * (random() - 0.5);
    });
    expect(said(splitTaps(held, RATE))).not.toContain('accepted');
  });
});
