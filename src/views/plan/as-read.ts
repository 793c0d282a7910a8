/** Parts of a brace in the order in which they are read, each with its place in the record. */
export const asRead = <T>(
  parts: readonly T[],
  readMm: (part: T) => number,
): readonly { readonly one: T; readonly i: number }[] =>
  parts.map((one, i) => ({ one, i })).toSorted((a, b) => readMm(a.one) - readMm(b.one));
