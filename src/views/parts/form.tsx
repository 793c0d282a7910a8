// A form whose fields are entered together: nothing of it may be entered while one of them is marked as wrong. What was
// typed last and cannot be taken would else stand on the page while an older value is entered.
import { type ComponentChildren, createContext } from 'preact';
import { useContext, useEffect, useMemo, useState } from 'preact/hooks';
import { words } from '../words/language.ts';

interface Entry {
  readonly wrong: ReadonlySet<string>;
  mark(field: string, isWrong: boolean): void;
}

const EntryContext = createContext<Entry | undefined>(undefined);

/** Holds fields and the button that enters them. */
export function EntryForm(props: { readonly children: ComponentChildren }) {
  const wrong = useMemo(() => new Set<string>(), []);
  const [, setMarked] = useState(0);
  const entry: Entry = {
    wrong,
    mark: (field, isWrong) => {
      if (wrong.has(field) === isWrong) return;
      // Known at once, and shown with the next drawing: the press that left the field comes between.
      if (isWrong) wrong.add(field);
      else wrong.delete(field);
      setMarked((marked) => marked + 1);
    },
  };
  return <EntryContext.Provider value={entry}>{props.children}</EntryContext.Provider>;
}

/** How a field tells the form around it, if there is one, whether what was typed can be taken. */
export function useMark(field: string): (isWrong: boolean) => void {
  const entry = useContext(EntryContext);
  useEffect(() => () => entry?.mark(field, false), [field]);
  return (isWrong) => entry?.mark(field, isWrong);
}

/** Whether a field of the form around is marked as wrong: what follows from its last good value is then not to be shown. */
export const useIsMarked = (): boolean => (useContext(EntryContext)?.wrong.size ?? 0) > 0;

/** Enters what the fields around it say, once all of it can be taken. */
export function EnterButton(props: {
  readonly class?: string;
  readonly disabled?: boolean;
  readonly onEnter: () => void;
  readonly children: ComponentChildren;
}) {
  const entry = useContext(EntryContext);
  const isWrong = useIsMarked();
  return (
    <>
      <button
        type="button"
        class={props.class ?? 'primary'}
        disabled={isWrong || props.disabled}
        onClick={() => {
          if ((entry?.wrong.size ?? 0) === 0 && !props.disabled) props.onEnter();
        }}
      >
        {props.children}
      </button>
      {isWrong && (
        <span class="hint" role="status">
          {' '}
          {words.fields.mendFirst}
        </span>
      )}
    </>
  );
}
