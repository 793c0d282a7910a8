// The records: every instrument and reference stick, what is known of the open one, and the way out and in. Beside them
// the library, which looks over all of them, and the report of the open one.
import type { FunctionComponent } from 'preact';
import { hashOf } from '../../app/place.ts';
import { TrustCheck } from '../bench/trust-check.tsx';
import { LazyView } from '../lazy-view.tsx';
import { PromiseLine } from '../parts/cautions.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { Details } from './details.tsx';
import { RecordExchange } from './exchange.tsx';
import { RecordFiles } from './files.tsx';
import { RecordKeeping } from './keeping.tsx';
import { Instruments } from './list.tsx';

type Part = keyof typeof words.record.parts;

/** Parts that are fetched when they are opened. */
const lazyParts: Readonly<Partial<Record<Part, () => Promise<FunctionComponent>>>> = {
  library: async () => (await import('./library/library-view.tsx')).LibraryView,
  report: async () => (await import('./report/report-view.tsx')).ReportView,
};

export function RecordView() {
  const { place } = useWorkshop();
  const names = Object.keys(words.record.parts) as Part[];
  const part = names.find((known) => known === place.part.value) ?? 'list';
  const load = lazyParts[part];
  return (
    <>
      <nav class="parts" aria-label={words.record.partsLabel}>
        {names.map((known) => (
          <a
            class="button"
            key={known}
            href={hashOf('record', known === 'list' ? '' : known)}
            aria-current={known === part ? 'page' : undefined}
          >
            {words.record.parts[known]}
          </a>
        ))}
      </nav>
      {load === undefined ? <Records /> : <LazyView key={part} load={load} />}
    </>
  );
}

function Records() {
  const { shelf } = useWorkshop();
  const record = shelf.record.value;
  return (
    <div class="records">
      <h1>{words.record.title}</h1>
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
