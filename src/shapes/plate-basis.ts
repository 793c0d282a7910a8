// The computed shapes of a drawing as a basis for measured ones: what they are at the spots, and how much of each a mode of the
// piece may hold when its woods, heights and rim are not quite those of the drawing.
import { dofCount, multiplyEntries, nonZeroEntries } from '../algebra/block-symmetric.ts';
import { assemble } from '../plate/assembly.ts';
import { MOTIONS, W } from '../plate/freedoms.ts';
import { sampled, steepness } from '../plate/mode-shape.ts';
import type { Point } from '../plate/outline.ts';
import { edgeSupportOf, type PlateCase } from '../plate/plate-case.ts';
import { type PlateMode, type PreparedPlate, woodOf } from '../plate/plate-modes.ts';
import type { ShapeBasis } from './measured-shapes.ts';

/** Of any other mode a mode of the piece may hold so much, whatever the known spreads say: a fault of the build is none of them. Chosen on bench seeds from 920 million. */
const LEAST_MIXING = 0.04;
const MOST_MIXING = 1;

/**
 * @param modes    computed, with unit modal mass, on the prepared plate; (computed,)
 * @param variants the plate with one thing at a time one standard deviation off, lines as prepared
 * @param spots    places that were tapped, on the plate, mm
 * @throws RangeError if a spot is off the plate
 * Source: first-order perturbation of eigenvectors, Fox & Kapoor, AIAA J. 6 (1968) 2426.
 */
export function plateBasis(
  prepared: PreparedPlate,
  modes: readonly PlateMode[],
  variants: readonly PlateCase[],
  spots: readonly Point[],
  computedOf: readonly number[],
): ShapeBasis {
  const shapes = modes.map((mode) => lifts(prepared, mode));
  const at = shapes.map((shape) => sampled(prepared.mesh, shape, spots));
  const slopes = shapes.map((shape) => steepness(prepared.mesh, shape, spots));
  const read = (values: readonly (readonly (number | undefined)[])[]) =>
    spots.map((spot, s) =>
      values.map((each) => {
        const value = each[s];
        if (value === undefined) throw new RangeError(`plateBasis: spot ${spot.join(', ')} mm, need one on the plate`);
        return value;
      }),
    );
  return { atSpots: read(at), steepnessAtSpots: read(slopes), mixing: mixingOf(prepared, modes, variants), computedOf };
}

/**
 * A measured shape over the whole plate.
 * @param shares of the computed modes, (computed,)
 * @returns deflection at every mesh node, largest 1, (nodes,)
 */
export const wholeShape = (
  prepared: PreparedPlate,
  modes: readonly PlateMode[],
  shares: readonly number[],
): Float64Array => wholeShapeAndSpread(prepared, modes, shares).shape;

/**
 * A measured shape over the whole plate, and how well it is known there.
 * @param shares     of the computed modes, (computed,)
 * @param covariance of the shares, (computed, computed); known exactly if not given
 * @returns deflection at every mesh node, largest 1, and its standard deviation, (nodes,)
 */
export function wholeShapeAndSpread(
  prepared: PreparedPlate,
  modes: readonly PlateMode[],
  shares: readonly number[],
  covariance: readonly (readonly number[])[] = [],
): { readonly shape: Float64Array; readonly sigma: Float64Array } {
  const shapes = modes.map((mode) => lifts(prepared, mode));
  const nodes = prepared.mesh.xMm.length;
  const [shape, variance] = [new Float64Array(nodes), new Float64Array(nodes)];
  shapes.forEach((one, j) => {
    for (let node = 0; node < nodes; node++) shape[node]! += shares[j]! * one[node]!;
  });
  covariance.forEach((row, a) => {
    row.forEach((each, b) => {
      for (let node = 0; node < nodes; node++) variance[node]! += each * shapes[a]![node]! * shapes[b]![node]!;
    });
  });
  const largest = shape.reduce((most, each) => (Math.abs(each) > Math.abs(most) ? each : most), 0) || 1;
  return {
    shape: shape.map((each) => each / largest),
    sigma: variance.map((each) => Math.sqrt(Math.max(0, each)) / Math.abs(largest)),
  };
}

function lifts({ mesh, freedoms }: PreparedPlate, { vector }: PlateMode): Float64Array {
  return Float64Array.from(mesh.xMm, (_, node) => {
    const unknown = freedoms.unknown[node * MOTIONS + W]!;
    return unknown < 0 ? 0 : vector[unknown]!;
  });
}

function mixingOf(prepared: PreparedPlate, modes: readonly PlateMode[], variants: readonly PlateCase[]): number[][] {
  const { pattern } = prepared.freedoms;
  const image = new Float64Array(dofCount(pattern));
  const squares = modes.map(() => modes.map(() => 0));
  const lambdas = modes.map(({ solvedHz }) => (2 * Math.PI * solvedHz) ** 2);
  const matricesOf = (plate: PlateCase) => assemble(prepared, woodOf(prepared, plate), edgeSupportOf(plate));
  const drawn = matricesOf(prepared.plate);
  for (const variant of variants) {
    const other = matricesOf(variant);
    const stiffer = nonZeroEntries(
      pattern,
      other.stiffness.map((each, i) => each - drawn.stiffness[i]!),
    );
    const heavier = nonZeroEntries(
      pattern,
      other.mass.map((each, i) => each - drawn.mass[i]!),
    );
    modes.forEach(({ vector }, k) => {
      const along = (entries: typeof stiffer) => {
        multiplyEntries(entries, vector, image);
        return modes.map((mode) => mode.vector.reduce((sum, each, i) => sum + each * image[i]!, 0));
      };
      const [stiffness, mass] = [along(stiffer), along(heavier)];
      modes.forEach((_, j) => {
        if (j !== k) squares[j]![k]! += ((stiffness[j]! - lambdas[k]! * mass[j]!) / (lambdas[k]! - lambdas[j]!)) ** 2;
      });
    });
  }
  return squares.map((row) => row.map((each) => Math.min(MOST_MIXING, Math.max(LEAST_MIXING, Math.sqrt(each)))));
}
