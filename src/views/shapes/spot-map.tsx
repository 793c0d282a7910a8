// The numbered spots of a roving round on the plate as drawn.
import { drawnOutline, planOnBench } from '../../forecast/roving-question.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import type { RovingRound } from '../../record/roving-edit.ts';
import { onScreen } from '../plan/face.ts';
import { PlanDrawing } from '../plan/plan-drawing.tsx';

/** How a spot stands. */
export type SpotState = 'now' | 'done' | 'doubtful' | 'open';

/** Nothing where no plate is drawn, or the spots have no places on it. */
export function SpotMap(props: {
  readonly record: InstrumentRecord;
  readonly step: Step;
  readonly spots: RovingRound['roving']['spots'];
  readonly stateOf: (spot: number) => SpotState;
}) {
  const { record, step, spots } = props;
  if (record.plan === undefined || drawnOutline(record) === undefined || spots[0]?.xMm === undefined) return null;
  return (
    <div class="spot-map">
      <PlanDrawing plan={planOnBench(record, record.plan, step)} hand={record.hand} face="outside">
        {spots.map(({ xMm, yMm }, i) => {
          if (xMm === undefined || yMm === undefined) return null;
          const [x, y] = onScreen('outside', [xMm, yMm]);
          return (
            <g key={i} class={`spot ${props.stateOf(i)}`}>
              <circle cx={x} cy={y} r={props.stateOf(i) === 'now' ? 20 : 13} />
              <text x={x} y={y}>
                {i + 1}
              </text>
            </g>
          );
        })}
      </PlanDrawing>
    </div>
  );
}
