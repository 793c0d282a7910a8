// The bench: choose what is held and where it is tapped, press once, tap, read the answer.

import type { BenchState } from '../../app/bench-state.ts';
import { signatureUnder } from '../../compare/signature.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import { LazyView } from '../lazy-view.tsx';
import { Actions, Button } from '../parts/actions.tsx';
import { EmptyView } from '../parts/card.tsx';
import { PromiseLine } from '../parts/cautions.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { HeardList } from './heard-list.tsx';
import { NamedAnswer } from './named-answer.tsx';
import { OtherInstrument } from './other-instrument.tsx';
import { RoomClap } from './room-clap.tsx';
import { RoundAnswer, Session } from './session.tsx';
import { BenchSetup, SupportFields } from './setup.tsx';
import { ShapesOffer } from './shapes-offer.tsx';
import { TakeRecordings, useStepToMeasure, useTakeRecordings } from './take-recordings.tsx';
import { TrustCheck } from './trust-check.tsx';
import { Welcome } from './welcome.tsx';
import './bench.css';
import { RoundsApart } from './rounds-apart.tsx';

/** Fetched when it is first opened: most rounds are tapped at one spot. */
const loadShapes = async () => (await import('../shapes/shapes-view.tsx')).ShapesView;

export function BenchView() {
  const { shelf, place, shapes } = useWorkshop();
  const record = shelf.record.value;
  // A round that goes on is in view wherever the maker comes from: two microphones would be open else.
  if (place.part.value === 'shapes' || shapes.isRoving) return <LazyView load={loadShapes} />;
  if (record === undefined)
    return (
      <EmptyView title={words.bench.title} text={words.bench.nothing} to="#/record" toText={words.bench.toRecords} />
    );
  if (record.kind === 'stock')
    return (
      <section class="empty">
        <h1>{words.bench.title}</h1>
        <p>{words.bench.stock}</p>
        <Actions>
          <a class="primary button" href="#/wood">
            {words.bench.toWood}
          </a>
          <a class="button" href="#/record">
            {words.bench.chooseInstrument}
          </a>
        </Actions>
      </section>
    );
  return (
    <>
      <Welcome />
      <BenchFor record={record} />
    </>
  );
}

function BenchFor(props: { readonly record: InstrumentRecord }) {
  const { bench } = useWorkshop();
  const { record } = props;
  const step = record.steps.at(-1);
  const state = bench.state.value;
  const take = useTakeRecordings(step);
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
        {isReady(state, record, step) ? (
          <Ready record={record} step={step} onTake={take} />
        ) : (
          <>
            <OtherInstrument record={record} />
            <Session answer={(place) => <RoundAnswer record={record} place={place} />} />
          </>
        )}
        <PromiseLine />
      </section>
    </div>
  );
}

/** Nothing runs, or the answer on screen belongs to an earlier step than the one at hand. */
function isReady(state: BenchState, record: InstrumentRecord, step: Step | undefined): boolean {
  if (state.kind === 'answer')
    return state.place.recordId !== record.id || !('stepId' in state.place && state.place.stepId === step?.id);
  return state.kind === 'idle' || state.kind === 'opening';
}

function Ready(props: {
  readonly record: InstrumentRecord;
  readonly step: Step | undefined;
  readonly onTake: (files: readonly File[]) => void;
}) {
  const { bench, preferences, room } = useWorkshop();
  const stepToMeasure = useStepToMeasure(props.step);
  const { tapsPerHold, holdsPerRound } = preferences.settings.value;
  const openRound = props.step?.rounds.find(
    (round) => round.state === 'open' && round.roving === undefined && round.taps.length > 0,
  );
  const roundHome = props.step === undefined ? undefined : { recordId: props.record.id, stepId: props.step.id };
  const start = () => {
    const stepId = stepToMeasure();
    if (stepId !== undefined) void bench.start({ recordId: props.record.id, stepId });
  };
  const { value: state } = bench.state;
  const isOpening = state.kind === 'opening';
  const isAsked = !bench.supportKnown.value;
  return (
    <div class="ready">
      <p class="lead">{words.bench.lead(tapsPerHold, holdsPerRound)}</p>
      <Button
        id="start"
        kind="primary"
        isBig
        takesSpaceBar
        text={isOpening ? words.bench.opening : words.bench.start}
        isDisabled={isOpening || isAsked || room.state.value.kind !== 'idle'}
        onPress={start}
      />
      {isOpening && (
        <>
          {state.waitsFor !== undefined && (
            <p class="note" role="status">
              {words.bench.waitsFor[state.waitsFor]}
            </p>
          )}
          <Actions>
            <Button text={words.bench.doNotWait} onPress={() => bench.giveUpOpening()} />
          </Actions>
        </>
      )}
      {isAsked && <SupportFields stage={props.step?.stage ?? 'thicknessed'} />}
      <p class="hint">{words.bench.startHint}</p>
      {openRound !== undefined && roundHome !== undefined && (
        <p class="unfinished">
          {words.bench.brokenOff(openRound.taps.length)}{' '}
          <Button
            text={words.bench.goOnWithIt}
            onPress={() => void bench.resume({ ...roundHome, roundId: openRound.id })}
          />{' '}
          <Button
            kind="quiet"
            text={words.bench.readWhatThereIs}
            onPress={() => void bench.readAgain({ ...roundHome, roundId: openRound.id })}
          />
        </p>
      )}
      <TakeRecordings onTake={props.onTake} disabled={isAsked} />
      <RoomClap />
      {props.step !== undefined && <ShapesOffer step={props.step} />}
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
      <RoundsApart recordId={props.record.id} step={props.step} />
      <NamedAnswer
        record={props.record}
        step={props.step}
        modes={signature.modes}
        scatterKnown={signature.scatterKnown}
      />
    </>
  );
}
