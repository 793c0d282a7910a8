// Two lists laid side by side: the peaks that were heard and the modes a board should have, each used once, in order.
import { HALF_WIDTH_95 } from '../quantity/estimate.ts';
import type { BoardMode } from './board-modes.ts';
import type { TappedMode } from './measured-board.ts';

/**
 * Loss factors of tonewood and how far one board strays from them, relative: a peak's Q tells a long-grain mode from a
 * cross-grain one. Source: spruce and cedar 0.006-0.009 along, 0.018-0.025 across (Wegst 2006 and others, from memory);
 * twist between them, from three measured half-tops.
 */
const USUAL_LOSS = { long: 0.0075, cross: 0.021, twist: 0.014 };
const LOSS_SPREAD = 0.35;
/** Cost of a peak that no mode explains, and of a mode that no peak shows: taps near a node line miss modes. */
const STRAY_PEAK = 12;
const UNSEEN_MODE = 2;
/** Which mode each peak is, and at what cost. */
export interface Naming {
  /** index into the modes for each peak, or -1 */
  readonly modeOf: readonly number[];
  readonly cost: number;
}

/**
 * What no tonewood gives, by a factor of 2.5 beyond the published loss factors: 0.004 (rosewood along the grain) to 0.025
 * (spruce across it). Source: as above, from memory; the factor is ours: 2.6 times the spread of one board.
 */
const WOOD_Q = [1 / 0.025 / 2.5, 2.5 / 0.004] as const;

/** Whether a peak dies away as no wood does, its Q's own 95 % interval counted: a hum, a room, a thing on the bench. */
export function isUnlikeWood({ q }: TappedMode): boolean {
  if (q === undefined) return false;
  const reach = Math.exp((HALF_WIDTH_95 * q.sigma) / q.value);
  return !(q.value * reach > WOOD_Q[0] && q.value / reach < WOOD_Q[1]);
}

/** How badly a peak suits a mode: distance in frequency, and in Q where one was read, as far as it is known. */
function unlikeness({ frequencyHz, q }: TappedMode, mode: BoardMode, spread: number): number {
  const distance = Math.log(frequencyHz.value / mode.frequencyHz) / spread;
  if (q === undefined) return distance ** 2;
  const { long, cross, coupling, twist } = mode.energy;
  const loss = USUAL_LOSS.long * long + USUAL_LOSS.cross * (cross + coupling) + USUAL_LOSS.twist * twist;
  return distance ** 2 + Math.log(q.value * loss) ** 2 / (LOSS_SPREAD ** 2 + (q.sigma / q.value) ** 2);
}

/**
 * Cheapest one-to-one matching of two ascending lists, either side may be skipped. Source: dynamic programming.
 * @param isBarred whether a peak may not be taken for a mode
 */
export function alignPeaks(
  peaks: readonly TappedMode[],
  modes: readonly BoardMode[],
  spread: number,
  isBarred: (peak: number, mode: BoardMode) => boolean = () => false,
): Naming {
  const rows = peaks.length + 1;
  const columns = modes.length + 1;
  const cost = new Float64Array(rows * columns).fill(Number.POSITIVE_INFINITY);
  const move = new Int8Array(rows * columns);
  cost[0] = 0;
  const offer = (index: number, value: number, kind: number) => {
    if (value >= cost[index]!) return;
    cost[index] = value;
    move[index] = kind;
  };
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < columns; j++) {
      const here = cost[i * columns + j]!;
      if (i + 1 < rows) offer((i + 1) * columns + j, here + STRAY_PEAK, 1);
      if (j + 1 < columns) offer(i * columns + j + 1, here + UNSEEN_MODE, 2);
      if (i + 1 < rows && j + 1 < columns && !isBarred(i, modes[j]!)) {
        offer((i + 1) * columns + j + 1, here + unlikeness(peaks[i]!, modes[j]!, spread), 3);
      }
    }
  }
  const modeOf = peaks.map(() => -1);
  let i = rows - 1;
  let j = columns - 1;
  while (i > 0 || j > 0) {
    const kind = move[i * columns + j];
    if (kind === 3) modeOf[i - 1] = j - 1;
    if (kind !== 2) i--;
    if (kind !== 1) j--;
  }
  return { modeOf, cost: cost[rows * columns - 1]! };
}
