// The closed box: its air, the guided rounds, what they say, and what follows for strings and for a new top.
import { useMemo } from 'preact/hooks';
import { hashOf } from '../app/place.ts';
import { readBox } from '../compare/box-reading.ts';
import type { InstrumentRecord } from '../record/record.ts';
import { BoxFoundPart } from './box-found.tsx';
import { BoxJumps } from './box-jumps.tsx';
import { BoxNewTop } from './box-new-top.tsx';
import { BoxResponsePart } from './box-response.tsx';
import { BoxRoundsPart } from './box-rounds.tsx';
import { BoxSizes } from './box-sizes.tsx';
import { BoxStringsPart } from './box-strings.tsx';
import { BoxWhatIf } from './box-what-if.tsx';
import { useWorkshop } from './workshop-context.ts';

const parts = {
  air: { words: 'Air', View: BoxSizes },
  rounds: { words: 'Rounds', View: BoxRoundsPart },
  found: { words: 'What moves', View: BoxFoundPart },
  'what-if': { words: 'What if', View: BoxWhatIf },
  response: { words: 'Response', View: BoxResponsePart },
  strings: { words: 'Strings', View: BoxStringsPart },
  stages: { words: 'Before gluing', View: BoxJumps },
  'new-top': { words: 'New top', View: BoxNewTop },
} as const;

type BoxPartName = keyof typeof parts;

export function BoxView() {
  const { shelf } = useWorkshop();
  const record = shelf.record.value;
  if (record === undefined || record.kind !== 'instrument')
    return (
      <section class="empty">
        <h1>Box</h1>
        <p>
          {record === undefined
            ? 'Nothing is on the bench. Choose or begin an instrument first.'
            : 'A reference stick has no box. Choose an instrument first.'}
        </p>
        <a class="primary button" href="#/record">
          To the records
        </a>
      </section>
    );
  return <BoxOf key={record.id} record={record} />;
}

function BoxOf(props: { readonly record: InstrumentRecord }) {
  const { place } = useWorkshop();
  const { record } = props;
  const step = record.steps.findLast((known) => known.stage === 'closed' || known.stage === 'strung');
  const reading = useMemo(() => (step === undefined ? undefined : readBox(record, step)), [record, step]);
  const names = Object.keys(parts) as BoxPartName[];
  const part = names.find((known) => known === place.part.value) ?? 'air';
  const { View } = parts[part];
  return (
    <div class="box">
      <nav class="parts" aria-label="Parts of the box">
        {names.map((known) => (
          <a class="button" key={known} href={hashOf('box', known)} aria-current={known === part ? 'page' : undefined}>
            {parts[known].words}
          </a>
        ))}
      </nav>
      <View record={record} step={step} reading={reading} />
    </div>
  );
}
