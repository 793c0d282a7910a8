// A reminder of copies, when much was done since the last one; never in the middle of a round.
import { count } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

export function KeepReminder() {
  const { keeping, bench } = useWorkshop();
  const state = bench.state.value.kind;
  if (!keeping.copyDue.value || (state !== 'idle' && state !== 'answer')) return null;
  return (
    <p class="notice">
      {count(keeping.copies.value.changes, 'thing')} done since the last copy outside this browser.
      <button type="button" class="quiet" onClick={() => void keeping.saveAll()}>
        Save a copy
      </button>
      <button type="button" class="quiet" onClick={() => keeping.remindLater()}>
        Later
      </button>
    </p>
  );
}
