// The earlier instruments that the one on the bench is most like.
import { type LibraryEntry, leastShared, nearestInstruments } from '../../../compare/library.ts';
import { withHalfWidth } from '../../parts/figures.ts';
import { Scroll } from '../../parts/scroll.tsx';
import { words } from '../../words/language.ts';
import { useWorkshop } from '../../workshop-context.ts';

const mostShown = 5;

export function LibraryNear(props: {
  readonly bench: LibraryEntry | undefined;
  readonly benchName: string;
  readonly entries: readonly LibraryEntry[];
}) {
  const { shelf } = useWorkshop();
  const t = words.library;
  const near = props.bench === undefined ? [] : nearestInstruments(props.bench, props.entries).slice(0, mostShown);
  return (
    <section class="card">
      <h2>{t.near}</h2>
      {near.length === 0 ? (
        <p>{t.nearNone(leastShared)}</p>
      ) : (
        <>
          <p>{t.nearLead(props.benchName)}</p>
          <Scroll label={t.near}>
            <table>
              <thead>
                <tr>
                  <th scope="col">{t.instrument}</th>
                  <th scope="col">{t.model}</th>
                  <th scope="col">{t.distance}</th>
                  <th scope="col">{t.shared}</th>
                  <th scope="col">
                    <span class="visually-hidden">{t.open}</span>
                  </th>
                </tr>
              </thead>
              <tbody>
                {near.map(({ entry, distanceCents, sharedModes }) => (
                  <tr key={entry.recordId}>
                    <th scope="row">{entry.name}</th>
                    <td>{entry.model}</td>
                    <td>{withHalfWidth(distanceCents, t.cents)}</td>
                    <td>{sharedModes.join(', ')}</td>
                    <td>
                      <button type="button" class="quiet" onClick={() => void shelf.open(entry.recordId)}>
                        {t.open}
                        <span class="visually-hidden"> {entry.name}</span>
                      </button>
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </Scroll>
        </>
      )}
    </section>
  );
}
