// Shapes from taps: a round from spot to spot, and what it tells of every mode.
import { useEffect } from 'preact/hooks';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import { isRoving, rovingRounds } from '../../record/roving-edit.ts';
import { EmptyView } from '../parts/card.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { BeginRoving } from './begin.tsx';
import { ShapesOfRound } from './result.tsx';
import { RovingSession } from './session.tsx';
import { useShapes } from './use-shapes.ts';
import { shapesWords } from './words.ts';
import './shapes.css';

export function ShapesView() {
  const { shelf, shapes } = useWorkshop();
  const record = shelf.record.value;
  const t = shapesWords();
  useEffect(() => void shapes.load(), []);
  if (shapes.now.value === undefined) return <p role="status">{words.shell.loadingView}</p>;
  if (record === undefined)
    return <EmptyView title={t.title} text={t.needsInstrument} to="#/record" toText={t.toRecords} />;
  const step = record.steps.at(-1);
  if (step === undefined) return <EmptyView title={t.title} text={t.needsModes} to="#/bench" toText={t.backToBench} />;
  return <ShapesAtStep record={record} step={step} />;
}

function ShapesAtStep(props: { readonly record: InstrumentRecord; readonly step: Step }) {
  const { place } = useWorkshop();
  const { roving } = useShapes();
  const { record, step } = props;
  const t = shapesWords();
  const { kind } = roving.state.value;
  if (kind === 'tapping' || kind === 'interrupted') return <RovingSession record={record} step={step} />;
  // One of an earlier step is looked at from the diary, by its name in the address.
  const [of, name] = named(record, place.detail.value) ?? [step, rovingRounds(step).at(-1)?.id];
  const round = of.rounds.filter(isRoving).find(({ id }) => id === name);
  return (
    <div class="shapes">
      <p class="shapes-back">
        <a href="#/bench">{t.backToBench}</a>
      </p>
      <h1>{t.title}</h1>
      {round === undefined && <p class="lead">{t.lead}</p>}
      {round !== undefined && <ShapesOfRound key={round.id} record={record} step={of} round={round} />}
      {of === step && <BeginRoving record={record} step={step} isOpen={round === undefined} />}
    </div>
  );
}

/** The round of that name with its step. */
function named(record: InstrumentRecord, roundId: string): readonly [Step, string] | undefined {
  const step = record.steps.find(({ rounds }) => rounds.some(({ id }) => id === roundId));
  return step && [step, roundId];
}
