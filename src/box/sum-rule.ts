// The sum rule as a check on labels: whatever the box, the squares of its open peaks exceed those of its blocked peaks by
// the square of the air's own resonance. If that is far from what the ruler says of the hole, a peak is mislabelled, left
// out, or not of these three.
import { type Estimate, estimate } from '../quantity/estimate.ts';
import { type BoxRound, hasMass, roundPeaks } from './rounds.ts';

export interface SumRule {
  /** the air's own resonance as the peaks imply it, Hz; value 0 where the blocked squares exceed the open ones */
  readonly impliedHoleHz: Estimate;
  /** open squares minus blocked squares minus the ruler's square, Hz² */
  readonly residualHz2: Estimate;
  /** residual beyond two of its standard deviations */
  readonly labelsDoubtful: boolean;
}

/**
 * Residual of sum f_open² = sum f_blocked² + f_hole².
 * @param rounds    of which one open and one blocked with the back in the same state, no mass, and one peak fewer blocked
 * @param fromSizes the air's own resonance by ruler, Hz
 * @returns undefined where there is no such pair
 * Source: trace of the matrix in `boxModes`; two pistons: Woodhouse, Euphonics section 4.2.2.
 */
export function sumRule(rounds: readonly BoxRound[], fromSizes: Estimate): SumRule | undefined {
  const bare = rounds.map((_, i) => i).filter((i) => !hasMass(rounds[i]!));
  for (const open of bare)
    for (const blocked of bare) {
      const [a, b] = [rounds[open]!, rounds[blocked]!];
      if (a.hole !== 'open' || b.hole !== 'blocked' || a.back !== b.back) continue;
      const openPeaks = roundPeaks(rounds, open);
      const blockedPeaks = roundPeaks(rounds, blocked);
      if (openPeaks.length !== blockedPeaks.length + 1) continue;
      const squares = [
        ...openPeaks.map(({ frequencyHz }) => squared(frequencyHz, 1)),
        ...blockedPeaks.map(({ frequencyHz }) => squared(frequencyHz, -1)),
      ];
      const hole2 = sum(squares);
      const residualHz2 = sum([hole2, squared(fromSizes, -1)]);
      const impliedHz = Math.sqrt(Math.max(hole2.value, 0));
      return {
        impliedHoleHz: estimate(impliedHz, impliedHz > 0 ? hole2.sigma / (2 * impliedHz) : Math.sqrt(hole2.sigma)),
        residualHz2,
        labelsDoubtful: Math.abs(residualHz2.value) > 2 * residualHz2.sigma,
      };
    }
  return undefined;
}

function squared({ value, sigma }: Estimate, sign: 1 | -1): Estimate {
  return estimate(sign * value * value, 2 * Math.abs(value) * sigma);
}

function sum(terms: readonly Estimate[]): Estimate {
  return estimate(
    terms.reduce((total, { value }) => total + value, 0),
    Math.hypot(...terms.map(({ sigma }) => sigma)),
  );
}
