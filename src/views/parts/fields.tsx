// Labelled inputs. A number may be typed with a point or a comma and in the units of the maker's choice; what leaves
// here is millimetres, grams or degrees Celsius. A text that is no number is marked and changes nothing.
import type { ComponentChildren } from 'preact';
import { useEffect, useId, useState } from 'preact/hooks';
import {
  celsiusToFahrenheit,
  fahrenheitToCelsius,
  gToOunce,
  mmToInch,
  ounceToG,
  parseMm,
} from '../../quantity/units.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { useMark } from './form.tsx';

interface Labelled {
  readonly label: string;
  readonly hint?: string | undefined;
}

export function TextField(
  props: Labelled & {
    readonly value: string;
    readonly onChange: (value: string) => void;
    /** called with every key, for a search that follows the typing */
    readonly onType?: (value: string) => void;
    readonly lines?: number;
    readonly placeholder?: string;
    readonly list?: readonly string[];
  },
) {
  const id = useId();
  const [text, setText] = useState(props.value);
  useEffect(() => {
    // What follows the typing comes back later than the next key: it must not take that key back.
    const isFollowed = props.onType !== undefined && document.activeElement?.id === id;
    if (!isFollowed) setText(props.value);
  }, [props.value]);
  const common = {
    id,
    value: text,
    placeholder: props.placeholder ?? '',
    // kept while it is typed: saving another field renders anew and would wipe it
    onInput: (event: Event) => {
      const typed = (event.currentTarget as HTMLInputElement).value;
      setText(typed);
      props.onType?.(typed);
    },
    onChange: (event: Event) => props.onChange((event.currentTarget as HTMLInputElement).value.trim()),
  };
  return (
    <Field id={id} {...props}>
      {props.lines === undefined ? (
        <input type="text" maxLength={500} {...(props.list ? { list: `${id}-list` } : {})} {...common} />
      ) : (
        <textarea rows={props.lines} maxLength={20000} {...common} />
      )}
      {props.list && (
        <datalist id={`${id}-list`}>
          {props.list.map((option) => (
            <option key={option} value={option} />
          ))}
        </datalist>
      )}
    </Field>
  );
}

export type Measure = 'mm' | 'g' | 'c' | 'percent' | 'hz' | 'db' | 'plain';

/**
 * Least and most of a measure where a field gives none of its own: what no workshop goes beyond, so that a stuck key stops
 * here. Common practice, no source.
 */
const usualLimits: Readonly<Record<Measure, readonly [number, number]>> = {
  mm: [0, 5000],
  g: [0, 100_000],
  c: [-40, 80],
  percent: [0, 100],
  hz: [0, 20_000],
  db: [-200, 200],
  plain: [0, 1e6],
};

/** How a measure is shown, read and named under the maker's choice of units. */
function useMeasure(measure: Measure): {
  unit: string;
  show: (value: number) => string;
  read: (text: string) => number | null;
} {
  const { settings } = useWorkshop().preferences;
  const plain = (typed: string): number | null => {
    const text = typed.replace('\u2212', '-');
    return /^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/.test(text) ? Number(text.replace(',', '.')) : null;
  };
  const trim = (value: number, decimals: number) => String(Number(value.toFixed(decimals)));
  const { length, mass, temperature } = settings.value;
  if (measure === 'mm' && length === 'inch')
    return {
      unit: 'in',
      show: (mm) => trim(mmToInch(mm), 4),
      read: (text) => parseMm(text.endsWith('mm') ? text : `${text} in`),
    };
  if (measure === 'mm') return { unit: 'mm', show: (mm) => trim(mm, 3), read: (text) => parseMm(text) };
  if (measure === 'g' && mass === 'oz')
    return { unit: 'oz', show: (g) => trim(gToOunce(g), 4), read: (text) => mapped(plain(text), ounceToG) };
  if (measure === 'c' && temperature === 'f')
    return {
      unit: '°F',
      show: (c) => trim(celsiusToFahrenheit(c), 1),
      read: (text) => mapped(plain(text), fahrenheitToCelsius),
    };
  const unit = { mm: 'mm', g: 'g', c: '°C', percent: '%', hz: 'Hz', db: 'dB', plain: '' }[measure];
  return { unit, show: (value) => trim(value, 4), read: plain };
}

