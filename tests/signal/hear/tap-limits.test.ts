// The limits that the maker may set: how far above the room, and how loud, a tap may be.
import { expect, test } from 'vitest';
import { TapListener } from '../../../src/signal/hear/listener.ts';
import { USUAL_TAP_LIMITS } from '../../../src/signal/hear/tap-gate.ts';
import { PIECES, scene } from '../../bench/listener-sounds.ts';

const rate = 16_000;

/** What is said of one tap 24 dB above the room whose highest sample has the level given, dB re full scale. */
function verdict(peakDb: number, limits = USUAL_TAP_LIMITS): string {
  const made = scene({
    piece: PIECES['six modes']!,
    sampleRateHz: rate,
    taps: [[1, 1]],
    durationS: 3,
    snrDb: 24,
    seed: 1,
  });
  const highest = made.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  const gain = 10 ** (peakDb / 20) / highest;
  const listener = new TapListener(rate, {}, limits);
  const [first] = [...listener.push(made.map((x) => gain * x)), ...listener.flush()];
  return first === undefined ? 'nothing' : first.kind === 'accepted' ? 'accepted' : first.refusal.because;
}

test('a tap as loud as the microphone can tell is taken by the usual limits, and refused by one just below its peak', () => {
  expect(verdict(-0.1)).toBe('accepted');
  expect(verdict(-3.1, { ...USUAL_TAP_LIMITS, loudestDb: -3 })).toBe('accepted');
  expect(verdict(-2.9, { ...USUAL_TAP_LIMITS, loudestDb: -3 })).toBe('clipped');
});

test('how far above the room a tap must be does not depend on how loud both are', () => {
  for (const peakDb of [-1, -30]) {
    expect(verdict(peakDb, { ...USUAL_TAP_LIMITS, loudEnoughDb: 12 })).toBe('accepted');
    expect(verdict(peakDb, { ...USUAL_TAP_LIMITS, loudEnoughDb: 40 })).toBe('too-quiet');
  }
});
