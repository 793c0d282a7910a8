// The top as a drawing true in proportion, 1 unit = 1 mm. Ends of the chosen brace can be dragged or moved by arrow keys.
import type { ComponentChildren } from 'preact';
import { useRef, useState } from 'preact/hooks';
import { braceRectangle } from '../../plate/footprint.ts';
import { boundingBox, type Point } from '../../plate/outline.ts';
import { braceCase, slabPolygon } from '../../record/plan-case.ts';
import { type BraceEnd, snapped } from '../../record/plan-edit.ts';
import { planOutline, pointOf, saddleMm } from '../../record/plan-outline.ts';
import type { InstrumentRecord, Place, Plan, PlanBrace } from '../../record/record.ts';
import { type Face, onPlan, onScreen, pathOf, viewBoxOf } from './face.ts';
import { planWords, sideWords } from './words.ts';
import './plan.css';

export interface DrawingProps {
  readonly plan: Plan;
  readonly hand: InstrumentRecord['hand'];
  readonly face: Face;
  readonly chosen?: string | undefined;
  /** braces and parts that have a fault */
  readonly faulty?: ReadonlySet<string>;
  readonly showBridge?: boolean;
  readonly onChoose?: (braceId: string) => void;
  readonly onMove?: (braceId: string, end: BraceEnd, to: Place) => void;
  /** drawn over the wood and under the handles, in screen millimetres */
  readonly children?: ComponentChildren;
}

export function PlanDrawing(props: DrawingProps) {
  const { plan, hand, face } = props;
  const svg = useRef<SVGSVGElement>(null);
  const [held, setHeld] = useState<{ readonly end: BraceEnd; readonly to: Place } | undefined>(undefined);
  const outline = planOutline(plan);
  const chosen = plan.braces.find((brace) => brace.id === props.chosen);
  const shown = chosen !== undefined && held !== undefined ? { ...chosen, [held.end]: held.to } : chosen;
  const placeAt = (event: PointerEvent): Place => {
    const matrix = svg.current?.getScreenCTM();
    if (!matrix) return { xMm: 0, yMm: 0 };
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    const [xMm, yMm] = onPlan(face, [at.x, at.y]);
    return snapped({ xMm, yMm });
  };
  return (
    <svg
      ref={svg}
      class="plan-drawing"
      viewBox={viewBoxOf(outline)}
      role="group"
      aria-label={planWords().drawingFrom[face]}
    >
      <Wood plan={plan} face={face} outline={outline} showBridge={props.showBridge ?? true} />
      {plan.braces.map((brace) => (
        <Brace
          key={brace.id}
          plan={plan}
          brace={brace.id === shown?.id ? shown : brace}
          face={face}
          chosen={brace.id === props.chosen}
          faulty={props.faulty?.has(brace.id) ?? false}
          onChoose={props.onChoose}
        />
      ))}
      {props.children}
      <Sides hand={hand} face={face} outline={outline} />
      {shown !== undefined &&
        props.onMove !== undefined &&
        (['from', 'to'] as const).map((end) => (
          <Handle
            key={end}
            label={(end === 'from' ? planWords().firstEndOf : planWords().secondEndOf)(shown.name)}
            at={onScreen(face, pointOf(shown[end]))}
            onHold={(event) => setHeld({ end, to: placeAt(event) })}
            onLetGo={() => {
              if (held !== undefined) props.onMove?.(shown.id, end, held.to);
              setHeld(undefined);
            }}
            onStep={(dx, dy) => {
              const [x, y] = onPlan(face, [dx, dy]);
              const { xMm, yMm } = shown[end];
              props.onMove?.(shown.id, end, { xMm: xMm + x, yMm: yMm + y });
            }}
          />
        ))}
    </svg>
  );
}

function Wood(props: {
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

function Brace(props: {
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

function Sides(props: {
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

const steps: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

function Handle(props: {
  readonly label: string;
  readonly at: Point;
  readonly onHold: (event: PointerEvent) => void;
  readonly onLetGo: () => void;
  readonly onStep: (dx: number, dy: number) => void;
}) {
  const [isHeld, setIsHeld] = useState(false);
  const [x, y] = props.at;
  return (
    <g
      class="plan-handle"
      role="button"
      tabindex={0}
      aria-label={props.label}
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        setIsHeld(true);
        event.preventDefault();
      }}
      onPointerMove={(event) => isHeld && props.onHold(event)}
      onPointerUp={() => {
        setIsHeld(false);
        props.onLetGo();
      }}
      onPointerCancel={() => setIsHeld(false)}
      onKeyDown={(event) => {
        const step = steps[event.key];
        if (step === undefined) return;
        event.preventDefault();
        const size = event.shiftKey ? 10 : 1;
        props.onStep(step[0] * size, step[1] * size);
      }}
    >
      <circle class="plan-handle-reach" cx={x} cy={y} r={14} />
      <circle class="plan-handle-dot" cx={x} cy={y} r={5.5} />
    </g>
  );
}
