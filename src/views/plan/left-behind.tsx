// A plan whose scale, soundhole or outline was changed: its braces still stand where they were laid, until the maker has them follow.
import { cutsMade } from '../../record/cuts.ts';
import { changePlan } from '../../record/plan-edit.ts';
import { laidAnew, settledPlan } from '../../record/plan-layout.ts';
import type { InstrumentRecord, Plan, PlanBrace } from '../../record/record.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { useLength } from '../parts/own-units.ts';
import { useEditRecord } from '../workshop-context.ts';
import { planWords } from './words.ts';

/** The plan as drawn with its braces laid out anew; undefined where they stand as they should. */
export function followingPlan(record: InstrumentRecord): Plan | undefined {
  const cutIds = new Set(cutsMade(record).flatMap(({ on }) => on.map(({ brace }) => brace.id)));
  return record.plan && laidAnew(record.plan, record.hand, cutIds);
}

export function LeftBehind(props: { readonly plan: Plan; readonly following: Plan }) {
  const editRecord = useEditRecord();
  const length = useLength('rule', 0);
  const { plan, following } = props;
  const t = planWords().leftBehind;
  const moves = plan.braces.map((brace, i) => farthest(brace, following.braces[i]!));
  const moved = moves.filter((mm) => mm > 0);
  return (
    <div class="note" role="status">
      <p>{t.said(moved.length, length(Math.max(...moved)))}</p>
      <Actions>
        <Button
          kind="primary"
          text={t.layAnew}
          onPress={() =>
            editRecord('pattern', (record) => {
              const laid = followingPlan(record);
              return laid === undefined ? record : { ...record, plan: laid };
            })
          }
        />
        <Button text={t.leave} onPress={() => editRecord('pattern', (record) => changePlan(record, settledPlan))} />
      </Actions>
    </div>
  );
}

const farthest = (from: PlanBrace, to: PlanBrace): number =>
  Math.max(
    ...(['from', 'to'] as const).map((end) => Math.hypot(to[end].xMm - from[end].xMm, to[end].yMm - from[end].yMm)),
  );
