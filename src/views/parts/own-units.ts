// Lengths and masses that the page says, in the maker's own units; and the Q of a mode.

import { type Estimate, isMeasured, scaled } from '../../quantity/estimate.ts';
import { gToOunce, mmToInch } from '../../quantity/units.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { number, withHalfWidth } from './figures.ts';

/** A length as text. @param decimals of millimetres, where those of a usual length are too few */
export function useLength(decimals?: number): (mm: number) => string {
  const { length } = useWorkshop().preferences.settings.value;
  return (mm) =>
    length === 'inch'
      ? `${number(mmToInch(mm), 3)}\u00a0in`
      : `${number(mm, decimals ?? (Math.abs(mm) < 20 ? 2 : 0))}\u00a0mm`;
}

/** A mass as text. */
export function useMass(): (g: number) => string {
  const { mass } = useWorkshop().preferences.settings.value;
  return (g) => (mass === 'oz' ? `${number(gToOunce(g), 2)}\u00a0oz` : `${number(g, 1)}\u00a0g`);
}

/** The unit of lengths and how a length reads in it, for a figure whose parts a view sets apart. */
export function useOwnLength(): { readonly unit: string; readonly own: (mm: Estimate) => Estimate } {
  const { length } = useWorkshop().preferences.settings.value;
  return length === 'inch' ? { unit: 'in', own: (mm) => scaled(mm, mmToInch(1)) } : { unit: 'mm', own: (mm) => mm };
}

/** A length with its interval. */
export function useLengthEstimate(): (mm: Estimate) => string {
  const { unit, own } = useOwnLength();
  return (mm) => withHalfWidth(own(mm), unit);
}

/** A mass with its interval. */
export function useMassEstimate(): (g: Estimate) => string {
  const { mass } = useWorkshop().preferences.settings.value;
  return (g) => (mass === 'oz' ? withHalfWidth(scaled(g, gToOunce(1)), 'oz') : withHalfWidth(g, 'g'));
}

/** Q with its half width, or that it is not measurable: an interval that reaches down to zero is none. */
export function qText(q: Estimate): string {
  return isMeasured(q) ? `Q ${withHalfWidth(q, '', 0)}` : words.bench.qNotMeasurable;
}
