// Plain drawings of the box from the side: how each state is set up, and what moves in each mode. Top above, back below,
// bridge on the left, hole on the right.
import type { Part, PerPart } from '../../box/pistons.ts';
import type { BoxState } from '../../compare/box-state.ts';
import { boxWords, partWords } from './words.ts';
import './box-drawing.css';

const top = 58;
const back = 118;
const left = 24;
const right = 296;
const hole = { from: 184, to: 228 } as const;
const bridge = 100;

function Shell(props: { readonly topRise?: number; readonly backRise?: number }) {
  const up = props.topRise ?? 0;
  const down = props.backRise ?? 0;
  return (
    <>
      {(up !== 0 || down !== 0) && (
        <path
          class="drawn-rest"
          d={`M${left} ${top} H${hole.from} M${hole.to} ${top} H${right} M${left} ${back} H${right}`}
        />
      )}
      <path class="drawn" d={`M${left} ${top} V${back} M${right} ${top} V${back}`} />
      <path class="drawn" d={`M${left} ${top} Q${bridge} ${top - 2 * up} ${hole.from} ${top}`} />
      <path class="drawn" d={`M${hole.to} ${top} H${right}`} />
      <path class="drawn" d={`M${left} ${back} Q${(left + right) / 2} ${back + 2 * down} ${right} ${back}`} />
    </>
  );
}

function Arrow(props: { readonly x: number; readonly from: number; readonly to: number }) {
  const { x, from, to } = props;
  const length = Math.abs(to - from);
  if (length < 2) return <circle class="drawn-still" cx={x} cy={from} r={3} />;
  // a short arrow is all head
  const head = Math.min(11, length);
  const neck = to > from ? to - head : to + head;
  return (
    <>
      <path class="drawn-arrow" d={`M${x} ${from} V${neck}`} />
      <path class="drawn-accent" d={`M${x} ${to} L${x - 0.6 * head} ${neck} H${x + 0.6 * head} Z`} />
    </>
  );
}

/** How a state is set up. */
export function StateDrawing(props: { readonly state: BoxState }) {
  const { state } = props;
  const { drawings, drawn } = boxWords().rounds;
  return (
    <svg class="box-drawing" viewBox="0 0 320 176" role="img" aria-label={drawings[state]}>
      <Shell />
      <rect class="drawn-solid" x={bridge - 16} y={top - 8} width={32} height={7} />
      {state === 'blocked' && (
        <>
          <rect class="drawn-accent" x={hole.from - 12} y={top - 9} width={hole.to - hole.from + 24} height={8} />
          <text x={(hole.from + hole.to) / 2} y={top - 18} text-anchor="middle">
            {drawn.closedTight}
          </text>
        </>
      )}
      {state === 'back-damped' && (
        <>
          <rect class="drawn-accent" x={left + 8} y={back + 3} width={right - left - 16} height={16} rx={8} />
          <text x={(left + right) / 2} y={back + 38} text-anchor="middle">
            {drawn.pressed}
          </text>
        </>
      )}
      {state === 'mass' && (
        <>
          <rect class="drawn-accent" x={bridge - 10} y={top - 24} width={20} height={16} rx={4} />
          <text x={bridge - 18} y={top - 14} text-anchor="end">
            {drawn.mass}
          </text>
        </>
      )}
      {state === 'mass-on-back' && (
        <>
          <rect class="drawn-accent" x={(left + right) / 2 - 10} y={back + 2} width={20} height={16} rx={4} />
          <text x={(left + right) / 2 + 18} y={back + 16}>
            {drawn.mass}
          </text>
        </>
      )}
      {state === 'tap-on-back' ? (
        <Tap x={(left + right) / 2} from={back + 44} to={back + 8} text={back + 56} />
      ) : (
        <Tap x={state === 'mass' ? bridge + 24 : bridge} from={14} to={top - 14} text={12} beside />
      )}
      {state !== 'blocked' && (
        <text class="drawn-quiet" x={(hole.from + hole.to) / 2} y={top + 5} text-anchor="middle">
          {drawn.hole}
        </text>
      )}
    </svg>
  );
}

function Tap(props: {
  readonly x: number;
  readonly from: number;
  readonly to: number;
  readonly text: number;
  readonly beside?: boolean;
}) {
  const { tap } = boxWords().rounds.drawn;
  return (
    <>
      <Arrow x={props.x} from={props.from} to={props.to} />
      {props.beside ? (
        <text x={props.x + 10} y={props.text + 10}>
          {tap}
        </text>
      ) : (
        <text x={props.x + 12} y={props.text - 8}>
          {tap}
        </text>
      )}
    </>
  );
}

/** Largest arrow, and how far the plate below it bows, in units of the drawing. */
const longest = 34;
const bow = 0.35;

/**
 * What moves in a mode at the moment the largest mover is outermost.
 * @param pushed air each part pushes outward, any common unit, signed
 */
export function ModeDrawing(props: { readonly pushed: PerPart; readonly text: string }) {
  const { pushed } = props;
  const most = Math.max(...Object.values(pushed).map(Math.abs), Number.MIN_VALUE);
  const length = (part: Part) => (longest * (pushed[part] ?? 0)) / most;
  const out = { top: length('top'), back: length('back'), air: length('air') };
  const middle = (left + right) / 2;
  const holeAt = (hole.from + hole.to) / 2;
  const topAt = top - bow * out.top;
  const backAt = back + bow * out.back;
  return (
    <svg class="box-drawing" viewBox="0 0 320 176" role="img" aria-label={props.text}>
      <Shell topRise={bow * out.top} backRise={bow * out.back} />
      {pushed.top !== undefined && <Mover x={bridge} from={topAt} to={topAt - out.top} name={partWords.top} below />}
      {pushed.back !== undefined && <Mover x={middle} from={backAt} to={backAt + out.back} name={partWords.back} />}
      {pushed.air !== undefined && <Mover x={holeAt} from={top} to={top - out.air} name={partWords.air} below />}
    </svg>
  );
}

/** An arrow with the name of what moves beside it, clear of where the arrow may go. */
function Mover(props: {
  readonly x: number;
  readonly from: number;
  readonly to: number;
  readonly name: string;
  readonly below?: boolean;
}) {
  return (
    <>
      <Arrow x={props.x} from={props.from} to={props.to} />
      <text class="drawn-quiet" x={props.x + 12} y={props.below ? top + 22 : back - 12}>
        {props.name}
      </text>
    </>
  );
}
