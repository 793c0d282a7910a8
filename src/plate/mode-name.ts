// Plain names of modes, from how often a shape changes sign along and across the grain.

import type { PlateMesh } from './mesh.ts';
import { sampled } from './mode-shape.ts';
import { boundingBox, type Point } from './outline.ts';

/** A mode in plain words, with the counts behind them. */
export interface ModeName {
  readonly name: string;
  /** Node lines that run across the grain (sign changes along x). */
  readonly linesAcrossGrain: number;
  /** Node lines that run along the grain (sign changes along y). */
  readonly linesAlongGrain: number;
}

const FREE_NAMES: Readonly<Record<string, string>> = {
  '1 1': 'twist',
  '2 0': 'long-grain bending',
  '0 2': 'cross-grain bending',
  '2 1': 'long-grain bending with twist',
  '1 2': 'cross-grain bending with twist',
};

const HELD_NAMES: Readonly<Record<string, string>> = {
  '0 0': 'monopole',
  '0 1': 'cross dipole',
  '1 0': 'long dipole',
  '1 1': 'quadrupole',
  '0 2': 'cross tripole',
  '2 0': 'long tripole',
};

const GRID_MM = 12;
/** Deflection too small to have a sign, relative to the largest. */
const NO_SIGN = 0.08;

const ORDINALS = ['', 'second ', 'third ', 'fourth ', 'fifth '];

/**
 * Names the modes of one plate so that no two are called the same: of several with the same node lines the lowest has the
 * plain name, the next is the second of its kind.
 * @param shapes deflections at mesh nodes, in ascending order of frequency
 */
export function distinctModeNames(
  mesh: PlateMesh,
  shapes: readonly Float64Array[],
  isFree: boolean,
): readonly string[] {
  const plain = shapes.map((shape) => modeName(mesh, shape, isFree).name);
  return plain.map((name, i) => {
    const earlier = plain.slice(0, i).filter((other) => other === name).length;
    return `${ORDINALS[earlier] ?? `${earlier + 1}th `}${name}`;
  });
}

/**
 * Names a mode.
 * @param shape  deflection at mesh nodes, largest 1
 * @param isFree whether the rim is free (the names of a held top differ)
 */
export function modeName(mesh: PlateMesh, shape: Float64Array, isFree: boolean): ModeName {
  const points = Array.from(mesh.xMm, (x, i): Point => [x, mesh.yMm[i]!]);
  const [x0, y0, x1, y1] = boundingBox(points);
  const xs = steps(x0, x1);
  const ys = steps(y0, y1);
  const grid = ys.map((y) =>
    sampled(
      mesh,
      shape,
      xs.map((x): Point => [x, y]),
    ),
  );
  const acrossGrain = meanSignChanges(grid);
  const alongGrain = meanSignChanges(xs.map((_, i) => grid.map((row) => row[i])));
  const key = `${acrossGrain} ${alongGrain}`;
  const name =
    (isFree ? FREE_NAMES : HELD_NAMES)[key] ??
    `mode with ${counted(acrossGrain)} across the grain and ${alongGrain} along it`;
  return { name, linesAcrossGrain: acrossGrain, linesAlongGrain: alongGrain };
}

const counted = (lines: number): string => (lines === 1 ? '1 node line' : `${lines} node lines`);

function steps(from: number, to: number): number[] {
  const count = Math.max(2, Math.round((to - from) / GRID_MM));
  return Array.from({ length: count }, (_, i) => from + ((i + 0.5) * (to - from)) / count);
}

/** Sign changes along each line of values, averaged with the energy of the line as weight, rounded. */
function meanSignChanges(lines: readonly (readonly (number | undefined)[])[]): number {
  let [sum, weights] = [0, 0];
  for (const line of lines) {
    const live = line.filter((w): w is number => w !== undefined);
    const signs = live.filter((w) => Math.abs(w) > NO_SIGN).map(Math.sign);
    const changes = signs.filter((sign, i) => i > 0 && sign !== signs[i - 1]).length;
    const weight = live.reduce((energy, w) => energy + w * w, 0);
    sum += weight * changes;
    weights += weight;
  }
  return weights === 0 ? 0 : Math.round(sum / weights);
}
