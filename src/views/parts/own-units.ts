// Lengths and masses that the page says, in the maker's own units; and the Q of a mode.

import { type Estimate, isMeasured, scaled } from '../../quantity/estimate.ts';
import { type InchReading, inchText } from '../../quantity/lengths.ts';
import { gToOunce, inchToMm, mmToInch, nToLbf } from '../../quantity/units.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { number, withHalfWidth } from './figures.ts';

const nbsp = '\u00a0';

/**
 * A length as text.
 * @param reading  how it reads in inches: off a rule, or in thousandths as thicknesses, depths and heights do
 * @param decimals of millimetres, where those of a usual length do not fit
 */
export function useLength(reading: InchReading = 'rule', decimals?: number): (mm: number) => string {
  const { length } = useWorkshop().preferences.settings.value;
  return (mm) =>
    length === 'inch'
      ? `${inchText(mm, reading, number)}${nbsp}in`
      : `${number(mm, decimals ?? (Math.abs(mm) < 20 ? 2 : 0))}${nbsp}mm`;
}

/** A stretch as text: "159 to 179 mm", "6 1/4 to 7 3/64 in". */
export function useStretch(): (fromMm: number, toMm: number) => string {
  const { length } = useWorkshop().preferences.settings.value;
  const say = (mm: number) => (length === 'inch' ? inchText(mm, 'rule', number) : number(mm, 0));
  return (fromMm, toMm) => `${words.fields.range(say(fromMm), say(toMm))}${nbsp}${length === 'inch' ? 'in' : 'mm'}`;
}

interface RoundLength {
  readonly mm: number;
  readonly said: string;
}

/** A length that is round in the maker's own units: so many millimetres, or so many inches. */
export function useRoundLength(): (mm: number, inch: number) => RoundLength {
  const { length } = useWorkshop().preferences.settings.value;
  const say = useLength('rule', 0);
  return (mm, inch) => {
    const round = length === 'inch' ? inchToMm(inch) : mm;
    return { mm: round, said: say(round) };
  };
}

/** The depth by which a rate is told; `per` names it behind "per". */
export function useRateDepth(): RoundLength & { readonly per: string } {
  const depth = useRoundLength()(1, 0.01);
  return { ...depth, per: depth.mm === 1 ? 'mm' : depth.said };
}

/** Stiffness and area of what moves as a piston, in units that go with the maker's lengths. */
export function usePistonUnits(): {
  readonly stiffness: (nPerM: Estimate) => string;
  readonly area: (m2: Estimate) => string;
} {
  const { length } = useWorkshop().preferences.settings.value;
  return length === 'inch'
    ? {
        stiffness: (nPerM) => withHalfWidth(scaled(nPerM, nToLbf(1e-3 * inchToMm(1))), 'lbf/in'),
        area: (m2) => withHalfWidth(scaled(m2, mmToInch(1000) ** 2), 'in²'),
      }
    : {
        stiffness: (nPerM) => withHalfWidth(scaled(nPerM, 1e-3), 'N/mm'),
        area: (m2) => withHalfWidth(scaled(m2, 1e4), 'cm²'),
      };
}

/** A mass as text. */
export function useMass(): (g: number) => string {
  const { mass } = useWorkshop().preferences.settings.value;
  return (g) => (mass === 'oz' ? `${number(gToOunce(g), 2)}\u00a0oz` : `${number(g, g < 1000 ? 1 : 0)}\u00a0g`);
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
