// Which mode of one solution is which mode of another: by shape, never by rank.
import { assurance, deflection } from '../plate/mode-shape.ts';
import type { PlateMode, PreparedPlate } from '../plate/plate-modes.ts';

/** Pairs every mode with the most alike of another set, each taken once, strongest likeness first. */
export function matched(
  prepared: PreparedPlate,
  modes: readonly PlateMode[],
  others: readonly PlateMode[],
): { readonly partner: number; readonly likeness: number }[] {
  const shapes = modes.map((mode) => deflection(prepared, mode));
  const otherShapes = others.map((mode) => deflection(prepared, mode));
  const pairs = shapes.flatMap((shape, i) =>
    otherShapes.map((other, j) => ({ i, j, likeness: assurance(shape, other) })),
  );
  pairs.sort((p, q) => q.likeness - p.likeness);
  const partners = new Array<{ partner: number; likeness: number } | undefined>(modes.length).fill(undefined);
  const taken = new Set<number>();
  for (const { i, j, likeness } of pairs) {
    if (partners[i] !== undefined || taken.has(j)) continue;
    partners[i] = { partner: j, likeness };
    taken.add(j);
  }
  return partners.map((partner, i) => partner ?? { partner: Math.min(i, others.length - 1), likeness: 0 });
}
