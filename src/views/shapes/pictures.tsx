// One mode as tapped, beside the computed one it is like.
import { planOnBench } from '../../forecast/roving-question.ts';
import type { TapShape } from '../../forecast/tap-shapes.ts';
import type { RovingRound } from '../../record/roving-edit.ts';
import { Places, ShapeOnPlan } from '../forecast/shape.tsx';
import { withHalfWidth } from '../parts/figures.ts';
import { onScreen, pathOf } from '../plan/face.ts';
import { PlanDrawing } from '../plan/plan-drawing.tsx';
import type { Told } from './told-round.ts';
import { shapesWords } from './words.ts';
import '../forecast/forecast.css';

/** Nothing where no plate is drawn: the table of the spots tells it then. */
export function ShapePictures(props: Told & { readonly rank: number }) {
  const { record, step, round, answer } = props;
  const t = shapesWords();
  const shape = answer.shapes[props.rank];
  if (record.plan === undefined || shape === undefined || round.roving.spots[0]?.xMm === undefined) return null;
  const plan = planOnBench(record, record.plan, step);
  const { hand } = record;
  const { whole } = shape;
  const computed = whole && answer.computed[whole.computed];
  const isFree = round.support.hold === 'at-node' || round.support.hold === 'on-foam';
  const showBridge = round.support.bridge !== 'off';
  return (
    <div class="shape-pair">
      <figure>
        <figcaption>{t.asTapped}</figcaption>
        <PlanDrawing plan={plan} hand={hand} face="outside" showBridge={showBridge}>
          {whole !== undefined && (
            <>
              <path
                class="shape-doubt"
                d={whole.doubtful.polygons.map((polygon) => pathOf('outside', polygon, true)).join('')}
              />
              <ShapeOnPlan key={props.rank} mode={whole} face="outside" isFree={isFree} />
            </>
          )}
          <SpotRings spots={round.roving.spots} shape={shape} />
        </PlanDrawing>
      </figure>
      {computed === undefined ? (
        <p class="hint">{answer.computed.length === 0 ? '' : t.notComputed}</p>
      ) : (
        <figure>
          <figcaption>{t.asComputed(computed.name, withHalfWidth(computed.frequencyHz, 'Hz'))}</figcaption>
          <PlanDrawing plan={plan} hand={hand} face="outside" showBridge={showBridge}>
            <ShapeOnPlan key={props.rank} mode={computed} face="outside" isFree={isFree} />
          </PlanDrawing>
        </figure>
      )}
      <div class="shape-legend">
        {whole !== undefined && <Places mode={whole} isFree={isFree} />}
        <p class="hint">
          {whole !== undefined && `${t.doubt} `}
          {t.atSpots}
        </p>
      </div>
    </div>
  );
}

/** Half of the size of the largest ring, mm; none is smaller than the least. */
const LARGEST_MM = 14;
const LEAST_MM = 3;
/** A sign less sure than this is not told. */
const SURE_ODDS = 0.95;
const FAINT = 0.3;

/** What the taps say by themselves, spot by spot. */
function SpotRings(props: { readonly spots: RovingRound['roving']['spots']; readonly shape: TapShape }) {
  const { atSpots, signOdds } = props.shape;
  return (
    <g class="spot-rings">
      {props.spots.map(({ xMm, yMm }, s) => {
        const moved = atSpots[s];
        if (moved === undefined || xMm === undefined || yMm === undefined) return null;
        const [x, y] = onScreen('outside', [xMm, yMm]);
        const isSure = (signOdds[s] ?? 0) >= SURE_ODDS;
        return (
          <circle
            key={s}
            class={moved.value < 0 ? 'against' : 'with'}
            opacity={isSure ? 1 : FAINT}
            cx={x}
            cy={y}
            r={Math.max(LEAST_MM, LARGEST_MM * Math.min(1, Math.abs(moved.value)))}
          />
        );
      })}
    </g>
  );
}
