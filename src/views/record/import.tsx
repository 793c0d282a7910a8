// What an archive would bring, shown before anything is stored.

import type { ComingFile, ComingRecord } from '../../app/imports.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

export function ImportPanel() {
  const { imports } = useWorkshop();
  const state = imports.state.value;
  if (state.kind === 'none') return null;
  if (state.kind === 'reading') return <p role="status">{words.record.looking(state.name)}</p>;
  if (state.kind === 'taking')
    return <p role="status">{words.record.taking(Math.min(state.done + 1, state.of), state.of)}</p>;
  const coming = state.files.flatMap((file) => file.records).filter(bringsAnything).length;
  return (
    <section class="import-plan" aria-labelledby="import-heading">
      <h3 id="import-heading">{words.record.wouldComeIn}</h3>
      {state.files.map((file) => (
        <FilePlan key={file.name} file={file} />
      ))}
      <Actions>
        {coming > 0 && (
          <Button kind="primary" text={words.record.takeIn(coming)} onPress={() => void imports.agree()} />
        )}
        <Button text={coming > 0 ? words.record.leave : words.record.close} onPress={() => imports.cancel()} />
      </Actions>
      {coming > 0 && <p class="hint">{words.record.takeInHint}</p>}
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
          {words.record.refused(words.exchange.refused[file.refused])}
        </p>
      )}
      <ul>
        {file.records.map((record) => (
          <li key={record.plan.record.id}>
            <RecordPlan record={record} universal={file.universal !== undefined} />
          </li>
        ))}
      </ul>
      <Universal file={file} />
      {(file.unreadable.length > 0 || file.lost.length > 0 || file.passedOver.length > 0) && (
        <div class="note" role="alert">
          <p>{words.record.leftOut}</p>
          <ul>
            {file.unreadable.map((record) => (
              <li key={record.folder}>{words.exchange.unreadable(record)}</li>
            ))}
            {taps > 0 && <li>{words.record.lostTaps(taps)}</li>}
            {photos > 0 && <li>{words.record.lostPhotos(photos)}</li>}
            {unsafe > 0 && <li>{words.record.unsafeNames(unsafe)}</li>}
            {twice > 0 && <li>{words.record.twice(twice)}</li>}
          </ul>
        </div>
      )}
    </div>
  );
}

const shownSkipped = 5;

/** What a universal file holds and what will be made of it. */
function Universal(props: { readonly file: ComingFile }) {
  const { file } = props;
  const content = file.universal;
  if (content === undefined) return null;
  const { skipped, taps } = content;
  const taken = file.records.length > 0;
  if (!taken && file.refused === undefined) return <p>{words.record.universalHere(taps)}</p>;
  const said = words.exchange.universal(content);
  return (
    <>
      {said.length > 0 && <p>{words.record.universalHolds}</p>}
      <ul>
        {said.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      {taken && <p class="hint">{words.record.universalLacks}</p>}
      {skipped.length > 0 && (
        <div class="note" role="alert">
          <p>{words.record.leftOut}</p>
          <ul>
            {skipped.slice(0, shownSkipped).map((dataset) => (
              <li key={dataset.line}>{words.exchange.skipped(dataset)}</li>
            ))}
            {skipped.length > shownSkipped && <li>{words.record.andMore(skipped.length - shownSkipped)}</li>}
          </ul>
        </div>
      )}
    </>
  );
}

/** Whether taking a record in would change anything. */
const bringsAnything = ({ plan, newSounds }: ComingRecord): boolean => plan.fate !== 'nothing-new' || newSounds > 0;

const shownConflicts = 4;

function RecordPlan(props: { readonly record: ComingRecord; readonly universal: boolean }) {
  const { shelf } = useWorkshop();
  const { record } = props;
  const { conflicts, fromBin, toRead, fate } = record.plan;
  const fields = [...new Set(conflicts.map(({ path }) => words.exchange.field(path)))];
  return (
    <>
      <strong>{record.name}</strong>
      <span class="import-fate"> {words.exchange.fates[fate]}</span>
      <br />
      {[
        ...(bringsAnything(record) ? [words.record.brings(words.exchange.brings(record))] : []),
        ...(fromBin ? [words.record.fromBin] : []),
        ...(toRead.length > 0 ? [(fate === 'new' ? words.record.readNew : words.record.readAgain)(toRead.length)] : []),
      ].join('; ')}
      {props.universal && fate === 'new' && shelf.summaries.value.some(({ name }) => name === record.name) && (
        <p class="hint">{words.record.sameName(record.name)}</p>
      )}
      {fields.length > 0 && (
        <p class="hint">
          {words.record.conflicts(fields.slice(0, shownConflicts).join('; '), fields.length - shownConflicts)}
        </p>
      )}
    </>
  );
}
