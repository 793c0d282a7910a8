// Modes of the drawn top as computed, for views that name what was tapped.
import { useEffect } from 'preact/hooks';
import { bridgePull, plateConditions, solvableCase, strungTop, usualConditions } from '../forecast/plan-question.ts';
import type { TopMode } from '../forecast/top-modes.ts';
import { planNow } from '../record/plan-course.ts';
import { useWorkshop } from './workshop-context.ts';

/** Farther than this share of its frequency a computed mode is no proposal: wood spreads that much, modes stand that close. */
const NEAR_SHARE = 0.08;

/**
 * The computed mode nearest to a tapped frequency, for the open record as it was tapped last; undefined where no top is
 * drawn, nothing is computed yet, or none is near.
 */
export function useComputedNear(frequencyHz: number): TopMode | undefined {
  const { forecasts, preferences, shelf } = useWorkshop();
  const record = shelf.record.value;
  // A closed box sounds otherwise than its top alone.
  const stage = record?.steps.at(-1)?.stage;
  const plan = stage === 'braced' || stage === 'on-rims' ? record?.plan : undefined;
  const now = record && plan && planNow(record, plan);
  const { support } = (record && plateConditions(record).at(-1)) ?? usualConditions;
  const plate = now && solvableCase(now, support);
  const pull = record && bridgePull(record, preferences.settings.value.a4Hz);
  const strung = record && now && pull && strungTop(record, now, support, pull);
  const question = plate && { plate, ...(strung && { strung }) };
  const key = JSON.stringify(question);
  useEffect(() => {
    if (question !== undefined) forecasts.modes.ask(question);
  }, [key]);
  const asked = forecasts.modes.current.value;
  if (asked.kind !== 'ready' || asked.key !== key || asked.answer.kind !== 'modes') return undefined;
  const apart = (mode: TopMode) => Math.abs(mode.frequencyHz / frequencyHz - 1);
  const [nearest] = asked.answer.modes.toSorted((a, b) => apart(a) - apart(b));
  return nearest !== undefined && apart(nearest) < NEAR_SHARE ? nearest : undefined;
}
