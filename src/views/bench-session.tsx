// A round from the first tap to the answer.
import type { ComponentChildren } from 'preact';
import type { InstrumentRecord } from '../record/record.ts';
import { type RoundPlace, roundsOf } from '../record/round-edit.ts';
import { Answer } from './answer.tsx';
import { parts } from './figures.ts';
import { HeardList } from './heard-list.tsx';
import { LevelMeter } from './level-meter.tsx';
import { NamedAnswer } from './named-answer.tsx';
import { TakeRecordings, useTakeRecordings } from './take-recordings.tsx';
import { count } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

export function Session(props: { readonly answer: (place: RoundPlace) => ComponentChildren }) {
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
          <LevelMeter level={bench.level.value} />
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
      return <>{props.answer(state.place)}</>;
  }
}

/** The modes of a round of a step, and what can be done with it. */
export function RoundAnswer(props: { readonly record: InstrumentRecord; readonly place: RoundPlace }) {
  const { bench } = useWorkshop();
  const { record, place } = props;
  const step = 'stepId' in place ? record.steps.find((known) => known.id === place.stepId) : undefined;
  const round = roundsOf(record, place).find((known) => known.id === place.roundId);
  const take = useTakeRecordings(step);
  if (step === undefined || round === undefined) return null;
  const ofRoom = round.fit?.ofRoom ?? [];
  return (
    <div class="session">
      {round.fit === undefined ? (
        <p class="count">The taps are stored but not read yet.</p>
      ) : round.fit.modes.length === 0 ? (
        <p class="count">
          No mode stands clear of the room in these taps. Tap closer to the microphone, or at another spot.
        </p>
      ) : (
        <NamedAnswer record={record} step={step} modes={round.fit.modes} scatterKnown={round.fit.scatterKnown} />
      )}
      {(round.fit?.setAside.length ?? 0) > 0 && (
        <p class="hint">
          {count(round.fit!.setAside.length, 'tap')} disagreed with the others and{' '}
          {round.fit!.setAside.length === 1 ? 'was' : 'were'} left out.
        </p>
      )}
      {ofRoom.length > 0 && (
        <p class="hint">
          Left out: {ofRoom.map((mode) => `${parts(mode.frequencyHz, 1).value} Hz`).join(', ')}. The clap showed that
          the room itself rings there.{' '}
          <button type="button" class="quiet" onClick={() => void bench.readWithoutRoom(place)}>
            Count them after all
          </button>
        </p>
      )}
      <div class="actions">
        <button type="button" class="primary big" onClick={() => void bench.start({ stepId: step.id })}>
          Listen again
        </button>
        <a class="big button" href="#/steps">
          Compare with earlier steps
        </a>
        <button type="button" class="quiet" onClick={() => void bench.readAgain(place)}>
          Read again
        </button>
        <button type="button" class="quiet" onClick={() => bench.setAside(place, round.state !== 'set-aside')}>
          {round.state === 'set-aside' ? 'Count this round after all' : 'Set this round aside'}
        </button>
      </div>
      <TakeRecordings onTake={take} />
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
