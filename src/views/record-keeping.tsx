// Whether the records are safe: copies, the browser's promise, room, and the check of everything stored.
import type { Finding } from '../app/checkup.ts';
import { findingWords, roomWords } from './exchange-words.ts';
import { moment } from './figures.ts';
import { count } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

export function RecordKeeping() {
  return (
    <section class="card" aria-labelledby="keeping-heading">
      <h2 id="keeping-heading">Kept safe</h2>
      <p class="hint">
        Records lie in this browser, on this machine, and nowhere else. A copy outside it is the only safety against a
        lost machine or a cleared browser.
      </p>
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
  return (
    <>
      <p>
        {atIso === undefined ? 'No copy of everything was saved yet' : `Last copy of everything: ${moment(atIso)}`}
        {changes > 0 && `; ${count(changes, 'thing')} done since that it does not hold`}.
        {folder !== undefined && ` Copies go to the folder “${folder}”.`}
      </p>
      <div class="actions">
        <button type="button" class="primary" onClick={() => void keeping.saveAll()}>
          {folder === undefined ? 'Save a copy of everything' : `Save a copy to “${folder}”`}
        </button>
        {keeping.canChooseFolder && (
          <button type="button" onClick={() => void keeping.chooseFolder()}>
            {folder === undefined ? 'Choose a folder for copies …' : 'Choose another folder …'}
          </button>
        )}
        {folder !== undefined && (
          <button type="button" class="quiet" onClick={() => void keeping.forgetFolder()}>
            Forget the folder
          </button>
        )}
      </div>
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
        {persisted === true && 'The browser has promised not to clear the records when the disk runs short.'}
        {persisted === undefined && 'This browser does not say whether it keeps the records when the disk runs short.'}
        {persisted === false &&
          (keeping.asked.value
            ? 'The browser did not promise to keep the records when the disk runs short. Install the page (in the browser’s menu) or use it often, then ask again; until then copies matter more.'
            : 'The browser may clear the records when the disk runs short. Ask it to keep them: it may want your yes.')}
        {used !== undefined && ` They take ${roomWords(used)} on this machine.`}
      </p>
      {persisted === false && (
        <div class="actions">
          <button type="button" onClick={() => void keeping.askToPersist()}>
            Ask the browser to keep the records
          </button>
        </div>
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
        {state.kind === 'checking' && <p>Looking through everything stored …</p>}
        {state.kind === 'checked' && state.findings.length === 0 && (
          <p>
            Looked through {count(state.records, 'record')} with {count(state.taps, 'tap')}: all can be read, and no
            sound is missing.
          </p>
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
      <div class="actions">
        <button type="button" class="quiet" disabled={state.kind === 'checking'} onClick={() => void checkup.check()}>
          Look through everything again
        </button>
      </div>
    </>
  );
}

function FindingLine(props: { readonly finding: Finding }) {
  const { checkup } = useWorkshop();
  const { finding } = props;
  const canMend = finding.kind === 'unreadable' ? finding.leftOut !== undefined : finding.health.unread.length > 0;
  return (
    <>
      <strong>{finding.name}</strong>: {findingWords(finding)}{' '}
      {canMend && (
        <button type="button" onClick={() => void checkup.mend(finding)}>
          {finding.kind === 'unreadable' ? 'Mend it' : 'Read again from the taps'}
        </button>
      )}
    </>
  );
}
