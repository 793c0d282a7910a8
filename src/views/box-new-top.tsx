// A new top for an old box: which old readings count, how thick the new wood must be, and what to aim for on the way.
import { useEffect, useMemo } from 'preact/hooks';
import type { DeedName } from '../app/deeds.ts';
import { replacementAims, topRatios } from '../box/replacement.ts';
import {
  matchTop,
  type OldMode,
  oldReadings,
  oldWoodNow,
  type TopMatch,
  withMoistures,
  woodOfPiece,
} from '../compare/old-signature.ts';
import { estimate } from '../quantity/estimate.ts';
import type { BoxRepair } from '../record/box-edit.ts';
import { matchWishes, topDamages } from '../record/box-part.ts';
import { withField } from '../record/edit.ts';
import type { InstrumentRecord } from '../record/record.ts';
import { type BoxPartProps, useBoxEdit } from './box-part.ts';
import { BoxSheet, percentOf } from './box-sheet.tsx';
import { damageWords, listed, matchWords, woodNeedWords } from './box-words.ts';
import { CautionLine } from './cautions.tsx';
import { EstimateField } from './estimate-field.tsx';
import { CheckField, ChoiceField, NumberField } from './fields.tsx';
import { moment, parts, withHalfWidth } from './figures.ts';
import { useAllPieces } from './wood-all-pieces.ts';
import { stageWords } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

export function BoxNewTop({ record }: BoxPartProps) {
  const { earlier, shelf } = useWorkshop();
  const edit = useBoxEdit();
  useEffect(() => {
    void earlier.load();
  }, [record.id]);
  const all = [record, ...(earlier.records.value ?? [])];
  const repair = record.box?.repair;
  const old = repair === undefined ? undefined : all.find(({ id }) => id === repair.recordId);
  const link = (recordId: string) => {
    const chosen = all.find(({ id }) => id === recordId);
    const stepId = chosen?.steps.at(-1)?.id;
    if (stepId === undefined) return;
    edit('old-instrument', (box) => ({
      ...box,
      repair: { topDamage: [], oldWood: {}, newWood: {}, matchBy: 'both', ...box.repair, recordId, stepId },
    }));
  };
  const change = (deed: DeedName, make: (known: BoxRepair) => BoxRepair) =>
    shelf.edit(deed, (current) =>
      current.box?.repair === undefined
        ? current
        : { ...current, box: { ...current.box, repair: make(current.box.repair) } },
    );
  const linkable = all.filter(({ steps }) => steps.length > 0);
  return (
    <>
      <h1 class="no-print">A new top for an old box</h1>
      <section class="card no-print">
        <h2>Whose readings are the wish</h2>
        {linkable.length === 0 ? (
          <p>
            No instrument on the shelf has a step yet. Before anything is taken apart, tap air, top and back on the
            bench: afterwards it is too late.
          </p>
        ) : (
          <div class="fields">
            <ChoiceField
              label="Old instrument"
              value={repair?.recordId ?? ''}
              options={[
                ['', 'Choose …'],
                ...linkable.map(
                  ({ id, name }) => [id, id === record.id ? `${name} (this one, before its repair)` : name] as const,
                ),
              ]}
              onChange={link}
            />
            {repair !== undefined && old !== undefined && (
              <ChoiceField
                label="Last step before the repair"
                value={repair.stepId}
                options={old.steps.map(
                  (step, i) =>
                    [
                      step.id,
                      `${i + 1}. ${step.done === '' ? stageWords[step.stage] : step.done}, ${moment(step.atIso)}`,
                    ] as const,
                )}
                onChange={(stepId) => change('step-before', (known) => ({ ...known, stepId }))}
              />
            )}
          </div>
        )}
        {repair !== undefined && old === undefined && earlier.records.value !== undefined && (
          <p class="stop">The linked instrument is not on this shelf any more. Choose again.</p>
        )}
        {repair !== undefined && <Damage repair={repair} onChange={(make) => change('damage', make)} />}
      </section>
      {repair !== undefined && old !== undefined && (
        <Matching record={record} old={old} repair={repair} change={change} />
      )}
    </>
  );
}

type Change = (deed: DeedName, make: (known: BoxRepair) => BoxRepair) => void;

