// Whether a round says that its room is loud. How often it does in rooms that chose nothing stands in docs/estimator-accuracy.md.
import { describe, expect, test } from 'vitest';
import { fitRound } from '../../../src/signal/round.ts';
import { furnishedRound } from '../../bench/furnished-rounds.ts';

const answerDb = (source: 'dipole' | 'monopole', distanceM: number, t60S: number, seed: number, spots: number) =>
  fitRound([furnishedRound({ source, distanceM, t60S }, seed, spots).taps]).roomAnswerDb;

describe('a room', () => {
  // what is left over is 21 to 26 dB under the piece in these: the poles that the taps call the room's make the difference
  test.each([
    ['dipole', 0.6, 743_006_006, 1],
    ['dipole', 0.8, 743_009_005, 3],
    ['monopole', 0.8, 743_021_009, 1],
  ] as const)('of a %s %s m away is loud though little is left over', (source, distanceM, seed, spots) => {
    expect(answerDb(source, distanceM, 0.25, seed, spots)).toBeGreaterThan(-18.3);
  });

  test.each([
    [0.4, 743_001_000],
    [0.7, 743_002_000],
  ] as const)('is not loud 15 cm from a plate where it rings for %s s', (t60S, seed) => {
    expect(answerDb('dipole', 0.15, t60S, seed, 1)).toBeUndefined();
  });
});
