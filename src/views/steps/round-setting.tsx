// How a round was held and where it was tapped, corrected afterwards; its taps stay.
import type { InstrumentRecord, Round, Step } from '../../record/record.ts';
import { changeRound, type RecordPlace } from '../../record/round-edit.ts';
import { SupportChoices } from '../bench/setup.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { spotWord, spotWords } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useEditRecord } from '../workshop-context.ts';

export function RoundSettingFields(props: { readonly step: Step; readonly round: Round; readonly place: RecordPlace }) {
  const { step, round, place } = props;
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
      </div>
    </details>
  );
}
