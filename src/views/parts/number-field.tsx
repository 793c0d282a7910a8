// A number typed with a point or a comma and in the units of the maker's choice; what leaves here is millimetres, grams or
// degrees Celsius. A text that is no number is marked and changes nothing.
import { useEffect, useId, useState } from 'preact/hooks';
import { type QuantityName, quantities } from '../../record/quantities.ts';
import { words } from '../words/language.ts';
import { Field, type Labelled } from './field.tsx';
import { useMark } from './form.tsx';
import { useQuantity } from './measures.ts';

export function NumberField(
  props: Omit<Labelled, 'label'> & {
    /** where the quantity's own name does not tell it from its neighbours */
    readonly label?: string;
    readonly of: QuantityName;
    /** the ± of it */
    readonly isDoubt?: boolean;
    readonly value: number | undefined;
    /** shown instead of the label where that stands beside another field; the label is then read aloud */
    readonly shortLabel?: string;
    /** where another figure narrows the limits of the quantity */
    readonly least?: number;
    readonly most?: number;
    /** true where the form around it cannot be entered without it */
    readonly isNeeded?: boolean;
    readonly onChange?: (value: number | undefined) => void;
    /** instead of `onChange` where the field may not stay empty */
    readonly onSet?: (value: number) => void;
  },
) {
  const id = useId();
  const quantity = quantities[props.of];
  const { label = words.quantities[props.of] } = props;
  const { unit, show, read } = useQuantity(props.of, props.isDoubt);
  const { least = quantity.least, most = quantity.most } = props;
  const shown = props.value === undefined ? '' : show(props.value);
  const [text, setText] = useState(shown);
  const mark = useMark(id);
  const [wrong, setWrongText] = useState<string | undefined>(undefined);
  const setWrong = (sentence: string | undefined) => {
    setWrongText(sentence);
    mark(sentence !== undefined);
  };
  useEffect(() => {
    setText(shown);
    setWrong(undefined);
  }, [shown]);
  const take = (typed: string) => {
    setText(typed);
    if (typed.trim() === '') {
      setWrong(props.isNeeded ? words.fields.needed : undefined);
      props.onChange?.(undefined);
      return;
    }
    // A length has no sign; a place on the other side of the centre line has one.
    const sign = quantity.measure === 'mm' && least < 0 && /^[-\u2212]/.test(typed.trim()) ? -1 : 1;
    const size = read(sign < 0 ? typed.trim().slice(1).trim() : typed.trim());
    const value = size === undefined ? undefined : sign * size;
    if (value === undefined) setWrong(words.fields.notANumber);
    else if (!(value >= least && value <= most)) setWrong(words.fields.between(show(least), show(most)));
    else {
      setWrong(undefined);
      props.onChange?.(value);
      props.onSet?.(value);
    }
  };
  return (
    <Field id={id} label={props.shortLabel ?? label} hint={wrong ?? props.hint} wrong={wrong !== undefined}>
      <span class="with-unit">
        <input
          id={id}
          type="text"
          // A keyboard of figures alone has no stroke to type a fraction with.
          inputMode={unit === 'in' ? 'text' : 'decimal'}
          {...(props.shortLabel === undefined ? {} : { 'aria-label': label })}
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
