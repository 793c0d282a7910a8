// The bench: choose what is held and where it is tapped, press once, tap, read the answer.
import { useEffect, useRef, useState } from 'preact/hooks';
import { signatureUnder } from '../compare/signature.ts';
import { pinMode } from '../record/edit.ts';
import { bridges, type InstrumentRecord, type Step, type Support } from '../record/record.ts';
import { Answer, type ShownMode } from './answer.tsx';
import { CautionLine, PromiseLine } from './cautions.tsx';
import { ChoiceField, TextField } from './fields.tsx';
import { moment } from './figures.ts';
import { HeardList } from './heard-list.tsx';
import { LevelMeter } from './level-meter.tsx';
import { NameMode } from './name-mode.tsx';
import { StepForm, useNewStep } from './step-form.tsx';
import { TrustCheck } from './trust-check.tsx';
import { bridgeWords, count, holdsAt, holdWords, spotWords, stageWords } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

export function BenchView() {
  const { shelf } = useWorkshop();
  const record = shelf.record.value;
  if (record === undefined)
    return (
      <section class="empty">
        <h1>Bench</h1>
        <p>Nothing is on the bench. Choose or begin an instrument first.</p>
        <a class="primary button" href="#/record">
          To the records
        </a>
      </section>
    );
  return <BenchFor record={record} />;
}

function BenchFor(props: { readonly record: InstrumentRecord }) {
  const { bench } = useWorkshop();
  const { record } = props;
  const step = record.steps.at(-1);
  const state = bench.state.value;
  useSpaceBar();
  return (
    <div class="bench">
      <aside class="setup" aria-label="What is on the bench">
        <Setup record={record} step={step} />
      </aside>
      <section class="listening" aria-label="Taps and modes">
        <h1 class="visually-hidden">Bench</h1>
        {record.kind === 'reference-stick' && <TrustCheck record={record} />}
        {state.kind === 'idle' || state.kind === 'opening' ? (
          <Ready record={record} step={step} opening={state.kind === 'opening'} />
        ) : (
          <Session record={record} />
        )}
        <PromiseLine />
      </section>
    </div>
  );
}

function Setup(props: { readonly record: InstrumentRecord; readonly step: Step | undefined }) {
  const { bench, shelf } = useWorkshop();
  const newStep = useNewStep();
  const { record, step } = props;
  const stage = step?.stage ?? 'thicknessed';
  const offered = holdsAt(stage);
  const support = bench.support.value;
  const choose = (changed: Support) => {
    bench.support.value = changed;
  };
  useEffect(() => {
    if (!offered.includes(support.hold)) bench.support.value = { ...support, hold: offered[0]! };
  }, [stage]);
  const instruments = shelf.summaries.value.filter((summary) => !summary.archived && !summary.deleted);
  return (
    <>
      <ChoiceField
        label="On the bench"
        value={record.id}
        options={instruments.map((summary) => [summary.id, summary.name] as const)}
        onChange={(id) => void shelf.open(id)}
      />
      <div class="fields">
        <ChoiceField
          label="Support"
          value={support.hold}
          options={offered.map((hold) => [hold, holdWords[hold]] as const)}
          onChange={(hold) => choose({ ...support, hold })}
        />
        <ChoiceField
          label="Bridge"
          value={support.bridge}
          options={bridges.map((bridge) => [bridge, bridgeWords[bridge]] as const)}
          onChange={(bridge) => choose({ ...support, bridge })}
        />
        <ChoiceField
          label="Strings"
          value={support.strung ? 'on' : 'off'}
          options={[
            ['off', 'No strings'],
            ['on', 'Strung, strings damped'],
          ]}
          onChange={(strung) => choose({ ...support, strung: strung === 'on' })}
        />
        <Spot />
      </div>
      <details class="this-step" open={step !== undefined && step.done === '' && step.rounds.length === 0}>
        <summary>
          {step === undefined
            ? 'No step yet'
            : `Step ${record.steps.length}: ${step.done === '' ? stageWords[step.stage] : step.done}`}
        </summary>
        {step !== undefined && (
          <>
            <p class="hint">{moment(step.atIso)}</p>
            <StepForm record={record} step={step} />
          </>
        )}
      </details>
      <button type="button" onClick={newStep}>
        {step === undefined ? 'Begin the first step' : 'Something was done: new step'}
      </button>
      <CautionLine about={['shaving', 'stop', 'dust']} />
    </>
  );
}

