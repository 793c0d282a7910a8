// How to hold a board so that one mode rings and the others do not, and where to tap it.
import type { BoardElastic, BoardSize } from './board-energy.ts';
import { type BoardMode, boardModes } from './board-modes.ts';
import { type DeflectionGrid, deflectionGrid, nodeLines, type PointMm } from './node-lines.ts';
import type { Pattern } from './pattern-names.ts';

/** The three taps that give a board's constants, in workshop words. */
export type TapKind = 'long-grain-bending' | 'cross-grain-bending' | 'twist';

/** Which node lines each tap has. */
export const TAP_PATTERNS: Readonly<Record<TapKind, Pattern>> = {
  'long-grain-bending': { m: 2, n: 0 },
  'cross-grain-bending': { m: 0, n: 2 },
  twist: { m: 1, n: 1 },
};

/** How to bring out one mode. */
export interface HoldGuide {
  readonly tap: TapKind;
  /** where it should sound if the wood is as expected */
  readonly expectedHz: number;
  readonly nodeLines: readonly (readonly PointMm[])[];
  /** finger and thumb, on a node line of this mode at the edge, where the other two move: it damps them */
  readonly hold: PointMm;
  /** where this mode moves most and the other two least */
  readonly strike: PointMm;
}

/** Weight of the other modes' motion against the wanted one's. Source: ours; it puts the strike on their node lines. */
const OTHERS_WEIGHT = 0.5;

function best(grid: DeflectionGrid, size: BoardSize, score: (i: number, j: number) => number): PointMm {
  let most = Number.NEGATIVE_INFINITY;
  let found: PointMm = { xMm: 0, yMm: 0 };
  for (let i = 0; i < grid.columns; i++) {
    for (let j = 0; j < grid.rows; j++) {
      const here = score(i, j);
      if (here <= most) continue;
      most = here;
      found = {
        xMm: (i / (grid.columns - 1)) * size.lengthM * 1000,
        yMm: (j / (grid.rows - 1)) * size.widthM * 1000,
      };
    }
  }
  return found;
}

/**
 * Hold and strike for long-grain bending, cross-grain bending and twist.
 * @param size    board, m
 * @param elastic expected constants (handbook, or the last reading)
 * @param densityKgM3 from scale and ruler
 * Source: our derivation: nodes and antinodes of the free plate; a bar is held at 0.224 of its length (ASTM E1876).
 */
export function holdGuides(size: BoardSize, elastic: BoardElastic, densityKgM3: number): readonly HoldGuide[] {
  const modes = boardModes(size, elastic, densityKgM3);
  const kinds = Object.keys(TAP_PATTERNS) as TapKind[];
  const named = kinds.map((tap) => {
    const { m, n } = TAP_PATTERNS[tap];
    const mode = modes.find(({ pattern }) => pattern.m === m && pattern.n === n) as BoardMode;
    return { tap, mode, grid: deflectionGrid(mode) };
  });
  return named.map(({ tap, mode, grid }) => {
    const others = named.filter((each) => each.tap !== tap).map((each) => each.grid);
    const motion = (each: DeflectionGrid, i: number, j: number) => Math.abs(each.values[i * each.rows + j]!);
    const othersMotion = (i: number, j: number) => others.reduce((sum, each) => sum + motion(each, i, j), 0);
    const isEdge = (i: number, j: number) => i === 0 || j === 0 || i === grid.columns - 1 || j === grid.rows - 1;
    return {
      tap,
      expectedHz: mode.frequencyHz,
      nodeLines: nodeLines(mode, size),
      hold: best(grid, size, (i, j) => (isEdge(i, j) ? othersMotion(i, j) / 2 - 10 * motion(grid, i, j) : -100)),
      strike: best(grid, size, (i, j) => motion(grid, i, j) - OTHERS_WEIGHT * othersMotion(i, j)),
    };
  });
}
