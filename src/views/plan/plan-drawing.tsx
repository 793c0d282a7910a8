// The top as a drawing true in proportion, 1 unit = 1 mm. Ends of the chosen brace can be dragged or moved by arrow keys.
import type { ComponentChildren } from 'preact';
import { useRef, useState } from 'preact/hooks';
import { braceRectangle } from '../../plate/footprint.ts';
import type { Point } from '../../plate/outline.ts';
import { braceCase } from '../../record/plan-case.ts';
import { type BraceEnd, snapped } from '../../record/plan-edit.ts';
import { planOutline, pointOf } from '../../record/plan-outline.ts';
import type { InstrumentRecord, Plan, PlanPoint } from '../../record/record.ts';
import { useRoundLength } from '../parts/own-units.ts';
import { type Face, onPlan, onScreen, pathOf, viewBoxOf } from './face.ts';
import { planWords } from './words.ts';
import './plan.css';
import { Brace, DrawnWood, Sides } from './drawn-plate.tsx';

export interface DrawingProps {
  readonly plan: Plan;
  readonly hand: InstrumentRecord['hand'];
  readonly face: Face;
  readonly chosen?: string | undefined;
  /** braces and parts that have a fault */
  readonly faulty?: ReadonlySet<string>;
  /** the plan with its braces laid out anew, drawn dashed where they would go elsewhere */
  readonly following?: Plan | undefined;
  readonly showBridge?: boolean;
  readonly onChoose?: (braceId: string) => void;
  readonly onMove?: (braceId: string, end: BraceEnd, to: PlanPoint) => void;
  /** drawn over the wood and under the handles, in screen millimetres */
  readonly children?: ComponentChildren;
}

export function PlanDrawing(props: DrawingProps) {
  const { plan, hand, face } = props;
  const svg = useRef<SVGSVGElement>(null);
  const [step, far] = [useRoundLength()(1, 1 / 32), useRoundLength()(FAR, FAR / 32)];
  const [held, setHeld] = useState<{ readonly end: BraceEnd; readonly to: PlanPoint } | undefined>(undefined);
  const outline = planOutline(plan);
  const chosen = plan.braces.find((brace) => brace.id === props.chosen);
  const shown = chosen !== undefined && held !== undefined ? { ...chosen, [held.end]: held.to } : chosen;
  const placeAt = (event: PointerEvent): PlanPoint => {
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
      <DrawnWood plan={plan} face={face} outline={outline} showBridge={props.showBridge ?? true} />
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
      {props.following?.braces
        .filter(({ from, to }, i) => from !== plan.braces[i]?.from || to !== plan.braces[i]?.to)
        .map((brace) => (
          <path key={brace.id} class="plan-following" d={pathOf(face, braceRectangle(braceCase(plan, brace)), true)} />
        ))}
      {props.children}
      <Sides hand={hand} face={face} outline={outline} />
      {shown !== undefined &&
        props.onMove !== undefined &&
        (['from', 'to'] as const).map((end) => (
          <Handle
            key={end}
            label={(end === 'from' ? planWords().firstEndOf : planWords().secondEndOf)(shown.name, step.said, far.said)}
            at={onScreen(face, pointOf(shown[end]))}
            onHold={(event) => setHeld({ end, to: placeAt(event) })}
            onLetGo={() => {
              if (held !== undefined) props.onMove?.(shown.id, end, held.to);
              setHeld(undefined);
            }}
            onStep={(dx, dy) => {
              const [x, y] = onPlan(face, [dx * step.mm, dy * step.mm]);
              const { xMm, yMm } = shown[end];
              props.onMove?.(shown.id, end, { xMm: xMm + x, yMm: yMm + y });
            }}
          />
        ))}
    </svg>
  );
}

/** So many steps at once with Shift. */
const FAR = 10;

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
        const size = event.shiftKey ? FAR : 1;
        props.onStep(step[0] * size, step[1] * size);
      }}
    >
      <circle class="plan-handle-reach" cx={x} cy={y} r={14} />
      <circle class="plan-handle-dot" cx={x} cy={y} r={5.5} />
    </g>
  );
}
