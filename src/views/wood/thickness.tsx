// How thick this plate should be to equal a reference, by every way "equal" can be meant, side by side.

import type { EditName } from '../../app/edits.ts';
import { plateWoodOf } from '../../compare/piece-reading.ts';
import { withField } from '../../record/edit.ts';
import type { QuantityName } from '../../record/quantities.ts';
import type { Piece } from '../../record/record.ts';
import { CRITERIA, stopLine, type ThicknessChoice, thicknessChoices } from '../../wood/thickness.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { moment } from '../parts/figures.ts';
import { MeasuredField } from '../parts/measured-field.tsx';
import { useQuantity } from '../parts/measures.ts';
import { NumberField } from '../parts/number-field.tsx';
import { useLength, useLengthEstimate, useMassEstimate } from '../parts/own-units.ts';
import { Table } from '../parts/table.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { useAllPieces } from './all-pieces.ts';
import { useChangePiece } from './piece-form.tsx';
import { ModesAgainstThickness } from './thickness-curves.tsx';
import { ChooseReference, referenceOf } from './thickness-reference.tsx';
import { woodWords } from './words.ts';

type Plan = NonNullable<Piece['thicknessing']>;

/** The plate's own area, cm². */
const boardCm2 = ({ lengthMm, widthMm }: Piece): number => (lengthMm?.value ?? 500) * (widthMm?.value ?? 200) * 0.01;

/** What a plan begins with: the moving part of a steel-string's top, common practice, no source. */
const beginning = (piece: Piece): Omit<Plan, 'reference'> => ({
  by: 'patch-stiffness',
  patchLengthMm: 400,
  patchWidthMm: 380,
  areaCm2: Math.round(boardCm2(piece)),
});

export function BoardThickness(props: { readonly piece: Piece }) {
  const { piece } = props;
  const wood = plateWoodOf(piece);
  const change = useChangePiece(piece.id);
  const t = woodWords().thickness;
  const all = useAllPieces();
  if (wood === undefined) return <p>{t.readFirst}</p>;
  const plan = piece.thicknessing;
  const set = (editName: EditName, part: Partial<Plan>) =>
    change(editName, (p) =>
      p.thicknessing === undefined ? p : { ...p, thicknessing: { ...p.thicknessing, ...part } },
    );
  const reference = plan === undefined ? undefined : referenceOf(plan.reference, piece, all);
  return (
    <>
      <ChooseReference
        piece={piece}
        all={all}
        note={plan?.reference}
        onChange={(note) =>
          change('thickness-reference', (p) =>
            withField(
              p,
              'thicknessing',
              note === undefined ? undefined : { ...beginning(p), ...p.thicknessing, reference: note },
            ),
          )
        }
      />
      {plan === undefined ? (
        <p>{t.chooseEqual}</p>
      ) : (
        <>
          <PlanFields piece={piece} plan={plan} onChange={set} />
          {reference !== undefined && (
            <Choices
              plan={plan}
              onChange={set}
              choices={thicknessChoices(
                wood,
                reference,
                { lengthMm: plan.patchLengthMm, widthMm: plan.patchWidthMm },
                plan.areaCm2,
              )}
            />
          )}
        </>
      )}
      <ModesAgainstThickness piece={piece} wood={wood} />
      <MeasuredField
        of="finishedThickness"
        hint={t.finishedHint}
        tool="caliperMm"
        value={piece.finishedMm}
        onChange={(value) => change('finished-thickness', (p) => withField(p, 'finishedMm', value))}
      />
    </>
  );
}

type SetPlan = (editName: EditName, part: Partial<Plan>) => void;

function PlanFields(props: { readonly piece: Piece; readonly plan: Plan; readonly onChange: SetPlan }) {
  const { plan, onChange } = props;
  const t = woodWords().thickness;
  const area = useQuantity('plateArea');
  const size = (key: 'patchLengthMm' | 'patchWidthMm', of: QuantityName, hint?: string) => (
    <NumberField of={of} hint={hint} value={plan[key]} onSet={(value) => onChange('patch', { [key]: value })} />
  );
  return (
    <div class="fields">
      {size('patchLengthMm', 'patchLength', t.patchHint)}
      {size('patchWidthMm', 'patchWidth')}
      <NumberField
        of="plateArea"
        hint={t.areaHint(area.show(Math.round(boardCm2(props.piece))))}
        value={plan.areaCm2}
        onSet={(areaCm2) => onChange('area', { areaCm2 })}
      />
    </div>
  );
}

function Choices(props: {
  readonly choices: readonly ThicknessChoice[];
  readonly plan: Plan;
  readonly onChange: SetPlan;
}) {
  const { thickness: t, codes } = woodWords();
  const length = useLengthEstimate();
  const mm = useLength(3);
  const mass = useMassEstimate();
  const { plan } = props;
  const sorted = props.choices.map((choice) => choice.thicknessMm.value).toSorted((a, b) => a - b);
  const chosen = props.choices.find((choice) => choice.criterion === plan.by) ?? props.choices[0]!;
  return (
    <>
      <Table
        label={t.choicesLabel}
        head={[t.toHave, words.quantities.plateThickness, words.quantities.boardMass, t.againstThinnest]}
        rows={props.choices.map((choice) => [
          <>
            {codes.criteria[choice.criterion].name}
            <span class="hint block">{codes.criteria[choice.criterion].hint}</span>
          </>,
          length(choice.thicknessMm),
          mass(choice.massG),
          <>+{mm(choice.thicknessMm.value - sorted[0]!)}</>,
        ])}
      />
      <p>{t.waysApart(mm(sorted.at(-1)! - sorted[0]!))}</p>
      <StopAt chosen={chosen} plan={plan} onChange={props.onChange} />
    </>
  );
}

/** Where the machine stops, and the line as it was noted. */
function StopAt(props: { readonly chosen: ThicknessChoice; readonly plan: Plan; readonly onChange: SetPlan }) {
  const { nowIso, preferences } = useWorkshop();
  const { thickness: t, codes } = woodWords();
  const mm = useLength(3);
  const { plan, onChange } = props;
  const marginMm = plan.marginMm ?? preferences.settings.value.sandingMm;
  const line = stopLine(props.chosen.thicknessMm, marginMm);
  return (
    <>
      <div class="fields">
        <ChoiceField
          label={t.by}
          value={plan.by}
          options={CRITERIA.map((known) => [known, codes.criteria[known].name] as const)}
          onChange={(by) => onChange('thickness-by', { by })}
        />
        <NumberField of="sanding" value={marginMm} onSet={(value) => onChange('margin', { marginMm: value })} />
      </div>
      <p class="verdict">{t.stopAt(mm(line.stopMm))}</p>
      <p>{t.checkAt(mm(line.checkMm))}</p>
      <Actions>
        <Button
          text={t.noteStop}
          onPress={() => onChange('stop-line', { stop: { mm: line.stopMm, atIso: nowIso() } })}
        />
      </Actions>
      {plan.stop !== undefined && (
        <p class={Math.abs(plan.stop.mm - line.stopMm) < 0.005 ? 'hint' : 'note'}>
          {t.noted(moment(plan.stop.atIso), mm(plan.stop.mm))}
          {Math.abs(plan.stop.mm - line.stopMm) >= 0.005 && ` ${t.changedSince}`}
        </p>
      )}
    </>
  );
}
