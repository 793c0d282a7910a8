// Lengths and masses that the page says, in the maker's own units; and the Q of a mode.

import { type Estimate, isMeasured, scaled } from '../quantity/estimate.ts';
import { gToOunce, mmToInch } from '../quantity/units.ts';
import { number, parts, withHalfWidth } from './figures.ts';
import { words } from './words/language.ts';
import { useWorkshop } from './workshop-context.ts';

/** A length as text. */
export function useLength(): (mm: number) => string {
  const { length } = useWorkshop().preferences.settings.value;
  return (mm) =>
    length === 'inch' ? `${number(mmToInch(mm), 3)}\u00a0in` : `${number(mm, Math.abs(mm) < 20 ? 2 : 0)}\u00a0mm`;
}

/** A mass as text. */
export function useMass(): (g: number) => string {
  const { mass } = useWorkshop().preferences.settings.value;
  return (g) => (mass === 'oz' ? `${number(gToOunce(g), 2)}\u00a0oz` : `${number(g, 1)}\u00a0g`);
}

/** A length with its interval. */
export function useLengthEstimate(): (mm: Estimate) => string {
  const { length } = useWorkshop().preferences.settings.value;
  return (mm) => (length === 'inch' ? withHalfWidth(scaled(mm, mmToInch(1)), 'in') : withHalfWidth(mm, 'mm'));
}

/** A mass with its interval. */
export function useMassEstimate(): (g: Estimate) => string {
  const { mass } = useWorkshop().preferences.settings.value;
  return (g) => (mass === 'oz' ? withHalfWidth(scaled(g, gToOunce(1)), 'oz') : withHalfWidth(g, 'g'));
}

/** Q with its half width, or that it is not measurable: an interval that reaches down to zero is none. */
export function qText(q: Estimate): string {
  const { value, halfWidth } = parts(q, 0);
  return isMeasured(q) ? `Q ${value} ±${halfWidth}` : words.bench.qNotMeasurable;
}