function Spot() {
  const { bench } = useWorkshop();
  const known = Object.keys(spotWords);
  const [own, setOwn] = useState(!known.includes(bench.spot.value));
  return (
    <>
      <ChoiceField
        label="Tap at"
        value={own ? 'own' : bench.spot.value}
        options={[...known.map((spot) => [spot, spotWords[spot]!] as const), ['own', 'Another spot …'] as const]}
        onChange={(spot) => {
          setOwn(spot === 'own');
          if (spot !== 'own') bench.spot.value = spot;
        }}
      />
      {own && (
        <TextField
          label="Spot in your words"
          value={known.includes(bench.spot.value) ? '' : bench.spot.value}
          onChange={(spot) => {
            if (spot !== '') bench.spot.value = spot;
          }}
        />
      )}
    </>
  );
}

/** The step to measure at: the last one, or a first one begun now. */
function useStepToMeasure(step: Step | undefined): () => string | undefined {
  const newStep = useNewStep();
  return () => step?.id ?? newStep();
}

function Ready(props: {
  readonly record: InstrumentRecord;
  readonly step: Step | undefined;
  readonly opening: boolean;
}) {
  const { bench, preferences, recordings } = useWorkshop();
  const stepToMeasure = useStepToMeasure(props.step);
  const { tapsPerHold, holdsPerRound } = preferences.settings.value;
  const openRound = props.step?.rounds.find((round) => round.state === 'open' && round.taps.length > 0);
  const file = useRef<HTMLInputElement>(null);
  const start = () => {
    const stepId = stepToMeasure();
    if (stepId !== undefined) void bench.start(stepId);
  };
  const take = (files: readonly File[]) => {
    const stepId = stepToMeasure();
    if (stepId !== undefined && files.length > 0) void recordings.take(stepId, files);
  };
  return (
    <div
      class="ready"
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        take([...(event.dataTransfer?.files ?? [])]);
      }}
    >
      <p class="lead">
        Hold the piece, tap it with a fingertip, let it ring out. {count(tapsPerHold, 'tap')} a hold,{' '}
        {count(holdsPerRound, 'hold')}; the page counts and stops by itself.
      </p>
      <button type="button" id="start" class="primary big" disabled={props.opening} onClick={start}>
        {props.opening ? 'Opening the microphone …' : 'Start listening'}
      </button>
      <p class="hint">
        Space starts and stops. Put the microphone 10 to 20 cm from the piece. The sound stays on this machine.
      </p>
      {openRound !== undefined && props.step !== undefined && (
        <p class="unfinished">
          A round with {count(openRound.taps.length, 'tap')} was broken off.{' '}
          <button type="button" onClick={() => void bench.resume({ stepId: props.step!.id, roundId: openRound.id })}>
            Go on with it
          </button>{' '}
          <button
            type="button"
            class="quiet"
            onClick={() => void bench.readAgain({ stepId: props.step!.id, roundId: openRound.id })}
          >
            Read what there is
          </button>
        </p>
      )}
      <p>
        <button type="button" class="quiet" onClick={() => file.current?.click()}>
          Or take recordings …
        </button>{' '}
        <span class="hint">or drop sound files here, one file a hold</span>
        <input
          ref={file}
          id="recordings"
          class="visually-hidden"
          type="file"
          multiple
          accept="audio/*,.wav"
          aria-label="Recordings of taps"
          onChange={(event) => {
            take([...(event.currentTarget.files ?? [])]);
            event.currentTarget.value = '';
          }}
        />
      </p>
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
      <h2>Last measured at this step</h2>
      <NamedAnswer
        record={props.record}
        step={props.step}
        modes={signature.modes}
        scatterKnown={signature.scatterKnown}
      />
    </>
  );
}

