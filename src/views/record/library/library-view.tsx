// The library: all instruments listed, compared, and taken as the aim of the next one.

import { useEffect, useMemo, useState } from 'preact/hooks';
import { cardOf, type LibraryCard, type LibraryEntry, modeSpreads, passes } from '../../../compare/library.ts';
import { seriesKey } from '../../../compare/series.ts';
import { sameSupport } from '../../../compare/signature.ts';
import { Card } from '../../parts/card.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { conditionsWords } from '../../words/conditions.ts';
import { words } from '../../words/language.ts';
import { useWorkshop } from '../../workshop-context.ts';
import { LibraryAgain } from './again.tsx';
import { everything, LibraryList } from './list.tsx';
import { LibraryNear } from './near.tsx';
import { LibrarySide, mostDrawn } from './side-by-side.tsx';
import './library.css';

export function LibraryView() {
  const { library, shelf } = useWorkshop();
  const [filter, setFilter] = useState(everything);
  const [seriesChosen, setSeriesChosen] = useState<string | undefined>(undefined);
  const [chosen, setChosen] = useState<ReadonlyMap<string, boolean>>(new Map());
  const record = shelf.record.value;
  const bench = record?.kind === 'instrument' && record.deletedAtIso === undefined ? record : undefined;
  useEffect(() => void library.load(), [shelf.summaries.value]);
  const benchCard = useMemo(() => (bench === undefined ? undefined : cardOf(bench)), [bench]);
  const kept = library.cards.value;
  const cards = useMemo(() => withBench(kept, benchCard), [kept, benchCard]);
  const offered = useMemo(() => seriesIn(cards), [cards]);
  const series = offered.find(({ key }) => key === (seriesChosen ?? keyOfLast(benchCard))) ?? offered[0];
  const waiting = library.waiting.value;
  const t = words.ownLibrary;
  const measured = cards.flatMap(({ entries }) =>
    entries.filter((entry) => series !== undefined && isOf(entry, series)),
  );
  const passing = new Set(cards.filter(({ facts }) => passes(facts, filter)).map(({ facts }) => facts.id));
  // What was ticked or unticked counts; of the others the one on the bench and the first few are shown.
  const usual = measured.filter(({ recordId }) => recordId === bench?.id || passing.has(recordId)).slice(0, mostDrawn);
  const isShown = ({ recordId }: LibraryEntry) =>
    chosen.get(recordId) ?? (![...chosen.values()].some(Boolean) && usual.some((entry) => entry.recordId === recordId));
  const shown = measured.filter(isShown);
  const missing = cards.filter(
    ({ facts }) => chosen.get(facts.id) && !measured.some((entry) => entry.recordId === facts.id),
  );
  return (
    <div class="own-library">
      <h1>{t.title}</h1>
      <p>{t.lead}</p>
      {waiting > 0 && (
        <p class="hint" role="status">
          {t.reading(waiting)}
        </p>
      )}
      <LibraryList
        cards={cards}
        filter={filter}
        onFilter={setFilter}
        chosen={new Set([...shown.map(({ recordId }) => recordId), ...missing.map(({ facts }) => facts.id)])}
        onChoose={(id, isChosen) => {
          const now = new Map(shown.map(({ recordId }) => [recordId, true] as const));
          setChosen(new Map([...now, ...chosen, [id, isChosen]]));
        }}
      />
      {series === undefined ? (
        <Card title={t.side}>
          <p>{t.noSeries}</p>
        </Card>
      ) : (
        <>
          <Card title={t.side}>
            <ChoiceField
              label={t.measuredHow}
              value={series.key}
              options={offered.map(({ key, count, ...conditions }) => [
                key,
                t.howWithCount(conditionsWords(conditions), count),
              ])}
              onChange={setSeriesChosen}
            />
            {missing.length > 0 && <p class="hint">{t.notSo(missing.map(({ facts }) => facts.name).join(', '))}</p>}
            {shown.length === 0 ? (
              <p>{t.sideEmpty}</p>
            ) : (
              <LibrarySide entries={shown} spreads={modeSpreads(measured, { ...series, model: undefined })} />
            )}
          </Card>
          <LibraryAgain cards={cards} series={series} bench={bench} />
          <LibraryNear
            bench={benchCard?.entries.find((entry) => isOf(entry, series))}
            benchName={bench?.name ?? ''}
            entries={measured}
          />
        </>
      )}
    </div>
  );
}

/** The cards with the open instrument as it is now, not as it was last stored. */
const withBench = (cards: readonly LibraryCard[], bench: LibraryCard | undefined): readonly LibraryCard[] =>
  bench === undefined ? cards : [bench, ...cards.filter(({ facts }) => facts.id !== bench.facts.id)];

interface OfferedSeries extends Pick<LibraryEntry, 'stage' | 'support'> {
  readonly key: string;
  readonly count: number;
}

const isOf = (entry: LibraryEntry, { stage, support }: Pick<LibraryEntry, 'stage' | 'support'>): boolean =>
  entry.stage === stage && sameSupport(entry.support, support);

/** Every way in which an instrument was measured, the most used first. */
function seriesIn(cards: readonly LibraryCard[]): readonly OfferedSeries[] {
  const found = new Map<string, OfferedSeries>();
  for (const { stage, support } of cards.flatMap(({ entries }) => entries)) {
    const key = seriesKey({ stage, support });
    found.set(key, { key, stage, support, count: (found.get(key)?.count ?? 0) + 1 });
  }
  return [...found.values()].toSorted((a, b) => b.count - a.count);
}

/** How the instrument on the bench was measured last. */
function keyOfLast(bench: LibraryCard | undefined): string | undefined {
  const last = bench?.entries.toSorted((a, b) => b.atIso.localeCompare(a.atIso))[0];
  return last === undefined ? undefined : seriesKey(last);
}
