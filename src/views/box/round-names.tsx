// Names that are only proposed, of all rounds of a step together.
import type { StateRound } from '../../compare/box-evidence.ts';
import type { Step } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { saidPeak } from './peaks.tsx';
import { boxWords } from './words.ts';

/** Confirming them is the last act of the rounds. */
export function RoundNames(props: { readonly rounds: readonly StateRound[]; readonly step: Step }) {
  const { newId } = useWorkshop();
  const editRecord = useEditRecord();
  const t = boxWords().doubts;
  const waiting = props.rounds.flatMap((taken) =>
    taken.peaks.flatMap((peak) => (peak.isConfirmed || peak.label === 'other' ? [] : [{ taken, peak }])),
  );
  if (waiting.length === 0) return null;
  const confirm = () =>
    editRecord('peak-parts', (record) =>
      waiting.reduce((known, { taken, peak }) => saidPeak(known, props.step.id, taken, peak, newId), record),
    );
  return (
    <Card title={t.names}>
      <p>{t.namesWait(waiting.length)}</p>
      <Button kind="primary" text={t.namesAll} onPress={confirm} />
    </Card>
  );
}
