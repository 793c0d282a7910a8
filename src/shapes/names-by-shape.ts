// Which measured mode is which computed one, by shape at the spots and by frequency with one shift for all.
import { assign } from '../algebra/assignment.ts';
import { assurance } from '../plate/mode-shape.ts';

/** Weights of the study this follows: cents off the shared shift, unlikeness, cents of the shift itself. */
const OFF_CENTS = 150;
const UNLIKE = 12;
const SHIFT_CENTS = 125;
/** Shifts tried, cents. */
const MOST_SHIFT_CENTS = 300;
const SHIFT_STEP_CENTS = 20;
/** A pair that costs more than two of these is not made: a likeness of 0.2 at 200 cents. */
const UNMATCHED = 6;

/** A mode as a frequency, Hz, and a signed shape at the spots. */
interface ShapeHeard {
  readonly frequencyHz: number;
  readonly atSpots: readonly number[];
}

/**
 * Pairs measured with computed modes, each once.
 * @param measured shapes at the spots that were tapped, (modes,)
 * @param computed at the same spots, (computed,)
 * @returns computed mode of each measured one, undefined where none is like it, (modes,)
 */
export function namesByShape(
  measured: readonly ShapeHeard[],
  computed: readonly ShapeHeard[],
): readonly (number | undefined)[] {
  const pairs = measured.flatMap((m) =>
    computed.map((c) => ({
      cents: 1200 * Math.log2(m.frequencyHz / c.frequencyHz),
      unlike: UNLIKE * (1 - assurance(m.atSpots, c.atSpots)),
    })),
  );
  let best: { readonly total: number; readonly pairs: readonly (readonly [number, number])[] } | undefined;
  for (let shift = -MOST_SHIFT_CENTS; shift <= MOST_SHIFT_CENTS; shift += SHIFT_STEP_CENTS) {
    const cost = Float64Array.from(pairs, ({ cents, unlike }) => ((cents - shift) / OFF_CENTS) ** 2 + unlike);
    const made = assign(cost, measured.length, computed.length, UNMATCHED);
    const alone = measured.length - made.length;
    const paired = made.reduce((sum, [m, c]) => sum + cost[m * computed.length + c]!, 0);
    const total = paired + 2 * UNMATCHED * alone + (shift / SHIFT_CENTS) ** 2;
    if (best === undefined || total < best.total) best = { total, pairs: made };
  }
  const byMeasured = new Map(best?.pairs);
  return measured.map((_, m) => byMeasured.get(m));
}
