/** The middle of some values, the upper one of two; undefined of none. */
export const median = (values: ArrayLike<number>): number | undefined =>
  Float64Array.from(values).sort()[values.length >> 1];