function NamedAnswer(props: {
  readonly record: InstrumentRecord;
  readonly step: Step;
  readonly modes: readonly ShownMode[];
  readonly scatterKnown: boolean;
}) {
  const { shelf, newId, nameOfMode } = useWorkshop();
  const [naming, setNaming] = useState<ShownMode | undefined>(undefined);
  const modes = props.modes.map((mode) => ({
    ...mode,
    name: nameOfMode(props.record, props.step, mode.frequencyHz.value),
  }));
  return (
    <>
      <Answer modes={modes} scatterKnown={props.scatterKnown} onName={setNaming} />
      {naming !== undefined && (
        <NameMode
          mode={naming}
          onDone={(name) => {
            if (name !== undefined) {
              const pin = { id: newId(), stepId: props.step.id, mode: name, frequencyHz: naming.frequencyHz.value };
              shelf.edit('name of a mode', (record) => pinMode(record, pin));
            }
            setNaming(undefined);
          }}
        />
      )}
    </>
  );
}

export function Session(props: { readonly record: InstrumentRecord }) {
  const { bench, preferences } = useWorkshop();
  const state = bench.state.value;
  const { tapsPerHold, holdsPerRound } = preferences.settings.value;
  switch (state.kind) {
    case 'idle':
    case 'opening':
      return null;
    case 'listening':
    case 'between-holds':
      return (
        <div class="session">
          <MicrophoneLine />
          {state.kind === 'listening' ? (
            <p class="count" role="status">
              <strong>{state.taken}</strong> of {tapsPerHold} taps
              <span class="hold">
                hold {state.hold + 1} of {holdsPerRound}
              </span>
            </p>
          ) : (
            <p class="count between" role="status">
              Put it down, pick it up again.
              <span class="hold">
                hold {state.hold + 1} of {holdsPerRound} in {Math.ceil(state.secondsLeft)} s
              </span>
            </p>
          )}
          <LevelMeter />
          <div class="actions">
            <button type="button" class="big" onClick={() => void bench.finish()}>
              Stop and read
            </button>
            {state.kind === 'between-holds' && (
              <button type="button" class="big quiet" onClick={() => void bench.skipHolds()}>
                Skip the other holds
              </button>
            )}
          </div>
          <HeardList />
          {bench.provisional.value !== undefined && (
            <>
              <h2>So far</h2>
              <Answer modes={bench.provisional.value.modes} scatterKnown={bench.provisional.value.scatterKnown} />
            </>
          )}
        </div>
      );
    case 'interrupted':
      return (
        <div class="session">
          <p class="count">Listening was broken off.</p>
          <div class="actions">
            <button type="button" class="primary big" onClick={() => void bench.resume(state.place)}>
              Go on
            </button>
            <button type="button" class="big" onClick={() => void bench.finish()}>
              Read what there is
            </button>
          </div>
        </div>
      );
    case 'reading':
      return (
        <div class="session">
          <p class="count" role="status">
            Reading the modes …
          </p>
          <progress max={1} value={state.fraction} aria-label="Reading the modes" />
          <button type="button" class="quiet" onClick={() => bench.cancel()}>
            Cancel
          </button>
        </div>
      );
    case 'answer':
      return <RoundAnswer record={props.record} stepId={state.place.stepId} roundId={state.place.roundId} />;
  }
}

