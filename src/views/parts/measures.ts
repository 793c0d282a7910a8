// How the measures of `record/quantities.ts` are shown, typed and named under the maker's choice of units.
import {
  celsiusToFahrenheit,
  fahrenheitToCelsius,
  gToOunce,
  mmToInch,
  ounceToG,
  parseMm,
} from '../../quantity/units.ts';
import type { FixedMeasure, Measure, TurnedMeasure } from '../../record/quantities.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

/** How a measure is shown in a field, read from what is typed, and named. */
interface ShownMeasure {
  readonly unit: string;
  readonly show: (value: number) => string;
  readonly read: (text: string) => number | undefined;
}

/** Units of every language; what has a word instead stands among the words. */
const unitSigns: Readonly<Record<Exclude<FixedMeasure, 'cents' | 'years' | 'litres'>, string>> = {
  percent: '%',
  hz: 'Hz',
  db: 'dB',
  degrees: '°',
  m: 'm',
  hpa: 'hPa',
  gPerM: 'g/m',
  gpa: 'GPa',
  kgM3: 'kg/m³',
  cm2: 'cm²',
  n: 'N',
  s: 's',
  count: '',
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

const own: Readonly<Record<TurnedMeasure, ShownMeasure>> = {
  mm: { unit: 'mm', show: (mm) => trim(mm, 3), read: (text) => parseMm(text) ?? undefined },
  g: turned('g', 4, same, same),
  c: turned('°C', 4, same, same),
};

const other: Readonly<Record<TurnedMeasure, ShownMeasure>> = {
  mm: {
    unit: 'in',
    show: (mm) => trim(mmToInch(mm), 4),
    read: (text) => parseMm(text.endsWith('mm') ? text : `${text} in`) ?? undefined,
  },
  g: turned('oz', 4, gToOunce, ounceToG),
  c: turned('°F', 1, celsiusToFahrenheit, fahrenheitToCelsius),
};

/** How a measure is shown, read and named under the maker's choice of units. */
export function useMeasure(measure: Measure): ShownMeasure {
  const { length, mass, temperature } = useWorkshop().preferences.settings.value;
  switch (measure) {
    case 'mm':
      return (length === 'inch' ? other : own).mm;
    case 'g':
      return (mass === 'oz' ? other : own).g;
    case 'c':
      return (temperature === 'f' ? other : own).c;
    case 'count':
      return { unit: '', show: (value) => trim(value, 0), read: (text) => rounded(plain(text)) };
    case 'cents':
    case 'years':
    case 'litres':
      return turned(words.fields.units[measure], 4, same, same);
    default:
      return turned(unitSigns[measure], 4, same, same);
  }
}

const rounded = (value: number | undefined): number | undefined =>
  value === undefined ? undefined : Math.round(value);
