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
});
