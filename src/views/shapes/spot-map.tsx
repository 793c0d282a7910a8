// The numbered spots of a roving round on the plate as drawn.
import { drawnOutline, planOnBench } from '../../forecast/roving-question.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import type { RovingRound } from '../../record/roving-edit.ts';
import { Button } from '../parts/actions.tsx';
import { onScreen } from '../plan/face.ts';
import { PlanDrawing } from '../plan/plan-drawing.tsx';
import { shapesWords } from './words.ts';

/** How a spot stands. */
export type SpotState = 'now' | 'done' | 'doubtful' | 'open';

interface Spots {
  readonly spots: RovingRound['roving']['spots'];
  readonly stateOf: (spot: number) => SpotState;
  /** pressed to tap that spot next */
  readonly onChoose?: (spot: number) => void;
}

/** The same without a drawing: the numbers in their order. */
export function SpotList({ spots, stateOf, onChoose }: Spots) {
  const t = shapesWords();
  return (
    <ol class="spot-list" aria-label={t.spotsInOrder}>
      {spots.map((_, i) => (
        <li key={i} class={stateOf(i)}>
          <Button text={t.spotState[stateOf(i)](i + 1)} isChosen={stateOf(i) === 'now'} onPress={() => onChoose?.(i)} />
        </li>
      ))}
    </ol>
  );
}

/** Nothing where no plate is drawn, or the spots have no places on it. */
export function SpotMap(
  props: Spots & {
    readonly record: InstrumentRecord;
    readonly step: Step;
  },
) {
  const { record, step, spots } = props;
  if (record.plan === undefined || drawnOutline(record) === undefined || spots[0]?.xMm === undefined) return null;
  return (
    <div class="spot-map">
      <PlanDrawing plan={planOnBench(record, record.plan, step)} hand={record.hand} face="outside">
        {spots.map(({ xMm, yMm }, i) => {
          if (xMm === undefined || yMm === undefined) return null;
          const [x, y] = onScreen('outside', [xMm, yMm]);
          return (
            <g key={i} class={`spot ${props.stateOf(i)}`} onClick={() => props.onChoose?.(i)}>
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
