// Before a box is closed: where its air and its top will ring, from the top as it is held without air, the sizes of the box, and a back
// that is like most.
import { symmetricEigen } from '../algebra/symmetric-eigen.ts';
import { type Estimate, estimate } from '../quantity/estimate.ts';
import type { Air } from './air.ts';
import { cushionPaPerM3 } from './pistons.ts';

/** A mode of the top at the rims, with no air behind it. */
export interface TopAlone {
  readonly frequencyHz: number;
  /** area of a piston that pushes as much air, over the root of its mass, m² kg^(-1/2); signed */
  readonly pushedM2PerSqrtKg: number;
}

export interface ClosingBox {
  readonly air: Air;
  readonly volumeM3: Estimate;
  /** the air's own resonance with walls that do not move, Hz */
  readonly ownHz: Estimate;
}

/** A back on its rims, with no air behind it. */
interface BackAlone {
  readonly frequencyHz: Estimate;
  /** as for the top, m² kg^(-1/2) */
  readonly pushedM2PerSqrtKg: Estimate;
}

/** Where the back was never read. The worked box of tests/published (220 Hz, 0.09) lies within; common practice, no source. */
const USUAL_BACK: BackAlone = { frequencyHz: estimate(225, 25), pushedM2PerSqrtKg: estimate(0.09, 0.025) };

/** What the shapes of a top as drawn may push more or less than they do, one sigma, as a share. Ours, no source. */
const PUSHED_SHARE = 0.08;

/**
 * The open box after it is closed: the modes of the top, a usual back and the air in the hole on one cushion of air.
 * @param modes of the top at its rims, the lowest ones
 * @param share how far all of them together may be off, as a factor
 * @returns Hz, with nothing on the bridge. The lowest peak is called the air's, the next in which the top pushes more air than
 *          the back the top's
 * Source: the equations of pistons.ts with every mode of the top as a piston of unit mass; our derivation, tests/box/closing.test.ts.
 */
export function closedBox(
  modes: readonly TopAlone[],
  share: Estimate,
  { air, volumeM3, ownHz }: ClosingBox,
  back = USUAL_BACK,
): { readonly airHz: Estimate; readonly topHz: Estimate } {
  const solve = ([alone, pushed, own, volume, backHz, backPushed]: readonly number[]): Solved => {
    const cushion = cushionPaPerM3(air, volume!);
    const parts = [
      ...modes.map(({ frequencyHz, pushedM2PerSqrtKg }) => ({
        hz: frequencyHz * alone!,
        pushed: pushedM2PerSqrtKg * pushed!,
      })),
      { hz: backHz!, pushed: backPushed! },
      // The air has no spring but the cushion: its own resonance alone on it is (2 pi f)² = B pushed².
      { hz: 0, pushed: (2 * Math.PI * own!) / Math.sqrt(cushion) },
    ];
    const n = parts.length;
    const matrix = new Float64Array(n * n);
    parts.forEach((a, i) => {
      matrix[i * n + i] = (2 * Math.PI * a.hz) ** 2;
      parts.forEach((b, j) => {
        matrix[i * n + j]! += cushion * a.pushed * b.pushed;
      });
    });
    const { values, vectors } = symmetricEigen(matrix, n);
    return [...values].map((value, k) => {
      const pushes = (from: number, to: number) =>
        parts.slice(from, to).reduce((sum, { pushed }, i) => sum + pushed * vectors[k * n + from + i]!, 0);
      const [top, rear] = [pushes(0, modes.length), pushes(modes.length, modes.length + 1)];
      return { hz: Math.sqrt(value) / (2 * Math.PI), isTops: Math.abs(top) > Math.abs(rear) };
    });
  };
  const inputs = [share, estimate(1, PUSHED_SHARE), ownHz, volumeM3, back.frequencyHz, back.pushedM2PerSqrtKg];
  const values = inputs.map(({ value }) => value);
  const middle = solve(values);
  const topAt = Math.max(
    1,
    middle.findIndex(({ isTops }, k) => k > 0 && isTops),
  );
  const hzOf = (mode: number): Estimate => {
    const { hz } = middle[mode]!;
    // Where the top lies beside the back, either way moves it the same way: the root mean square of both, not half of their difference.
    const open = inputs.map(({ value, sigma }, i) => {
      const [up, down] = [value + sigma, value - sigma].map((x) => solve(values.with(i, x))[mode]!.hz - hz);
      return Math.hypot(up!, down!) / Math.SQRT2;
    });
    return estimate(hz, Math.hypot(...open));
  };
  return { airHz: hzOf(0), topHz: hzOf(topAt) };
}

/** Coupled modes, ascending. */
type Solved = readonly {
  readonly hz: number;
  /** the top pushes more air in it than the back */
  readonly isTops: boolean;
}[];
