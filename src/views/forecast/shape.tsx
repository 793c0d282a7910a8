// One mode on the plan: areas that move up while others move down, node lines, where to hold and where to tap.
import type { DrawnShape } from '../../forecast/top-modes.ts';
import type { Point } from '../../plate/outline.ts';
import { Emphasised } from '../parts/emphasised.tsx';
import { useLength } from '../parts/own-units.ts';
import { type Face, onScreen, pathOf, viewBoxOf } from '../plan/face.ts';
import { forecastWords } from './words.ts';

export function ShapeOnPlan(props: { readonly mode: DrawnShape; readonly face: Face; readonly isFree: boolean }) {
  const { mode, face, isFree } = props;
  return (
    <g class="shape">
      {mode.bands.map((band) => {
        const strength = Math.max(Math.abs(band.from), Math.abs(band.to)) > 0.7 ? 'strong' : 'weak';
        const d = band.polygons.map((polygon) => pathOf(face, polygon, true)).join('');
        const phase = band.from < 0 ? 'down' : 'up';
        return (
          <g key={band.from} class={`shape-band ${strength} ${phase}`}>
            <path class="shape-warm" d={d} />
            <path class="shape-cool" d={d} />
          </g>
        );
      })}
      {mode.contours.map((contour) => (
        <path
          key={contour.level}
          class={contour.level === 0 ? 'shape-node' : 'shape-level'}
          d={contour.lines.map((line) => pathOf(face, line, false)).join('')}
        />
      ))}
      {isFree &&
        mode.places.hold.map((place) => <Mark key={`hold ${place.join()}`} at={onScreen(face, place)} kind="hold" />)}
      {mode.places.tap.map((place) => (
        <Mark key={`tap ${place.join()}`} at={onScreen(face, place)} kind="tap" />
      ))}
    </g>
  );
}

/** The node lines of a mode, as a small picture beside its name. */
export function ModePicture(props: {
  readonly mode: DrawnShape;
  readonly outline: readonly Point[];
  readonly face: Face;
}) {
  const { mode, outline, face } = props;
  const nodeLines = mode.contours.filter(({ level }) => level === 0).flatMap(({ lines }) => lines);
  return (
    <svg class="mode-picture" viewBox={viewBoxOf(outline)} aria-hidden="true">
      <path d={pathOf(face, outline, true)} />
      <path d={nodeLines.map((line) => pathOf(face, line, false)).join('')} />
    </svg>
  );
}

function Mark(props: { readonly at: Point; readonly kind: 'hold' | 'tap' }) {
  const [x, y] = props.at;
  return props.kind === 'hold' ? (
    <g class="shape-hold">
      <circle cx={x} cy={y} r={7} />
      <title>{forecastWords().holdHere}</title>
    </g>
  ) : (
    <g class="shape-tap">
      <path d={`M${x - 8} ${y}h16M${x} ${y - 8}v16`} />
      <title>{forecastWords().tapHere}</title>
    </g>
  );
}

/** The marks in words. */
export function Places(props: { readonly mode: DrawnShape; readonly isFree: boolean }) {
  const { hold, tap } = props.mode.places;
  const t = forecastWords();
  const length = useLength('rule', 0);
  const place = ([x, y]: Point) => t.place(length(x), length(Math.abs(y)));
  return (
    <div class="legend">
      <p>
        <Emphasised text={t.tapAt(tap.map(place).join('; '))} part={t.tap} />
      </p>
      {props.isFree && <p>{hold.length === 0 ? t.holdByRim : <Emphasised text={t.holdAt} part={t.hold} />}</p>}
      <p>{t.areas}</p>
    </div>
  );
}
