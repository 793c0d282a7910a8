// What happened with the last pass: how far each mode moved, what was foreseen, and what was done where nothing is entered.
import { useMemo, useState } from 'preact/hooks';
import { type MoveSince, moveSince, type SinceWhen, sinceWhen } from '../../compare/last-pass.ts';
import type { Series } from '../../compare/series.ts';
import type { PastMove, TopAgreement } from '../../forecast/top-agreement.ts';
import { localDay } from '../../quantity/day.ts';
import type { InstrumentRecord } from '../../record/record.ts';
import { usePast } from '../forecast/use-questions.ts';
import { forecastWords } from '../forecast/words.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { signed } from '../parts/figures.ts';
import { useLength, useMass } from '../parts/own-units.ts';
import { useStepName } from '../parts/step-name.ts';
import { HearPass } from './hear-pass.tsx';
import { StepForm } from './step-form.tsx';

export function LastPass(props: {
  readonly record: InstrumentRecord;
  readonly conditions: Series;
  /** modes to tell of, by name; the named ones, else the lowest, where there is no target */
  readonly wanted: readonly string[];
}) {
  const { record, conditions } = props;
  const t = forecastWords().nextPass;
  const stepName = useStepName();
  const length = useLength(3);
  const mass = useMass();
  const past = usePast();
  const [when, setWhen] = useState<SinceWhen>('last');
  // The view is drawn again with every step of a computation, the moves stay.
  const offered = useMemo(
    () => sinceWhen.flatMap((known) => moveSince(record, conditions, known, localDay) ?? []),
    [record, conditions],
  );
  const since = offered.find((known) => known.when === when) ?? offered[0];
  if (since === undefined) return null;
  // Depths on several braces do not add up to one; what they weigh does.
  const amount = since.massOffG ? mass(since.massOffG) : since.heightOffMm ? length(since.heightOffMm) : undefined;
  return (
    <section class="last-pass" aria-label={t.happened}>
      <p>
        {stepName(record, since.to)}: {amount === undefined ? t.nothingEntered : t.off(amount)}.
      </p>
      {shownMoves(since.moves, props.wanted).map((moved) => (
        <p class="pass-moved" key={moved.track.points[0]?.mode.frequencyHz.value}>
          {moveWords(moved, since.when === 'last' ? foreseenOf(past, since.to.id, moved.track.name) : undefined)}
        </p>
      ))}
      {since.unexplained.length > 0 && <WhatWasDone record={record} stepId={since.to.id} moved={since.unexplained} />}
      <details>
        <summary>{t.more}</summary>
        {offered.length > 1 && (
          <fieldset class="switch" aria-label={t.since}>
            {offered.map((known) => (
              <Button
                key={known.when}
                text={t.sinceWhen[known.when]}
                isChosen={known === since}
                onPress={() => setWhen(known.when)}
              />
            ))}
          </fieldset>
        )}
        <HearPass record={record} conditions={conditions} since={since} wanted={props.wanted} />
      </details>
    </section>
  );
}

/** The modes that are aimed at, else the named ones, else the three lowest. */
function shownMoves(moves: readonly MoveSince[], wanted: readonly string[]): readonly MoveSince[] {
  const aimed = moves.filter(({ track }) => track.name !== undefined && wanted.includes(track.name));
  if (aimed.length > 0) return aimed;
  const named = moves.filter(({ track }) => track.name !== undefined);
  return (named.length > 0 ? named : moves).slice(0, 3);
}

const foreseenOf = (past: TopAgreement | undefined, stepId: string, name: string | undefined): PastMove | undefined =>
  past?.past.find((move) => move.stepId === stepId && past.names[move.mode] === name && move.forecast.value !== 0);

function moveWords({ track, from, move }: MoveSince, foreseen: PastMove | undefined): string {
  const t = forecastWords().nextPass;
  const name = track.name ?? signed(from.mode.frequencyHz, 'Hz').replace('+', '');
  const moved = move.trusted ? t.moved(name, signed(move.hz, 'Hz')) : t.noMove(name);
  if (foreseen === undefined) return moved;
  const verdict = foreseen.agrees
    ? t.asForeseen
    : Math.abs(foreseen.measured.value) > Math.abs(foreseen.forecast.value)
      ? t.moreThanForeseen
      : t.lessThanForeseen;
  return `${moved}, ${t.foreseen(signed(foreseen.forecast, 'Hz'))}: ${verdict}`;
}

/** A pass that was forgotten: the modes moved, and nothing is entered. */
function WhatWasDone(props: {
  readonly record: InstrumentRecord;
  readonly stepId: string;
  readonly moved: readonly MoveSince[];
}) {
  const [isOpen, setOpen] = useState(false);
  const t = forecastWords().nextPass;
  const step = props.record.steps.find(({ id }) => id === props.stepId);
  if (step === undefined) return null;
  const names = props.moved.map(
    ({ track, from }) => track.name ?? signed(from.mode.frequencyHz, 'Hz').replace('+', ''),
  );
  return (
    <div class="note" role="status">
      <p>{t.whatWasDone(names.slice(0, 3))}</p>
      {isOpen ? (
        <StepForm record={props.record} step={step} />
      ) : (
        <Actions>
          <Button text={t.enterIt} onPress={() => setOpen(true)} />
        </Actions>
      )}
    </div>
  );
}
