// A measured number that remembers where its uncertainty came from, so that a maker learns which entry is worth
// measuring better.
import { type Estimate, estimate } from '../quantity/estimate.ts';

/** What a board's constants are computed from. */
export type InputCode =
  | 'length'
  | 'width'
  | 'thickness'
  | 'mass'
  | 'long-tap'
  | 'cross-tap'
  | 'twist-tap'
  | 'other-taps'
  /** Poisson's ratio and the shear moduli through the thickness, taken from a table because they cannot be tapped */
  | 'handbook'
  /** wood that is not the same all over: other modes disagree by this much with the fitted plate */
  | 'unevenness'
  /** what the plate theory itself leaves over */
  | 'theory';

/** Relative change of a quantity for one standard deviation of each independent input, signed. */
export type LogGradient = Readonly<Partial<Record<InputCode, readonly number[]>>>;

/** An estimate with the share of each input in its sigma, largest first, in the unit of the value. */
export interface Traced extends Estimate {
  readonly contributions: readonly { readonly input: InputCode; readonly sigma: number }[];
}

/** Gradient of a product of powers: the sum of the gradients, each times its power. */
export function combined(terms: readonly (readonly [LogGradient, number])[]): LogGradient {
  const sum: Partial<Record<InputCode, number[]>> = {};
  for (const [gradient, power] of terms) {
    for (const [key, values] of Object.entries(gradient) as [InputCode, readonly number[]][]) {
      const before = sum[key];
      sum[key] = values.map((each, k) => (before?.[k] ?? 0) + power * each);
    }
  }
  return sum;
}

/**
 * A value with the uncertainty its gradient gives it.
 * Source: JCGM 100:2008 (GUM) eq. 10 in logarithms, first order.
 */
export function traced(value: number, gradient: LogGradient): Traced {
  const contributions = (Object.entries(gradient) as [InputCode, readonly number[]][])
    .map(([input, values]) => ({ input, sigma: Math.abs(value) * Math.hypot(...values) }))
    .filter(({ sigma }) => sigma > 0)
    .sort((p, q) => q.sigma - p.sigma);
  return { ...estimate(value, Math.hypot(...contributions.map(({ sigma }) => sigma))), contributions };
}
