// The air of a step or of several, in the maker's own units.
import type { Range } from '../../compare/report.ts';
import { celsiusToFahrenheit } from '../../quantity/units.ts';
import type { ClimateNote } from '../../record/record.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { number } from './figures.ts';

/** Words for the air of one step, and for the range over several; empty where nothing was noted. */
export function useAir(): {
  readonly one: (climate: ClimateNote) => string;
  /** the size of a difference of temperature */
  readonly degreesOff: (differenceC: number) => string;
  readonly range: (humidityPercent: Range | undefined, tempC: Range | undefined) => string;
} {
  const { temperature } = useWorkshop().preferences.settings.value;
  const degrees = (c: number) => number(temperature === 'f' ? celsiusToFahrenheit(c) : c, temperature === 'f' ? 0 : 1);
  const unit = temperature === 'f' ? '°F' : '°C';
  const span = (range: Range, text: (value: number) => string) =>
    text(range.least) === text(range.most)
      ? text(range.least)
      : words.fields.range(text(range.least), text(range.most));
  const joined = (parts: readonly (string | undefined)[]) => parts.filter((part) => part !== undefined).join(', ');
  return {
    one: ({ humidityPercent, tempC }) =>
      joined([
        humidityPercent === undefined ? undefined : `${number(humidityPercent, 0)}\u00a0%RH`,
        tempC === undefined ? undefined : `${degrees(tempC)}\u00a0${unit}`,
      ]),
    degreesOff: (differenceC) =>
      `${number(Math.abs(temperature === 'f' ? (differenceC * 9) / 5 : differenceC), 0)}\u00a0${unit}`,
    range: (humidityPercent, tempC) =>
      joined([
        humidityPercent === undefined ? undefined : `${span(humidityPercent, (value) => number(value, 0))}\u00a0%RH`,
        tempC === undefined ? undefined : `${span(tempC, degrees)}\u00a0${unit}`,
      ]),
  };
}
