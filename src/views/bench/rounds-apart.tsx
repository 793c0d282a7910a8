// Rounds of one step that are labelled alike and do not ring alike: one of them was held or taped otherwise, or is another step's.
import { type Signature, signatures } from '../../compare/signature.ts';
import type { Step } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { number } from '../parts/figures.ts';
import { spotWord } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

export const isTorn = (step: Step): boolean => signatures(step).some(({ disagreement }) => disagreement !== undefined);

export function RoundsApart(props: { readonly recordId: string; readonly step: Step }) {
  return signatures(props.step).map((signature) => <Apart key={signature.spots.join()} {...props} of={signature} />);
}

function Apart(props: { readonly recordId: string; readonly step: Step; readonly of: Signature }) {
  const { bench } = useWorkshop();
  const { recordId, step } = props;
  const { disagreement } = props.of;
  if (disagreement === undefined) return null;
  const { round } = disagreement;
  const percent = number(100 * disagreement.apart, 1);
  return (
    <div class="note" role="status">
      <p>
        {round === undefined
          ? words.bench.roundsApart(percent)
          : words.bench.oddRound(step.rounds.indexOf(round) + 1, spotWord(round.spot), percent)}
      </p>
      {round !== undefined && (
        <Actions>
          <Button
            text={words.bench.setOddAside}
            onPress={() => bench.setAside({ recordId, stepId: step.id, roundId: round.id }, true)}
          />
        </Actions>
      )}
    </div>
  );
}
