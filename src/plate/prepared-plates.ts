// Remembers plates made ready: other heights and woods on the same lines need no new mesh and no new elimination order.
import { edgeSupportOf, type PlateCase } from './plate-case.ts';
import { type PreparedPlate, preparePlate } from './plate-modes.ts';

/** Makes a plate ready, or knows it already. */
export type Prepare = (plate: PlateCase) => PreparedPlate;

/** Lines kept: the top as tapped and as strung, with room for going back and forth between two drawings. */
const KEPT = 4;

/** A way to make plates ready that remembers the latest ones by what the mesh and its unknowns depend on. */
export function rememberingPrepare(): Prepare {
  const known = new Map<string, PreparedPlate>();
  return (plate) => {
    const key = linesOf(plate);
    const prepared = known.get(key) ?? preparePlate(plate);
    // Put in anew, so that the one longest unused stands first.
    known.delete(key);
    known.set(key, prepared);
    const [oldest] = known.keys();
    if (known.size > KEPT && oldest !== undefined) known.delete(oldest);
    return prepared;
  };
}

function linesOf(plate: PlateCase): string {
  const { kind, pinnedAt } = edgeSupportOf(plate);
  const braces = (plate.braces ?? []).map(({ from, to, widthMm }) => [from, to, widthMm]);
  const patches = (plate.patches ?? []).map(({ polygon, face }) => [polygon, face]);
  return JSON.stringify([plate.outline, plate.soundhole, plate.thicknessMm, braces, patches, kind, pinnedAt]);
}
