// The stabilisation diagram beside the estimator, run in Python: stabilisation.py.
import type { Tap } from '../../src/signal/tap.ts';
import type { Told } from './furnished-rounds.ts';
import { askPython } from './scipy.ts';

/** Parts of the orders that a pole must be stable in: as is usual, and so many that spurious modes are as rare as the estimator's. */
export const USUAL = 0.5;
export const STRICT = 0.8;

/** What the diagram says of one round. */
export interface DiagramRead {
  /** processor time, ms */
  readonly ms: number;
  /** poles that are stable in so large a part of the orders; sigma: their spread over the orders */
  told(leastStable: number): readonly Told[];
}

type Printed = readonly {
  readonly ms: number;
  readonly modes: readonly (readonly [number, number, number, number, number])[];
}[];

/**
 * The rounds through the diagram. Needs Python with SciPy, see `pythonWithScipy`.
 * @param downToDb fainter modes are not asked for, dB re the strongest
 */
export function diagrams(rounds: readonly (readonly Tap[])[], downToDb: number): DiagramRead[] {
  const counts = rounds.map(({ length }) => length);
  const printed = askPython('stabilisation.py', rounds.flat(), { counts, downToDb }) as Printed;
  return printed.map(({ ms, modes }) => ({
    ms,
    told: (leastStable) =>
      modes
        .filter(([, , , , stable]) => stable >= leastStable)
        .map(([f, fSpread, q, qSpread]) => ({
          frequencyHz: { value: f, sigma: fSpread },
          q: { value: q, sigma: qSpread },
        })),
  }));
}
