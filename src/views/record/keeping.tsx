// Whether the records are safe: copies, the browser's promise, room, and the check of everything stored.

import { useState } from 'preact/hooks';
import type { Finding, Orphans } from '../../app/checkup.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { EraseAsked } from '../parts/erase-asked.tsx';
import { moment } from '../parts/figures.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

export function RecordKeeping() {
  return (
    <section class="card" aria-labelledby="keeping-heading">
      <h2 id="keeping-heading">{words.record.keptSafe}</h2>
      <p class="hint">{words.record.keptSafeHint}</p>
      <Copy />
      <Promised />
      <Checked />
    </section>
  );
}

function Copy() {
  const { keeping } = useWorkshop();
  const { changes, atIso } = keeping.copies.value;
  const folder = keeping.folder.value;
  const copied = keeping.roundCopy.value;
  return (
    <>
      <p>
        {atIso === undefined ? words.record.noCopy : words.record.lastCopy(moment(atIso))}
        {changes > 0 && words.record.sinceCopy(changes)}.{folder !== undefined && words.record.folderUsed(folder)}
      </p>
      {copied.kind === 'copied' && <p>{words.record.roundCopied(moment(copied.atIso))}</p>}
      {copied.kind === 'refused' && folder !== undefined && (
        <p class="note" role="status">
          {words.record.roundRefused(folder)}
        </p>
      )}
      <Actions>
        <Button
          kind="primary"
          text={folder === undefined ? words.record.saveAll : words.record.saveAllTo(folder)}
          onPress={() => void keeping.saveAll()}
        />
        {keeping.canChooseFolder && (
          <Button
            text={folder === undefined ? words.record.chooseFolder : words.record.chooseOtherFolder}
            onPress={() => void keeping.chooseFolder()}
          />
        )}
        {folder !== undefined && (
          <Button kind="quiet" text={words.record.forgetFolder} onPress={() => void keeping.forgetFolder()} />
        )}
      </Actions>
    </>
  );
}

function Promised() {
  const { keeping } = useWorkshop();
  const persisted = keeping.persisted.value;
  const used = keeping.usedBytes.value;
  return (
    <>
      <p>
        {persisted === true && words.record.promised}
        {persisted === undefined && words.record.promiseUnknown}
        {persisted === false && (keeping.asked.value ? words.record.promiseRefused : words.record.promiseNotAsked)}
        {used !== undefined && words.record.roomUsed(words.exchange.room(used))}
      </p>
      {persisted === false && (
        <Actions>
          <Button text={words.record.askPromise} onPress={() => void keeping.askToPersist()} />
        </Actions>
      )}
    </>
  );
}

function Checked() {
  const { checkup } = useWorkshop();
  const state = checkup.state.value;
  return (
    <>
      <div role="status">
        {state.kind === 'checking' && <p>{words.record.checking}</p>}
        {state.kind === 'checked' && state.findings.length === 0 && (
          <p>{words.record.allWell(state.records, state.taps)}</p>
        )}
      </div>
      {state.kind === 'checked' && state.findings.length > 0 && (
        <ul class="findings">
          {state.findings.map((finding) => (
            <li key={finding.recordId}>
              <FindingLine finding={finding} />
            </li>
          ))}
        </ul>
      )}
      {state.kind === 'checked' && <OrphansFound orphans={state.orphans} />}
      <Actions>
        <Button
          kind="quiet"
          text={words.record.checkAgain}
          isDisabled={state.kind === 'checking'}
          onPress={() => void checkup.check()}
        />
      </Actions>
    </>
  );
}

/** Sounds that no record speaks of: a record of their own, or away with them; asked twice, since nothing brings them back. */
function OrphansFound(props: { readonly orphans: Orphans }) {
  const { checkup } = useWorkshop();
  const [asked, setAsked] = useState(false);
  const { taps, photos } = props.orphans;
  if (taps.length + photos.length === 0) return null;
  return (
    <>
      <p>{words.record.orphans(taps.length, photos.length)}</p>
      {asked ? (
        <EraseAsked
          warning={words.record.removeOrphansWarning}
          onErase={() => {
            setAsked(false);
            void checkup.removeOrphans();
          }}
          onKeep={() => setAsked(false)}
        />
      ) : (
        <Actions>
          {taps.length > 0 && (
            <Button
              text={words.record.attachOrphans}
              onPress={() => void checkup.attachOrphans(words.record.orphanRecord)}
            />
          )}
          <Button kind="quiet" text={words.record.removeOrphans} onPress={() => setAsked(true)} />
        </Actions>
      )}
    </>
  );
}

function FindingLine(props: { readonly finding: Finding }) {
  const { checkup } = useWorkshop();
  const { finding } = props;
  const canMend = finding.kind === 'unreadable' ? finding.leftOut !== undefined : finding.health.unread.length > 0;
  return (
    <>
      <strong>{finding.name}</strong>: {words.exchange.finding(finding)}{' '}
      {canMend && (
        <Button
          text={finding.kind === 'unreadable' ? words.record.mend : words.record.readFromTaps}
          onPress={() => void checkup.mend(finding)}
        />
      )}
    </>
  );
}
