// The open record for other programs: tables, universal files, and single taps as sound.
import { useState } from 'preact/hooks';
import type { InstrumentRecord } from '../record/record.ts';
import { ChoiceField } from './fields.tsx';
import { count, stageWords } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

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
      <h2 id="files-heading">For other programs</h2>
      <p class="hint">
        Tables are for reading and reckoning, universal files for programs that study vibration. To carry a record to
        another machine, use Export this record instead: it alone holds everything.
      </p>
      <div class="actions">
        <button type="button" disabled={isBusy} onClick={() => save(() => otherFormats.tables(record))}>
          Tables (CSV)
        </button>
        <button
          type="button"
          disabled={isBusy}
          onClick={() => save(() => otherFormats.tables(record, decimalOfLocale()))}
        >
          Tables to open in a spreadsheet
        </button>
        <button type="button" disabled={isBusy} onClick={() => save(() => otherFormats.universalRecord(record))}>
          Universal file: spectra{record.plan !== undefined && ' and shapes'}
        </button>
      </div>
      {record.steps.length > 0 && <OneStep record={record} isBusy={isBusy} save={save} />}
      {busy && <p role="status">Writing the file …</p>}
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
    round.taps.map((tap, t) => [tap.id, `Round ${r + 1}, hold ${tap.hold + 1}, tap ${t + 1}`] as const),
  );
  const tap = taps.find(([id]) => id === tapId) ?? taps[0];
  return (
    <fieldset>
      <legend>One step</legend>
      <div class="fields">
        <ChoiceField
          label="Step"
          value={step.id}
          options={record.steps.map(
            ({ id, done, stage }, i) =>
              [id, `${i + 1}. ${(done === '' ? stageWords[stage] : done).slice(0, 60)}`] as const,
          )}
          onChange={setStepId}
        />
        {tap !== undefined && <ChoiceField label="Tap" value={tap[0]} options={taps} onChange={setTapId} />}
      </div>
      {tap === undefined ? (
        <p class="hint">Nothing was tapped at this step.</p>
      ) : (
        <div class="actions">
          <button type="button" disabled={isBusy} onClick={() => save(() => otherFormats.universalStep(record, step))}>
            Universal file: {count(taps.length, 'tap')} and spectra
          </button>
          <button type="button" disabled={isBusy} onClick={() => save(() => otherFormats.wav(record, tap[0]))}>
            This tap as sound (WAV)
          </button>
        </div>
      )}
    </fieldset>
  );
}
