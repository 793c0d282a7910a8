// Which brace is at hand, and the pattern they are laid in.
import { cutsMade } from '../../record/cuts.ts';
import { changeHand, changePlan } from '../../record/plan-edit.ts';
import { laidBraces, settledPlan } from '../../record/plan-layout.ts';
import { type BracingPattern, patterns } from '../../record/plan-patterns.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { FoldedCard } from '../parts/card.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { planWords } from './words.ts';

export function ChooseBrace(props: {
  readonly plan: Plan;
  readonly chosen: string | undefined;
  readonly onChoose: (id: string) => void;
}) {
  const { newId } = useWorkshop();
  const editRecord = useEditRecord();
  const { plan } = props;
  const add = () => {
    const id = newId();
    editRecord('new-brace', (record) =>
      changePlan(record, (current) => ({
        ...current,
        braces: [
          ...current.braces,
          {
            id,
            name: planWords().newBrace(current.braces.length + 1),
            from: { xMm: 120, yMm: -60 },
            to: { xMm: 120, yMm: 60 },
            widthMm: 7,
            profile: [
              { atMm: 0, heightMm: 3 },
              { atMm: 25, heightMm: 9 },
              { atMm: 95, heightMm: 9 },
              { atMm: 120, heightMm: 3 },
            ],
            section: 'rounded',
            grainDeg: 0,
            structural: false,
            floors: [],
          },
        ],
      })),
    );
    props.onChoose(id);
  };
  return (
    <div class="plan-choose">
      {plan.braces.length > 0 && (
        <ChoiceField
          label={planWords().brace}
          value={props.chosen ?? ''}
          options={[
            ...(plan.braces.some((brace) => brace.id === props.chosen) ? [] : [['', planWords().chooseBrace] as const]),
            ...plan.braces.map((brace) => [brace.id, brace.name] as const),
          ]}
          onChange={props.onChoose}
        />
      )}
      <Button kind="quiet" text={planWords().addBrace} onPress={add} />
    </div>
  );
}

export function PatternAndHand(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly onChoose: (id: string | undefined) => void;
}) {
  const editRecord = useEditRecord();
  const { record } = props;
  const t = planWords();
  const other = record.hand === 'left' ? 'right' : 'left';
  const hasCuts = cutsMade(record).some(({ on }) => on.length > 0);
  const lay = (pattern: BracingPattern) => {
    editRecord('pattern', (current) =>
      changePlan(current, (plan) => settledPlan({ ...plan, braces: [...laidBraces(pattern, plan, current.hand)] })),
    );
    props.onChoose(undefined);
  };
  return (
    <FoldedCard title={t.patternAndHand}>
      <p>
        {t.player[record.hand]} <Button text={t.mirrorFor[other]} onPress={() => editRecord('mirrored', changeHand)} />
      </p>
      <p class="hint">
        {t.patternHint}
        {hasCuts && ` ${t.cutsStay}`}
      </p>
      <Actions>
        {patterns.map((pattern) => (
          <Button key={pattern} text={t.patterns[pattern]} onPress={() => lay(pattern)} />
        ))}
      </Actions>
    </FoldedCard>
  );
}
