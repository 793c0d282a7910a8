import { useId } from 'preact/hooks';
import { Field, type Labelled } from './field.tsx';

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
