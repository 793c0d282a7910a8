// Reminders of safety, never in the middle of a round: to ask the browser to keep what is stored, once there is something,
// and to copy it outside, when much was done since the last copy.
import { Button } from './parts/actions.tsx';
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
        <Button kind="quiet" text={words.record.askNow} onPress={() => void keeping.askToPersist()} />
        <Button kind="quiet" text={words.record.notNow} onPress={() => void keeping.noteAsked()} />
      </p>
    );
  if (!keeping.copyDue.value) return null;
  return (
    <p class="notice">
      <span>{words.record.changedSince(keeping.copies.value.changes)}</span>
      <Button kind="quiet" text={words.record.saveCopy} onPress={() => void keeping.saveAll()} />
      <Button kind="quiet" text={words.record.later} onPress={() => keeping.remindLater()} />
    </p>
  );
}
