// The earlier instruments that the one on the bench is most like.

import { type LibraryEntry, leastShared, nearestInstruments } from '../../../compare/library.ts';
import { Button } from '../../parts/actions.tsx';
import { Card } from '../../parts/card.tsx';
import { withHalfWidth } from '../../parts/figures.ts';
import { Table } from '../../parts/table.tsx';
import { words } from '../../words/language.ts';
import { useWorkshop } from '../../workshop-context.ts';

const mostShown = 5;

export function LibraryNear(props: {
  readonly bench: LibraryEntry | undefined;
  readonly benchName: string;
  readonly entries: readonly LibraryEntry[];
}) {
  const { shelf } = useWorkshop();
  const t = words.ownLibrary;
  const near = props.bench === undefined ? [] : nearestInstruments(props.bench, props.entries).slice(0, mostShown);
  return (
    <Card title={t.near}>
      {near.length === 0 ? (
        <p>{t.nearNone(leastShared)}</p>
      ) : (
        <>
          <p>{t.nearLead(props.benchName)}</p>
          <Table
            label={t.near}
            head={[t.instrument, t.model, t.distance, t.shared, <span class="visually-hidden">{t.open}</span>]}
            rows={near.map(({ entry, distanceCents, sharedModes }) => [
              entry.name,
              entry.model,
              withHalfWidth(distanceCents, t.cents),
              sharedModes.join(', '),
              <Button
                kind="quiet"
                text={
                  <>
                    {t.open}
                    <span class="visually-hidden"> {entry.name}</span>
                  </>
                }
                onPress={() => void shelf.open(entry.recordId)}
              />,
            ])}
          />
        </>
      )}
    </Card>
  );
}
