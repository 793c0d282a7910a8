import { useEffect, useRef, useState } from 'preact/hooks';
import { Actions, Button } from '../parts/actions.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { useLength } from '../parts/own-units.ts';
import { TextField } from '../parts/text-field.tsx';
import { modeNames } from '../words/codes.ts';
import { words } from '../words/language.ts';
import type { ShownMode } from './answer.tsx';
import { useProposal } from './computed-modes.ts';

/** Asks for the name of a mode. `onDone` gets the name, an empty one to take the name away, or undefined for no change. */
export function NameMode(props: { readonly mode: ShownMode; readonly onDone: (name: string | undefined) => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const [name, setName] = useState(props.mode.name ?? '');
  const proposal = useProposal(props.mode.frequencyHz.value);
  const computed = proposal?.mode;
  const length = useLength('rule', 0);
  useEffect(() => {
    dialog.current?.showModal();
  }, []);
  return (
    <dialog ref={dialog} aria-labelledby="name-mode" onClose={() => props.onDone(undefined)}>
      <form
        method="dialog"
        onSubmit={(event) => {
          event.preventDefault();
          props.onDone(name);
        }}
      >
        <h2 id="name-mode">{words.bench.whichMode(number(props.mode.frequencyHz.value, 1))}</h2>
        <p class="hint">{words.bench.nameHint}</p>
        {computed !== undefined && (
          <p>
            {words.bench.computedBy[proposal?.by ?? 'frequency'](
              computed.name,
              withHalfWidth(computed.frequencyHz, 'Hz'),
            )}{' '}
            {computed.places.tap[0] !== undefined &&
              words.bench.computedTap(
                length(computed.places.tap[0][0]),
                length(Math.abs(computed.places.tap[0][1])),
              )}{' '}
            <Button text={words.bench.takeName} onPress={() => setName(computed.name)} />
          </p>
        )}
        <TextField label={words.bench.name} value={name} list={[...modeNames]} onChange={setName} />
        <Actions>
          <button type="submit" class="primary">
            {words.bench.nameIt}
          </button>
          <Button text={words.bench.noName} onPress={() => props.onDone('')} />
          <Button kind="quiet" text={words.bench.cancel} onPress={() => props.onDone(undefined)} />
        </Actions>
      </form>
    </dialog>
  );
}
