// Whose a pole is, from its amplitudes tap by tap: sounds of two modes whose every number is known.
import { expect, test } from 'vitest';
import { onsetWaves } from '../../../src/signal/agree/onset-waves.ts';
import { tapPatterns } from '../../../src/signal/agree/tap-pattern.ts';
import { once } from '../../once.ts';
import { jointOf, plainTap } from '../plain-taps.ts';

/** Sizes of the loud mode, tap by tap; the other side of a node has the other sign. */
const LOUD = [0.2, -0.12, 0.17, 0.08, -0.23];
/** A mode of the piece has sizes of its own, and what the room answers is a part of the loud one's, the same in every tap. */
const OWN = [0.012, 0.02, -0.006, -0.015, 0.009];
const ANSWERED = LOUD.map((size) => 0.06 * size);

/** The waves of a pole whose taps begin so much earlier, s: turned by as much as the pole is fast. */
const delayed = (waves: Float64Array, hz: number, delaysS: readonly number[]): Float64Array =>
  waves.map((x, i) => {
    const turn = 2 * Math.PI * hz * (delaysS[i >> 1] ?? 0);
    return i % 2 === 0
      ? x * Math.cos(turn) - waves[i + 1]! * Math.sin(turn)
      : x * Math.cos(turn) + waves[i - 1]! * Math.sin(turn);
  });

/** The poles at 200 and 212 Hz of five taps, and ln of how much likelier each is the piece's. */
function heard(sizes: readonly number[], scale = 1, delaysS: readonly number[] = []) {
  const taps = LOUD.map((size, k) =>
    plainTap(
      [
        { hz: 200, q: 40, size },
        { hz: 212, q: 40, size: sizes[k]!, phase: 0.7 },
      ],
      1e-5,
      40 + k,
    ),
  );
  const joint = jointOf(taps);
  const waves = onsetWaves(joint).map((of, m) =>
    delayed(of, joint.fit[0]!.poles[m]!.frequencyHz, delaysS).map((x) => scale * x),
  );
  const lnBayes = tapPatterns(joint, waves);
  const at = (hz: number) => joint.fit[0]!.poles.findIndex(({ frequencyHz }) => Math.abs(frequencyHz - hz) < 1);
  return { loud: lnBayes[at(200)]!, faint: lnBayes[at(212)]!, poles: lnBayes.length };
}
const piece = once(() => heard(OWN));
const room = once(() => heard(ANSWERED));

test('amplitudes of its own make a faint pole beside a loud one the piece’s', () => {
  expect(piece().poles).toBe(2);
  expect(piece().loud).toBeGreaterThan(10);
  expect(piece().faint).toBeGreaterThan(10);
});

test('one that repeats the loud one’s in every tap, sign and all, is the room’s', () => {
  expect(room().poles).toBe(2);
  expect(room().faint).toBeLessThan(0);
  expect(room().loud).toBeGreaterThan(10);
});

test('in other units the same is said of both', () => {
  for (const scale of [1e-3, 250]) {
    expect(heard(OWN, scale).faint).toBeCloseTo(piece().faint, 6);
    expect(heard(ANSWERED, scale).faint).toBeCloseTo(room().faint, 6);
  }
});

test('taps whose contacts were found early or late are laid on one another first', () => {
  const delaysS = [4e-4, -3e-4, 1e-4, -5e-4, 2e-4];
  // all but the grid of 25 us, on which these lie
  expect(heard(ANSWERED, 1, delaysS).faint).toBeCloseTo(room().faint, 6);
  expect(heard(ANSWERED, 1, delaysS).loud).toBeGreaterThan(10);
  expect(heard(OWN, 1, delaysS).faint).toBeGreaterThan(10);
});
