// Student's t for small samples: a maker has two, three, five earlier instruments, not thirty.

/**
 * Probability that |t| stays below `t` with this many degrees of freedom.
 * @param t >= 0
 * @param degreesOfFreedom whole, >= 1
 * Source: Abramowitz & Stegun 1964, 26.7.3 (odd) and 26.7.4 (even), exact.
 */
export function studentTInside(t: number, degreesOfFreedom: number): number {
  const angle = Math.atan(t / Math.sqrt(degreesOfFreedom));
  const cos2 = Math.cos(angle) ** 2;
  const isOdd = degreesOfFreedom % 2 === 1;
  let term = isOdd ? Math.cos(angle) : 1;
  let sum = degreesOfFreedom === 1 ? 0 : term;
  for (let k = isOdd ? 3 : 2; k <= degreesOfFreedom - 2; k += 2) {
    term *= (cos2 * (k - 1)) / k;
    sum += term;
  }
  return isOdd ? (2 / Math.PI) * (angle + Math.sin(angle) * sum) : Math.sin(angle) * sum;
}

/**
 * Half width of the 95 % interval in standard deviations: 12.71 for one degree of freedom, toward 1.96 for many.
 * @throws RangeError if the degrees of freedom are not whole and >= 1
 * Source: inverse of `studentTInside` by bisection, to 1e-10.
 */
export function studentHalfWidth95(degreesOfFreedom: number): number {
  if (!(Number.isInteger(degreesOfFreedom) && degreesOfFreedom >= 1))
    throw new RangeError(`studentHalfWidth95: ${degreesOfFreedom} degrees of freedom, need 1 or more`);
  let low = 1.9;
  let high = 13;
  while (high - low > 1e-10) {
    const middle = (low + high) / 2;
    if (studentTInside(middle, degreesOfFreedom) < 0.95) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
