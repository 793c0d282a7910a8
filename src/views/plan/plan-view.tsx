// The plan: the top drawn, edited by hand and by number, shaved, weighed and printed.

import { useState } from 'preact/hooks';
import { checkPlate } from '../../plate/plate-check.ts';
import { cutsMade, planNow } from '../../record/cuts.ts';
import { planCase } from '../../record/plan-case.ts';
import {
  changeBrace,
  changeHand,
  changePlan,
  mirroredPlan,
  moveBraceEnd,
  startPlan,
  withPlan,
} from '../../record/plan-edit.ts';
import { type PlanMass, planMass } from '../../record/plan-mass.ts';
import { type Pattern, patternBraces, patterns } from '../../record/plan-patterns.ts';
import { withMeasuredWood } from '../../record/plan-wood.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { EmptyView, FoldedCard } from '../parts/card.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { Emphasised } from '../parts/emphasised.tsx';
import { number } from '../parts/figures.ts';
import { Table } from '../parts/table.tsx';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { BraceForm } from './brace-form.tsx';
import type { Face } from './face.ts';
import { PlanDrawing } from './plan-drawing.tsx';
import { ShavingEntry } from './shaving.tsx';
import { PlanSheets } from './sheets.tsx';
import { TopForm } from './top-form.tsx';
import { faultWords, planWords } from './words.ts';
import './plan.css';

export function PlanView() {
  const { shelf } = useWorkshop();
  const editRecord = useEditRecord();
  const record = shelf.record.value;
  if (record === undefined || record.kind !== 'instrument')
    return (
      <EmptyView
        title={planWords().title}
        text={planWords().needsInstrument}
        to="#/record"
        toText={planWords().toRecords}
      />
    );
  if (record.plan === undefined)
    return (
      <section class="empty">
        <h1>{planWords().titleOf(record.name)}</h1>
        <p>{planWords().nothing}</p>
        <Button
          kind="primary"
          text={planWords().begin}
          onPress={() =>
            editRecord('new-plan', (current) => withPlan(current, withMeasuredWood(current, startPlan(current.hand))))
          }
        />
      </section>
    );
  return <PlanOf key={record.id} record={record} plan={record.plan} />;
}

function PlanOf(props: { readonly record: InstrumentRecord; readonly plan: Plan }) {
  const editRecord = useEditRecord();
  const { record, plan } = props;
  const [face, setFace] = useState<Face>('inside');
  const [chosenId, setChosen] = useState<string | undefined>(plan.braces[0]?.id);
  const now = planNow(record, plan);
  const chosen = plan.braces.find((brace) => brace.id === chosenId);
  const standing = now.braces.find((brace) => brace.id === chosenId);
  const { faults } = checkPlate(planCase(now, { hold: 'in-mould', bridge: 'glued' }));
  const faulty = new Set(faults.flatMap((fault) => ('id' in fault ? [fault.id] : [])));
  const mass = planMass(now);
  return (
    <div class="plan">
      <h1>{planWords().titleOf(record.name)}</h1>
      <div class="plan-columns">
        <section class="plan-sheet" aria-label={planWords().drawing}>
          <FaceSwitch face={face} onChange={setFace} />
          <PlanDrawing
            plan={now}
            hand={record.hand}
            face={face}
            chosen={chosenId}
            faulty={faulty}
            onChoose={setChosen}
            onMove={(id, end, to) =>
              editRecord('brace-place', (current) => changeBrace(current, id, (brace) => moveBraceEnd(brace, end, to)))
            }
          />
          {faults.length > 0 && (
            <ul class="plan-faults" role="status">
              {faults.map((fault) => (
                <li key={faultWords(fault, plan)}>{faultWords(fault, plan)}</li>
              ))}
            </ul>
          )}
          <Masses plan={now} mass={mass} />
        </section>
        <div class="plan-forms">
          <ChooseBrace plan={plan} chosen={chosenId} onChoose={setChosen} />
          {chosen !== undefined && standing !== undefined && (
            <>
              <BraceForm key={chosen.id} record={record} plan={plan} brace={chosen} standing={standing} />
              <ShavingEntry key={`shave ${chosen.id}`} record={record} plan={now} brace={standing} />
            </>
          )}
          <PatternAndHand record={record} plan={plan} onChoose={setChosen} />
          <TopForm record={record} plan={plan} />
          <PlanSheets record={record} plan={now} />
        </div>
      </div>
    </div>
  );
}

