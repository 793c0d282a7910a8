// The wood of a new top matched to that of the old one: both woods, the old readings, and what to aim for on the way.

import { useMemo } from 'preact/hooks';
import { replacementAims } from '../../box/replacement.ts';
import {
  matchTop,
  newWoodAir,
  type OldMode,
  oldReadings,
  repairWoodOf,
  withMoistures,
} from '../../compare/old-signature.ts';
import type { BoxRepair } from '../../record/box-edit.ts';
import { matchWishes } from '../../record/box-part.ts';
import { withField } from '../../record/edit.ts';
import type { QuantityName } from '../../record/quantities.ts';
import type { InstrumentRecord } from '../../record/record.ts';
import { Card } from '../parts/card.tsx';
import { CautionLine } from '../parts/cautions.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { EstimateField } from '../parts/estimate-field.tsx';
import { withHalfWidth } from '../parts/figures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { useAllPieces } from '../wood/all-pieces.ts';
import { NewThickness } from './new-thickness.tsx';
import { BoxSheet } from './sheet.tsx';
import { type RepairChange, Strips } from './strips.tsx';
import { boxWords } from './words.ts';

export function Matching(props: {
  readonly record: InstrumentRecord;
  readonly old: InstrumentRecord;
  readonly repair: BoxRepair;
  readonly change: RepairChange;
}) {
  const { old, repair, change } = props;
  const t = boxWords().newTop;
  const pieces = useAllPieces();
  const newAir = newWoodAir(
    repair,
    pieces.map(({ piece }) => piece),
  );
  const readings = useMemo(() => oldReadings(old, repair, newAir), [old, repair, pieces]);
  const match = matchTop(repair);
  return (
    <>
      <Card title={t.woods} class="no-print" label={t.wood}>
        <p class="hint">{t.woodsHint}</p>
        <div class="two">
          <WoodFields which="oldWood" legend={t.oldWood} repair={repair} change={change} />
          <WoodFields which="newWood" legend={t.newWood} repair={repair} change={change} />
        </div>
        <div class="fields">
          <NumberField
            of="moistureDifference"
            hint={t.moisterHint}
            value={repair.moistureDifferencePercent}
            onChange={(value) => change('moisture', (known) => withField(known, 'moistureDifferencePercent', value))}
          />
          <ChoiceField
            label={t.matchFirst}
            value={repair.matchBy}
            options={matchWishes.map((wish) => [wish, t.matches[wish]] as const)}
            onChange={(matchBy) => change('match', (known) => ({ ...known, matchBy }))}
          />
          <NumberField
            label={t.chosen}
            of="topThickness"
            hint={t.chosenHint}
            value={repair.newThicknessMm}
            onChange={(value) => change('thickness', (known) => withField(known, 'newThicknessMm', value))}
          />
        </div>
      </Card>
      <NewThickness repair={repair} match={match} />
      <Readings readings={readings} repair={repair} change={change} />
      {match.kind === 'match' && (
        <BoxSheet
          record={props.record}
          old={old}
          repair={repair}
          match={match}
          readings={readings}
          aims={replacementAims(readings, match.ratios)}
          newAir={newAir}
        />
      )}
    </>
  );
}

/** One of the two woods: taken from a piece of the shelf, or typed. */
function WoodFields(props: {
  readonly which: 'oldWood' | 'newWood';
  readonly legend: string;
  readonly repair: BoxRepair;
  readonly change: RepairChange;
}) {
  const { which, repair, change } = props;
  const t = boxWords().newTop;
  const pieces = useAllPieces().filter(({ piece }) => piece.reading?.densityKgM3 !== undefined);
  const take = (pieceId: string) => {
    const at = pieces.find(({ piece }) => piece.id === pieceId);
    change('wood-of-piece', (known) =>
      at === undefined
        ? { ...known, [which]: withField(known[which], 'pieceId', undefined) }
        : withMoistures(
            { ...known, [which]: repairWoodOf(at.piece) },
            pieces.map(({ piece }) => piece),
          ),
    );
  };
  const set = (key: 'densityKgM3' | 'eLongGpa' | 'eCrossGpa', of: QuantityName, doubt: number) => (
    <EstimateField
      of={of}
      offeredDoubt={doubt}
      value={repair[which][key]}
      onChange={(value) =>
        // typed over, they are the piece's no more
        change('wood', (known) => ({
          ...known,
          [which]: withField(withField(known[which], 'pieceId', undefined), key, value),
        }))
      }
    />
  );
  return (
    <fieldset>
      <legend>{props.legend}</legend>
      {pieces.length > 0 && (
        <ChoiceField
          label={t.fromPiece}
          value={pieces.some(({ piece }) => piece.id === repair[which].pieceId) ? (repair[which].pieceId ?? '') : ''}
          options={[
            ['', t.typed],
            ...pieces.map(({ piece, recordName }) => [piece.id, t.piece(piece.name, recordName)] as const),
          ]}
          onChange={take}
        />
      )}
      {which === 'oldWood' && <Strips wood={repair.oldWood} change={change} />}
      {set('densityKgM3', 'density', 0.02)}
      {set('eLongGpa', 'modulusAlong', 0.05)}
      {set('eCrossGpa', 'modulusAcross', 0.1)}
      {which === 'oldWood' && (
        <EstimateField
          of="topThickness"
          offeredDoubt={0.03}
          value={repair.oldThicknessMm}
          onChange={(value) => change('thickness', (known) => withField(known, 'oldThicknessMm', value))}
        />
      )}
    </fieldset>
  );
}

function Readings(props: {
  readonly readings: readonly OldMode[];
  readonly repair: BoxRepair;
  readonly change: RepairChange;
}) {
  const { readings, repair, change } = props;
  const t = boxWords().newTop;
  return (
    <Card title={t.readings} class="no-print" label={t.readingsLabel}>
      {readings.length === 0 ? (
        <p>{t.noReadings}</p>
      ) : (
        <ul class="which">
          {readings.map(({ readAt, part, mode, frequencyHz, damage, isAirNoted }) => (
            <li key={`${readAt} ${mode}`}>
              <span class="which-hz">{withHalfWidth(frequencyHz, 'Hz')}</span> {t.modeAt(mode, readAt)}{' '}
              <span class={damage !== 'unasked' && damage.length === 0 ? 'tag done' : 'tag'}>
                {t.worth(part, damage)}
              </span>
              {isAirNoted ? null : <span class="hint"> {t.airNotNoted}</span>}
            </li>
          ))}
        </ul>
      )}
      <div class="fields">
        <NumberField
          of="bridgeLoad"
          hint={t.bridgeLoadHint}
          value={repair.bridgeLoadG}
          onChange={(value) => change('bridge-weight', (known) => withField(known, 'bridgeLoadG', value))}
        />
        <EstimateField
          of="bridgeDown"
          offeredDoubt={0.05}
          value={repair.bridgeDownMm}
          onChange={(value) => change('bridge-weight', (known) => withField(known, 'bridgeDownMm', value))}
        />
      </div>
      <CautionLine about={['heat', 'dust', 'strings']} />
    </Card>
  );
}
