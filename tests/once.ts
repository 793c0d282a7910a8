import { beforeEach } from 'vitest';

/** Counts the tests of the file at hand, in a mutation run only. */
let present = 0;
if (process.env['MUTATION_TESTS'] !== undefined)
  beforeEach(() => {
    present++;
  });

/**
 * Made when it is first asked for, inside a test: what fails while a file is loaded is no failed test to a mutation run.
 * There it is made anew for each test: a mutant is asked only of the tests that reached it.
 */
export function once<T>(make: () => T): () => T {
  let made: { readonly of: T; readonly during: number } | undefined;
  return () => {
    if (made?.during !== present) made = { of: make(), during: present };
    return made.of;
  };
}
