import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { Feedback } from '../../src/capture/feedback.ts';

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal('window', globalThis);
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

interface Tone {
  readonly frequencyHz: number;
  startS: number;
  stopS: number;
  /** at a time */
  gain(atS: number): number;
}

/** The part of the Web Audio API 1.1 (W3C) that makes tones; what reaches the loudspeaker is listed. */
function loudspeaker(nowS: number) {
  const tones: Tone[] = [];
  const made = { contexts: 0, resumed: 0 };
  class Node {
    readonly into: unknown[] = [];
    connect<T>(to: T): T {
      this.into.push(to);
      return to;
    }
  }
  class FakeContext {
    readonly currentTime = nowS;
    readonly destination = 'loudspeaker';
    constructor() {
      made.contexts++;
    }
    async resume() {
      made.resumed++;
    }
  }
  class FakeGain extends Node {
    readonly points: { readonly value: number; readonly atS: number; readonly ramp: boolean }[] = [];
    readonly gain = {
      setValueAtTime: (value: number, atS: number) => this.points.push({ value, atS, ramp: false }),
      linearRampToValueAtTime: (value: number, atS: number) => this.points.push({ value, atS, ramp: true }),
    };
    at(atS: number): number {
      let before = { value: 1, atS: 0 };
      for (const point of this.points) {
        if (point.atS > atS) {
          const share = (atS - before.atS) / (point.atS - before.atS);
          return point.ramp ? before.value + share * (point.value - before.value) : before.value;
        }
        before = point;
      }
      return before.value;
    }
  }
  class FakeOscillator extends Node {
    readonly tone: Tone;
    constructor(_context: unknown, { frequency = 440 }: { readonly frequency?: number } = {}) {
      super();
      const gainOf = () => this.into.find((node) => node instanceof FakeGain);
      this.tone = {
        frequencyHz: frequency,
        startS: Number.NaN,
        stopS: Number.POSITIVE_INFINITY,
        gain: (atS) => gainOf()?.at(atS) ?? 1,
      };
    }
    start(atS: number) {
      this.tone.startS = atS;
      const [gain] = this.into;
      if (gain instanceof FakeGain && gain.into.includes('loudspeaker')) tones.push(this.tone);
    }
    stop(atS: number) {
      this.tone.stopS = atS;
    }
  }
  vi.stubGlobal('AudioContext', FakeContext);
  vi.stubGlobal('GainNode', FakeGain);
  vi.stubGlobal('OscillatorNode', FakeOscillator);
  return { tones, made };
}

interface Voice {
  readonly name: string;
  readonly lang: string;
  readonly localService: boolean;
}
const voice = (name: string, lang: string, localService = true): Voice => ({ name, lang, localService });

/** A browser that speaks (Web Speech API, W3C community group); what it was told to say is listed. */
function speaker(voices: readonly Voice[]) {
  const said: { text: string; lang: string; voice: Voice; onend?: () => void; onerror?: () => void }[] = [];
  const asked = { voices: 0 };
  vi.stubGlobal('speechSynthesis', {
    getVoices: () => {
      asked.voices++;
      return voices;
    },
    speak: (utterance: never) => said.push(utterance),
  });
  vi.stubGlobal(
    'SpeechSynthesisUtterance',
    class {
      readonly text: string;
      constructor(text: string) {
        this.text = text;
      }
    },
  );
  return { said, asked };
}

