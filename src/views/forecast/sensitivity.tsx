// What wood off each place of each brace does to the chosen mode: colour and width along the braces, and the numbers.

import { MOVE_ERROR_SHARE } from '../../forecast/shaving.ts';
import { between } from '../../plate/outline.ts';
import { SENSITIVITY_STRETCH_MM, type StretchSensitivity } from '../../plate/sensitivity.ts';
import { readingOf } from '../../record/cut-place.ts';
import { planBraceLengthMm } from '../../record/plan-brace.ts';
import { pointOf } from '../../record/plan-outline.ts';
import type { InstrumentRecord, Plan, PlanBrace } from '../../record/record.ts';
import { number, withHalfWidth } from '../parts/figures.ts';
import { useLength, useRateDepth, useStretch } from '../parts/own-units.ts';
import { Table } from '../parts/table.tsx';
import { type Face, pathOf } from '../plan/face.ts';
import { forecastWords } from './words.ts';

type Per = 'mm' | 'g';

type HzOf = (stretch: StretchSensitivity, mode: number, per: Per) => number;

/** Hz for the depth by which rates are told, off a stretch, or for a gram off it. */
function useHzOf(): HzOf {
  const depth = useRateDepth();
  return (stretch, mode, per) =>
    (stretch.hzPerMm[mode] ?? 0) * (per === 'mm' ? depth.mm : 1 / Math.max(1e-6, stretch.gramsPerMm));
}

const largestOf = (hzOf: HzOf, { stretches, mode, per }: Given): number =>
  Math.max(1e-9, ...stretches.map((stretch) => Math.abs(hzOf(stretch, mode, per))));

/** A stretch with the name of its brace and the end it is read from. */
function usePlaceOf(): (brace: PlanBrace, hand: InstrumentRecord['hand'], stretch: StretchSensitivity) => string {
  const said = useStretch();
  return (brace, hand, { fromMm, toMm }) => {
    const reading = readingOf(brace, hand);
    return forecastWords().stretch(brace.name, said(...reading.stretch(fromMm, toMm)), reading.end);
  };
}

const CLASSES = 5;

/** Class of a share, 1 (hardly) to 5 (most), with its direction. */
function classOf(hz: number, largest: number): string {
  const size = Math.min(CLASSES, Math.max(1, Math.ceil((Math.abs(hz) / largest) * CLASSES)));
  return ['heat', hz > 0 ? 'raises' : 'lowers', `heat-${size}`].join(' ');
}

interface Given {
  readonly stretches: readonly StretchSensitivity[];
  readonly mode: number;
  readonly per: Per;
}

export function SensitivityCard(
  props: Given & {
    readonly plan: Plan;
    readonly hand: InstrumentRecord['hand'];
    readonly braceIds: readonly string[];
    readonly face: Face;
  },
) {
  const [hzOf, placeOf, depth] = [useHzOf(), usePlaceOf(), useRateDepth()];
  const largest = largestOf(hzOf, props);
  const t = forecastWords();
  return (
    <g>
      {props.stretches.map((stretch) => {
        const brace = props.plan.braces.find(({ id }) => id === props.braceIds[stretch.brace]);
        if (brace === undefined) return null;
        const length = planBraceLengthMm(brace);
        const at = (mm: number) => between(pointOf(brace.from), pointOf(brace.to), mm / length);
        const hz = hzOf(stretch, props.mode, props.per);
        return (
          <path
            key={`${brace.id} ${stretch.fromMm}`}
            class={classOf(hz, largest)}
            d={pathOf(props.face, [at(stretch.fromMm), at(stretch.toMm)], false)}
          >
            <title>
              {t.stretchDoes(
                placeOf(brace, props.hand, stretch),
                t.hzPer(number(hz, 2), props.per === 'mm' ? depth.per : 'g'),
              )}
            </title>
          </path>
        );
      })}
    </g>
  );
}

export function SensitivityScale(props: Given) {
  const [hzOf, depth, length] = [useHzOf(), useRateDepth(), useLength()];
  const largest = largestOf(hzOf, props);
  const t = forecastWords();
  return (
    <div class="legend">
      <svg class="heat-scale" viewBox="0 0 300 40" role="img" aria-label={t.scaleOfColours}>
        {Array.from({ length: CLASSES }, (_, i) => (
          <path key={i} class={`heat lowers heat-${i + 1}`} d={`M${20 + 52 * i} 14h48`} />
        ))}
        <text class="profile-text" x={20} y={36}>
          0
        </text>
        <text class="profile-text end" x={276} y={36}>
          {t.hzPer(number(-largest, 2), props.per === 'mm' ? depth.per : 'g')}
        </text>
      </svg>
      <p class="hint">{t.scaleHint[props.per](depth.said, length(SENSITIVITY_STRETCH_MM))}</p>
    </div>
  );
}

/** What a place does, with the model's part of its spread. */
const within = (hz: number): string => withHalfWidth({ value: hz, sigma: MOVE_ERROR_SHARE * Math.abs(hz) }, '');

/** How many places are listed. */
const LISTED = 8;

export function SensitivityTable(props: {
  readonly plan: Plan;
  readonly hand: InstrumentRecord['hand'];
  readonly stretches: readonly StretchSensitivity[];
  readonly braceIds: readonly string[];
  readonly mode: number;
}) {
  const { mode } = props;
  const [hzOf, placeOf, depth] = [useHzOf(), usePlaceOf(), useRateDepth()];
  const t = forecastWords();
  const strongest = props.stretches
    .toSorted((a, b) => Math.abs(b.hzPerMm[mode] ?? 0) - Math.abs(a.hzPerMm[mode] ?? 0))
    .slice(0, LISTED);
  const placeIn = (stretch: StretchSensitivity): string => {
    const brace = props.plan.braces.find(({ id }) => id === props.braceIds[stretch.brace]);
    return brace === undefined ? '' : placeOf(brace, props.hand, stretch);
  };
  return (
    <>
      <Table
        label={t.whatPlacesDo}
        head={[t.movesMost, t.hzFor(depth.per), t.hzFor('g')]}
        rows={strongest.map((stretch) => [
          placeIn(stretch),
          within(hzOf(stretch, mode, 'mm')),
          within(hzOf(stretch, mode, 'g')),
        ])}
      />
      <p class="hint">{t.placesHint}</p>
    </>
  );
}
