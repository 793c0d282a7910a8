// The instruments and reference sticks on the shelf, in the archive and in the bin, and a new one.
import { useState } from 'preact/hooks';
import type { InstrumentRecord, RecordSummary } from '../record/record.ts';
import { ChoiceField, TextField } from './fields.tsx';
import { moment } from './figures.ts';
import { count, stageWords } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

type Shown = 'working' | 'archived' | 'bin';

export function Instruments() {
  const { shelf } = useWorkshop();
  const [shown, setShown] = useState<Shown>('working');
  const [search, setSearch] = useState('');
  const [limit, setLimit] = useState(30);
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
      {shown === 'bin' && matching.length > 0 && <EmptyBin />}
      <NewRecord />
    </section>
  );
}

/** Asks once more, because nothing brings back what is erased. */
function EmptyBin() {
  const { records, shelf } = useWorkshop();
  const [asked, setAsked] = useState(false);
  const inBin = shelf.summaries.value.filter(({ deleted }) => deleted).length;
  if (!asked)
    return (
      <div class="actions">
        <button type="button" onClick={() => setAsked(true)}>
          Empty the bin …
        </button>
      </div>
    );
  return (
    <div role="alert">
      <p>This erases {count(inBin, 'record')} with their sounds for good. Undo does not bring them back.</p>
      <div class="actions">
        <button
          type="button"
          onClick={() => {
            setAsked(false);
            void records.emptyBin();
          }}
        >
          Erase for good
        </button>
        <button type="button" class="primary" onClick={() => setAsked(false)}>
          Keep them
        </button>
      </div>
    </div>
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
