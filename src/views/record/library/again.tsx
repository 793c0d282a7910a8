// "The same again": what the maker's own instruments came out at, as the target of the one on the bench.

import { useState } from 'preact/hooks';
import { hashOf } from '../../../app/place.ts';
import { type LibraryCard, modeSpreads, sameAgain, shownMean } from '../../../compare/library.ts';
import type { Series } from '../../../compare/series.ts';
import type { InstrumentRecord } from '../../../record/record.ts';
import { Button } from '../../parts/actions.tsx';
import { Card } from '../../parts/card.tsx';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { number, parts, withHalfWidth, withTolerance } from '../../parts/figures.ts';
import { Table } from '../../parts/table.tsx';
import { midSentence, stageWords } from '../../words/codes.ts';
import { conditionsWords } from '../../words/conditions.ts';
import { words } from '../../words/language.ts';
import { useWorkshop } from '../../workshop-context.ts';

type Source = 'model' | 'favourites-of-model' | 'favourites' | 'all';

export function LibraryAgain(props: {
  readonly cards: readonly LibraryCard[];
  readonly series: Series;
  readonly bench: InstrumentRecord | undefined;
}) {
  const { library } = useWorkshop();
  const { series, bench } = props;
  const [source, setSource] = useState<Source>('model');
  const [taken, setTaken] = useState<number | undefined>(undefined);
  const t = words.ownLibrary;
  const model = bench?.model.trim() ?? '';
  const offered: readonly (readonly [Source, string])[] = [
    ...(model === ''
      ? []
      : ([
          ['model', t.fromModel(model)],
          ['favourites-of-model', t.fromFavouritesOfModel(model)],
        ] as const)),
    ['favourites', t.fromFavourites],
    ['all', t.fromAll],
  ];
  const chosen = offered.find(([known]) => known === source) ?? offered.at(-1)!;
  const earlier = props.cards
    .filter(({ facts }) => facts.id !== bench?.id && (facts.loved || !chosen[0].startsWith('favourites')))
    .flatMap((card) => card.entries);
  const ofModel = chosen[0] === 'model' || chosen[0] === 'favourites-of-model' ? model : undefined;
  const spreads = modeSpreads(earlier, { ...series, model: ofModel });
  const rows = spreads.map((spread) => ({ spread, again: sameAgain(spread, series.stage) }));
  const targets = rows.flatMap(({ again }) => (again.kind === 'target' ? [again] : []));
  const aim = () => {
    const n = Math.min(...targets.map(({ instruments }) => instruments));
    library.aim(
      series.stage,
      targets.map(({ target }) => target),
      t.origin(chosen[1], n),
    );
    setTaken(targets.length);
  };
  return (
    <Card title={t.again}>
      <p>{t.againLead}</p>
      <ChoiceField
        label={t.takenFrom}
        value={chosen[0]}
        options={offered}
        onChange={(next) => {
          setSource(next);
          setTaken(undefined);
        }}
      />
      {rows.length === 0 ? (
        <p>{t.againNone(midSentence(conditionsWords(series)))}</p>
      ) : (
        <>
          <Table
            label={t.again}
            head={[t.mode, t.count, t.mean, t.spread, t.target]}
            rows={rows.map(({ spread, again }) => [
              spread.mode,
              number(spread.instruments.length, 0),
              withHalfWidth(shownMean(spread), 'Hz'),
              spread.spreadHz === undefined ? '–' : `${parts(spread.spreadHz, 1).value} Hz`,
              again.kind === 'target' ? (
                <strong>{withTolerance(again.target.frequencyHz, again.target.toleranceHz, 1, 'Hz')}</strong>
              ) : (
                t.tooFew(again.have, again.need)
              ),
            ])}
          />
          <p class="hint">{t.spreadHint}</p>
          {bench === undefined ? (
            <p>{t.needBench}</p>
          ) : (
            targets.length > 0 && <Button kind="primary" text={t.take(bench.name)} onPress={aim} />
          )}
          {taken !== undefined && (
            <p role="status">
              {t.taken(taken, midSentence(stageWords[series.stage]))} <a href={hashOf('steps')}>{t.toSteps}</a>
            </p>
          )}
        </>
      )}
    </Card>
  );
}
