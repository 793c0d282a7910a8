// Before a box is closed: where its air and its top will ring, from the top as it is held without air, the sizes of the box, and a back
// that is like most.
import { symmetricEigen } from '../algebra/symmetric-eigen.ts';
import { type Estimate, estimate, propagated } from '../quantity/estimate.ts';
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
export interface BackAlone {
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
 * @param modes      of the top at its rims, the lowest ones, as drawn
 * @param which      index of the one that becomes the box's top
 * @param aloneHz    that mode as it is expected at the rims; the others are taken to be off by the same share
 * @returns Hz, at pitch with nothing on the bridge; the top's is the mode in which that mode moves most
 * Source: the equations of pistons.ts with every mode of the top as a piston of unit mass; our derivation, tests/box/closing.test.ts.
 */
export function closedBox(
  modes: readonly TopAlone[],
  which: number,
  aloneHz: Estimate,
  { air, volumeM3, ownHz }: ClosingBox,
  back = USUAL_BACK,
): { readonly airHz: Estimate; readonly topHz: Estimate } {
  const drawnHz = modes[which]!.frequencyHz;
  const solve = ([alone, pushed, own, volume, backHz, backPushed]: readonly number[]): Solved => {
    const cushion = cushionPaPerM3(air, volume!);
    const parts = [
      ...modes.map(({ frequencyHz, pushedM2PerSqrtKg }) => ({
        hz: (frequencyHz * alone!) / drawnHz,
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
    return { hz: [...values].map((value) => Math.sqrt(value) / (2 * Math.PI)), vectors, n };
  };
  const inputs = [aloneHz, estimate(1, PUSHED_SHARE), ownHz, volumeM3, back.frequencyHz, back.pushedM2PerSqrtKg];
  const middle = solve(inputs.map(({ value }) => value));
  const hzOf = (part: number): Estimate => {
    const mode = mostOf(middle, part);
    return propagated((values) => solve(values).hz[mode]!, inputs).result;
  };
  return { airHz: hzOf(modes.length + 1), topHz: hzOf(which) };
}

interface Solved {
  /** ascending */
  readonly hz: readonly number[];
  /** one a row */
  readonly vectors: Float64Array;
  readonly n: number;
}

/** The mode in which a part moves most. */
function mostOf({ hz, vectors, n }: Solved, part: number): number {
  return hz.reduce((best, _, k) => (vectors[k * n + part]! ** 2 > vectors[best * n + part]! ** 2 ? k : best), 0);
}
