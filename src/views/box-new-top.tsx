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
import { CautionLine } from './cautions.tsx';
import { EstimateField } from './estimate-field.tsx';
import { CheckField, ChoiceField, NumberField } from './fields.tsx';
import { moment, number, parts, withHalfWidth } from './figures.ts';
import { useAllPieces } from './wood-all-pieces.ts';
import { boxWords } from './words/box.ts';
import { stageWords } from './words.ts';
import { useWorkshop } from './workshop-context.ts';

export function BoxNewTop({ record }: BoxPartProps) {
  const { earlier, shelf } = useWorkshop();
  const { newTop: t, choose } = boxWords();
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
      <h1 class="no-print">{t.title}</h1>
      <section class="card no-print">
        <h2>{t.wish}</h2>
        {linkable.length === 0 ? (
          <p>{t.noneYet}</p>
        ) : (
          <div class="fields">
            <ChoiceField
              label={t.old}
              value={repair?.recordId ?? ''}
              options={[
                ['', choose],
                ...linkable.map(({ id, name }) => [id, id === record.id ? t.thisOne(name) : name] as const),
              ]}
              onChange={link}
            />
            {repair !== undefined && old !== undefined && (
              <ChoiceField
                label={t.lastStep}
                value={repair.stepId}
                options={old.steps.map(
                  (step, i) =>
                    [
                      step.id,
                      t.step(i + 1, step.done === '' ? stageWords[step.stage] : step.done, moment(step.atIso)),
                    ] as const,
                )}
                onChange={(stepId) => change('step-before', (known) => ({ ...known, stepId }))}
              />
            )}
          </div>
        )}
        {repair !== undefined && old === undefined && earlier.records.value !== undefined && (
          <p class="stop">{t.gone}</p>
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
  const t = boxWords().newTop;
  const set = (key: 'topDamage' | 'backDamage', legend: string) => {
    const marked = repair[key] ?? [];
    return (
      <fieldset>
        <legend>{legend}</legend>
        <div class="fields">
          {topDamages.map((damage) => (
            <CheckField
              key={damage}
              label={t.damages[damage]}
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
      <p class="hint">{t.damageHint}</p>
      {set('topDamage', t.topWas)}
      {set('backDamage', t.backWas)}
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
  const t = boxWords().newTop;
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
      unit: string,
      least: number,
      most: number,
      doubt: number,
    ) => (
      <EstimateField
        label={t[key]}
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
            label={t.fromPiece}
            value={pieces.some(({ piece }) => piece.id === repair[which].pieceId) ? (repair[which].pieceId ?? '') : ''}
            options={[
              ['', t.typed],
              ...pieces.map(({ piece, recordName }) => [piece.id, t.piece(piece.name, recordName)] as const),
            ]}
            onChange={(id) => take(which, id)}
          />
        )}
        {set('densityKgM3', 'kg/m³', 150, 1200, 0.02)}
        {set('eLongGpa', 'GPa', 2, 30, 0.05)}
        {set('eCrossGpa', 'GPa', 0.1, 5, 0.1)}
        {which === 'oldWood' && (
          <EstimateField
            label={t.thickness}
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
      <section class="card no-print" aria-label={t.wood}>
        <h2>{t.woods}</h2>
        <p class="hint">{t.woodsHint}</p>
        <div class="two">
          {wood('oldWood', t.oldWood)}
          {wood('newWood', t.newWood)}
        </div>
        <div class="fields">
          <NumberField
            label={t.moister}
            measure="percent"
            least={-10}
            most={10}
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
            measure="mm"
            least={1}
            most={8}
            hint={t.chosenHint}
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
  const t = boxWords().newTop;
  if (match.kind === 'missing')
    return (
      <section class="stand no-print" aria-label={t.thickness}>
        <p class="verdict cannot-say">{t.measureFirst(match.needs)}</p>
      </section>
    );
  const aimed = match.thicknessMm[repair.matchBy];
  const shown = parts(aimed, 2);
  const old = oldWoodNow(repair)!;
  return (
    <section class="stand no-print" aria-label={t.thickness}>
      <h2>{t.thicknessOf}</h2>
      <p class="figure-value">
        <span class="figure-number">{shown.value}</span>
        <span class="figure-unit">
          mm
          <br />±{shown.halfWidth}
        </span>
      </p>
      <p>{t.equalBy(repair.matchBy)}</p>
      <section class="scroll" tabIndex={0} aria-label={t.givesLabel}>
        <table class="moves">
          <thead>
            <tr>
              <th scope="col">{t.toEqual}</th>
              <th scope="col">{t.thickness}</th>
              <th scope="col">{t.stiffnessAlong}</th>
              <th scope="col">{t.stiffnessAcross}</th>
              <th scope="col">{t.areaMass}</th>
            </tr>
          </thead>
          <tbody>
            {matchWishes.map((wish) => (
              <Row
                key={wish}
                name={t.matches[wish]}
                thickness={withHalfWidth(match.thicknessMm[wish], 'mm')}
                ratios={topRatios(old.wood, old.thicknessMm, old.fresh, estimate(match.thicknessMm[wish].value, 0))}
              />
            ))}
            {repair.newThicknessMm !== undefined && (
              <Row name={t.yourChoice} thickness={`${number(repair.newThicknessMm, 2)} mm`} ratios={match.ratios} />
            )}
          </tbody>
        </table>
      </section>
      <p class="hint">{t.givesHint}</p>
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
  const t = boxWords().newTop;
  return (
    <section class="card no-print" aria-label={t.readingsLabel}>
      <h2>{t.readings}</h2>
      {readings.length === 0 ? (
        <p>{t.noReadings}</p>
      ) : (
        <ul class="which">
          {readings.map(({ readAt, mode, frequencyHz, damage }) => (
            <li key={`${readAt} ${mode}`}>
              <span class="which-hz">{withHalfWidth(frequencyHz, 'Hz')}</span> {t.modeAt(mode, readAt)}{' '}
              <span class={damage.length === 0 ? 'tag done' : 'tag'}>
                {damage.length === 0 ? t.trusted : t.notTrusted(damage)}
              </span>
            </li>
          ))}
        </ul>
      )}
      <CautionLine about={['heat', 'dust', 'strings']} />
    </section>
  );
}
