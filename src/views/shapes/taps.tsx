// The taps of a roving round one by one, to put right what was tapped in another order.
import type { InstrumentRecord, Step } from '../../record/record.ts';
import { leaveTapOut, moveTap, type RovingRound } from '../../record/roving-edit.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { FoldedCard } from '../parts/card.tsx';
import { number } from '../parts/figures.ts';
import { Table } from '../parts/table.tsx';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { shapesWords } from './words.ts';

export function TapsOfRound(props: {
  readonly record: InstrumentRecord;
  readonly step: Step;
  readonly round: RovingRound;
}) {
  const { hearBack, bench } = useWorkshop();
  const editRecord = useEditRecord();
  const { record, step, round } = props;
  const t = shapesWords();
  const place = { recordId: record.id, stepId: step.id, roundId: round.id };
  return (
    <FoldedCard title={t.taps}>
      <p class="hint">{t.tapsHint}</p>
      <Table
        label={t.taps}
        head={[t.tap, t.spotHead, t.above, t.hear, t.isOut]}
        rows={round.taps.map((tap, i) => [
          t.tapNumber(i + 1),
          <select
            key="spot"
            aria-label={t.madeAt(i + 1)}
            value={tap.rovingSpot ?? 0}
            onChange={(event) => {
              const spot = Number(event.currentTarget.value);
              editRecord('tap-moved', (current) => moveTap(current, place, tap.id, spot));
            }}
          >
            {round.roving.spots.map((_, spot) => (
              <option key={spot} value={spot}>
                {spot + 1}
              </option>
            ))}
          </select>,
          `${number(tap.aboveRoomDb, 0)} dB`,
          <Button key="hear" kind="quiet" text={t.hear} onPress={() => void hearBack.play([tap])} />,
          <Button
            key="out"
            kind="quiet"
            text={tap.leftOut ? t.takeIn : t.leaveTapOut}
            onPress={() =>
              editRecord('tap-left-out', (current) => leaveTapOut(current, place, tap.id, tap.leftOut === undefined))
            }
          />,
        ])}
      />
      <Actions>
        <Button kind="quiet" text={t.aside} onPress={() => bench.setAside(place, true)} />
      </Actions>
    </FoldedCard>
  );
}
