// Two signatures side by side: which mode became which, and by how much it moved.
import type { Estimate } from '../quantity/estimate.ts';
import { matchModes } from './match.ts';
import { type Move, moveBetween } from './move.ts';
import type { Signature, SignatureMode } from './signature.ts';

/** One row of a comparison. A mode without a partner appeared or was not heard again. */
export type ComparedMode =
  | { readonly kind: 'moved'; readonly before: SignatureMode; readonly after: SignatureMode; readonly move: Move }
  | { readonly kind: 'not-heard-again'; readonly before: SignatureMode }
  | { readonly kind: 'appeared'; readonly after: SignatureMode };

/**
 * Compares two signatures.
 * @param weather relative change of every frequency by the air alone; given, the moves are those that remain once it is
 *                taken out, with its doubt in their uncertainty
 * @returns rows in ascending order of frequency
 */
export function compareSignatures(before: Signature, after: Signature, weather?: Estimate): readonly ComparedMode[] {
  const inTheAirOfAfter = (hz: Estimate): Estimate =>
    weather === undefined
      ? hz
      : { value: hz.value * weather.value, sigma: Math.hypot(hz.sigma * weather.value, hz.value * weather.sigma) };
  const pairs = matchModes(
    before.modes.map((mode) => mode.frequencyHz.value),
    after.modes.map((mode) => mode.frequencyHz.value),
  );
  const partner = new Map(pairs);
  const taken = new Set(pairs.map(([, j]) => j));
  const rows = before.modes.map((mode, i): ComparedMode => {
    const other = after.modes[partner.get(i) ?? -1];
    return other === undefined
      ? { kind: 'not-heard-again', before: mode }
      : {
          kind: 'moved',
          before: mode,
          after: other,
          move: moveBetween(inTheAirOfAfter(mode.frequencyHz), other.frequencyHz),
        };
  });
  const appeared = after.modes
    .filter((_, j) => !taken.has(j))
    .map((mode): ComparedMode => ({ kind: 'appeared', after: mode }));
  return [...rows, ...appeared].toSorted((a, b) => frequencyOf(a) - frequencyOf(b));
}

const frequencyOf = (row: ComparedMode): number => (row.kind === 'appeared' ? row.after : row.before).frequencyHz.value;
