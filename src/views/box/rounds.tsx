// The guided rounds: what to do in each state, the taps, and which peak is which.

import { useEffect, useState } from 'preact/hooks';
import type { BoxDoubt } from '../../compare/box-doubts.ts';
import type { StateRound } from '../../compare/box-evidence.ts';
import { type BoxState, boxStates, takesLump } from '../../compare/box-state.ts';
import { withField } from '../../record/edit.ts';
import type { Step } from '../../record/record.ts';
import { HeardList } from '../bench/heard-list.tsx';
import { RoundAnswer, Session } from '../bench/session.tsx';
import { SupportFields } from '../bench/setup.tsx';
import { ChooseSounds } from '../bench/take-recordings.tsx';
import { Actions, Button } from '../parts/actions.tsx';
import { CheckField } from '../parts/choice-field.tsx';
import { moment } from '../parts/figures.ts';
import { EnterButton, EntryForm } from '../parts/form.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useMass } from '../parts/own-units.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { StateDrawing } from './box-drawing.tsx';
import { BoxDoubts } from './doubts.tsx';
import { type BoxPartProps, useBoxEdit } from './part.ts';
import { BoxPeaks } from './peaks.tsx';
import { RoundNames } from './round-names.tsx';
import { RunningState } from './running-state.tsx';
import { NoBoxYet } from './step.tsx';
import { boxWords, stateWords } from './words.ts';

export function BoxRoundsPart({ record, step, reading }: BoxPartProps) {
  const { bench } = useWorkshop();
  const edit = useBoxEdit();
  const t = boxWords().rounds;
  // What is on the scale belongs to one round: nothing is offered as if it were weighed.
  const [lumpsG, setLumpsG] = useState<Partial<Record<BoxState, number>>>({});
  useEffect(() => {
    if (step !== undefined) bench.takeUp(record, step.stage);
  }, [record.id, step?.stage]);
  const busy =
    bench.listening.value || bench.state.value.kind === 'reading' || bench.state.value.kind === 'interrupted';
  if (step === undefined)
    return (
      <>
        <h1>{t.title}</h1>
        <NoBoxYet />
      </>
    );
  const rounds = reading?.rounds ?? [];
  const taken = new Set(rounds.map(({ state }) => state));
  const next = boxStates.find((state) => !taken.has(state));
  return (
    <>
      <h1>{t.title}</h1>
      <p class="lead">
        {t.lead} {next === undefined ? t.allTaken : t.next(next)}
      </p>
      {busy && (
        <section class="listening card" aria-label={t.taps} ref={intoView}>
          <RunningState record={record} state={bench.state.value} />
          <Session answer={(place) => <RoundAnswer record={record} place={place} />} />
        </section>
      )}
      <SupportFields stage={step.stage} withoutHold />
      <CheckField
        label={t.backAnswers}
        hint={t.backAnswersHint}
        value={record.box?.backAnswers ?? true}
        onChange={(backAnswers) => edit('back-answers', (box) => ({ ...box, backAnswers }))}
      />
      <ol class="states">
        {boxStates.map((state) => (
          <li key={state} class={state === next ? 'state card next' : 'state card'} id={`state-${state}`}>
            <EntryForm>
              <StateCard
                recordId={record.id}
                step={step}
                state={state}
                taken={rounds.find((round) => round.state === state)}
                doubts={reading?.doubts ?? []}
                massG={lumpsG[state] ?? lumpOf(rounds.find((round) => round.state === state))}
                onMass={(massG) => setLumpsG((known) => withField(known, state, massG))}
                busy={busy || !bench.supportKnown.value}
              />
            </EntryForm>
          </li>
        ))}
      </ol>
      {!busy && <HeardList />}
      <RoundNames rounds={rounds} step={step} />
      {rounds.length > 0 && (
        <p class="actions">
          <a class="primary button" href="#/box/found">
            {t.whatTheySay}
          </a>
        </p>
      )}
    </>
  );
}

/** The taps are watched at the top of the page, wherever the button was. */
const intoView = (section: HTMLElement | null): void => section?.scrollIntoView({ block: 'nearest' });

/** The lump of a round, g. */
const lumpOf = (taken: StateRound | undefined): number | undefined =>
  taken?.round.support.addedMassG ?? taken?.round.support.addedMassOnBackG;

/** A doubt stands with the round it is about; one about a lump with the round of the lump. */
const isOf = (doubt: BoxDoubt, { round, state }: StateRound): boolean =>
  doubt.kind === 'lump-misweighed' ? state === 'mass' : doubt.roundId === round.id;

function StateCard(props: {
  readonly recordId: string;
  readonly step: Step;
  readonly state: BoxState;
  readonly taken: StateRound | undefined;
  readonly doubts: readonly BoxDoubt[];
  readonly massG: number | undefined;
  readonly onMass: (massG: number | undefined) => void;
  readonly busy: boolean;
}) {
  const { boxRounds, bench } = useWorkshop();
  const mass = useMass();
  const { state, step, taken, massG, busy } = props;
  const home = { recordId: props.recordId, stepId: step.id };
  const { rounds: t, codes } = boxWords();
  const guide = codes.guides[state];
  const lumpG = lumpOf(taken);
  const name = stateWords[state];
  const isWaiting = busy || (takesLump(state) && massG === undefined);
  const take = (files: readonly File[]) => {
    if (files.length > 0 && !isWaiting) void boxRounds.take(home, state, massG, files);
  };
  return (
    <section
      aria-label={name}
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        take([...(event.dataTransfer?.files ?? [])]);
      }}
    >
      <div class="state-guide">
        <StateDrawing state={state} />
        <div>
          <h2>
            {name}
            {taken !== undefined && <span class="tag done">{t.taken}</span>}
          </h2>
          <p>{guide.todo}</p>
          <p class="hint">{guide.tells}</p>
          {takesLump(state) && (
            <NumberField of="lump" hint={t.lumpHint} isNeeded value={massG} onChange={props.onMass} />
          )}
          <Actions>
            <EnterButton
              class={taken === undefined ? 'primary' : ''}
              disabled={isWaiting}
              onEnter={() => void boxRounds.listen(home, state, massG)}
            >
              {taken === undefined ? t.listen : t.listenAgain}
            </EnterButton>
            <ChooseSounds
              id={`recordings-${state}`}
              words={t.takeRecordings}
              label={t.recordings(state)}
              disabled={isWaiting}
              onFiles={take}
            />
          </Actions>
        </div>
      </div>
      {taken !== undefined && (
        <>
          <p class="hint">
            {moment(taken.round.atIso)} · {words.fields.taps(taken.round.taps.length)}
            {lumpG !== undefined && ` · ${mass(lumpG)}`}
            {' · '}
            <Button
              kind="quiet"
              text={t.setAside}
              onPress={() => bench.setAside({ ...home, roundId: taken.round.id }, true)}
            />
          </p>
          <BoxDoubts doubts={props.doubts.filter((doubt) => isOf(doubt, taken))} />
          <BoxPeaks step={step} taken={taken} />
        </>
      )}
    </section>
  );
}
