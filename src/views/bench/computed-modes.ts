// Modes of the drawn top as computed, for views that name what was tapped.
import { useEffect, useMemo } from 'preact/hooks';
import { pairMeasured } from '../../forecast/measured-match.ts';
import {
  computedModes,
  measuredSteps,
  plateConditions,
  topQuestion,
  usualConditions,
} from '../../forecast/plan-question.ts';
import type { ShapeOfDrawing } from '../../forecast/tap-shapes.ts';
import type { TopMode } from '../../forecast/top-modes.ts';
import { planNow } from '../../record/cuts.ts';
import { useWorkshop } from '../workshop-context.ts';
import { useNameByShape } from './name-by-shape.ts';

/** Farther than this share of its frequency a computed mode is no proposal: wood spreads that much, modes stand that close. */
const NEAR_SHARE = 0.08;
/** A mode of the latest step is the one asked for when it lies this near, as a share: the same taps, read the same way. */
const SAME_SHARE = 0.002;

/** A computed mode that is proposed for a tapped one. */
export interface Proposal {
  readonly mode: ShapeOfDrawing;
  /** whether its shape told it from its neighbours, several spots, or its frequency alone */
  readonly by: 'shape' | 'spots' | 'frequency';
}

/**
 * The computed mode that a tapped one most likely is, for the open record as it was tapped last: by its shape where a round
 * went from spot to spot; by all modes of the step together and the spots that excite them, else the nearest in frequency. Undefined where no top is drawn, nothing is
 * computed yet, or none is near.
 */
export function useProposal(frequencyHz: number): Proposal | undefined {
  const { forecasts, shelf } = useWorkshop();
  const byShape = useNameByShape(frequencyHz);
  const record = shelf.record.value;
  // A closed box sounds otherwise than its top alone.
  const stage = record?.steps.at(-1)?.stage;
  const plan = stage === 'braced' || stage === 'on-rims' ? record?.plan : undefined;
  const { conditions, question, key } = useMemo(() => {
    const conditions = (record && plateConditions(record).at(-1)) ?? usualConditions;
    const question = record && plan && topQuestion(record, planNow(record, plan), conditions.support);
    return { conditions, question, key: JSON.stringify(question) };
  }, [record, plan]);
  useEffect(() => {
    if (question !== undefined) forecasts.modes.ask(question);
  }, [key]);
  const asked = forecasts.modes.current.value;
  if (byShape !== undefined) return { mode: byShape, by: 'shape' };
  if (record === undefined || plan === undefined || question === undefined) return undefined;
  if (asked.kind !== 'ready' || asked.key !== key || asked.answer.kind !== 'modes') return undefined;
  const computed = computedModes(asked.answer, question);
  const heard = (measuredSteps(record, plan, conditions).at(-1)?.modes ?? []).map((mode) => {
    const isAsked = Math.abs(mode.frequencyHz.value / frequencyHz - 1) < SAME_SHARE;
    return { ...mode, name: isAsked ? undefined : mode.name, frequencyHz: mode.frequencyHz.value, isAsked };
  });
  const pair = pairMeasured(computed, heard).find(({ measured }) => heard[measured]?.isAsked);
  if (pair !== undefined && pair.by !== 'name') return { mode: computed[pair.computed]!.top, by: pair.by };
  const apart = (mode: TopMode) => Math.abs(mode.frequencyHz.value / frequencyHz - 1);
  const [nearest] = asked.answer.modes.toSorted((a, b) => apart(a) - apart(b));
  return nearest !== undefined && apart(nearest) < NEAR_SHARE ? { mode: nearest, by: 'frequency' } : undefined;
}