export function FaceSwitch(props: { readonly face: Face; readonly onChange: (face: Face) => void }) {
  return (
    <fieldset class="switch">
      <legend class="visually-hidden">{planWords().seenFrom}</legend>
      {(['inside', 'outside'] as const).map((face) => (
        <Button
          key={face}
          text={planWords().from[face]}
          isChosen={props.face === face}
          onPress={() => props.onChange(face)}
        />
      ))}
    </fieldset>
  );
}

function Masses(props: { readonly plan: Plan; readonly mass: PlanMass }) {
  const { mass, plan } = props;
  const t = planWords();
  const grams = (g: number) => `${number(g, 1)}\u00a0g`;
  return (
    <div class="plan-mass">
      <p>
        <Emphasised
          text={t.drawn(grams(mass.totalG), number(mass.centre[0], 0), number(Math.abs(mass.centre[1]), 1))}
          part={grams(mass.totalG)}
        />
      </p>
      <details>
        <summary>{t.masses}</summary>
        <Table
          rows={[
            [t.plate, grams(mass.plateG)],
            [t.bridgePlate, grams(mass.bridgePlateG)],
            ...plan.braces.map((brace) => [brace.name, grams(mass.bracesG.get(brace.id) ?? 0)]),
          ]}
        />
        <p class="hint">{t.massHint}</p>
      </details>
    </div>
  );
}

function ChooseBrace(props: {
  readonly plan: Plan;
  readonly chosen: string | undefined;
  readonly onChoose: (id: string) => void;
}) {
  const { newId } = useWorkshop();
  const editRecord = useEditRecord();
  const { plan } = props;
  const add = () => {
    const id = newId();
    editRecord('new-brace', (record) =>
      changePlan(record, (current) => ({
        ...current,
        braces: [
          ...current.braces,
          {
            id,
            name: planWords().newBrace(current.braces.length + 1),
            from: { xMm: 120, yMm: -60 },
            to: { xMm: 120, yMm: 60 },
            widthMm: 7,
            profile: [
              { atMm: 0, heightMm: 3 },
              { atMm: 25, heightMm: 9 },
              { atMm: 95, heightMm: 9 },
              { atMm: 120, heightMm: 3 },
            ],
            section: 'rounded',
            grainDeg: 0,
            structural: false,
            floors: [],
          },
        ],
      })),
    );
    props.onChoose(id);
  };
  return (
    <div class="plan-choose">
      {plan.braces.length > 0 && (
        <ChoiceField
          label={planWords().brace}
          value={props.chosen ?? ''}
          options={[
            ...(plan.braces.some((brace) => brace.id === props.chosen) ? [] : [['', planWords().chooseBrace] as const]),
            ...plan.braces.map((brace) => [brace.id, brace.name] as const),
          ]}
          onChange={props.onChoose}
        />
      )}
      <Button kind="quiet" text={planWords().addBrace} onPress={add} />
    </div>
  );
}

function PatternAndHand(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly onChoose: (id: string | undefined) => void;
}) {
  const editRecord = useEditRecord();
  const { record } = props;
  const t = planWords();
  const other = record.hand === 'left' ? 'right' : 'left';
  const hasCuts = cutsMade(record).some(({ on }) => on.length > 0);
  const lay = (pattern: Pattern) => {
    editRecord('pattern', (current) =>
      changePlan(current, (plan) => {
        const laid = { ...plan, braces: [...patternBraces(pattern, plan)] };
        return current.hand === 'left' ? { ...laid, braces: mirroredPlan(laid).braces } : laid;
      }),
    );
    props.onChoose(undefined);
  };
  return (
    <FoldedCard title={t.patternAndHand}>
      <p>
        {t.player[record.hand]} <Button text={t.mirrorFor[other]} onPress={() => editRecord('mirrored', changeHand)} />
      </p>
      <p class="hint">
        {t.patternHint}
        {hasCuts && ` ${t.cutsStay}`}
      </p>
      <Actions>
        {patterns.map((pattern) => (
          <Button key={pattern} text={t.patterns[pattern]} onPress={() => lay(pattern)} />
        ))}
      </Actions>
    </FoldedCard>
  );
}
