// The bench: choose what is held and where it is tapped, press once, tap, read the answer.
import type { BenchState } from '../app/bench.ts';
import { signatureUnder } from '../compare/signature.ts';
import type { InstrumentRecord, Step } from '../record/record.ts';
import { RoundAnswer, Session } from './bench-session.tsx';
import { BenchSetup } from './bench-setup.tsx';
import { PromiseLine } from './cautions.tsx';
import { HeardList } from './heard-list.tsx';
import { NamedAnswer } from './named-answer.tsx';
import { RoomClap } from './room-clap.tsx';
import { useSpaceBar } from './space-bar.ts';
import { TakeRecordings, useStepToMeasure, useTakeRecordings } from './take-recordings.tsx';
import { TrustCheck } from './trust-check.tsx';
import { words } from './words/language.ts';
import { useWorkshop } from './workshop-context.ts';

export function BenchView() {
  const { shelf } = useWorkshop();
  const record = shelf.record.value;
  if (record === undefined)
    return (
      <section class="empty">
        <h1>{words.bench.title}</h1>
        <p>{words.bench.nothing}</p>
        <a class="primary button" href="#/record">
          {words.bench.toRecords}
        </a>
      </section>
    );
  if (record.kind === 'stock')
    return (
      <section class="empty">
        <h1>{words.bench.title}</h1>
        <p>{words.bench.stock}</p>
        <div class="actions">
          <a class="primary button" href="#/wood">
            {words.bench.toWood}
          </a>
          <a class="button" href="#/record">
            {words.bench.chooseInstrument}
          </a>
        </div>
      </section>
    );
  return <BenchFor record={record} />;
}

function BenchFor(props: { readonly record: InstrumentRecord }) {
  const { bench } = useWorkshop();
  const { record } = props;
  const step = record.steps.at(-1);
  const state = bench.state.value;
  const take = useTakeRecordings(step);
  useSpaceBar();
  return (
    <div class="bench">
      <aside class="setup" aria-label={words.bench.setup}>
        <BenchSetup record={record} step={step} />
      </aside>
      <section
        class="listening"
        aria-label={words.bench.listening}
        onDragOver={(event) => event.preventDefault()}
        onDrop={(event) => {
          event.preventDefault();
          take([...(event.dataTransfer?.files ?? [])]);
        }}
      >
        <h1 class="visually-hidden">{words.bench.title}</h1>
        {record.kind === 'reference-stick' && <TrustCheck record={record} />}
        {isReady(state, step) ? (
          <Ready record={record} step={step} opening={state.kind === 'opening'} onTake={take} />
        ) : (
          <Session answer={(place) => <RoundAnswer record={record} place={place} />} />
        )}
        <PromiseLine />
      </section>
    </div>
  );
}

/** Nothing runs, or the answer on screen belongs to an earlier step than the one at hand. */
function isReady(state: BenchState, step: Step | undefined): boolean {
  return (
    state.kind === 'idle' ||
    state.kind === 'opening' ||
    (state.kind === 'answer' && !('stepId' in state.place && state.place.stepId === step?.id))
  );
}

function Ready(props: {
  readonly record: InstrumentRecord;
  readonly step: Step | undefined;
  readonly opening: boolean;
  readonly onTake: (files: readonly File[]) => void;
}) {
  const { bench, preferences, room } = useWorkshop();
  const stepToMeasure = useStepToMeasure(props.step);
  const { tapsPerHold, holdsPerRound } = preferences.settings.value;
  const openRound = props.step?.rounds.find((round) => round.state === 'open' && round.taps.length > 0);
  const start = () => {
    const stepId = stepToMeasure();
    if (stepId !== undefined) void bench.start({ stepId });
  };
  return (
    <div class="ready">
      <p class="lead">{words.bench.lead(tapsPerHold, holdsPerRound)}</p>
      <button
        type="button"
        id="start"
        class="primary big"
        disabled={props.opening || room.state.value.kind !== 'idle'}
        onClick={start}
      >
        {props.opening ? words.bench.opening : words.bench.start}
      </button>
      <p class="hint">{words.bench.startHint}</p>
      {openRound !== undefined && props.step !== undefined && (
        <p class="unfinished">
          {words.bench.brokenOff(openRound.taps.length)}{' '}
          <button type="button" onClick={() => void bench.resume({ stepId: props.step!.id, roundId: openRound.id })}>
            {words.bench.goOnWithIt}
          </button>{' '}
          <button
            type="button"
            class="quiet"
            onClick={() => void bench.readAgain({ stepId: props.step!.id, roundId: openRound.id })}
          >
            {words.bench.readWhatThereIs}
          </button>
        </p>
      )}
      <TakeRecordings onTake={props.onTake} />
      <RoomClap />
      <HeardList />
      <LastAnswer record={props.record} step={props.step} />
    </div>
  );
}

function LastAnswer(props: { readonly record: InstrumentRecord; readonly step: Step | undefined }) {
  const { bench } = useWorkshop();
  const signature = props.step === undefined ? undefined : signatureUnder(props.step, bench.support.value);
  if (signature === undefined || props.step === undefined) return null;
  return (
    <>
      <h2>{words.bench.lastMeasured}</h2>
      <NamedAnswer
        record={props.record}
        step={props.step}
        modes={signature.modes}
        scatterKnown={signature.scatterKnown}
      />
    </>
  );
}
