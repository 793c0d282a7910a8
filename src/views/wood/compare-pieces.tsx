// The maker's own pieces against the handbook, and which two go together.

import type { PieceAt } from '../../app/stock.ts';
import { shelfBoardOf, startOf } from '../../compare/piece-reading.ts';
import { scaled } from '../../quantity/estimate.ts';
import { pairHalves, shelfSpread } from '../../wood/matching.ts';
import { Card } from '../parts/card.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { Table } from '../parts/table.tsx';
import { words } from '../words/language.ts';
import { speciesWord, woodWords } from './words.ts';

export function Spreads(props: { readonly all: readonly PieceAt[] }) {
  const t = woodWords().compare;
  const measured = props.all.filter(({ piece }) => piece.reading?.eLongGpa && piece.reading.densityKgM3);
  const species = [...new Set(measured.map(({ piece }) => piece.species))];
  if (species.length === 0) return null;
  const spreadWords = (values: readonly number[], decimals: number) => {
    const { mean, spread } = shelfSpread(values);
    return spread === undefined
      ? number(mean, decimals)
      : t.meanAndSpread(number(mean, decimals), number(spread, decimals));
  };
  return (
    <Card title={t.shelf}>
      <Table
        label={t.spreadLabel}
        head={[t.species, t.pieces, t.columns.densityKgM3, t.handbook, t.columns.eLongGpa, t.handbook]}
        rows={species.map((name) => {
          const own = measured.filter(({ piece }) => piece.species === name);
          const start = startOf({ species: name });
          const isKnown = (what: 'gravity' | 'modulus') => !start.assumed.includes(what);
          return [
            speciesWord(name) || t.notNamed,
            number(own.length, 0),
            spreadWords(
              own.map(({ piece }) => piece.reading!.densityKgM3!.value),
              0,
            ),
            isKnown('gravity') ? number(start.densityKgM3.value, 0) : t.noHandbook,
            spreadWords(
              own.map(({ piece }) => piece.reading!.eLongGpa!.value),
              1,
            ),
            isKnown('modulus') ? number(scaled(start.eLongPa, 1e-9).value, 1) : t.noHandbook,
          ];
        })}
      />
      <p class="hint">{t.handbookHint}</p>
    </Card>
  );
}

export function Pairs(props: { readonly all: readonly PieceAt[] }) {
  const t = woodWords().compare;
  const byId = new Map(props.all.map((at) => [at.piece.id, at]));
  const kinds = [...new Set(props.all.map(({ piece }) => `${piece.kind} ${piece.species}`))];
  const pairs = kinds.flatMap((key) =>
    pairHalves(
      props.all
        .filter(({ piece }) => `${piece.kind} ${piece.species}` === key)
        .flatMap(({ piece }) => shelfBoardOf(piece) ?? []),
    ),
  );
  if (pairs.length === 0) return null;
  return (
    <Card title={t.halves}>
      <Table
        label={t.pairs}
        head={[t.pair, t.modesApart, t.eAlong, t.eAcross, words.quantities.density]}
        rows={pairs.map((pair) => [
          t.pairNames(byId.get(pair.ids[0])!.piece.name, byId.get(pair.ids[1])!.piece.name),
          t.about(number(pair.apartPercent, 1)),
          withHalfWidth(pair.differencePercent.eLongGpa, '%'),
          withHalfWidth(pair.differencePercent.eCrossGpa, '%'),
          withHalfWidth(pair.differencePercent.densityKgM3, '%'),
        ])}
      />
      <p class="hint">{t.pairsHint}</p>
    </Card>
  );
}
