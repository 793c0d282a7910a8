// Names that follow the shape: offered, taken with one press, and never put over a name that the maker gave.
import { nameOfMode } from '../../compare/name-of-mode.ts';
import { namesOfShapes } from '../../forecast/shape-names.ts';
import { pinMode } from '../../record/edit.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { Card } from '../parts/card.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import type { Told } from './told-round.ts';
import { shapesWords } from './words.ts';

export function NamesByShape({ record, step, answer }: Told) {
  const { newId } = useWorkshop();
  const editRecord = useEditRecord();
  const t = shapesWords();
  const names = namesOfShapes(answer);
  const rows = answer.shapes.flatMap(({ frequencyHz, whole }, k) => {
    const name = names[k]?.name;
    if (whole === undefined || name === undefined) return [];
    return [{ frequencyHz, name, likeness: whole.likeness, has: nameOfMode(record, step, frequencyHz.value) }];
  });
  if (rows.length === 0) return null;
  const take = (named: readonly { readonly name: string; readonly frequencyHz: { readonly value: number } }[]) =>
    editRecord('mode-names', (current) =>
      named.reduce(
        (changed, { name, frequencyHz }) =>
          pinMode(changed, { id: newId(), stepId: step.id, mode: name, frequencyHz: frequencyHz.value }),
        current,
      ),
    );
  const nameless = rows.filter(({ has }) => has === undefined);
  return (
    <Card title={t.names}>
      <ul class="rounds">
        {rows.map((row) => (
          <li key={row.frequencyHz.value}>
            <span>
              <strong>{withHalfWidth(row.frequencyHz, 'Hz')}</strong> {row.name}, {t.likeness(number(row.likeness, 2))}
            </span>
            {row.has !== undefined && <span class="hint">{t.isNamed(row.has)}</span>}
            {row.has !== row.name && <Button kind="quiet" text={t.nameThis(row.name)} onPress={() => take([row])} />}
          </li>
        ))}
      </ul>
      {nameless.length > 0 ? (
        <Actions>
          <Button kind="primary" text={t.nameAll(nameless.length)} onPress={() => take(nameless)} />
        </Actions>
      ) : (
        <p class="hint">{t.named}</p>
      )}
    </Card>
  );
}
