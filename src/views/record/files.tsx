// The open record for other programs: tables, universal files, and single taps as sound.

import { useState } from 'preact/hooks';
import type { InstrumentRecord } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { stageWords } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

export function RecordFiles(props: { readonly record: InstrumentRecord }) {
  const { otherFormats, bench } = useWorkshop();
  const { record } = props;
  const [busy, setBusy] = useState(false);
  const save = (work: () => Promise<void>) => {
    setBusy(true);
    void work().finally(() => setBusy(false));
  };
  const isBusy = busy || bench.listening.value;
  return (
    <section class="card" aria-labelledby="files-heading">
      <h2 id="files-heading">{words.record.otherPrograms}</h2>
      <p class="hint">{words.record.otherProgramsHint}</p>
      <Actions>
        <Button
          text={words.record.tables}
          isDisabled={isBusy}
          onPress={() => save(() => otherFormats.tables(record))}
        />
        <Button
          text={words.record.spreadsheet}
          isDisabled={isBusy}
          onPress={() => save(() => otherFormats.tables(record, decimalOfLocale()))}
        />
        <Button
          text={words.record.universal(record.plan !== undefined)}
          isDisabled={isBusy}
          onPress={() => save(() => otherFormats.universalRecord(record))}
        />
      </Actions>
      {record.steps.length > 0 && <OneStep record={record} isBusy={isBusy} save={save} />}
      {busy && <p role="status">{words.record.writing}</p>}
    </section>
  );
}

/** Decimal sign of the reader's country, which its spreadsheets follow. */
const decimalOfLocale = (): ',' | '.' => ((1.5).toLocaleString().includes(',') ? ',' : '.');

function OneStep(props: {
  readonly record: InstrumentRecord;
  readonly isBusy: boolean;
  readonly save: (work: () => Promise<void>) => void;
}) {
  const { otherFormats } = useWorkshop();
  const { record, isBusy, save } = props;
  const [stepId, setStepId] = useState<string | undefined>(undefined);
  const [tapId, setTapId] = useState<string | undefined>(undefined);
  const step = record.steps.find(({ id }) => id === stepId) ?? record.steps.at(-1);
  if (step === undefined) return null;
  const taps = step.rounds.flatMap((round, r) =>
    round.taps.map((tap, t) => [tap.id, words.record.tapAt(r + 1, tap.hold + 1, t + 1)] as const),
  );
  const tap = taps.find(([id]) => id === tapId) ?? taps[0];
  return (
    <fieldset>
      <legend>{words.record.oneStep}</legend>
      <div class="fields">
        <ChoiceField
          label={words.record.step}
          value={step.id}
          options={record.steps.map(
            ({ id, done, stage }, i) =>
              [id, `${i + 1}. ${(done === '' ? stageWords[stage] : done).slice(0, 60)}`] as const,
          )}
          onChange={setStepId}
        />
        {tap !== undefined && (
          <ChoiceField label={words.record.tap} value={tap[0]} options={taps} onChange={setTapId} />
        )}
      </div>
      {tap === undefined ? (
        <p class="hint">{words.record.nothingTapped}</p>
      ) : (
        <Actions>
          <Button
            text={words.record.universalStep(taps.length)}
            isDisabled={isBusy}
            onPress={() => save(() => otherFormats.universalStep(record, step))}
          />
          <Button
            text={words.record.tapAsSound}
            isDisabled={isBusy}
            onPress={() => save(() => otherFormats.wav(record, tap[0]))}
          />
        </Actions>
      )}
    </fieldset>
  );
}
