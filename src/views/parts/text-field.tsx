import { useEffect, useId, useState } from 'preact/hooks';
import { Field, type Labelled } from './field.tsx';

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
