// A round from the first tap to the answer.

import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { InstrumentRecord, Round } from '../../record/record.ts';
import { type RecordPlace, roundsOf } from '../../record/round-edit.ts';
import { knownModes, type RoundFit } from '../../signal/tap.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { Emphasised } from '../parts/emphasised.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { Answer } from './answer.tsx';
import { HeardList } from './heard-list.tsx';
import { LevelScale } from './level-meter.tsx';
import { MicrophoneLine } from './microphone-line.tsx';
import { NamedAnswer } from './named-answer.tsx';
import { RoundsApart } from './rounds-apart.tsx';
import { ShapesOffer } from './shapes-offer.tsx';
import { TakeRecordings, useTakeRecordings } from './take-recordings.tsx';

/** A round as it goes on. Whatever needs the maker's eyes meanwhile is in view, however far down the press was. */
export function Session(props: { readonly answer: (place: RecordPlace) => ComponentChildren }) {
  const { kind } = useWorkshop().bench.state.value;
  const place = useRef<HTMLDivElement>(null);
  const part = kind === 'listening' || kind === 'between-holds' ? 'tapping' : kind === 'opening' ? 'opening' : 'over';
  useEffect(() => {
    // Once more when the counter takes the place of the waiting.
    if (part !== 'over') place.current?.scrollIntoView({ block: 'start' });
  }, [part]);
  return (
    <div ref={place} class="session-place">
      <SessionNow {...props} />
    </div>
  );
}

function SessionNow(props: { readonly answer: (place: RecordPlace) => ComponentChildren }) {
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
              <Emphasised text={words.bench.taken(state.taken, tapsPerHold)} part={String(state.taken)} />
              <span class="hold">{words.bench.hold(state.hold + 1, holdsPerRound)}</span>
            </p>
          ) : (
            <p class="count between" role="status">
              {words.bench.putDown}
              <span class="hold">
                {words.bench.holdIn(state.hold + 1, holdsPerRound, Math.ceil(state.secondsLeft))}
              </span>
            </p>
          )}
          <LevelScale level={bench.level.value} />
          <Actions>
            <Button isBig takesSpaceBar text={words.bench.stopAndRead} onPress={() => void bench.finish()} />
            {state.kind === 'between-holds' && (
              <Button kind="quiet" isBig text={words.bench.skipHolds} onPress={() => void bench.skipHolds()} />
            )}
          </Actions>
          <HeardList />
          {bench.provisional.value !== undefined && (
            <>
              <h2>{words.bench.soFar}</h2>
              <WhatHindered fit={bench.provisional.value} />
              <Answer modes={knownModes(bench.provisional.value)} scatterKnown={bench.provisional.value.scatterKnown} />
            </>
          )}
        </div>
      );
    case 'interrupted':
      return (
        <div class="session">
          <p class="count">{words.bench.interrupted}</p>
          <Actions>
            <Button
              kind="primary"
              isBig
              takesSpaceBar
              text={words.bench.goOn}
              onPress={() => void bench.resume(state.place)}
            />
            <Button isBig text={words.bench.readWhatThereIs} onPress={() => void bench.finish()} />
          </Actions>
        </div>
      );
    case 'reading':
      return (
        <div class="session">
          <p class="count" role="status">
            {words.bench.readingModes}
          </p>
          <progress max={1} value={state.fraction} aria-label={words.bench.readingLabel} />
          <Button kind="quiet" text={words.bench.cancel} onPress={() => bench.cancel()} />
        </div>
      );
    case 'answer':
      return <>{props.answer(state.place)}</>;
  }
}

/** What kept the taps from telling more, and what helps: said while tapping too, when it can still be mended. */
function WhatHindered({ fit }: { readonly fit: NonNullable<Round['fit']> | RoundFit }) {
  return (
    <>
      {fit.recorder !== undefined && <p class="note">{words.bench.recorder[fit.recorder]}</p>}
      {fit.isRungOver && <p class="note">{words.bench.ringsOn}</p>}
      {fit.disagreement !== undefined && <p class="note">{disagreementWords(fit.disagreement)}</p>}
      {fit.roomAnswerDb !== undefined && <p class="note">{words.bench.loudRoom(number(-fit.roomAnswerDb, 0))}</p>}
    </>
  );
}

const disagreementWords = ({ hold, apart }: NonNullable<RoundFit['disagreement']>): string =>
  hold === undefined
    ? words.bench.holdsApart(number(100 * apart, 1))
    : words.bench.oddHold(hold + 1, number(100 * apart, 1));

/** The modes of a round of a step, and what can be done with it. */
export function RoundAnswer(props: { readonly record: InstrumentRecord; readonly place: RecordPlace }) {
  const { bench } = useWorkshop();
  const { record, place } = props;
  const step = 'stepId' in place ? record.steps.find((known) => known.id === place.stepId) : undefined;
  const round = roundsOf(record, place).find((known) => known.id === place.roundId);
  const take = useTakeRecordings(step);
  if (step === undefined || round === undefined) return null;
  const ofRoom = round.fit?.ofRoom ?? [];
  return (
    <div class="session">
      {round.fit !== undefined && <WhatHindered fit={round.fit} />}
      {round.fit === undefined ? (
        <p class="count">{words.bench.notRead}</p>
      ) : round.fit.modes.length === 0 ? (
        <p class="count">{words.bench.noMode}</p>
      ) : (
        <NamedAnswer record={record} step={step} modes={knownModes(round.fit)} scatterKnown={round.fit.scatterKnown} />
      )}
      <LeftOut round={round} />
      <RoundsApart recordId={record.id} step={step} />
      {round.fit?.disagreement !== undefined && (
        <Actions>
          <Button text={words.bench.oneHoldMore} onPress={() => void bench.tapAnotherHold(place)} />
          {round.fit.disagreement.hold !== undefined && (
            <Button kind="quiet" text={words.bench.countEveryHold} onPress={() => void bench.countEveryHold(place)} />
          )}
        </Actions>
      )}
      {ofRoom.length > 0 && (
        <p class="hint">
          {words.bench.ofRoom(ofRoom.map((mode) => withHalfWidth(mode.frequencyHz, 'Hz')).join(', '))}{' '}
          <Button kind="quiet" text={words.bench.countThem} onPress={() => void bench.readWithoutRoom(place)} />
        </p>
      )}
      <Actions>
        <Button
          kind="primary"
          isBig
          takesSpaceBar
          text={words.bench.listenAgain}
          onPress={() => void bench.start({ recordId: record.id, stepId: step.id })}
        />
        <a class="big button" href="#/steps">
          {words.bench.compareEarlier}
        </a>
        <Button kind="quiet" text={words.bench.readAgain} onPress={() => void bench.readAgain(place)} />
        <Button
          kind="quiet"
          text={round.state === 'set-aside' ? words.bench.countAfterAll : words.bench.setAside}
          onPress={() => bench.setAside(place, round.state !== 'set-aside')}
        />
      </Actions>
      <ShapesOffer step={step} />
      <TakeRecordings onTake={take} />
      <HeardList />
    </div>
  );
}

/** Single taps that disagreed; those of a hold that was left out are told with it. */
function LeftOut({ round }: { readonly round: Round }) {
  const odd = round.fit?.disagreement?.hold;
  const alone = round.fit?.setAside.filter(({ hold }) => hold !== odd).length ?? 0;
  return alone === 0 ? null : <p class="hint">{words.bench.leftOut(alone)}</p>;
}
