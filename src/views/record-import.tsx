// What an archive would bring, shown before anything is stored.
import type { ComingFile, ComingRecord } from '../app/imports.ts';
import { bringsAnything, bringsWords, fateWords, fieldWords, refusedWords, unreadableWords } from './exchange-words.ts';
import { count } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

export function ImportPanel() {
  const { imports } = useWorkshop();
  const state = imports.state.value;
  if (state.kind === 'none') return null;
  if (state.kind === 'reading') return <p role="status">Looking into “{state.name}” …</p>;
  if (state.kind === 'taking')
    return (
      <p role="status">
        Taking in {state.done + 1} of {state.of} … Keep this page open.
      </p>
    );
  const coming = state.files.flatMap((file) => file.records).filter(bringsAnything).length;
  return (
    <section class="import-plan" aria-labelledby="import-heading">
      <h3 id="import-heading">What would come in</h3>
      {state.files.map((file) => (
        <FilePlan key={file.name} file={file} />
      ))}
      <div class="actions">
        {coming > 0 && (
          <button type="button" class="primary" onClick={() => void imports.agree()}>
            Take in {count(coming, 'record')}
          </button>
        )}
        <button type="button" onClick={() => imports.cancel()}>
          {coming > 0 ? 'Leave everything as it is' : 'Close'}
        </button>
      </div>
      {coming > 0 && <p class="hint">Nothing here is overwritten or doubled, and undo takes all of it back.</p>}
    </section>
  );
}

function FilePlan(props: { readonly file: ComingFile }) {
  const { file } = props;
  const taps = file.lost.filter(({ what }) => what === 'tap').length;
  const photos = file.lost.length - taps;
  const unsafe = file.passedOver.filter(({ because }) => because === 'unsafe-name').length;
  const twice = file.passedOver.length - unsafe;
  return (
    <div class="import-file">
      <h4>{file.name}</h4>
      {file.refused !== undefined && (
        <p class="note" role="alert">
          Nothing of this file can be imported. {refusedWords[file.refused]} Nothing was changed.
        </p>
      )}
      <ul>
        {file.records.map((record) => (
          <li key={record.plan.record.id}>
            <RecordPlan record={record} />
          </li>
        ))}
      </ul>
      {(file.unreadable.length > 0 || file.lost.length > 0 || file.passedOver.length > 0) && (
        <div class="note" role="alert">
          <p>This file is damaged or not as it should be. What can be saved is listed above; this is left out:</p>
          <ul>
            {file.unreadable.map((record) => (
              <li key={record.folder}>{unreadableWords(record)}</li>
            ))}
            {taps > 0 && (
              <li>
                The sound of {count(taps, 'tap')} is missing or damaged; what was read from it stays in the record.
              </li>
            )}
            {photos > 0 && <li>{count(photos, 'photograph')} missing or damaged.</li>}
            {unsafe > 0 && <li>{count(unsafe, 'file')} with a name that points out of the archive.</li>}
            {twice > 0 && <li>{count(twice, 'file')} of a name that is there twice; the first one counts.</li>}
          </ul>
        </div>
      )}
    </div>
  );
}

const shownConflicts = 4;

function RecordPlan(props: { readonly record: ComingRecord }) {
  const { record } = props;
  const { conflicts, fromBin, toRead, fate } = record.plan;
  const fields = [...new Set(conflicts.map(({ path }) => fieldWords(path)))];
  return (
    <>
      <strong>{record.name}</strong>
      <span class="import-fate"> {fateWords[fate]}</span>
      <br />
      {bringsAnything(record) && `Brings ${bringsWords(record) || 'words and numbers only'}`}
      {fromBin && '; it comes back out of the bin'}
      {toRead.length > 0 && `; ${count(toRead.length, 'round')} read again, because its taps come together`}
      {fields.length > 0 && (
        <p class="hint">
          Said differently here and there; yours is kept: {fields.slice(0, shownConflicts).join('; ')}
          {fields.length > shownConflicts && ` and ${fields.length - shownConflicts} more`}.
        </p>
      )}
    </>
  );
}
