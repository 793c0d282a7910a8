// How a round was held and where it was tapped, corrected afterwards; its taps stay.
import type { InstrumentRecord, Round, Step } from '../../record/record.ts';
import { changeRound, moveRound, type RecordPlace } from '../../record/round-edit.ts';
import { SupportChoices } from '../bench/setup.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { useStepName } from '../parts/step-name.ts';
import { spotWord, spotWords } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useEditRecord } from '../workshop-context.ts';

export function RoundSettingFields(props: {
  readonly record: InstrumentRecord;
  readonly step: Step;
  readonly round: Round;
  readonly place: RecordPlace;
}) {
  const { record, step, round, place } = props;
  const stepName = useStepName();
  const editRecord = useEditRecord();
  const change = (part: Partial<Pick<Round, 'support' | 'spot'>>) =>
    editRecord('round-setting', (record: InstrumentRecord) =>
      changeRound(record, place, (known) => ({ ...known, ...part })),
    );
  const spots = [...new Set([...Object.keys(spotWords), round.spot])];
  return (
    <details>
      <summary>{words.steps.correct}</summary>
      <div class="fields">
        <SupportChoices stage={step.stage} support={round.support} onChange={(support) => change({ support })} />
        <ChoiceField
          label={words.bench.tapAt}
          value={round.spot}
          options={spots.map((spot) => [spot, spotWord(spot)] as const)}
          onChange={(spot) => change({ spot })}
        />
        {record.steps.length > 1 && (
          <ChoiceField
            label={words.steps.ofStep}
            value={step.id}
            options={record.steps.map((known, i) => [known.id, `${i + 1}. ${stepName(record, known)}`] as const)}
            onChange={(stepId) => editRecord('round-moved', (current) => moveRound(current, place, stepId))}
          />
        )}
      </div>
    </details>
  );
}
