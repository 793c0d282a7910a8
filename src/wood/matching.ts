// Which halves belong together, which sticks may stand in for which, and how boards compare.
import { difference, type Estimate, estimate, propagated } from '../quantity/estimate.ts';
import { radiationRatio } from './radiation.ts';
import { equalStiffnessHeight } from './stick.ts';

/** A measured board as the shelf lists it. */
export interface ShelfBoard {
  readonly id: string;
  readonly densityKgM3: Estimate;
  readonly eLongGpa: Estimate;
  readonly eCrossGpa: Estimate;
  readonly gGpa: Estimate;
}

type Compared = 'densityKgM3' | 'eLongGpa' | 'eCrossGpa' | 'gGpa';
const COMPARED: readonly Compared[] = ['densityKgM3', 'eLongGpa', 'eCrossGpa', 'gGpa'];

/** Two halves and how they differ. */
export interface HalfPair {
  readonly ids: readonly [string, string];
  /** second less first over their mean, %, each with one sigma */
  readonly differencePercent: Readonly<Record<Compared, Estimate>>;
  /** root mean square of the four differences in E^(1/2) and rho^(1/2), %: about how far their modes lie apart */
  readonly apartPercent: number;
}

/**
 * The two halves beside each other.
 * Source: our derivation: f goes with sqrt(E / rho), so half of each relative difference.
 */
export function comparePair(first: ShelfBoard, second: ShelfBoard): HalfPair {
  const differencePercent = Object.fromEntries(
    COMPARED.map((key) => {
      const { value, sigma } = difference(second[key], first[key]);
      const mean = (first[key].value + second[key].value) / 2;
      return [key, estimate((100 * value) / mean, (100 * sigma) / mean)];
    }),
  ) as Record<Compared, Estimate>;
  const apartPercent = Math.hypot(...COMPARED.map((key) => differencePercent[key].value / 2)) / 2;
  return { ids: [first.id, second.id], differencePercent, apartPercent };
}

/**
 * Halves in pairs, closest first; an odd one is left over.
 * @param halves boards with their own ids
 * @returns pairs, each half used once
 * Source: greedy on the distance of comparePair: the best pair is never broken for a better total.
 */
export function pairHalves(halves: readonly ShelfBoard[]): readonly HalfPair[] {
  const all = halves
    .flatMap((first, i) => halves.slice(i + 1).map((second) => comparePair(first, second)))
    .sort((p, q) => p.apartPercent - q.apartPercent);
  const used = new Set<string>();
  return all.filter(({ ids }) => {
    if (ids.some((id) => used.has(id))) return false;
    for (const id of ids) used.add(id);
    return true;
  });
}

/** A stick of the shelf. */
export interface ShelfStick {
  readonly id: string;
  readonly eGpa: Estimate;
  readonly densityKgM3: Estimate;
}

/** What another stick would be in place of this one. */
export interface StickSwap {
  readonly id: string;
  /** height at which it is as stiff, width kept */
  readonly heightMm: Estimate;
  /** its mass over the present brace's, at that height */
  readonly massRatio: Estimate;
}

/**
 * Sticks that could stand in for one at equal stiffness, lightest first.
 * @param stick    the present one
 * @param heightMm its height
 * @param others   the rest of the shelf
 * Source: see equalStiffnessHeight (a brace alone; glued to a plate the height matters less).
 */
export function stickSwaps(stick: ShelfStick, heightMm: Estimate, others: readonly ShelfStick[]): readonly StickSwap[] {
  return others
    .map((other) => {
      const height = equalStiffnessHeight(heightMm, stick.eGpa, other.eGpa);
      // The mass of a stick is in its modulus and its density; taken as independent, their doubt is on the safe side.
      const { result: massRatio } = propagated(
        ([e, otherE, density, otherDensity]) => (Math.cbrt(e! / otherE!) * otherDensity!) / density!,
        [stick.eGpa, other.eGpa, stick.densityKgM3, other.densityKgM3],
      );
      return { id: other.id, heightMm: height, massRatio };
    })
    .sort((p, q) => p.massRatio.value - q.massRatio.value);
}

/** A maker's own boards of one wood: mean and spread, and how many. */
export interface ShelfSpread {
  readonly count: number;
  readonly mean: number;
  /** standard deviation from board to board; undefined for a single board */
  readonly spread: number | undefined;
}

/**
 * Mean and spread of one quantity over the shelf.
 * @throws RangeError for an empty list
 */
export function shelfSpread(values: readonly number[]): ShelfSpread {
  const count = values.length;
  if (count === 0) throw new RangeError('shelfSpread: 0 values, need at least 1');
  const mean = values.reduce((sum, each) => sum + each, 0) / count;
  const squares = values.reduce((sum, each) => sum + (each - mean) ** 2, 0);
  return { count, mean, spread: count > 1 ? Math.sqrt(squares / (count - 1)) : undefined };
}

/** What boards are sorted by. */
export type BoardOrder = 'densityKgM3' | 'eLongGpa' | 'eCrossGpa' | 'gGpa' | 'radiationRatio';

/** Boards in order of one quantity, largest first. Source: radiation ratio as in radiation.ts. */
export function rankBoards<T extends ShelfBoard>(boards: readonly T[], by: BoardOrder): readonly T[] {
  const quantity = (board: T) =>
    by === 'radiationRatio' ? radiationRatio(board.eLongGpa.value * 1e9, board.densityKgM3.value) : board[by].value;
  return [...boards].sort((p, q) => quantity(q) - quantity(p));
}
