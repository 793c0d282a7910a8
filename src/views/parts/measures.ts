// How the measures of `record/quantities.ts` are shown, typed and named under the maker's choice of units.
import { inchText, parseInch, parseMm } from '../../quantity/lengths.ts';
import {
  celsiusToFahrenheit,
  fahrenheitToCelsius,
  gToOunce,
  inchToMm,
  mmToInch,
  ounceToG,
} from '../../quantity/units.ts';
import { type FixedMeasure, type QuantityName, quantities } from '../../record/quantities.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

/** How a measure is shown in a field, read from what is typed, and named. */
interface ShownMeasure {
  readonly unit: string;
  readonly show: (value: number) => string;
  readonly read: (text: string) => number | undefined;
}

/** Units of every language; what has a word instead stands among the words. */
const unitSigns: Readonly<Record<Exclude<FixedMeasure, 'm' | 'cm2' | 'count' | 'cents' | 'years' | 'litres'>, string>> =
  {
    percent: '%',
    hz: 'Hz',
    db: 'dB',
    degrees: '°',
    hpa: 'hPa',
    gPerM: 'g/m',
    gpa: 'GPa',
    kgM3: 'kg/m³',
    n: 'N',
    s: 's',
    plain: '',
  };

/** A number as typed, with a point or a comma; undefined where it is none. */
function plain(typed: string): number | undefined {
  const text = typed.replace('\u2212', '-');
  return /^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(text) ? Number(text.replace(',', '.')) : undefined;
}

const trim = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));

/** A measure that the maker reads in another unit: how it turns, and how many decimals a field shows. */
const turned = (
  unit: string,
  decimals: number,
  toShown: (value: number) => number,
  fromShown: (value: number) => number,
): ShownMeasure => ({
  unit,
  show: (value) => trim(toShown(value), decimals),
  read: (text) => {
    const typed = plain(text);
    return typed === undefined ? undefined : fromShown(typed);
  },
});

const same = (value: number): number => value;
const mToFoot = (m: number): number => mmToInch(1000 * m) / 12;
const footToM = (foot: number): number => inchToMm(12 * foot) / 1000;
const cm2ToSquareInch = (cm2: number): number => cm2 * mmToInch(10) ** 2;
const squareInchToCm2 = (inch2: number): number => inch2 / mmToInch(10) ** 2;

/** What the ± of a length shows: a rule is read to a mark, but how far off it may be is finer than a mark. */
const doubtOfLength = { decimals: 3, inches: 4 } as const;

/** How a quantity, or the ± of one, is shown, read and named under the maker's choice of units. */
export function useQuantity(name: QuantityName, isDoubt = false): ShownMeasure {
  const { length, mass, temperature } = useWorkshop().preferences.settings.value;
  const { measure, decimals, inches } = {
    ...quantities[name],
    ...(isDoubt && quantities[name].measure === 'mm' ? doubtOfLength : {}),
  };
  switch (measure) {
    case 'mm':
      return length === 'inch'
        ? { unit: 'in', show: (mm) => inchText(mm, inches, trim).replace('\u00a0', ' '), read: parseInch }
        : { unit: 'mm', show: (mm) => trim(mm, decimals), read: parseMm };
    case 'g':
      return mass === 'oz' ? turned('oz', 4, gToOunce, ounceToG) : turned('g', decimals, same, same);
    case 'c':
      return temperature === 'f'
        ? turned('°F', 1, celsiusToFahrenheit, fahrenheitToCelsius)
        : turned('°C', decimals, same, same);
    case 'm':
      return length === 'inch' ? turned('ft', 2, mToFoot, footToM) : turned('m', decimals, same, same);
    case 'cm2':
      return length === 'inch'
        ? turned('in²', 1, cm2ToSquareInch, squareInchToCm2)
        : turned('cm²', decimals, same, same);
    case 'cents':
    case 'years':
    case 'litres':
      return turned(words.fields.units[measure], decimals, same, same);
    case 'count':
      return turned('', decimals, same, Math.round);
    default:
      return turned(unitSigns[measure], decimals, same, same);
  }
}
