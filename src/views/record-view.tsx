// The records: every instrument and reference stick, what is known of the open one, and the way out and in.
import { useRef, useState } from 'preact/hooks';
import type { InstrumentRecord, RecordSummary } from '../record/record.ts';
import { CautionLine, PromiseLine } from './cautions.tsx';
import { ChoiceField, NumberField, TextField } from './fields.tsx';
import { moment } from './figures.ts';
import { TrustCheck } from './trust-check.tsx';
import { count, stageWords } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

type Shown = 'working' | 'archived' | 'bin';

export function RecordView() {
  const { shelf } = useWorkshop();
  const record = shelf.record.value;
  return (
    <div class="records">
      <h1>Records</h1>
      <Instruments />
      {record !== undefined && <Details key={record.id} record={record} />}
      {record?.kind === 'reference-stick' && <TrustCheck record={record} />}
      <PromiseLine />
    </div>
  );
}

function Instruments() {
  const { shelf, exchange, openDemo } = useWorkshop();
  const [shown, setShown] = useState<Shown>('working');
  const [search, setSearch] = useState('');
  const [limit, setLimit] = useState(30);
  const file = useRef<HTMLInputElement>(null);
  const matching = shelf.summaries.value
    .filter((summary) => placeOf(summary) === shown)
    .filter((summary) => `${summary.name} ${summary.model}`.toLowerCase().includes(search.toLowerCase()))
    .toSorted((a, b) => b.changedAtIso.localeCompare(a.changedAtIso));
  return (
    <section class="card">
      <div class="fields">
        <ChoiceField
          label="Show"
          value={shown}
          options={[
            ['working', 'On the shelf'],
            ['archived', 'Archived'],
            ['bin', 'In the bin'],
          ]}
          onChange={setShown}
        />
        <TextField label="Find" value={search} onChange={setSearch} />
      </div>
      {matching.length === 0 && (
        <p>{shown === 'working' ? 'No instrument here yet. Begin one below.' : 'Nothing here.'}</p>
      )}
      <ul class="instruments">
        {matching.slice(0, limit).map((summary) => (
          <li key={summary.id}>
            <Row summary={summary} />
          </li>
        ))}
      </ul>
      {matching.length > limit && (
        <button type="button" onClick={() => setLimit(limit + 30)}>
          Show more
        </button>
      )}
      <NewRecord />
      <div class="actions">
        <button type="button" onClick={() => file.current?.click()}>
          Import …
        </button>
        <button type="button" onClick={() => void exchange.exportAll()}>
          Export all records
        </button>
        {!shelf.summaries.value.some((summary) => summary.id === 'demo-instrument') && (
          <button type="button" onClick={() => void openDemo()}>
            Put the demo instrument on the shelf
          </button>
        )}
        <input
          ref={file}
          id="import"
          class="visually-hidden"
          type="file"
          accept=".zip,application/zip"
          aria-label="Archive to import"
          onChange={(event) => {
            void exchange.importFiles([...(event.currentTarget.files ?? [])]);
            event.currentTarget.value = '';
          }}
        />
      </div>
    </section>
  );
}

const placeOf = (summary: RecordSummary): Shown =>
  summary.deleted ? 'bin' : summary.archived ? 'archived' : 'working';

function Row(props: { readonly summary: RecordSummary }) {
  const { shelf, records } = useWorkshop();
  const { summary } = props;
  const open = shelf.record.value?.id === summary.id;
  return (
    <div class={open ? 'instrument open' : 'instrument'}>
      <button type="button" class="instrument-name" aria-pressed={open} onClick={() => void shelf.open(summary.id)}>
        <strong>{summary.name}</strong>
        <span class="hint">
          {summary.kind === 'reference-stick'
            ? 'Reference stick'
            : summary.kind === 'stock'
              ? 'Stock shelf'
              : `${summary.model === '' ? 'Instrument' : summary.model}${summary.hand === 'left' ? ', left-handed' : ''}`}
          {' · '}
          {summary.stage === undefined ? 'not begun' : stageWords[summary.stage].toLowerCase()} ·{' '}
          {count(summary.steps, 'step')} · {moment(summary.changedAtIso)}
        </span>
      </button>
      <span class="row-actions">
        {summary.deleted ? (
          <button type="button" class="quiet" onClick={() => void records.restore(summary.id)}>
            Bring back
          </button>
        ) : (
          <>
            <button type="button" class="quiet" onClick={() => void records.duplicate(summary.id)}>
              Duplicate
            </button>
            <button type="button" class="quiet" onClick={() => void records.archive(summary.id, !summary.archived)}>
              {summary.archived ? 'Take from the archive' : 'Archive'}
            </button>
            <button type="button" class="quiet" onClick={() => void records.remove(summary.id)}>
              Delete
            </button>
          </>
        )}
      </span>
    </div>
  );
}

