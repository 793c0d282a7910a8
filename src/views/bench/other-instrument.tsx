import type { InstrumentRecord } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

/** A round goes on while another instrument was opened: whose it is, and the way back. */
export function OtherInstrument(props: { readonly record: InstrumentRecord }) {
  const { bench, shelf } = useWorkshop();
  const state = bench.state.value;
  if (!('place' in state) || state.place.recordId === props.record.id) return null;
  const { recordId } = state.place;
  const name = shelf.summaries.value.find((summary) => summary.id === recordId)?.name ?? recordId;
  return (
    <p class="note">
      {words.bench.otherInstrument(name)}{' '}
      <Button text={words.bench.backTo(name)} onPress={() => void shelf.open(recordId)} />
    </p>
  );
}
