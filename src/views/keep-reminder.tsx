// Reminders of safety, never in the middle of a round: to ask the browser to keep what is stored, once there is something,
// and to copy it outside, when much was done since the last copy.
import { words } from './words/language.ts';
import { useWorkshop } from './workshop-context.ts';

export function KeepReminder() {
  const { keeping, bench } = useWorkshop();
  const state = bench.state.value.kind;
  if (state !== 'idle' && state !== 'answer') return null;
  if (keeping.promiseDue.value)
    return (
      <p class="notice">
        <span>{words.record.promiseDue}</span>
        <button type="button" class="quiet" onClick={() => void keeping.askToPersist()}>
          {words.record.askNow}
        </button>
        <button type="button" class="quiet" onClick={() => void keeping.noteAsked()}>
          {words.record.notNow}
        </button>
      </p>
    );
  if (!keeping.copyDue.value) return null;
  return (
    <p class="notice">
      <span>{words.record.changedSince(keeping.copies.value.changes)}</span>
      <button type="button" class="quiet" onClick={() => void keeping.saveAll()}>
        {words.record.saveCopy}
      </button>
      <button type="button" class="quiet" onClick={() => keeping.remindLater()}>
        {words.record.later}
      </button>
    </p>
  );
}