function Damage(props: {
  readonly repair: BoxRepair;
  readonly onChange: (make: (known: BoxRepair) => BoxRepair) => void;
}) {
  const { repair } = props;
  const set = (key: 'topDamage' | 'backDamage', legend: string) => {
    const marked = repair[key] ?? [];
    return (
      <fieldset>
        <legend>{legend}</legend>
        <div class="fields">
          {topDamages.map((damage) => (
            <CheckField
              key={damage}
              label={damageWords[damage]}
              value={marked.includes(damage)}
              onChange={(on) =>
                props.onChange((known) => ({
                  ...known,
                  [key]: on ? [...marked, damage] : marked.filter((one) => one !== damage),
                }))
              }
            />
          ))}
        </div>
      </fieldset>
    );
  };
  return (
    <>
      <p class="hint">
        Air and back tapped before the removal are trusted. A damaged part’s own readings are kept but are no target.
      </p>
      {set('topDamage', 'The old top, when it was read, was')}
      {set('backDamage', 'The back was')}
    </>
  );
}

function Matching(props: {
  readonly record: InstrumentRecord;
  readonly old: InstrumentRecord;
  readonly repair: BoxRepair;
  readonly change: Change;
}) {
  const { old, repair, change } = props;
  const readings = useMemo(() => oldReadings(old, repair), [old, repair]);
  const match = matchTop(repair);
  const pieces = useAllPieces().filter(({ piece }) => piece.reading?.densityKgM3 !== undefined);
  const take = (which: 'oldWood' | 'newWood', pieceId: string) => {
    const at = pieces.find(({ piece }) => piece.id === pieceId);
    change('wood-of-piece', (known) =>
      at === undefined
        ? { ...known, [which]: withField(known[which], 'pieceId', undefined) }
        : withMoistures(
            { ...known, [which]: woodOfPiece(at.piece) },
            pieces.map(({ piece }) => piece),
          ),
    );
  };
  const wood = (which: 'oldWood' | 'newWood', legend: string) => {
    const set = (
      key: 'densityKgM3' | 'eLongGpa' | 'eCrossGpa',
      label: string,
      unit: string,
      least: number,
      most: number,
      doubt: number,
    ) => (
      <EstimateField
        label={label}
        measure="plain"
        unit={unit}
        least={least}
        most={most}
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
        <legend>{legend}</legend>
        {pieces.length > 0 && (
          <ChoiceField
            label="Figures from a piece"
            value={pieces.some(({ piece }) => piece.id === repair[which].pieceId) ? (repair[which].pieceId ?? '') : ''}
            options={[
              ['', 'typed below'],
              ...pieces.map(({ piece, recordName }) => [piece.id, `${piece.name} (${recordName})`] as const),
            ]}
            onChange={(id) => take(which, id)}
          />
        )}
        {set('densityKgM3', 'Density', 'kg/m³', 150, 1200, 0.02)}
        {set('eLongGpa', 'E along the grain', 'GPa', 2, 30, 0.05)}
        {set('eCrossGpa', 'E across the grain', 'GPa', 0.1, 5, 0.1)}
        {which === 'oldWood' && (
          <EstimateField
            label="Thickness"
            measure="mm"
            least={1}
            most={8}
            offeredDoubt={0.03}
            value={repair.oldThicknessMm}
            onChange={(value) => change('thickness', (known) => withField(known, 'oldThicknessMm', value))}
          />
        )}
      </fieldset>
    );
  };
  return (
    <>
      <section class="card no-print" aria-label="Wood">
        <h2>The wood, old and new</h2>
        <p class="hint">
          The removed top is the best test piece there is: cut a strip along and one across, weigh and tap them.
        </p>
        <div class="two">
          {wood('oldWood', 'Old top, from its strips')}
          {wood('newWood', 'New wood')}
        </div>
        <div class="fields">
          <NumberField
            label="New wood moister than the strips by"
            measure="percent"
            least={-10}
            most={10}
            hint="Moisture of the wood, not of the air; empty: both lay in the same air"
            value={repair.moistureDifferencePercent}
            onChange={(value) => change('moisture', (known) => withField(known, 'moistureDifferencePercent', value))}
          />
          <ChoiceField
            label="Match first"
            value={repair.matchBy}
            options={matchWishes.map((wish) => [wish, matchWords[wish]] as const)}
            onChange={(matchBy) => change('match', (known) => ({ ...known, matchBy }))}
          />
          <NumberField
            label="Thickness you choose"
            measure="mm"
            least={1}
            most={8}
            hint="Empty: the one that meets the wish"
            value={repair.newThicknessMm}
            onChange={(value) => change('thickness', (known) => withField(known, 'newThicknessMm', value))}
          />
        </div>
      </section>
      <Thickness repair={repair} match={match} />
      <Readings readings={readings} />
      {match.kind === 'match' && (
        <BoxSheet
          record={props.record}
          old={old}
          repair={repair}
          match={match}
          readings={readings}
          aims={replacementAims(readings, match.ratios)}
        />
      )}
    </>
  );
}

