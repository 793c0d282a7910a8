// The plan: the top drawn, edited by hand and by number, shaved, weighed and printed.
import { useState } from 'preact/hooks';
import { checkPlate } from '../plate/plate-check.ts';
import { planCase } from '../record/plan-case.ts';
import { planNow } from '../record/plan-course.ts';
import {
  changeBrace,
  changeHand,
  changePlan,
  mirroredPlan,
  moveBraceEnd,
  startPlan,
  withPlan,
} from '../record/plan-edit.ts';
import { type PlanMass, planMass } from '../record/plan-mass.ts';
import { type Pattern, patternBraces, patterns } from '../record/plan-patterns.ts';
import { withMeasuredWood } from '../record/plan-wood.ts';
import type { InstrumentRecord, Plan } from '../record/record.ts';
import { ChoiceField } from './fields.tsx';
import { number } from './figures.ts';
import { BraceForm } from './plan-brace-form.tsx';
import { PlanDrawing } from './plan-drawing.tsx';
import { ShavingEntry } from './plan-shaving.tsx';
import { PlanSheets } from './plan-sheets.tsx';
import { TopForm } from './plan-top-form.tsx';
import { type Face, faultWords, patternWords } from './plan-words.ts';
import { useWorkshop } from './workshop-context.ts';

export function PlanView() {
  const { shelf } = useWorkshop();
  const record = shelf.record.value;
  if (record === undefined || record.kind !== 'instrument')
    return (
      <section class="empty">
        <h1>Plan</h1>
        <p>A plan belongs to an instrument. Open one first.</p>
        <a class="primary button" href="#/record">
          To the records
        </a>
      </section>
    );
  if (record.plan === undefined)
    return (
      <section class="empty">
        <h1>Plan of {record.name}</h1>
        <p>
          Nothing is drawn yet. Begin with an X pattern on a concert body of our own dimensions; outline, braces and
          woods can all be changed afterwards.
        </p>
        <button
          type="button"
          class="primary"
          onClick={() =>
            shelf.edit('new-plan', (current) => withPlan(current, withMeasuredWood(current, startPlan(current.hand))))
          }
        >
          Begin a plan
        </button>
      </section>
    );
  return <PlanOf key={record.id} record={record} plan={record.plan} />;
}

function PlanOf(props: { readonly record: InstrumentRecord; readonly plan: Plan }) {
  const { shelf } = useWorkshop();
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
      <h1>Plan of {record.name}</h1>
      <div class="plan-columns">
        <section class="plan-sheet" aria-label="Drawing">
          <FaceSwitch face={face} onChange={setFace} />
          <PlanDrawing
            plan={now}
            hand={record.hand}
            face={face}
            chosen={chosenId}
            faulty={faulty}
            onChoose={setChosen}
            onMove={(id, end, to) =>
              shelf.edit('brace-place', (current) => changeBrace(current, id, (brace) => moveBraceEnd(brace, end, to)))
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
      <legend class="visually-hidden">Seen from</legend>
      {(['inside', 'outside'] as const).map((face) => (
        <button type="button" key={face} aria-pressed={props.face === face} onClick={() => props.onChange(face)}>
          From {face}
        </button>
      ))}
    </fieldset>
  );
}

function Masses(props: { readonly plan: Plan; readonly mass: PlanMass }) {
  const { mass, plan } = props;
  const grams = (g: number) => `${number(g, 1)}\u00a0g`;
  return (
    <div class="plan-mass">
      <p>
        <strong>{grams(mass.totalG)}</strong> drawn, without bridge; centre of gravity {number(mass.centre[0], 0)} mm
        from the tail, {number(Math.abs(mass.centre[1]), 1)} mm off the centre line.
      </p>
      <details>
        <summary>Plate and every brace</summary>
        <table>
          <tbody>
            <tr>
              <th scope="row">Plate</th>
              <td>{grams(mass.plateG)}</td>
            </tr>
            <tr>
              <th scope="row">Bridge plate</th>
              <td>{grams(mass.bridgePlateG)}</td>
            </tr>
            {plan.braces.map((brace) => (
              <tr key={brace.id}>
                <th scope="row">{brace.name}</th>
                <td>{grams(mass.bracesG.get(brace.id) ?? 0)}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <p class="hint">From the drawn sizes and the density of the wood: as sure as that density.</p>
      </details>
    </div>
  );
}

function ChooseBrace(props: {
  readonly plan: Plan;
  readonly chosen: string | undefined;
  readonly onChoose: (id: string) => void;
}) {
  const { shelf, newId } = useWorkshop();
  const { plan } = props;
  const add = () => {
    const id = newId();
    shelf.edit('new-brace', (record) =>
      changePlan(record, (current) => ({
        ...current,
        braces: [
          ...current.braces,
          {
            id,
            name: `Brace ${current.braces.length + 1}`,
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
          label="Brace"
          value={props.chosen ?? ''}
          options={[
            ...(plan.braces.some((brace) => brace.id === props.chosen) ? [] : [['', 'Choose a brace'] as const]),
            ...plan.braces.map((brace) => [brace.id, brace.name] as const),
          ]}
          onChange={props.onChoose}
        />
      )}
      <button type="button" class="quiet" onClick={add}>
        Add a brace
      </button>
    </div>
  );
}

function PatternAndHand(props: {
  readonly record: InstrumentRecord;
  readonly plan: Plan;
  readonly onChoose: (id: string | undefined) => void;
}) {
  const { shelf } = useWorkshop();
  const { record } = props;
  const hasCuts = record.steps.some((step) => step.shavings.some((shaving) => shaving.after !== undefined));
  const lay = (pattern: Pattern) => {
    shelf.edit('pattern', (current) =>
      changePlan(current, (plan) => {
        const laid = { ...plan, braces: [...patternBraces(pattern, plan)] };
        return current.hand === 'left' ? { ...laid, braces: mirroredPlan(laid).braces } : laid;
      }),
    );
    props.onChoose(undefined);
  };
  return (
    <details class="card">
      <summary>Pattern and hand</summary>
      <p>
        For a {record.hand === 'left' ? 'left' : 'right'}-handed player.{' '}
        <button type="button" onClick={() => shelf.edit('mirrored', changeHand)}>
          Mirror for the {record.hand === 'left' ? 'right' : 'left'} hand
        </button>
      </p>
      <p class="hint">
        A pattern takes the place of all braces. Its dimensions are a start, not advice.
        {hasCuts ? ' Shavings drawn on this plan stay in their steps, but no longer show on other braces.' : ''}
      </p>
      <div class="actions">
        {patterns.map((pattern) => (
          <button type="button" key={pattern} onClick={() => lay(pattern)}>
            {patternWords[pattern]}
          </button>
        ))}
      </div>
    </details>
  );
}
