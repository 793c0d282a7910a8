// The plate as drawn: its wood and what is on it, its braces, and which side is which.
import { braceRectangle } from '../../plate/footprint.ts';
import { boundingBox, type Point } from '../../plate/outline.ts';
import { braceCase, slabPolygon } from '../../record/plan-case.ts';
import { saddleMm } from '../../record/plan-outline.ts';
import type { InstrumentRecord, Plan, PlanBrace } from '../../record/record.ts';
import { type Face, onScreen, pathOf } from './face.ts';
import { planWords, sideWords } from './words.ts';

export function DrawnWood(props: {
  readonly plan: Plan;
  readonly face: Face;
  readonly outline: readonly Point[];
  readonly showBridge: boolean;
}) {
  const { plan, face, outline } = props;
  if (outline.length === 0) return null;
  const [x0, , x1] = boundingBox(outline);
  const saddle = saddleMm(plan, outline);
  const hole = plan.soundhole;
  const [hx, hy] = onScreen(face, [hole?.xMm ?? 0, hole?.yMm ?? 0]);
  const block = (from: number, alongMm: number, acrossMm: number): Point[] => [
    [from, -acrossMm / 2],
    [from + alongMm, -acrossMm / 2],
    [from + alongMm, acrossMm / 2],
    [from, acrossMm / 2],
  ];
  const half = plan.bridge.acrossMm / 2 - 12;
  return (
    <>
      <clipPath id="plan-outline">
        <path d={pathOf(face, outline, true)} />
      </clipPath>
      <path class="plan-wood" d={pathOf(face, outline, true)} />
      <g clip-path="url(#plan-outline)">
        <path class="plan-lining" d={pathOf(face, outline, true)} stroke-width={2 * Math.max(0, plan.liningMm)} />
        <path
          class="plan-block"
          d={pathOf(face, block(x1 - plan.neckBlock.alongMm, plan.neckBlock.alongMm, plan.neckBlock.acrossMm), true)}
        />
        <path class="plan-block" d={pathOf(face, block(x0, plan.tailBlock.alongMm, plan.tailBlock.acrossMm), true)} />
      </g>
      <path
        class="plan-joint"
        d={pathOf(
          face,
          [
            [x0, 0],
            [x1, 0],
          ],
          false,
        )}
      />
      {hole !== undefined && <circle class="plan-hole" cx={hx} cy={hy} r={Math.max(0, hole.radiusMm)} />}
      <path class="plan-slab" d={pathOf(face, slabPolygon(plan, plan.bridgePlate, outline), true)} />
      {props.showBridge && <path class="plan-bridge" d={pathOf(face, slabPolygon(plan, plan.bridge, outline), true)} />}
      <path
        class="plan-saddle"
        d={pathOf(
          face,
          [
            [saddle, -half],
            [saddle, half],
          ],
          false,
        )}
      />
      <path class="plan-edge" d={pathOf(face, outline, true)} />
    </>
  );
}

export function Brace(props: {
  readonly plan: Plan;
  readonly brace: PlanBrace;
  readonly face: Face;
  readonly chosen: boolean;
  readonly faulty: boolean;
  readonly onChoose: ((braceId: string) => void) | undefined;
}) {
  const { brace, onChoose } = props;
  const classes = ['plan-brace', props.chosen && 'chosen', props.faulty && 'faulty', brace.structural && 'structural'];
  const path = pathOf(props.face, braceRectangle(braceCase(props.plan, brace)), true);
  const [x, y] = onScreen(props.face, [(brace.from.xMm + brace.to.xMm) / 2, (brace.from.yMm + brace.to.yMm) / 2]);
  return (
    <g onClick={() => onChoose?.(brace.id)}>
      <path class={classes.filter(Boolean).join(' ')} d={path}>
        <title>{brace.name}</title>
      </path>
      {props.faulty && (
        <text class="plan-fault" x={x} y={y}>
          !
        </text>
      )}
    </g>
  );
}

export function Sides(props: {
  readonly hand: InstrumentRecord['hand'];
  readonly face: Face;
  readonly outline: readonly Point[];
}) {
  if (props.outline.length === 0) return null;
  const [x0, y0, , y1] = boundingBox(props.outline);
  const half = Math.max(y1, -y0);
  const [left, right] = sideWords(props.hand, props.face);
  return (
    <>
      <text class="plan-side" x={-half} y={-x0 + 20}>
        {left}
      </text>
      <text class="plan-side end" x={half} y={-x0 + 20}>
        {right}
      </text>
      <text class="plan-side middle" x={0} y={-x0 + 20}>
        {planWords().underDrawing[props.face]}
      </text>
    </>
  );
}
