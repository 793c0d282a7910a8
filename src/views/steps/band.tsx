// One target as a line to be read across the bench: its band, where the mode stands, and where the next pass lands.
import { type Estimate, HALF_WIDTH_95 } from '../../quantity/estimate.ts';
import type { Target } from '../../record/record.ts';
import { forecastWords } from '../forecast/words.ts';
import { number, parts, withHalfWidth } from '../parts/figures.ts';
import './next-pass.css';

/** Units of the drawing. */
const width = 600;
const height = 40;
const margin = 12;

export function TargetBand(props: {
  readonly target: Target;
  readonly now: Estimate;
  /** where the next pass lands */
  readonly lands?: Estimate | undefined;
}) {
  const { target, now, lands } = props;
  const t = forecastWords().nextPass;
  const { frequencyHz, toleranceHz } = target;
  const shown = [now, ...(lands === undefined ? [] : [lands])];
  const ends = shown.flatMap(({ value, sigma }) => [value - HALF_WIDTH_95 * sigma, value + HALF_WIDTH_95 * sigma]);
  const least = Math.min(frequencyHz - 2 * toleranceHz, ...ends);
  const most = Math.max(frequencyHz + 2 * toleranceHz, ...ends);
  const x = (hz: number) => margin + ((hz - least) / (most - least)) * (width - 2 * margin);
  const leftHz = now.value - frequencyHz;
  const state = Math.abs(leftHz) <= toleranceHz ? 'reached' : leftHz < 0 ? 'past' : 'to-go';
  const { value, halfWidth } = parts(now, 2);
  const wanted = t.wanted(number(frequencyHz, 1), number(toleranceHz, 1));
  return (
    <div class={`target-band ${state}`}>
      <p class="band-figures">
        <strong>{target.mode}</strong>
        <span class="band-now">
          {value}
          <span class="band-unit"> ± {halfWidth} Hz</span>
        </span>
        <span>{wanted}</span>
        <span class="band-left">
          {state === 'to-go' ? t.toGo(`${number(leftHz, 1)} Hz`) : state === 'past' ? t.past : t.reached}
        </span>
      </p>
      <svg
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={t.band(target.mode, withHalfWidth(now, 'Hz'), wanted)}
      >
        <path class="band-line" d={`M${margin} 20H${width - margin}`} />
        <rect
          class="band-target"
          x={x(frequencyHz - toleranceHz)}
          y={6}
          width={x(frequencyHz + toleranceHz) - x(frequencyHz - toleranceHz)}
          height={28}
        />
        {lands !== undefined && <Mark at={lands} x={x} kind="lands" />}
        <Mark at={now} x={x} kind="now" />
      </svg>
    </div>
  );
}

/** A figure on the line: a dot, and its interval as a bar. */
function Mark(props: { readonly at: Estimate; readonly x: (hz: number) => number; readonly kind: 'now' | 'lands' }) {
  const { at, x, kind } = props;
  const half = HALF_WIDTH_95 * at.sigma;
  return (
    <g class={`band-mark ${kind}`}>
      <path d={`M${x(at.value - half)} 20H${x(at.value + half)}`} />
      <circle cx={x(at.value)} cy={20} r={kind === 'now' ? 9 : 7} />
    </g>
  );
}
