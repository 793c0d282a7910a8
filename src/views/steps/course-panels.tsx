// The course of the modes in small drawings, one a mode with a scale of its own, so that a shaving shows.
import type { ShownCourse } from '../../compare/shown-course.ts';
import type { Track } from '../../compare/tracks.ts';
import { HALF_WIDTH_95 } from '../../quantity/estimate.ts';
import type { InstrumentRecord, Target } from '../../record/record.ts';
import { number, parts } from '../parts/figures.ts';
import { tickDecimals, ticksWithin } from '../parts/ticks.ts';
import { words } from '../words/language.ts';
import '../parts/trace.css';
import './steps.css';

const width = 232;
const height = 150;
const box = { left: 40, right: 8, top: 10, bottom: 22 };

export function CoursePanels(props: { readonly record: InstrumentRecord; readonly course: ShownCourse }) {
  const { record, course } = props;
  const numberOf = new Map(record.steps.map((step, i) => [step.id, i + 1]));
  const numbers = course.tracks.flatMap((track) => track.points.map(({ step }) => numberOf.get(step.id) ?? 0));
  return (
    <div class="course-panels">
      {course.tracks.map((track) => (
        <Panel
          key={track.points[0]?.mode.frequencyHz.value}
          track={track}
          target={course.targets.find((target) => target.mode === track.name)}
          numberOf={(id) => numberOf.get(id) ?? 0}
          from={Math.min(...numbers)}
          to={Math.max(...numbers)}
        />
      ))}
    </div>
  );
}

function Panel(props: {
  readonly track: Track;
  readonly target: Target | undefined;
  readonly numberOf: (stepId: string) => number;
  readonly from: number;
  readonly to: number;
}) {
  const { track, target } = props;
  const points = track.points.map(({ step, mode }) => ({
    step: props.numberOf(step.id),
    hz: mode.frequencyHz.value,
    half: HALF_WIDTH_95 * mode.frequencyHz.sigma,
  }));
  const band =
    target === undefined ? [] : [target.frequencyHz - target.toleranceHz, target.frequencyHz + target.toleranceHz];
  const [low, high] = padded([...points.flatMap(({ hz, half }) => [hz - half, hz + half]), ...band]);
  const x = (step: number) =>
    props.from === props.to
      ? (box.left + width - box.right) / 2
      : box.left + 8 + ((step - props.from) / (props.to - props.from)) * (width - box.left - box.right - 16);
  const y = (hz: number) => box.top + ((high - hz) / (high - low)) * (height - box.top - box.bottom);
  const ticks = ticksWithin(low, high, 5);
  const name = track.name ?? `${parts(track.points.at(-1)!.mode.frequencyHz, 0).value} Hz`;
  return (
    <figure class="course-panel">
      <figcaption>
        <strong>{name}</strong>
        {target !== undefined && (
          <span> {words.report.target(`${number(target.frequencyHz, 1)} ± ${number(target.toleranceHz, 1)} Hz`)}</span>
        )}
      </figcaption>
      <svg class="trace" viewBox={`0 0 ${width} ${height}`} role="img" aria-label={words.report.panelTitle(name)}>
        {target !== undefined && (
          <rect
            class="trace-band"
            x={box.left}
            width={width - box.left - box.right}
            y={y(band[1]!)}
            height={y(band[0]!) - y(band[1]!)}
          />
        )}
        {ticks.map((hz) => (
          <g key={hz}>
            <path class="trace-grid" d={`M${box.left} ${y(hz)}H${width - box.right}`} />
            <text class="trace-tick end" x={box.left - 5} y={y(hz) + 4}>
              {number(hz, tickDecimals(ticks))}
            </text>
          </g>
        ))}
        {stepTicks(props.from, props.to).map((step) => (
          <text key={step} class="trace-tick middle" x={x(step)} y={height - 6}>
            {number(step, 0)}
          </text>
        ))}
        {points.map(({ step, hz, half }) => (
          <path
            key={step}
            class="trace-bar"
            d={`M${x(step)} ${y(hz - half)}V${y(hz + half)}M${x(step) - 3} ${y(hz - half)}h6M${x(step) - 3} ${y(hz + half)}h6`}
          />
        ))}
        <path
          class="trace-line"
          d={points.map(({ step, hz }, i) => `${i === 0 ? 'M' : 'L'}${x(step)} ${y(hz)}`).join('')}
        />
        {points.map(({ step, hz }) => (
          <circle key={step} class="trace-dot" cx={x(step)} cy={y(hz)} r={3.2} />
        ))}
      </svg>
    </figure>
  );
}

/** The span of the values with a little room, never nothing. */
function padded(values: readonly number[]): readonly [low: number, high: number] {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const room = Math.max(0.08 * (high - low), 0.002 * high);
  return [low - room, high + room];
}

/** Every step where there is room, else every second, third, ... */
function stepTicks(from: number, to: number): readonly number[] {
  const every = Math.ceil((to - from + 1) / 10);
  return Array.from({ length: Math.floor((to - from) / every) + 1 }, (_, i) => from + i * every);
}
