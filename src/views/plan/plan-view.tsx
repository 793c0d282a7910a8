// The plan: the top drawn, edited by hand and by number, shaved, weighed and printed.

import { useState } from 'preact/hooks';
import { checkPlate } from '../../plate/plate-check.ts';
import { planNow } from '../../record/cuts.ts';
import { planCase } from '../../record/plan-case.ts';
import { changeBrace, moveBraceEnd, startPlan, withPlan } from '../../record/plan-edit.ts';
import { planMass } from '../../record/plan-mass.ts';
import { withMeasuredWood } from '../../record/plan-wood.ts';
import type { InstrumentRecord, Plan } from '../../record/record.ts';
import { Button } from '../parts/actions.tsx';
import { EmptyView } from '../parts/card.tsx';
import { useEditRecord, useWorkshop } from '../workshop-context.ts';
import { BraceForm } from './brace-form.tsx';
import type { Face } from './face.ts';
import { PlanDrawing } from './plan-drawing.tsx';
import { ShavingEntry } from './shaving.tsx';
import { PlanSheets } from './sheets.tsx';
import { TopForm } from './top-form.tsx';
import { faultWords, planWords } from './words.ts';
import './plan.css';
import './plan-print.css';
import { ChooseBrace, PatternAndHand } from './choose-brace.tsx';
import { FaceSwitch } from './face-switch.tsx';
import { followingPlan, LeftBehind } from './left-behind.tsx';
import { Masses } from './masses.tsx';

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
  const following = followingPlan(record);
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
            following={following}
            faulty={faulty}
            onChoose={setChosen}
            onMove={(id, end, to) =>
              editRecord('brace-place', (current) => changeBrace(current, id, (brace) => moveBraceEnd(brace, end, to)))
            }
          />
          {following !== undefined && <LeftBehind plan={plan} following={following} />}
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
