// One row of a published-value file: what was asked of whom, and what the source says. `verified` is true only where the
// number or formula was seen in a copy of the source named; the rest is computed here or from memory, and says so.

export interface PublishedCheck {
  readonly id: string;
  readonly quantity: string;
  readonly inputs: Readonly<Record<string, number | readonly number[]>>;
  readonly expected: number;
  readonly unit: string;
  readonly tolerance: string;
  readonly source: string;
  readonly verified: boolean;
  readonly basis: string;
}

/** A file of checks read by id, so that a test names the row it checks and a misspelt id fails. */
export function checksById(rows: readonly unknown[]): (id: string) => PublishedCheck & { input(name: string): number } {
  return (id) => {
    const row = (rows as readonly PublishedCheck[]).find((each) => each.id === id);
    if (row === undefined) throw new RangeError(`checksById: no check ${id}`);
    const input = (name: string) => {
      const value = row.inputs[name];
      if (typeof value !== 'number') throw new RangeError(`checksById: ${id} has no number ${name}`);
      return value;
    };
    return { ...row, input };
  };
}
