// The open record for other programs: tables, universal files, and single taps as sound.
import { useState } from 'preact/hooks';
import type { InstrumentRecord } from '../../record/record.ts';
import { ChoiceField } from '../parts/fields.tsx';
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
      <div class="actions">
        <button type="button" disabled={isBusy} onClick={() => save(() => otherFormats.tables(record))}>
          {words.record.tables}
        </button>
        <button
          type="button"
          disabled={isBusy}
          onClick={() => save(() => otherFormats.tables(record, decimalOfLocale()))}
        >
          {words.record.spreadsheet}
        </button>
        <button type="button" disabled={isBusy} onClick={() => save(() => otherFormats.universalRecord(record))}>
          {words.record.universal(record.plan !== undefined)}
        </button>
      </div>
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
        <div class="actions">
          <button type="button" disabled={isBusy} onClick={() => save(() => otherFormats.universalStep(record, step))}>
            {words.record.universalStep(taps.length)}
          </button>
          <button type="button" disabled={isBusy} onClick={() => save(() => otherFormats.wav(record, tap[0]))}>
            {words.record.tapAsSound}
          </button>
        </div>
      )}
    </fieldset>
  );
}