const mapped = (value: number | null, convert: (value: number) => number): number | null =>
  value === null ? null : convert(value);

export function NumberField(
  props: Labelled & {
    readonly value: number | undefined;
    readonly measure: Measure;
    /** unit of a plain number */
    readonly unit?: string | undefined;
    /** shown instead of the label where that stands beside another field; the label is then read aloud */
    readonly shortLabel?: string;
    readonly least?: number;
    readonly most?: number;
    /** true where the form around it cannot be entered without it */
    readonly isNeeded?: boolean;
    readonly onChange: (value: number | undefined) => void;
  },
) {
  const id = useId();
  const { unit: ownUnit, show, read } = useMeasure(props.measure);
  const unit = props.unit ?? ownUnit;
  const [usualLeast, usualMost] = usualLimits[props.measure];
  const { least = usualLeast, most = usualMost } = props;
  const shown = props.value === undefined ? '' : show(props.value);
  const [text, setText] = useState(shown);
  const mark = useMark(id);
  const [wrong, setWrongText] = useState<string | undefined>(undefined);
  const setWrong = (told: string | undefined) => {
    setWrongText(told);
    mark(told !== undefined);
  };
  useEffect(() => {
    setText(shown);
    setWrong(undefined);
  }, [shown]);
  const take = (typed: string) => {
    setText(typed);
    if (typed.trim() === '') {
      setWrong(props.isNeeded ? words.fields.needed : undefined);
      props.onChange(undefined);
      return;
    }
    // A length has no sign; a place on the other side of the centre line has one.
    const sign = props.measure === 'mm' && least < 0 && /^[-\u2212]/.test(typed.trim()) ? -1 : 1;
    const size = read(sign < 0 ? typed.trim().slice(1).trim() : typed.trim());
    const value = size === null ? null : sign * size;
    if (value === null) setWrong(words.fields.notANumber);
    else if (!(value >= least && value <= most)) setWrong(words.fields.between(show(least), show(most)));
    else {
      setWrong(undefined);
      props.onChange(value);
    }
  };
  return (
    <Field id={id} label={props.shortLabel ?? props.label} hint={wrong ?? props.hint} wrong={wrong !== undefined}>
      <span class="with-unit">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          {...(props.shortLabel === undefined ? {} : { 'aria-label': props.label })}
          value={text}
          aria-invalid={wrong !== undefined}
          onInput={(event) => setText(event.currentTarget.value)}
          onChange={(event) => take(event.currentTarget.value)}
        />
        {unit !== '' && <span class="unit">{unit}</span>}
      </span>
    </Field>
  );
}

/** Options of a choice out of its words by value. */
export const choices = <T extends string>(names: Readonly<Record<T, string>>): readonly (readonly [T, string])[] =>
  Object.entries(names) as [T, string][];

export function ChoiceField<T extends string>(
  props: Labelled & {
    readonly value: T;
    readonly options: readonly (readonly [T, string])[];
    readonly onChange: (value: T) => void;
  },
) {
  const id = useId();
  return (
    <Field id={id} label={props.label} hint={props.hint}>
      <select id={id} value={props.value} onChange={(event) => props.onChange(event.currentTarget.value as T)}>
        {props.options.map(([value, text]) => (
          <option key={value} value={value}>
            {text}
          </option>
        ))}
      </select>
    </Field>
  );
}

export function CheckField(props: Labelled & { readonly value: boolean; readonly onChange: (value: boolean) => void }) {
  const id = useId();
  return (
    <div class="field check">
      <input
        id={id}
        type="checkbox"
        checked={props.value}
        onChange={(event) => props.onChange(event.currentTarget.checked)}
      />
      <label for={id}>{props.label}</label>
      {props.hint && <p class="hint">{props.hint}</p>}
    </div>
  );
}

function Field(
  props: Labelled & { readonly id: string; readonly wrong?: boolean; readonly children: ComponentChildren },
) {
  return (
    <div class={props.wrong ? 'field wrong' : 'field'}>
      <label for={props.id}>{props.label}</label>
      {props.children}
      {props.hint && (
        <p class="hint" role={props.wrong ? 'alert' : undefined}>
          {props.hint}
        </p>
      )}
    </div>
  );
}
