// A board to scale: its grain, the node lines of one mode, where to hold it and where to tap.
import type { HoldGuide } from '../../wood/hold-guide.ts';
import { woodWords } from './words.ts';

/** Grain lines drawn on a board. */
const grainLines = 11;

export function WoodDrawing(props: {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly guide: Pick<HoldGuide, 'nodeLines' | 'hold' | 'strike'> | undefined;
  readonly title: string;
  /** without the words beside the marks */
  readonly small?: boolean;
}) {
  const { lengthMm, widthMm, guide } = props;
  const t = woodWords().measure;
  // A stick is drawn thicker than to scale, or its marks would not fit on it.
  const drawnWidth = Math.max(widthMm, lengthMm / 8);
  const unit = lengthMm / 100;
  const at = (point: { readonly xMm: number; readonly yMm: number }) =>
    [point.xMm, drawnWidth * (1 - point.yMm / widthMm)] as const;
  const margin = 9 * unit;
  const box = [-margin, -margin, lengthMm + 2 * margin, drawnWidth + 2 * margin].map((value) => value.toFixed(1));
  return (
    <svg class="board-drawing" viewBox={box.join(' ')} role="img" aria-label={props.title}>
      <rect class="board-wood" x="0" y="0" width={lengthMm} height={drawnWidth} rx={unit / 2} />
      {Array.from({ length: grainLines }, (_, k) => {
        const y = (drawnWidth * (k + 1)) / (grainLines + 1);
        return <line key={k} class="board-grain" x1="0" x2={lengthMm} y1={y} y2={y} />;
      })}
      {guide?.nodeLines.map((line, k) => (
        <polyline key={k} class="board-node" points={line.map((point) => at(point).join(',')).join(' ')} />
      ))}
      {guide !== undefined && (
        <>
          <Mark
            className="board-hold"
            at={at(guide.hold)}
            radius={2.6 * unit}
            text={props.small ? '' : t.hold}
            box={[lengthMm, drawnWidth]}
          />
          <Mark
            className="board-strike"
            at={at(guide.strike)}
            radius={2 * unit}
            text={props.small ? '' : t.tap}
            box={[lengthMm, drawnWidth]}
          />
        </>
      )}
    </svg>
  );
}

function Mark(props: {
  readonly className: string;
  readonly at: readonly [number, number];
  readonly radius: number;
  readonly text: string;
  readonly box: readonly [number, number];
}) {
  const [x, y] = props.at;
  const [length, width] = props.box;
  const size = length / 24;
  // Beside the mark, on the side where the board is.
  const left = x > 0.7 * length;
  const middle = y < size ? y - size * 0.6 : y > width - size ? y + size * 1.25 : y + size * 0.35;
  return (
    <>
      <circle class={props.className} cx={x} cy={y} r={props.radius} />
      {props.text !== '' && (
        <text
          class="board-text"
          x={left ? x - 1.6 * props.radius : x + 1.6 * props.radius}
          y={middle}
          font-size={size}
          text-anchor={left ? 'end' : 'start'}
        >
          {props.text}
        </text>
      )}
    </>
  );
}
