// The records: every instrument and reference stick, what is known of the open one, and the way out and in.
import { PromiseLine } from './cautions.tsx';
import { Details } from './record-details.tsx';
import { RecordExchange } from './record-exchange.tsx';
import { RecordFiles } from './record-files.tsx';
import { RecordKeeping } from './record-keeping.tsx';
import { Instruments } from './record-list.tsx';
import { TrustCheck } from './trust-check.tsx';
import { useWorkshop } from './workshop-context.ts';

export function RecordView() {
  const { shelf } = useWorkshop();
  const record = shelf.record.value;
  return (
    <div class="records">
      <h1>Records</h1>
      <Instruments />
      {record !== undefined && <Details key={record.id} record={record} />}
      {record?.kind === 'reference-stick' && <TrustCheck record={record} />}
      <RecordExchange />
      {record !== undefined && <RecordFiles key={`files-${record.id}`} record={record} />}
      <RecordKeeping />
      <PromiseLine />
    </div>
  );
}
