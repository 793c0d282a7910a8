import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { OTHER_SOUNDS, otherSound } from '../../../src/demo/other-sounds.ts';
import { randomFrom } from '../../../src/demo/random.ts';
import { addHum, roomNoise } from '../../../src/demo/room.ts';
import { quantised } from '../../../src/demo/tap-synth.ts';
import { loudestChannel, readWav } from '../../../src/files/wav.ts';
import { splitTaps, TapListener } from '../../../src/signal/hear/listener.ts';
import type { TapVerdict } from '../../../src/signal/tap.ts';
import { PIECES } from '../../bench/listener-sounds.ts';
import { soundOf } from '../../bench/struck.ts';
import { seeded } from '../../bench/tap-signals.ts';
import { made, RATE, said } from './made-sounds.ts';

describe('a tap', () => {
  it('is accepted at any rate from 8 to 192 kHz, with half a second of room before it and its onset to the sample', () => {
    for (const sampleRateHz of [8000, 22_050, 44_100, 48_000, 96_000, 192_000]) {
      const [verdict, ...others] = splitTaps(made({ sampleRateHz }), sampleRateHz);
      expect([verdict?.kind, others.length]).toEqual(['accepted', 0]);
      const { tap, timeS } = verdict!;
      expect(Math.abs(timeS - 1) * sampleRateHz).toBeLessThanOrEqual(2);
      expect(tap.onsetIndex / sampleRateHz).toBeCloseTo(0.5, 3);
      expect((tap.samples.length - tap.onsetIndex) / sampleRateHz).toBeGreaterThan(0.95);
    }
  });

  it('is cut out of the recording unchanged', () => {
    const sound = made();
    const { tap, timeS } = splitTaps(sound, RATE)[0]!;
    const first = Math.round(timeS * RATE) - tap.onsetIndex;
    expect([...tap.samples]).toEqual([...sound.subarray(first, first + tap.samples.length)]);
  });

  it('is accepted from every piece at 20 dB over the room, close pairs and heavy damping too', () => {
    for (const piece of Object.values(PIECES))
      expect(said(splitTaps(made({ piece, snrDb: 20 }), RATE))).toEqual(['accepted']);
  });

  it('is accepted from a piece of one or two modes in a hiss, struck softly and without a rustle', () => {
    const [colour, contactS] = ['white', 0.001] as const;
    const room = { colour, contactS, rustle: 0, offset: 0, rumble: 0, onsetsS: [1.2], durationS: 3.2 } as const;
    const mode = (frequencyHz: number, q: number) => ({ frequencyHz, q, level: 1, phaseRad: 1 });
    for (const [i, modes] of [
      [mode(400, 12)],
      [mode(84, 28)],
      [mode(130, 15)],
      [mode(350, 56), mode(245, 14)],
      [mode(635, 350), mode(244, 14)],
    ].entries()) {
      for (const overRoomDb of [20, 30]) {
        const sound = soundOf({ ...room, sampleRateHz: 44_100, modes, overRoomDb }, seeded(10 + i));
        expect([i, overRoomDb, said(splitTaps(sound, 44_100))]).toEqual([i, overRoomDb, ['accepted']]);
      }
    }
  });

  it('is accepted from a slow piece whose ring outlasts the take', () => {
    const modes = [{ frequencyHz: 82, q: 385, level: 1, phaseRad: 0 }];
    const slow = {
      modes,
      contactS: 0.001,
      rustle: 0.01,
      colour: 'pink',
      overRoomDb: 40,
      offset: 0,
      rumble: 0,
    } as const;
    const sound = soundOf({ ...slow, sampleRateHz: RATE, onsetsS: [1.2], durationS: 3.2 }, seeded(3));
    expect(said(splitTaps(sound, RATE))).toEqual(['accepted']);
  });

  it('is accepted over mains hum as loud as its own weaker modes', () => {
    expect(said(splitTaps(made({ humLevel: 0.02 }), RATE))).toEqual(['accepted']);
  });

  it('is accepted in a file cut at its first sample, with no room before it', () => {
    const [verdict, ...others] = splitTaps(made().subarray(RATE), RATE);
    expect([verdict?.kind, others.length, verdict!.tap.onsetIndex < 3]).toEqual(['accepted', 0, true]);
  });

  it('is accepted again while the tap before still rings, and that ring is not given out as room', () => {
    const piece = PIECES['board']!;
    const verdicts = splitTaps(
      made({
        piece,
        taps: [
          [1, 1],
          [1.5, 1],
        ],
        durationS: 3.5,
        snrDb: 50,
      }),
      RATE,
    );
    expect(said(verdicts)).toEqual(['accepted', 'accepted']);
    expect(verdicts[0]!.tap.samples.length - verdicts[0]!.tap.onsetIndex).toBeLessThan(0.5 * RATE);
    expect(verdicts[1]!.tap.onsetIndex).toBeLessThan(0.03 * RATE);
  });
});

