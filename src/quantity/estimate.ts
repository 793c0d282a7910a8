// Measured numbers. A value without its spread is not a measurement, so every figure that comes from taps, ruler or
// scale travels as an Estimate until a view turns it into text.

/** A measured number: `sigma` is one standard deviation in the same unit as `value`; >= 0, finite. */
export interface Estimate {
  readonly value: number;
  readonly sigma: number;
}

/** Half width of the 95 % interval of a normal distribution, in standard deviations. */
export const HALF_WIDTH_95 = 1.959963984540054;

/**
 * An estimate that is known to be sound.
 * @throws RangeError if the value is not finite or sigma is negative or not finite
 */
export function estimate(value: number, sigma: number): Estimate {
  if (!Number.isFinite(value)) throw new RangeError(`estimate: value ${value}, need a finite number`);
  if (!Number.isFinite(sigma) || sigma < 0) throw new RangeError(`estimate: sigma ${sigma}, need a finite number >= 0`);
  return { value, sigma };
}

/** Whether a figure that cannot be negative is measured at all: its 95 % interval does not reach down to zero. */
export const isMeasured = ({ value, sigma }: Estimate): boolean => HALF_WIDTH_95 * sigma < value;

/** a - b for independent estimates. Source: propagation of uncertainty, JCGM 100:2008 (GUM) eq. 10. */
export function difference(a: Estimate, b: Estimate): Estimate {
  return estimate(a.value - b.value, Math.hypot(a.sigma, b.sigma));
}

/** The estimate times an exact factor. Source: JCGM 100:2008 (GUM) eq. 10. */
export function scaled(a: Estimate, factor: number): Estimate {
  return estimate(a.value * factor, a.sigma * Math.abs(factor));
}

/**
 * f(x) for independent inputs, first order, with the derivative taken by a central difference over one sigma.
 * @param f      function of the input values, evaluated 2n + 1 times
 * @param inputs independent estimates, (n,)
 * @returns the estimate, and each input's own contribution to sigma in the same unit, (n,), so that a reader sees
 *          which input is worth measuring better
 * Source: JCGM 100:2008 (GUM) section 5.1.3 note 2 (numerical evaluation of u_i(y)).
 */
export function propagated(
  f: (values: readonly number[]) => number,
  inputs: readonly Estimate[],
): { readonly result: Estimate; readonly contributions: readonly number[] } {
  const values = inputs.map((input) => input.value);
  const contributions = inputs.map((input, i) => {
    if (input.sigma === 0) return 0;
    const up = f(values.with(i, input.value + input.sigma));
    const down = f(values.with(i, input.value - input.sigma));
    return Math.abs(up - down) / 2;
  });
  return { result: estimate(f(values), Math.hypot(...contributions)), contributions };
}
