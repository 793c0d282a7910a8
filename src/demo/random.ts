// Seeded chance for everything invented: demo taps, test signals, Monte-Carlo benches. The same seed gives the same
// numbers on every machine, so a demo file can be made again byte for byte.

/** A stream of chance that is the same on every machine for the same seed. */
export interface Random {
  /** uniform in [0, 1), 32 bits */
  uniform(): number;
  /** uniform in [low, high) */
  between(low: number, high: number): number;
  /** normal with mean 0 and standard deviation 1 */
  normal(): number;
}

/**
 * A stream of chance from a seed.
 * @param seed any finite number; its 32-bit integer part is used
 * Source: sfc32, C. Doty-Humphrey, PractRand 0.94 (public domain; from memory), 12 rounds of warm-up; normal deviates
 * by G. E. P. Box and M. E. Muller, Ann. Math. Statist. 29 (1958) 610.
 */
export function randomFrom(seed: number): Random {
  if (!Number.isFinite(seed)) throw new RangeError(`randomFrom: seed ${seed}, need a finite number`);
  let a = seed | 0;
  let b = 0x9e3779b9 | 0;
  let c = 0x243f6a88 | 0;
  let counter = 1;
  const next = () => {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + sum) | 0;
    return (sum >>> 0) / 4294967296;
  };
  for (let i = 0; i < 12; i++) next();
  let spare = Number.NaN;
  return {
    uniform: next,
    between: (low, high) => low + (high - low) * next(),
    normal() {
      if (!Number.isNaN(spare)) {
        const kept = spare;
        spare = Number.NaN;
        return kept;
      }
      const radius = Math.sqrt(-2 * Math.log(1 - next()));
      const angle = 2 * Math.PI * next();
      spare = radius * Math.sin(angle);
      return radius * Math.cos(angle);
    },
  };
}
