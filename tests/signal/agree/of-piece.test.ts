// How a Bayes factor becomes the probability that is told.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ofPiece } from '../../../src/signal/agree/tap-pattern.ts';

const odds = (p: number) => Math.log(p / (1 - p));

test('evidence for and against move the odds alike, more of it always further, and a Q hardly known lowers them', () => {
  const ln = fc.double({ min: 0.01, max: 500, noNaN: true });
  const sigma = fc.double({ min: 0, max: 0.99, noNaN: true });
  fc.assert(
    fc.property(ln, sigma, (lnBayes, lnQSigma) => {
      const none = odds(ofPiece(0, lnQSigma));
      const [pro, contra] = [odds(ofPiece(lnBayes, lnQSigma)), odds(ofPiece(-lnBayes, lnQSigma))];
      // Odds of two numbers near one: the last digits.
      expect(pro + contra).toBeCloseTo(2 * none, 6);
      expect(pro).toBeGreaterThan(none);
      expect(ofPiece(1.1 * lnBayes, lnQSigma)).toBeGreaterThan(ofPiece(lnBayes, lnQSigma));
      expect(ofPiece(lnBayes, lnQSigma + 0.01)).toBeLessThan(ofPiece(lnBayes, lnQSigma));
    }),
  );
});

test('beyond a factor of e a Q is not known at all, and no worse', () => {
  expect(ofPiece(3, 1)).toBe(ofPiece(3, 40));
  expect(ofPiece(3, 0.99)).toBeGreaterThan(ofPiece(3, 1));
});

test('little evidence counts by itself, and much by its logarithm', () => {
  const gained = (from: number, to: number) => odds(ofPiece(to, 0.1)) - odds(ofPiece(from, 0.1));
  expect(gained(0, 1)).toBeGreaterThan(1.5 * gained(9, 10));
  // a doubling is worth the same wherever it begins
  expect(gained(400, 800)).toBeCloseTo(gained(1600, 3200), 3);
  expect(gained(0, 0.2)).toBeCloseTo(gained(0.2, 0.4), 2);
});