describe('tones', () => {
  test('before a press has let the page sound nothing is played, and there is nothing to wait for', () => {
    const { tones } = loudspeaker(0);
    expect(new Feedback().play('kept')).toBe(0);
    expect(tones).toEqual([]);
  });

  test('every press wakes the one sound system of the page', () => {
    const { made } = loudspeaker(0);
    const feedback = new Feedback();
    feedback.unlock();
    feedback.unlock();
    expect(made).toEqual({ contexts: 1, resumed: 2 });
  });

  test('each cue sounds unlike the others: kept is high, refused low and repeated, what is done rises', () => {
    const { tones } = loudspeaker(0);
    const feedback = new Feedback();
    feedback.unlock();
    const heard = (['kept', 'refused', 'hold-done', 'round-done'] as const).map((cue) => {
      tones.length = 0;
      feedback.play(cue);
      return tones.map(({ frequencyHz }) => frequencyHz);
    });
    const [kept, refused, hold, round] = heard as [number[], number[], number[], number[]];
    expect(heard.map(({ length }) => length)).toEqual([1, 2, 2, 3]);
    expect(refused[0]).toBe(refused[1]);
    expect(kept[0]! / refused[0]!).toBe(4);
    // A fourth, the usual tuning of neighbouring strings, then another: equal temperament, within a hertz.
    for (const rising of [hold, round])
      for (let i = 1; i < rising.length; i++) expect(rising[i]! / rising[i - 1]!).toBeCloseTo(2 ** (5 / 12), 2);
    expect(hold[0]).toBe(880);
    expect(round.slice(0, 2)).toEqual(hold);
  });

  test('the tones follow one another from now on, fade in and out, and nobody listens until the last has died away', () => {
    const nowS = 7;
    const { tones } = loudspeaker(nowS);
    const feedback = new Feedback();
    feedback.unlock();
    const quietS = feedback.play('round-done');
    expect(tones[0]!.startS).toBe(nowS);
    for (const [i, { startS, stopS, gain }] of tones.entries()) {
      // Short, and clear enough to be heard as a tone of its own.
      expect(stopS - startS).toBeGreaterThan(0.05);
      expect(stopS - startS).toBeLessThan(0.2);
      const next = tones[i + 1];
      if (next !== undefined) {
        expect(next.startS).toBeGreaterThan(stopS);
        expect(next.startS - stopS).toBeLessThan(0.1);
      }
      // No step at either end, which would click; in between never loud.
      expect(gain(startS)).toBe(0);
      expect(gain(stopS)).toBeCloseTo(0, 9);
      const inside = Array.from({ length: 41 }, (_, n) => gain(startS + (n / 40) * (stopS - startS)));
      expect(Math.max(...inside)).toBeGreaterThan(0.05);
      expect(Math.max(...inside)).toBeLessThan(0.2);
      expect(Math.min(...inside)).toBeGreaterThanOrEqual(0);
    }
    const overS = tones.at(-1)!.stopS - nowS;
    // A room rings for some tenths of a second.
    expect(quietS - overS).toBeGreaterThan(0.25);
    expect(quietS - overS).toBeLessThan(0.5);
  });
});

describe('a voice', () => {
  test('speaks the language of the page in any region of it, from the machine itself where it can', () => {
    const { said } = speaker([
      voice('far', 'de-AT', false),
      voice('other', 'dex'),
      voice('near', 'de_CH'),
      voice('english', 'en-GB'),
    ]);
    const feedback = new Feedback();
    expect(feedback.say('Acht von acht', 'de-DE')).toBeGreaterThan(0.3);
    feedback.say('Eight of eight', 'en');
    expect(said.map(({ text, lang, voice: { name } }) => [text, lang, name])).toEqual([
      ['Acht von acht', 'de_CH', 'near'],
      ['Eight of eight', 'en-GB', 'english'],
    ]);
  });

  test('from elsewhere is better than none', () => {
    const { said } = speaker([voice('far', 'de', false)]);
    new Feedback().say('Acht', 'de');
    expect(said[0]?.voice.name).toBe('far');
  });

  test('that does not know the language says nothing', () => {
    const { said } = speaker([voice('english', 'en-GB')]);
    const feedback = new Feedback();
    expect(feedback.say('Huit', 'fr')).toBe(0);
    expect(feedback.isSpeaking()).toBe(false);
    expect(said).toEqual([]);
  });

  test('is none where the browser does not speak', () => {
    loudspeaker(0);
    const feedback = new Feedback();
    expect(() => feedback.unlock()).not.toThrow();
    expect(feedback.say('Eight', 'en')).toBe(0);
  });

  test('is looked for at the press already, since some browsers list voices only at the second question', () => {
    loudspeaker(0);
    const { asked } = speaker([]);
    new Feedback().unlock();
    expect(asked.voices).toBe(1);
  });

  test('goes on until it ends or fails, once, however often it says so', () => {
    const { said } = speaker([voice('english', 'en')]);
    const feedback = new Feedback();
    expect(feedback.isSpeaking()).toBe(false);
    feedback.say('One', 'en');
    feedback.say('Two', 'en');
    expect(feedback.isSpeaking()).toBe(true);
    said[0]!.onend?.();
    said[0]!.onerror?.();
    vi.advanceTimersByTime(5000);
    expect(feedback.isSpeaking()).toBe(true);
    said[1]!.onerror?.();
    expect(feedback.isSpeaking()).toBe(false);
    feedback.say('Three', 'en');
    // The time limits of the first two pass.
    vi.advanceTimersByTime(4000);
    expect(feedback.isSpeaking()).toBe(true);
  });

  test('that never says it is done is taken to be after eight seconds', () => {
    speaker([voice('english', 'en')]);
    const feedback = new Feedback();
    feedback.say('One', 'en');
    vi.advanceTimersByTime(7900);
    expect(feedback.isSpeaking()).toBe(true);
    vi.advanceTimersByTime(200);
    expect(feedback.isSpeaking()).toBe(false);
  });
});
