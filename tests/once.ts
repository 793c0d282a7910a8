/**
 * Made when it is first asked for, inside a test: what fails while a file is loaded is no failed test to a mutation run.
 */
export function once<T>(make: () => T): () => T {
  let made: { readonly of: T } | undefined;
  return () => {
    made ??= { of: make() };
    return made.of;
  };
}
