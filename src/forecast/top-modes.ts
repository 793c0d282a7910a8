// What the forecast shows first of a top as it stands: its modes with shapes and names, and what each place of each brace
// does to them.
import { type Contour, contours } from '../plate/contours.ts';
import type { PlateMesh } from '../plate/mesh.ts';
import { withMeshSpread } from '../plate/mesh-error.ts';
import { missedModes } from '../plate/mode-count.ts';
import { distinctModeNames } from '../plate/mode-name.ts';
import { deflection, type HoldAndTap, holdAndTap, sampled, steepness } from '../plate/mode-shape.ts';
import type { Point } from '../plate/outline.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { type PlateMode, type PreparedPlate, plateModes, preparePlate } from '../plate/plate-modes.ts';
import type { Prepare } from '../plate/prepared-plates.ts';
import { braceSensitivity, type StretchSensitivity } from '../plate/sensitivity.ts';
import type { Estimate } from '../quantity/estimate.ts';
import { computedFrequencies, computedMassG, type Parameter } from './properties.ts';
import { type ShapeBand, shapeBands } from './shape-bands.ts';

/** A shape, ready to be drawn. */
export interface DrawnShape {
  /** node lines, then lines of equal deflection */
  readonly contours: readonly Contour[];
  readonly bands: readonly ShapeBand[];
  readonly places: HoldAndTap;
}

/** A computed mode, ready to be drawn. */
export interface TopMode extends DrawnShape {
  readonly frequencyHz: Estimate;
  readonly name: string;
  /** deflection at the spots asked for, the largest 1; undefined off the plate */
  readonly atSpots: readonly (number | undefined)[];
  /** size of its slope there, per mm */
  readonly steepAtSpots?: readonly (number | undefined)[];
}

export interface TopModes {
  readonly kind: 'modes';
  readonly modes: readonly TopMode[];
  readonly massG: Estimate;
  /** per stretch of every brace, in the order of the case's braces */
  readonly sensitivity: readonly StretchSensitivity[];
  /** modes below the highest shown that the search passed over, where they can be counted */
  readonly missed?: number;
}

export type TopModesAnswer = TopModes | { readonly kind: 'unsolvable' };

/** Modes shown. */
const SHOWN_MODES = 8;

const LEVELS = [0, -0.75, -0.5, -0.25, 0.25, 0.5, 0.75];
const BANDS: readonly (readonly [number, number])[] = [
  [-1.01, -0.6],
  [-0.6, -0.2],
  [0.2, 0.6],
  [0.6, 1.01],
];

/** @param shape deflection at mesh nodes, largest 1 */
export const drawnShape = (mesh: PlateMesh, shape: Float64Array): DrawnShape => ({
  contours: contours(mesh, shape, LEVELS),
  bands: shapeBands(mesh, shape, BANDS),
  places: holdAndTap(mesh, shape),
});

/** A top as it stands. */
export interface TopQuestion {
  /** a case that `checkPlate` calls sound */
  readonly plate: PlateCase;
  /** properties that are known only within a spread */
  readonly parameters: readonly Parameter[];
  /** places of which the deflection is wanted, mm */
  readonly spots?: readonly Point[];
}

/**
 * Solves a top and prepares what is drawn of it.
 * @param known modes found last on each prepared plate: the search starts there, and leaves what it finds
 */
export function topModes(
  { plate, parameters, spots = [] }: TopQuestion,
  onProgress: (share: number) => void = () => undefined,
  prepare: Prepare = preparePlate,
  known = new WeakMap<PreparedPlate, readonly PlateMode[]>(),
): TopModesAnswer {
  const prepared = prepare(plate);
  onProgress(0.3);
  const answer = plateModes(prepared, plate, {
    count: SHOWN_MODES,
    near: known.get(prepared),
    onProgress: (share) => {
      onProgress(0.3 + 0.4 * share);
      return true;
    },
  });
  if (answer.kind !== 'modes') return { kind: 'unsolvable' };
  known.set(prepared, answer.modes);
  const isFree = prepared.support.kind === 'free';
  const { mesh } = prepared;
  const shapes = answer.modes.map((mode) => deflection(prepared, mode));
  const names = distinctModeNames(mesh, shapes, isFree);
  const frequencies = withMeshSpread(computedFrequencies(prepared, plate, answer.modes, parameters), answer.modes);
  const modes = frequencies.map((frequencyHz, i): TopMode => {
    const shape = shapes[i]!;
    return {
      frequencyHz,
      name: names[i]!,
      ...drawnShape(mesh, shape),
      atSpots: sampled(mesh, shape, spots),
      steepAtSpots: steepness(mesh, shape, spots),
    };
  });
  onProgress(0.8);
  const sensitivity = braceSensitivity(prepared, plate, answer.modes);
  const missed = missedModes(prepared, plate, answer.modes);
  const massG = computedMassG(prepared, plate, parameters);
  return { kind: 'modes', modes, massG, sensitivity, ...(missed !== undefined && { missed }) };
}
