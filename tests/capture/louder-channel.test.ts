import { describe, expect, test } from 'vitest';
import { LouderChannel } from '../../src/capture/louder-channel.ts';

const tone = (amplitude: number) => Float32Array.from({ length: 256 }, (_, n) => amplitude * Math.sin(n));

describe('a device with two channels', () => {
  test('the louder one is taken, never the mean of both', () => {
    const louder = new LouderChannel();
    const right = tone(0.5);
    expect(louder.choose([tone(0.01), right])).toBe(right);
  });

  test('the choice does not flicker between channels of nearly equal level', () => {
    const louder = new LouderChannel();
    const first = tone(0.5);
    louder.choose([first, tone(0.4)]);
    const left = tone(0.4);
    expect(louder.choose([left, tone(0.5)])).toBe(left);
  });

  test('one that is 5 dB louder is not clearly louder however long it lasts, one that is 7 dB louder is at once', () => {
    const choices = (levelDb: number) => {
      const louder = new LouderChannel();
      const right = tone(0.1 * 10 ** (levelDb / 20));
      return Array.from({ length: 50 }, () => louder.choose([tone(0.1), right]) === right);
    };
    expect(choices(5)).toEqual(Array.from({ length: 50 }, () => false));
    expect(choices(7)).toEqual(Array.from({ length: 50 }, () => true));
  });

  test('what was loud long ago counts no more; between two taps it still does', () => {
    const louder = new LouderChannel();
    louder.choose([tone(0.01), tone(0.5)]);
    const left = tone(0.1);
    // The right channel was 14 dB louder than the left one is now: a few blocks do not outweigh it, a hundred do.
    for (let block = 0; block < 3; block++) expect(louder.choose([left, tone(0.001)])).not.toBe(left);
    for (let block = 0; block < 100; block++) louder.choose([left, tone(0.001)]);
    expect(louder.choose([left, tone(0.001)])).toBe(left);
  });

  test('the third of three can be the loudest', () => {
    const third = tone(0.5);
    expect(new LouderChannel().choose([tone(0.01), tone(0.1), third])).toBe(third);
  });
});

describe('a device with fewer', () => {
  test('the only channel is taken, also where the one chosen before has gone; without any there is nothing', () => {
    const louder = new LouderChannel();
    const only = tone(0.1);
    expect(louder.choose([only])).toBe(only);
    louder.choose([tone(0.01), tone(0.5)]);
    expect(louder.choose([only])).toBe(only);
    expect(new LouderChannel().choose([])).toHaveLength(0);
  });
});
