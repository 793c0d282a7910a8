// How often the importers are given random and mutated bytes: some hundreds always, 20,000 in the long run (LONG=1).
const isLong = process.env['LONG'] === '1';
export const fuzzRuns = { numRuns: isLong ? 20_000 : 300, ...(isLong ? {} : { seed: 20_261_125 }) };
/** Room for the long run, ms. */
export const fuzzTimeout = isLong ? 3_600_000 : 30_000;