describe('a bump of the room before a tap', () => {
  /** A dull thump of 70 Hz that is gone after some hundredths of a second. */
  const bumped = (gapS: number, size: number) => {
    const sound = made({ snrDb: 50 });
    const from = Math.round((1 - gapS) * RATE);
    for (let n = from; n < from + 0.05 * RATE; n++) {
      const t = (n - from) / RATE;
      sound[n]! += size * Math.exp(-t / 0.008) * Math.sin(2 * Math.PI * 70 * t);
    }
    return sound;
  };

  it.each([0.006, 0.015, 0.024, 0.03, 0.06, 0.15])('%f s sooner does not take the place of the strike', (gapS) => {
    // 0.2 is the tap's own size: thumps 36 and 26 dB below it, both far over the room
    for (const size of [0.003, 0.01]) {
      const taps = splitTaps(bumped(gapS, size), RATE).filter(({ kind }) => kind === 'accepted');
      expect([gapS, size, taps.length]).toEqual([gapS, size, 1]);
      expect(Math.abs(taps[0]!.timeS - 1)).toBeLessThan(0.0005);
    }
  });
});

describe('the verdicts', () => {
  it('are the same whatever the length of the blocks', () => {
    const sound = made({
      taps: [
        [0.7, 1],
        [1.5, 0.5],
        [1.6, 0.5],
      ],
      durationS: 3,
    });
    const whole = splitTaps(sound, RATE);
    expect(said(whole)).toEqual(['accepted', 'struck-twice']);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 9000 }), { minLength: 1, maxLength: 6 }), (lengths) => {
        const listener = new TapListener(RATE);
        const verdicts: TapVerdict[] = [];
        for (let at = 0, i = 0; at < sound.length; i++) {
          const length = lengths[i % lengths.length]!;
          verdicts.push(...listener.push(sound.subarray(at, at + length)));
          at += length;
        }
        expect([...verdicts, ...listener.flush()]).toEqual(whole);
      }),
      { seed: 4, numRuns: 12 },
    );
  });

  it('move with the sound when silence is put before it, and change in nothing else', () => {
    const sound = made();
    const later = new Float32Array(sound.length + RATE);
    later.set(sound, RATE);
    const [verdict] = splitTaps(sound, RATE);
    const [moved] = splitTaps(later, RATE);
    expect([moved?.kind, splitTaps(later, RATE).length]).toEqual(['accepted', 1]);
    expect(moved!.timeS - verdict!.timeS).toBeCloseTo(1, 9);
  });
});

