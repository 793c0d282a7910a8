// The guided rounds: what to do in each state, the taps, and which peak is which.

import { useEffect, useState } from 'preact/hooks';
import type { BenchState } from '../../app/bench-state.ts';
import type { StateRound } from '../../compare/box-evidence.ts';
import { type BoxState, boxStates, stateOfRound } from '../../compare/box-state.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import { roundsOf } from '../../record/round-edit.ts';
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
import { type BoxPartProps, useBoxEdit } from './part.ts';
import { BoxPeaks } from './peaks.tsx';
import { NoBoxYet } from './step.tsx';
import { boxWords, stateWords } from './words.ts';

/** A lump that moves the top's peak clearly without changing what it is. Common practice, no source. */
const offeredMassG = 10;

export function BoxRoundsPart({ record, step, reading }: BoxPartProps) {
  const { bench } = useWorkshop();
  const edit = useBoxEdit();
  const t = boxWords().rounds;
  const [massG, setMassG] = useState(offeredMassG);
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
          <h2>{runningWords(record, bench.state.value)}</h2>
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
                massG={massG}
                onMass={setMassG}
                busy={busy || !bench.supportKnown.value}
              />
            </EntryForm>
          </li>
        ))}
      </ol>
      {!busy && <HeardList />}
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

/** The state that is being tapped. */
function runningWords(record: InstrumentRecord, state: BenchState): string {
  const round =
    'place' in state ? roundsOf(record, state.place).find(({ id }) => id === state.place.roundId) : undefined;
  const running = round === undefined ? undefined : stateOfRound(round);
  return running === undefined ? boxWords().rounds.taps : stateWords[running];
}

function StateCard(props: {
  readonly recordId: string;
  readonly step: Step;
  readonly state: BoxState;
  readonly taken: StateRound | undefined;
  readonly massG: number;
  readonly onMass: (massG: number) => void;
  readonly busy: boolean;
}) {
  const { boxRounds, bench } = useWorkshop();
  const mass = useMass();
  const { state, step, taken, massG, busy } = props;
  const home = { recordId: props.recordId, stepId: step.id };
  const { rounds: t, codes } = boxWords();
  const guide = codes.guides[state];
  const lumpG = taken?.round.support.addedMassG ?? taken?.round.support.addedMassOnBackG;
  const name = stateWords[state];
  const take = (files: readonly File[]) => {
    if (files.length > 0) void boxRounds.take(home, state, massG, files);
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
          {(state === 'mass' || state === 'mass-on-back') && (
            <NumberField of="lump" hint={t.lumpHint} isNeeded value={massG} onSet={props.onMass} />
          )}
          <Actions>
            <EnterButton
              class={taken === undefined ? 'primary' : ''}
              disabled={busy}
              onEnter={() => void boxRounds.listen(home, state, massG)}
            >
              {taken === undefined ? t.listen : t.listenAgain}
            </EnterButton>
            <ChooseSounds
              id={`recordings-${state}`}
              words={t.takeRecordings}
              label={t.recordings(state)}
              disabled={busy}
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
          <BoxPeaks step={step} taken={taken} />
        </>
      )}
    </section>
  );
}
