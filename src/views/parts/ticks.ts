// Round figures along an axis.

/**
 * Round figures (1, 2 or 5 times a power of ten apart) within an interval, ascending.
 * @param from lower end
 * @param to   upper end, > from
 * @param most how many at most, >= 2
 * @throws RangeError if the interval is empty or most is below 2
 */
export function ticksWithin(from: number, to: number, most: number): readonly number[] {
  if (!(to > from) || !(most >= 2))
    throw new RangeError(`ticksWithin: ${from} to ${to}, ${most} ticks, need to > from and 2`);
  const raw = (to - from) / most;
  const decade = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10, 20].map((factor) => factor * decade).find((size) => count(from, to, size) <= most)!;
  const first = Math.ceil(from / step - 1e-9);
  return Array.from({ length: count(from, to, step) }, (_, i) => Number(((first + i) * step).toPrecision(12)));
}

const count = (from: number, to: number, step: number): number =>
  Math.floor(to / step + 1e-9) - Math.ceil(from / step - 1e-9) + 1;

/** Decimals that tell neighbouring ticks apart. The slack of 0.2 % covers what subtracting two large ticks rounds off a step of 1, 2 or 5. */
export function tickDecimals(ticks: readonly number[]): number {
  const step = ticks.length > 1 ? ticks[1]! - ticks[0]! : 1;
  return Math.max(0, -Math.floor(Math.log10(step) + 1e-3));
}
