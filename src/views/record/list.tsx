// The instruments and reference sticks on the shelf, in the archive and in the bin, and a new one.

import { useState } from 'preact/hooks';
import type { Beginning, InstrumentRecord, PlannedJob, RecordSummary } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { ChoiceField, choices } from '../parts/choice-field.tsx';
import { EraseAsked } from '../parts/erase-asked.tsx';
import { moment } from '../parts/figures.ts';
import { TextField } from '../parts/text-field.tsx';
import { midSentence, stageWords } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

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
    <Card>
      <div class="fields">
        <ChoiceField
          label={words.record.show}
          value={shown}
          options={choices(words.record.shown)}
          onChange={setShown}
        />
        <TextField label={words.record.find} value={search} onChange={setSearch} />
      </div>
      {matching.length === 0 && <p>{shown === 'working' ? words.record.noneWorking : words.record.none}</p>}
      <ul class="instruments">
        {matching.slice(0, limit).map((summary) => (
          <li key={summary.id}>
            <Row summary={summary} />
          </li>
        ))}
      </ul>
      {matching.length > limit && <Button text={words.record.more} onPress={() => setLimit(limit + 30)} />}
      {shown === 'bin' && matching.length > 0 && <EmptyBin />}
      <NewRecord />
    </Card>
  );
}

/** Asks once more, because nothing brings back what is erased. */
function EmptyBin() {
  const { records, shelf } = useWorkshop();
  const [asked, setAsked] = useState(false);
  const inBin = shelf.summaries.value.filter(({ deleted }) => deleted).length;
  if (!asked)
    return (
      <Actions>
        <Button text={words.record.emptyBin} onPress={() => setAsked(true)} />
      </Actions>
    );
  return (
    <EraseAsked
      warning={words.record.emptyBinWarning(inBin)}
      onErase={() => {
        setAsked(false);
        void records.emptyBin();
      }}
      onKeep={() => setAsked(false)}
    />
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
          {summary.kind === 'instrument' && summary.model !== '' ? summary.model : words.record.kinds[summary.kind]}
          {summary.kind === 'instrument' && summary.hand === 'left' && `, ${words.record.leftHanded}`}
          {' · '}
          {summary.stage === undefined ? words.record.notBegun : midSentence(stageWords[summary.stage])} ·{' '}
          {words.record.steps(summary.steps)} · {moment(summary.changedAtIso)}
        </span>
      </button>
      <span class="row-actions">
        {summary.deleted ? (
          <Button kind="quiet" text={words.record.bringBack} onPress={() => void records.restore(summary.id)} />
        ) : (
          <>
            <Button
              kind="quiet"
              text={words.record.duplicate}
              onPress={() => void records.duplicate(summary.id, words.record.nameOfCopy)}
            />
            <Button
              kind="quiet"
              text={summary.archived ? words.record.unarchive : words.record.archive}
              onPress={() => void records.archive(summary.id, !summary.archived)}
            />
            <Button kind="quiet" text={words.record.remove} onPress={() => void records.remove(summary.id)} />
          </>
        )}
      </span>
    </div>
  );
}

function NewRecord() {
  const { shelf, preferences } = useWorkshop();
  const [name, setName] = useState('');
  const [what, setWhat] = useState<Beginning | 'reference-stick'>('board');
  const [planned, setPlanned] = useState<PlannedJob>('new-top');
  const [hand, setHand] = useState<InstrumentRecord['hand']>('right');
  const begin = async () => {
    setName('');
    const isOld = what === 'old-guitar';
    await shelf.create({
      name,
      hand,
      ...(what === 'reference-stick' ? { kind: what } : { begunWith: what, ...(isOld && { planned }) }),
    });
    preferences.change({ isWelcomed: true });
    // The next thing to do stands at the top.
    window.scrollTo({ top: 0 });
  };
  return (
    <form
      class="new-record"
      onSubmit={(event) => {
        event.preventDefault();
        if (name === '') return;
        void begin();
      }}
    >
      <h2>{words.record.beginNew}</h2>
      <div class="fields">
        <TextField
          label={words.record.name}
          value={name}
          onChange={setName}
          placeholder={words.record.namePlaceholder}
        />
        <ChoiceField
          label={words.record.onTheBench}
          value={what}
          options={choices(words.record.beginnings)}
          onChange={setWhat}
        />
        {what === 'old-guitar' && (
          <ChoiceField
            label={words.record.planned}
            value={planned}
            options={choices(words.record.plannedJobs)}
            onChange={setPlanned}
          />
        )}
        <ChoiceField
          label={words.record.player}
          value={hand}
          options={choices(words.record.hands)}
          onChange={setHand}
        />
      </div>
      <button type="submit" class="primary">
        {words.record.begin}
      </button>
    </form>
  );
}
