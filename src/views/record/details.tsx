// What is known of the open record: its name, notes and floors.

import type { EditName } from '../../app/edits.ts';
import { withField } from '../../record/edit.ts';
import { tieFloor } from '../../record/plan-edit.ts';
import type { InstrumentRecord } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { braceKey, bracesToChoose, inWords } from '../parts/brace-choice.ts';
import { Card } from '../parts/card.tsx';
import { CautionLine } from '../parts/cautions.tsx';
import { CheckField, ChoiceField, choices } from '../parts/choice-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { TextField } from '../parts/text-field.tsx';
import { words } from '../words/language.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';

export function Details(props: { readonly record: InstrumentRecord }) {
  const { exchange } = useWorkshop();
  const editRecord = useEditRecord();
  const { record } = props;
  const edit = (editName: EditName, part: Partial<InstrumentRecord>) =>
    editRecord(editName, (current) => ({ ...current, ...part }));
  return (
    <Card title={record.name}>
      <div class="fields">
        <TextField
          label={words.record.name}
          value={record.name}
          onChange={(name) => name !== '' && edit('name', { name })}
        />
        <TextField label={words.record.model} value={record.model} onChange={(model) => edit('model', { model })} />
        <ChoiceField
          label={words.record.player}
          value={record.hand}
          options={choices(words.record.hands)}
          onChange={(hand) => edit('hand', { hand })}
        />
      </div>
      {record.kind === 'instrument' && (
        <CheckField
          label={words.record.loved}
          hint={words.record.favouriteHint}
          value={record.loved ?? false}
          onChange={(loved) =>
            editRecord('favourite', (current) => withField(current, 'loved', loved ? true : undefined))
          }
        />
      )}
      <TextField
        label={words.record.notes}
        lines={4}
        value={record.notes}
        onChange={(notes) => edit('notes', { notes })}
      />
      {record.kind === 'instrument' && <Floors record={record} />}
      <Actions>
        <Button kind="primary" text={words.record.exportThis} onPress={() => void exchange.exportOne(record.id)} />
        <a class="button" href="#/bench">
          {words.record.toBench}
        </a>
      </Actions>
    </Card>
  );
}

function Floors(props: { readonly record: InstrumentRecord }) {
  const { newId } = useWorkshop();
  const editRecord = useEditRecord();
  const { floors, plan } = props.record;
  const hasPlan = plan !== undefined;
  const set = (changed: InstrumentRecord['floors']) =>
    editRecord('floors', (current) => ({ ...current, floors: changed }));
  return (
    <fieldset>
      <legend>{words.record.floors}</legend>
      {hasPlan && <p class="hint">{floors.length === 0 ? words.record.floorsOnPlan : words.record.floorsNotOnPlan}</p>}
      {floors.map((floor) => (
        <div class="fields" key={floor.id}>
          <TextField
            label={words.record.brace}
            value={floor.brace}
            onChange={(brace) => set(floors.map((known) => (known.id === floor.id ? { ...known, brace } : known)))}
          />
          <NumberField
            label={words.record.lowestHeight}
            of="braceHeight"
            value={floor.heightMm}
            onSet={(heightMm) => set(floors.map((known) => (known.id === floor.id ? { ...known, heightMm } : known)))}
          />
          {hasPlan && (
            <ChoiceField
              label={words.record.floorBelongsTo}
              value={inWords}
              options={[
                [inWords, words.steps.inWordsOnly],
                ...bracesToChoose(props.record).map(({ ids, name }) => [braceKey(ids), name] as const),
              ]}
              onChange={(key) => {
                const ids = bracesToChoose(props.record).find((known) => braceKey(known.ids) === key)?.ids ?? [];
                editRecord('floors', (current) => tieFloor(current, floor.id, ids));
              }}
            />
          )}
          <Button
            kind="quiet"
            text={words.record.removeFloor}
            onPress={() => set(floors.filter((known) => known.id !== floor.id))}
          />
        </div>
      ))}
      {!hasPlan && (
        <Button
          kind="quiet"
          text={words.record.addFloor}
          onPress={() => set([...floors, { id: newId(), brace: words.record.floorOf, heightMm: 9.5 }])}
        />
      )}
      <CautionLine about={['strings', 'shaving']} />
    </fieldset>
  );
}