describe('a mains hum far louder than the taps', () => {
  /** Hum of four lines about 20 dB over the strongest mode, its frequency going as (line + driftHzPerS t), its size by time. */
  const over = (sound: Float32Array, lineHz: number, driftHzPerS = 0, sizeAt: (timeS: number) => number = () => 1) => {
    const hummed = Float64Array.from(sound, (x, n) => {
      const t = n / RATE;
      const phase = 2 * Math.PI * (lineHz * t + (driftHzPerS * t * t) / 2);
      const hum = [1, 0.5, 0.25, 0.12].reduce((sum, level, k) => sum + level * Math.sin((k + 1) * phase + k), 0);
      return 0.3 * (0.5 * x + sizeAt(t) * hum);
    });
    return quantised(hummed, 24);
  };
  const taps = [0.9, 2.6, 3.4] as const;
  const tapped = made({ taps: taps.map((at) => [at, 1] as const), durationS: 5 });

  it('of either grid keeps none of them from being accepted, to the sample and unchanged', () => {
    for (const lineHz of [49.96, 50.03, 59.98, 60.04]) {
      const sound = over(tapped, lineHz);
      const verdicts = splitTaps(sound, RATE);
      expect([lineHz, said(verdicts)]).toEqual([lineHz, taps.map(() => 'accepted')]);
      for (const [i, { timeS, tap }] of verdicts.entries()) {
        expect(Math.abs(timeS - taps[i]!) * RATE).toBeLessThanOrEqual(3);
        const first = Math.round(timeS * RATE) - tap.onsetIndex;
        expect(tap.samples).toEqual(sound.slice(first, first + tap.samples.length));
      }
    }
  });

  it('that does not keep its frequency leaves no tap without an answer', () => {
    const apart = [0.9, 2.7, 4.5] as const;
    const sound = made({ taps: apart.map((at) => [at, 1] as const), durationS: 6.2 });
    // 2 mHz a second is faster than a grid moves on an ordinary day (from memory)
    const verdicts = splitTaps(over(sound, 50, 0.002), RATE);
    expect(verdicts.length).toBe(apart.length);
    for (const answer of said(verdicts)) expect(['accepted', 'too-quiet']).toContain(answer);
    for (const [i, at] of apart.entries()) expect(Math.abs(verdicts[i]!.timeS - at)).toBeLessThan(0.03);
  });

  it('is no tap when it jumps or ends, and the tap after that is heard', () => {
    const later = made({ taps: [[4.5, 1]], durationS: 6.5 });
    for (const size of [0, 0.6, 1.1, 1.4]) {
      const verdicts = splitTaps(
        over(later, 60, 0, (t) => (t < 2 ? 1 : size)),
        RATE,
      );
      const accepted = verdicts.filter(({ kind }) => kind === 'accepted').map(({ timeS }) => timeS.toFixed(1));
      expect([size, accepted]).toEqual([size, ['4.5']]);
    }
  });

  it('changes nothing in this: the same verdicts whatever the length of the blocks', () => {
    const sound = over(tapped, 50.03);
    const listener = new TapListener(RATE);
    const verdicts: TapVerdict[] = [];
    for (let at = 0; at < sound.length; at += 777) verdicts.push(...listener.push(sound.subarray(at, at + 777)));
    expect([...verdicts, ...listener.flush()]).toEqual(splitTaps(sound, RATE));
  });

  it('lets nothing in that is no tap', () => {
    for (const [i, kind] of OTHER_SOUNDS.entries()) {
      const sound = Float32Array.from(otherSound(kind, RATE, 4, randomFrom(71_000 + i)), (x) => 2 * x);
      expect([kind, said(splitTaps(over(sound, i % 2 === 0 ? 50 : 60), RATE)).includes('accepted')]).toEqual([
        kind,
        false,
      ]);
    }
  });

  it('is told with its level', () => {
    const listener = new TapListener(RATE);
    listener.push(made().subarray(0, 0.8 * RATE));
    expect(listener.level().humDb).toBeUndefined();
    listener.push(over(made({ taps: [], durationS: 3 }), 50));
    // mean square of amplitudes 0.3 times 1, 0.5, 0.25 and 0.12: 0.0597, that is -12.2 dB
    expect(listener.level().humDb).toBeCloseTo(-12.2, 1);
    expect(listener.level().roomDb).toBeLessThan(-50);
  });
});

describe('a refusal', () => {
  const first = (sound: Float32Array) => {
    const verdicts = splitTaps(sound, RATE);
    expect(verdicts.length).toBe(1);
    const verdict = verdicts[0]!;
    return verdict.kind === 'refused' ? verdict.refusal : { because: 'accepted' };
  };

  it('is given for a clipped tap', () => {
    const sound = made().map((x) => Math.max(-1, Math.min(1, 6 * x)));
    expect(first(sound).because).toBe('clipped');
  });

  it('is given for a tap too quiet for the room, with its level over it', () => {
    const refusal = first(made({ piece: PIECES['damped, Q 15']!, snrDb: 8, seed: 2 }));
    expect(refusal).toMatchObject({ because: 'too-quiet', aboveRoomDb: expect.closeTo(10, -1) });
  });

  it('is given for a second touch of the finger, with the time after the first', () => {
    for (const [piece, gapS] of [
      [PIECES['six modes']!, 0.06],
      [PIECES['one mode']!, 0.12],
      [PIECES['damped, Q 15']!, 0.25],
    ] as const) {
      const taps = [
        [1, 1],
        [1 + gapS, 0.6],
      ] as const;
      // the second is seen when it is 4 to 6 ms old, the first likewise
      expect(first(made({ piece, taps }))).toEqual({ because: 'struck-twice', afterS: expect.closeTo(gapS, 1.5) });
    }
  });

  it('is given for a decay that a gate or a hand cuts off, or the end of the file', () => {
    const gated = made().map((x, n) => (n > 1.08 * RATE ? 0.001 * x : x));
    expect(first(gated).because).toBe('decay-cut-short');
    expect(first(made({ piece: PIECES['one mode']! }).subarray(0, 1.05 * RATE)).because).toBe('decay-cut-short');
  });

  it('is given for a stretch of exact zeros that the browser did not report', () => {
    const sound = made().map((x, n) => (n > 1.05 * RATE && n < 1.06 * RATE ? 0 : x));
    expect(first(sound).because).toBe('drop-out');
  });

  it('is given for a tap played backwards: what swells is not struck', () => {
    expect(said(splitTaps(made().toReversed(), RATE))).not.toContain('accepted');
  });
});

