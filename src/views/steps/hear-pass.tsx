// The ear beside the figures: the best tap before and after, in turn and equally loud, and one mode of them alone.

import type { Since } from '../../compare/last-pass.ts';
import type { Series } from '../../compare/series.ts';
import { roundsAt, sharedSpots, signatureUnder } from '../../compare/signature.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import { bestTap } from '../../record/round-edit.ts';
import { forecastWords } from '../forecast/words.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { useWorkshop } from '../workshop-context.ts';

export function HearPass(props: {
  readonly record: InstrumentRecord;
  readonly conditions: Series;
  readonly since: Since;
  readonly wanted: readonly string[];
}) {
  const { hearBack } = useWorkshop();
  const { conditions, since } = props;
  const t = forecastWords().nextPass;
  const [before, after] = bestTaps(since, conditions);
  if (before === undefined || after === undefined) return null;
  const named = since.moves.filter(({ track }) => track.name !== undefined && props.wanted.includes(track.name));
  return (
    <Actions>
      <Button text={t.hearBoth} onPress={() => void hearBack.play([{ id: before }, { id: after }])} />
      <Button kind="quiet" text={t.hearBefore} onPress={() => void hearBack.play([{ id: before }])} />
      <Button kind="quiet" text={t.hearAfter} onPress={() => void hearBack.play([{ id: after }])} />
      {named.map(({ track, from }) => (
        <Button
          key={track.name}
          kind="quiet"
          text={t.hearMode(track.name ?? '')}
          onPress={() =>
            void hearBack.play([
              { id: before, aboutHz: from.mode.frequencyHz.value },
              { id: after, aboutHz: track.points.at(-1)!.mode.frequencyHz.value },
            ])
          }
        />
      ))}
    </Actions>
  );
}

/** The tap of each step that stands most above the room, at a spot that both were tapped at where there is one. */
function bestTaps({ from, to }: Since, { support }: Series): readonly (string | undefined)[] {
  const [a, b] = [signatureUnder(from, support), signatureUnder(to, support)];
  if (a === undefined || b === undefined) return [];
  const shared = sharedSpots(a, b);
  const best = (step: Step, spots: readonly string[]) =>
    bestTap(roundsAt(step, support, shared.length > 0 ? shared : spots).flatMap(({ taps }) => taps))?.id;
  return [best(from, a.spots), best(to, b.spots)];
}
