// The computed mode shapes of a top as movements at places, for programs that draw them.
import { distinctModeNames } from '../plate/mode-name.ts';
import { deflection } from '../plate/mode-shape.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { plateModes, preparePlate } from '../plate/plate-modes.ts';

/** Shapes of the lowest modes at the same places. */
export interface TopShapes {
  readonly kind: 'shapes';
  /** places along the grain from the tail, and across it, mm, (n,) each */
  readonly xMm: Float64Array;
  readonly yMm: Float64Array;
  readonly modes: readonly {
    readonly frequencyHz: number;
    readonly name: string;
    /** movement out of the plate at each place, the largest 1, (n,) */
    readonly z: Float64Array;
  }[];
}

/**
 * Solves a top for its shapes.
 * @param plate a case that `checkPlate` calls sound
 * @param count how many modes
 */
export function topShapes(
  plate: PlateCase,
  count: number,
  onProgress: (share: number) => void = () => undefined,
): TopShapes | { readonly kind: 'unsolvable' } {
  const prepared = preparePlate(plate);
  const answer = plateModes(prepared, plate, {
    count,
    onProgress: (share) => {
      onProgress(share);
      return true;
    },
  });
  if (answer.kind !== 'modes') return { kind: 'unsolvable' };
  const { mesh } = prepared;
  const isFree = prepared.support.kind === 'free';
  const shapes = answer.modes.map((mode) => deflection(prepared, mode));
  const names = distinctModeNames(mesh, shapes, isFree);
  return {
    kind: 'shapes',
    xMm: mesh.xMm,
    yMm: mesh.yMm,
    modes: answer.modes.map(({ frequencyHz }, i) => ({ frequencyHz, name: names[i]!, z: shapes[i]! })),
  };
}
