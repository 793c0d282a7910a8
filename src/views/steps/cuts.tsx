// What was cut at a step. On a brace of the plan the cut is what the plan, the forecast and the course go by; in words only
// it is kept as it was written, until it is tied to a brace.

import { cutsMade } from '../../record/cuts.ts';
import type { Cut, InstrumentRecord, Step } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { CutFields } from './cut-fields.tsx';

export function StepCuts(props: {
  readonly record: InstrumentRecord;
  readonly step: Step;
  readonly onChange: (cuts: readonly Cut[]) => void;
}) {
  const { newId } = useWorkshop();
  const { record, step, onChange } = props;
  const made = cutsMade(record).filter((each) => each.step.id === step.id);
  return (
    <div class="shavings">
      {made.map((each, at) => (
        <CutFields
          key={each.cut.id}
          record={record}
          made={each}
          number={at + 1}
          onChange={(cut) => onChange(step.cuts.map((known) => (known.id === cut.id ? cut : known)))}
          onRemove={() => onChange(step.cuts.filter((known) => known.id !== each.cut.id))}
        />
      ))}
      <Button
        kind="quiet"
        text={words.steps.addShaving}
        onPress={() => onChange([...step.cuts, { id: newId(), brace: '', braceIds: [] }])}
      />
    </div>
  );
}
