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

/** A mode of a changed plate with the mode it was before the change. */
export interface Followed {
  readonly mode: PlateMode;
  readonly likeness: number;
}

/**
 * What each mode of a plate has become on the same mesh, whose own error is no move.
 * @param changed in other woods the mesh reads a mode too high by the same share; where wood was taken off, by as many Hz: what gathers
 *                at the ends of the braces is little touched (tests/plate/moves.test.ts)
 */
export const followedModes = (
  prepared: PreparedPlate,
  before: readonly PlateMode[],
  after: readonly PlateMode[],
  changed: 'woods' | 'heights',
): readonly Followed[] =>
  matched(prepared, before, after).map(({ partner, likeness }, i) => {
    const [was, mode] = [before[i]!, after[partner]!];
    const frequencyHz =
      changed === 'woods'
        ? (mode.solvedHz * was.frequencyHz) / was.solvedHz
        : mode.solvedHz + was.frequencyHz - was.solvedHz;
    return { likeness, mode: { ...mode, frequencyHz } };
  });
