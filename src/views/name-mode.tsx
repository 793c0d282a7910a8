import { useEffect, useRef, useState } from 'preact/hooks';
import type { ShownMode } from './answer.tsx';
import { useComputedNear } from './computed-modes.ts';
import { TextField } from './fields.tsx';
import { number } from './figures.ts';
import { modeNames } from './words.ts';

/** Asks for the name of a mode. `onDone` gets the name, an empty one to take the name away, or undefined for no change. */
export function NameMode(props: { readonly mode: ShownMode; readonly onDone: (name: string | undefined) => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const [name, setName] = useState(props.mode.name ?? '');
  const computed = useComputedNear(props.mode.frequencyHz.value);
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
        <h2 id="name-mode">Which mode is {number(props.mode.frequencyHz.value, 1)} Hz?</h2>
        <p class="hint">
          Move the tap to be sure: off its node lines a mode grows, on them it dies. The name is carried to every step.
        </p>
        {computed !== undefined && (
          <p>
            The forecast of the drawn top has the <strong>{computed.name}</strong> nearest, at{' '}
            {number(computed.frequencyHz, 1)} Hz.{' '}
            {computed.places.tap[0] !== undefined &&
              `It answers a tap ${number(computed.places.tap[0][0], 0)} mm from the tail, ${number(
                Math.abs(computed.places.tap[0][1]),
                0,
              )} mm off the centre, most. `}
            <button type="button" onClick={() => setName(computed.name)}>
              Take this name
            </button>
          </p>
        )}
        <TextField label="Name" value={name} list={[...modeNames]} onChange={setName} />
        <div class="actions">
          <button type="submit" class="primary">
            Name it
          </button>
          <button type="button" onClick={() => props.onDone('')}>
            No name
          </button>
          <button type="button" class="quiet" onClick={() => props.onDone(undefined)}>
            Cancel
          </button>
        </div>
      </form>
    </dialog>
  );
}