function Thickness(props: { readonly repair: BoxRepair; readonly match: TopMatch }) {
  const { repair, match } = props;
  if (match.kind === 'missing')
    return (
      <section class="stand no-print" aria-label="Thickness">
        <p class="verdict cannot-say">
          To say how thick the new top must be, measure {listed(match.needs.map((need) => woodNeedWords[need]))}.
        </p>
      </section>
    );
  const aimed = match.thicknessMm[repair.matchBy];
  const shown = parts(aimed, 2);
  const old = oldWoodNow(repair)!;
  return (
    <section class="stand no-print" aria-label="Thickness">
      <h2>Thickness of the new top</h2>
      <p class="figure-value">
        <span class="figure-number">{shown.value}</span>
        <span class="figure-unit">
          mm
          <br />±{shown.halfWidth}
        </span>
      </p>
      <p>
        makes it equal by: {matchWords[repair.matchBy].toLowerCase()}. Match stiffness first, then mass: common
        practice.
      </p>
      <section class="scroll" tabIndex={0} aria-label="What each thickness gives">
        <table class="moves">
          <thead>
            <tr>
              <th scope="col">To equal</th>
              <th scope="col">Thickness</th>
              <th scope="col">Stiffness along</th>
              <th scope="col">Stiffness across</th>
              <th scope="col">Mass of the area</th>
            </tr>
          </thead>
          <tbody>
            {matchWishes.map((wish) => (
              <Row
                key={wish}
                name={matchWords[wish]}
                thickness={withHalfWidth(match.thicknessMm[wish], 'mm')}
                ratios={topRatios(old.wood, old.thicknessMm, old.fresh, estimate(match.thicknessMm[wish].value, 0))}
              />
            ))}
            {repair.newThicknessMm !== undefined && (
              <Row name="Your choice" thickness={`${repair.newThicknessMm} mm`} ratios={match.ratios} />
            )}
          </tbody>
        </table>
      </section>
      <p class="hint">New against old, at that thickness planed exactly. ± from the doubt of both woods.</p>
    </section>
  );
}

function Row(props: {
  readonly name: string;
  readonly thickness: string;
  readonly ratios: (TopMatch & { readonly kind: 'match' })['ratios'];
}) {
  const { along, across, arealMass } = props.ratios;
  return (
    <tr>
      <th scope="row">{props.name}</th>
      <td>{props.thickness}</td>
      <td>{percentOf(along)}</td>
      <td>{percentOf(across)}</td>
      <td>{percentOf(arealMass)}</td>
    </tr>
  );
}

function Readings(props: { readonly readings: readonly OldMode[] }) {
  const { readings } = props;
  return (
    <section class="card no-print" aria-label="Old readings">
      <h2>The old readings</h2>
      {readings.length === 0 ? (
        <p>
          No named mode up to that step. Name the modes of the old instrument (air, top, back, monopole …) under Rounds
          or on the bench.
        </p>
      ) : (
        <ul class="which">
          {readings.map(({ readAt, mode, frequencyHz, damage }) => (
            <li key={`${readAt} ${mode}`}>
              <span class="which-hz">{withHalfWidth(frequencyHz, 'Hz')}</span> {mode},{' '}
              {stageWords[readAt].toLowerCase()}{' '}
              <span class={damage.length === 0 ? 'tag done' : 'tag'}>
                {damage.length === 0 ? 'trusted' : `not trusted: ${listed(damage.map((one) => damageWords[one]))}`}
              </span>
            </li>
          ))}
        </ul>
      )}
      <CautionLine about={['heat', 'dust', 'strings']} />
    </section>
  );
}