describe('what is not a tap', () => {
  it('lets none of noise, hum, speech, claps, scrapes, doors, typing or radio in', () => {
    for (const kind of OTHER_SOUNDS) {
      const sound = quantised(otherSound(kind, RATE, 4, randomFrom(70_000)));
      expect([kind, said(splitTaps(sound, RATE)).includes('accepted')]).toEqual([kind, false]);
    }
  });

  it('gives silence and steady noise no verdict at all', () => {
    expect(splitTaps(new Float32Array(3 * RATE), RATE)).toEqual([]);
    expect(splitTaps(quantised(roomNoise(6 * RATE, RATE, 0.02, randomFrom(3))), RATE)).toEqual([]);
  });

  it('calls a hum that is switched on noise, and hears a tap over it afterwards', () => {
    const sound = Float64Array.from(made({ taps: [[4, 1]], durationS: 6 }));
    addHum(sound, RATE, 50, [0.02, 0.01], randomFrom(1), 0.9);
    const verdicts = splitTaps(quantised(sound), RATE);
    expect(said(verdicts)).toEqual(['not-a-tap', 'accepted']);
    expect(verdicts[0]).toMatchObject({ refusal: { soundsLike: 'noise' } });
  });
});

it('nothing is judged while the application itself speaks', () => {
  const sound = made({
    taps: [
      [1, 1],
      [2.5, 1],
    ],
    durationS: 4.5,
  });
  const listener = new TapListener(RATE);
  listener.push(sound.subarray(0, 0.8 * RATE));
  listener.mute(1.9);
  const verdicts = [...listener.push(sound.subarray(0.8 * RATE)), ...listener.flush()];
  expect(verdicts.map((verdict) => [verdict.kind, Math.round(10 * verdict.timeS) / 10])).toEqual([['accepted', 2.5]]);
});

it('the level shows peak, RMS, room and a clip', () => {
  const listener = new TapListener(RATE);
  expect(listener.level()).toMatchObject({ roomDb: undefined, clipped: false });
  listener.push(Float32Array.from({ length: 3 * RATE }, (_, n) => 0.1 * Math.sin((2 * Math.PI * 500 * n) / RATE)));
  const level = listener.level();
  // a sine of amplitude 0.1: peak -20 dB, RMS -23.01 dB, and 500 Hz lies in the listener's band
  expect(level.peakDb).toBeCloseTo(-20, 1);
  expect(level.rmsDb).toBeCloseTo(-23.01, 1);
  expect(level.roomDb).toBeCloseTo(-23.01, 0);
  listener.push(Float32Array.of(...new Array(RATE / 100).fill(1)));
  expect(listener.level().clipped).toBe(true);
});

it('a rate or a length of take that cannot be worked with is the caller’s mistake', () => {
  expect(() => new TapListener(7999)).toThrow('sampleRateHz 7999');
  expect(() => new TapListener(48_000, { afterS: 5 })).toThrow('0.5 + 5 s');
});

it('each real recording, cut at its attack, gives one accepted tap', () => {
  const folder = new URL('../../../reference-audio/', import.meta.url);
  const files = readdirSync(folder).filter((file) => file.endsWith('.wav'));
  expect(files.length).toBe(9);
  for (const file of files) {
    const audio = readWav(readFileSync(new URL(file, folder)));
    if (audio.kind !== 'audio') throw new Error(file);
    expect([file, said(splitTaps(loudestChannel(audio.channels), audio.sampleRateHz))]).toEqual([file, ['accepted']]);
  }
});
