// The closed box: its air, the guided rounds, what they say, and what follows for strings and for a new top.

import { useMemo } from 'preact/hooks';
import { hashOf } from '../../app/place.ts';
import { readBox } from '../../compare/box-reading.ts';
import { hasJob } from '../../compare/old-guitar-job.ts';
import type { InstrumentRecord } from '../../record/record.ts';
import { EmptyView } from '../parts/card.tsx';
import { useWorkshop } from '../workshop-context.ts';
import { BoxFoundPart } from './found.tsx';
import { OldGuitarJob } from './job.tsx';
import { BoxJumps } from './jumps.tsx';
import { BoxNewTop } from './new-top.tsx';
import { BoxResponsePart } from './response.tsx';
import { BoxRoundsPart } from './rounds.tsx';
import { BoxSizes } from './sizes.tsx';
import { BoxStringsPart } from './strings.tsx';
import { BoxWhatIf } from './what-if.tsx';
import { boxWords } from './words.ts';
import './box.css';
import './which.css';

const parts = {
  job: OldGuitarJob,
  air: BoxSizes,
  rounds: BoxRoundsPart,
  found: BoxFoundPart,
  'what-if': BoxWhatIf,
  response: BoxResponsePart,
  strings: BoxStringsPart,
  stages: BoxJumps,
  'new-top': BoxNewTop,
} as const;

type BoxPartName = keyof typeof parts;

export function BoxView() {
  const { shelf } = useWorkshop();
  const t = boxWords();
  const record = shelf.record.value;
  if (record === undefined || record.kind !== 'instrument')
    return (
      <EmptyView title={t.title} text={record === undefined ? t.nothing : t.noBox} to="#/record" toText={t.toRecords} />
    );
  return <BoxOf key={record.id} record={record} />;
}

function BoxOf(props: { readonly record: InstrumentRecord }) {
  const { place } = useWorkshop();
  const { record } = props;
  const t = boxWords();
  const step = record.steps.findLast((known) => known.stage === 'closed' || known.stage === 'strung');
  const reading = useMemo(() => (step === undefined ? undefined : readBox(record, step)), [record, step]);
  const names = (Object.keys(parts) as BoxPartName[]).filter((name) => name !== 'job' || hasJob(record));
  const part = names.find((known) => known === place.part.value) ?? names[0]!;
  const View = parts[part];
  return (
    <div class="box">
      <nav class="parts" aria-label={t.partsLabel}>
        {names.map((known) => (
          <a class="button" key={known} href={hashOf('box', known)} aria-current={known === part ? 'page' : undefined}>
            {t.parts[known]}
          </a>
        ))}
      </nav>
      <View record={record} step={step} reading={reading} />
    </div>
  );
}