function RoundAnswer(props: { readonly record: InstrumentRecord; readonly stepId: string; readonly roundId: string }) {
  const { bench } = useWorkshop();
  const step = props.record.steps.find((known) => known.id === props.stepId);
  const round = step?.rounds.find((known) => known.id === props.roundId);
  const again = () => {
    if (step !== undefined) void bench.start(step.id);
  };
  if (step === undefined || round === undefined)
    return <Ready record={props.record} step={props.record.steps.at(-1)} opening={false} />;
  return (
    <div class="session">
      {round.fit === undefined ? (
        <p class="count">The taps are stored but not read yet.</p>
      ) : round.fit.modes.length === 0 ? (
        <p class="count">
          No mode stands clear of the room in these taps. Tap closer to the microphone, or at another spot.
        </p>
      ) : (
        <NamedAnswer record={props.record} step={step} modes={round.fit.modes} scatterKnown={round.fit.scatterKnown} />
      )}
      {(round.fit?.setAside.length ?? 0) > 0 && (
        <p class="hint">
          {count(round.fit!.setAside.length, 'tap')} disagreed with the others and{' '}
          {round.fit!.setAside.length === 1 ? 'was' : 'were'} left out.
        </p>
      )}
      <div class="actions">
        <button type="button" class="primary big" onClick={again}>
          Listen again
        </button>
        <a class="big button" href="#/steps">
          Compare with earlier steps
        </a>
        <button
          type="button"
          class="quiet"
          onClick={() => void bench.readAgain({ stepId: props.stepId, roundId: props.roundId })}
        >
          Read again
        </button>
        <button
          type="button"
          class="quiet"
          onClick={() => bench.setAside({ stepId: props.stepId, roundId: props.roundId }, round.state !== 'set-aside')}
        >
          {round.state === 'set-aside' ? 'Count this round after all' : 'Set this round aside'}
        </button>
      </div>
      <HeardList />
    </div>
  );
}

function MicrophoneLine() {
  const { bench } = useWorkshop();
  const facts = bench.microphone.value;
  if (facts === undefined) return null;
  const processing = [
    ['echo cancellation', facts.echoCancellation],
    ['noise suppression', facts.noiseSuppression],
    ['automatic gain', facts.autoGainControl],
  ] as const;
  const kept = processing.filter(([, state]) => state === 'on').map(([name]) => name);
  const unknown = processing.filter(([, state]) => state === 'unknown').map(([name]) => name);
  return (
    <div class="microphone">
      <p class="hint">
        {facts.label === '' ? 'Microphone' : facts.label}, {facts.sampleRateHz} Hz
        {kept.length === 0 && unknown.length === 0 && ', unprocessed'}
        {unknown.length > 0 &&
          `; the browser does not say whether ${unknown.join(', ')} ${unknown.length === 1 ? 'is' : 'are'} off`}
      </p>
      {kept.length > 0 && (
        <p class="stop" role="alert">
          The browser kept {kept.join(' and ')} on. Q and level cannot be trusted; use another browser or microphone.
        </p>
      )}
      {facts.sampleRateHz < 32_000 && (
        <p class="stop" role="alert">
          This microphone runs at {facts.sampleRateHz} Hz, as wireless headsets do. Use the built-in one or a wired one.
        </p>
      )}
    </div>
  );
}

/** Space starts and stops, unless it is needed to type or to press a button, or the maker has switched it off. */
function useSpaceBar(): void {
  const { preferences } = useWorkshop();
  useEffect(() => {
    const press = (event: KeyboardEvent) => {
      if (event.key !== ' ' || !preferences.settings.value.spaceBar) return;
      const target = event.target instanceof HTMLElement ? event.target : undefined;
      if (target?.closest('input, textarea, select, button, a, summary')) return;
      const button = document.querySelector<HTMLButtonElement>('.listening .big');
      if (button === null) return;
      event.preventDefault();
      button.click();
    };
    window.addEventListener('keydown', press);
    return () => window.removeEventListener('keydown', press);
  }, []);
}
