// A target for a mode: chosen among those tapped, which gives it its name in the same entry, or one that was not tapped yet.
import { useState } from 'preact/hooks';
import type { Track } from '../../compare/tracks.ts';
import type { Target } from '../../record/record.ts';
import { useProposal } from '../bench/computed-modes.ts';
import { Actions } from '../parts/actions.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { number } from '../parts/figures.ts';
import { EnterButton, EntryForm } from '../parts/form.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { TextField } from '../parts/text-field.tsx';
import { modeNames } from '../words/codes.ts';
import { words } from '../words/language.ts';

/** Offered tolerance: about what a listener can just notice on one mode. Woodhouse et al. 2012, Acta Acust. 98, 475 (about 1 %, from memory). */
const OFFERED_TOLERANCE = 0.01;

export const offeredToleranceHz = (frequencyHz: number): number => Number((frequencyHz * OFFERED_TOLERANCE).toFixed(1));

export type TargetAsked = Omit<Target, 'id' | 'stage'>;

/** A mode of the list that was never tapped here. */
const NOT_TAPPED = 'not-tapped';

/** @param props.followed tapped modes of the stage; @param props.taken names that have a target already */
export function NewTarget(props: {
  readonly followed: readonly Track[];
  readonly taken: readonly string[];
  readonly onAdd: (target: TargetAsked, tapped: Track | undefined) => void;
}) {
  const open = props.followed.filter(({ name }) => name === undefined || !props.taken.includes(name));
  const [chosen, setChosen] = useState<string | undefined>(undefined);
  const at = open.findIndex((track) => keyOf(track) === chosen);
  const which = chosen === NOT_TAPPED ? undefined : open[Math.max(at, 0)];
  const text = (track: Track) => {
    const hz = number(track.points.at(-1)!.mode.frequencyHz.value, 1);
    return track.name === undefined ? words.steps.unnamedAt(hz) : words.steps.namedAt(track.name, hz);
  };
  return (
    <fieldset class="target">
      <legend>{words.steps.newTarget}</legend>
      {open.length > 0 && (
        <div class="fields">
          <ChoiceField
            label={words.steps.whichMode}
            value={which === undefined ? NOT_TAPPED : keyOf(which)}
            options={[
              ...open.map((track) => [keyOf(track), text(track)] as const),
              [NOT_TAPPED, words.steps.notTapped],
            ]}
            onChange={setChosen}
          />
        </div>
      )}
      <Wanted
        key={which === undefined ? `${NOT_TAPPED} ${props.taken.length}` : keyOf(which)}
        tapped={which}
        taken={[...props.taken, ...props.followed.flatMap(({ name }) => name ?? [])]}
        onAdd={(target) => {
          setChosen(undefined);
          props.onAdd(target, which);
        }}
      />
    </fieldset>
  );
}

const keyOf = (track: Track): string => {
  const { step, mode } = track.points.at(-1)!;
  return `${step.id} ${mode.frequencyHz.value}`;
};

/** Name, wanted frequency and tolerance of the one chosen. */
function Wanted(props: {
  readonly tapped: Track | undefined;
  /** names that are another mode's */
  readonly taken: readonly string[];
  readonly onAdd: (target: TargetAsked) => void;
}) {
  const { tapped, taken } = props;
  const nowHz = tapped?.points.at(-1)?.mode.frequencyHz.value;
  const proposed = useProposal(nowHz ?? 0)?.mode.name;
  const free = modeNames.find((name) => !taken.includes(name)) ?? '';
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const name = tapped?.name ?? typed ?? (proposed !== undefined && !taken.includes(proposed) ? proposed : free);
  const rounded = nowHz === undefined ? undefined : Number(nowHz.toFixed(1));
  const [wantedHz, setWantedHz] = useState(rounded);
  const [toleranceHz, setToleranceHz] = useState(rounded === undefined ? undefined : offeredToleranceHz(rounded));
  return (
    <EntryForm>
      <div class="fields">
        {tapped?.name === undefined && (
          <TextField label={words.steps.mode} value={name} list={[...modeNames]} onChange={setTyped} />
        )}
        <NumberField of="wantedHz" value={wantedHz} isNeeded onChange={setWantedHz} />
        <NumberField of="toleranceHz" value={toleranceHz} isNeeded onChange={setToleranceHz} />
      </div>
      {tapped !== undefined && <p class="hint">{words.steps.wantedFromNow}</p>}
      {taken.includes(name) && tapped?.name === undefined && <p class="stop">{words.steps.nameTaken(name)}</p>}
      <Actions>
        <EnterButton
          disabled={
            name === '' ||
            wantedHz === undefined ||
            toleranceHz === undefined ||
            (tapped !== undefined && tapped.name === undefined && taken.includes(name))
          }
          onEnter={() =>
            props.onAdd({ mode: name, frequencyHz: wantedHz!, toleranceHz: toleranceHz!, origin: 'typed' })
          }
        >
          {words.steps.setTarget}
        </EnterButton>
      </Actions>
    </EntryForm>
  );
}