function NewRecord() {
  const { shelf } = useWorkshop();
  const [name, setName] = useState('');
  const [kind, setKind] = useState<InstrumentRecord['kind']>('instrument');
  const [hand, setHand] = useState<InstrumentRecord['hand']>('right');
  return (
    <form
      class="new-record"
      onSubmit={(event) => {
        event.preventDefault();
        if (name === '') return;
        void shelf.create({ name, kind, hand });
        setName('');
      }}
    >
      <h2>Begin a new one</h2>
      <div class="fields">
        <TextField label="Name" value={name} onChange={setName} placeholder="Your name or number for it" />
        <ChoiceField
          label="What"
          value={kind}
          options={[
            ['instrument', 'Instrument'],
            ['reference-stick', 'Reference stick for the trust check'],
          ]}
          onChange={setKind}
        />
        <ChoiceField
          label="Player"
          value={hand}
          options={[
            ['right', 'Right-handed'],
            ['left', 'Left-handed'],
          ]}
          onChange={setHand}
        />
      </div>
      <button type="submit" class="primary">
        Begin
      </button>
    </form>
  );
}

function Details(props: { readonly record: InstrumentRecord }) {
  const { shelf, exchange } = useWorkshop();
  const { record } = props;
  const edit = (label: string, part: Partial<InstrumentRecord>) =>
    shelf.edit(label, (current) => ({ ...current, ...part }));
  return (
    <section class="card">
      <h2>{record.name}</h2>
      <div class="fields">
        <TextField label="Name" value={record.name} onChange={(name) => name !== '' && edit('name', { name })} />
        <TextField label="Model" value={record.model} onChange={(model) => edit('model', { model })} />
        <ChoiceField
          label="Player"
          value={record.hand}
          options={[
            ['right', 'Right-handed'],
            ['left', 'Left-handed'],
          ]}
          onChange={(hand) => edit('hand', { hand })}
        />
      </div>
      <TextField label="Notes" lines={4} value={record.notes} onChange={(notes) => edit('notes', { notes })} />
      {record.kind === 'instrument' && <Floors record={record} />}
      <div class="actions">
        <button type="button" class="primary" onClick={() => void exchange.exportOne(record.id)}>
          Export this record
        </button>
        <a class="button" href="#/bench">
          To the bench
        </a>
      </div>
    </section>
  );
}

function Floors(props: { readonly record: InstrumentRecord }) {
  const { shelf, newId } = useWorkshop();
  const { floors } = props.record;
  const set = (changed: InstrumentRecord['floors']) =>
    shelf.edit('floor', (current) => ({ ...current, floors: changed }));
  return (
    <fieldset>
      <legend>Floors: the lowest height you will leave on each brace, set before voicing</legend>
      {floors.map((floor) => (
        <div class="fields" key={floor.id}>
          <TextField
            label="Brace"
            value={floor.brace}
            onChange={(brace) => set(floors.map((known) => (known.id === floor.id ? { ...known, brace } : known)))}
          />
          <NumberField
            label="Lowest height"
            measure="mm"
            least={0.1}
            most={60}
            value={floor.heightMm}
            onChange={(heightMm) =>
              heightMm !== undefined &&
              set(floors.map((known) => (known.id === floor.id ? { ...known, heightMm } : known)))
            }
          />
          <button type="button" class="quiet" onClick={() => set(floors.filter((known) => known.id !== floor.id))}>
            Remove
          </button>
        </div>
      ))}
      <button
        type="button"
        class="quiet"
        onClick={() => set([...floors, { id: newId(), brace: 'X lower legs', heightMm: 9.5 }])}
      >
        Add a floor
      </button>
      <CautionLine about={['strings', 'shaving']} />
    </fieldset>
  );
}
