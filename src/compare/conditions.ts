// Whether two measurements may be compared at all, and what besides the shaving could have moved the modes.
import type { Estimate } from '../quantity/estimate.ts';
import type { Stage, Step, Support } from '../record/record.ts';
import { type ClimateEffect, climateEffect } from '../wood/climate.ts';
import type { Signature } from './signature.ts';

/** A difference that forbids comparing: the number would be of another thing. */
export type Obstacle =
  | { readonly kind: 'stage'; readonly before: Stage; readonly after: Stage }
  | { readonly kind: 'hold'; readonly before: Support['hold']; readonly after: Support['hold'] }
  | { readonly kind: 'bridge'; readonly before: Support['bridge']; readonly after: Support['bridge'] }
  | { readonly kind: 'strings'; readonly before: boolean; readonly after: boolean }
  | { readonly kind: 'added-mass'; readonly beforeG: number; readonly afterG: number };

/** A difference that is allowed but must be said beside the move. */
export type Circumstance =
  | { readonly kind: 'humidity'; readonly differencePercent: number; readonly frequencyPercent: Estimate }
  | { readonly kind: 'humidity-unknown' }
  | { readonly kind: 'spot' };

/** What stands between two signatures. */
export function obstacles(before: Step, a: Signature, after: Step, b: Signature): readonly Obstacle[] {
  const found: Obstacle[] = [];
  if (before.stage !== after.stage) found.push({ kind: 'stage', before: before.stage, after: after.stage });
  if (a.support.hold !== b.support.hold) found.push({ kind: 'hold', before: a.support.hold, after: b.support.hold });
  if (a.support.bridge !== b.support.bridge)
    found.push({ kind: 'bridge', before: a.support.bridge, after: b.support.bridge });
  if (a.support.strung !== b.support.strung)
    found.push({ kind: 'strings', before: a.support.strung, after: b.support.strung });
  const lumpsG = ({ addedMassG = 0, addedMassOnBackG = 0 }: Support) => [addedMassG, addedMassOnBackG] as const;
  const [beforeG, beforeOnBackG] = lumpsG(a.support);
  const [afterG, afterOnBackG] = lumpsG(b.support);
  if (beforeG !== afterG || beforeOnBackG !== afterOnBackG)
    found.push({ kind: 'added-mass', beforeG: beforeG + beforeOnBackG, afterG: afterG + afterOnBackG });
  return found;
}

/** Humidity difference from which the weather must be named beside a move, %RH. Common practice, no source. */
export const humidityWarningPercent = 5;

/** Room temperature where none was noted, deg C: it moves the wood a tenth as much as humidity does. */
const usualTempC = 20;

/** What the weather between two steps does to a mode of a plate, or undefined where a humidity was not noted. */
export function weatherBetween(before: Step, after: Step): ClimateEffect | undefined {
  const dry = before.climate.humidityPercent;
  const wet = after.climate.humidityPercent;
  if (dry === undefined || wet === undefined) return undefined;
  return climateEffect(
    { humidityPercent: dry, tempC: before.climate.tempC ?? usualTempC },
    { humidityPercent: wet, tempC: after.climate.tempC ?? usualTempC },
    'plate',
  );
}

/** What else changed between two signatures that may be compared. */
export function circumstances(before: Step, a: Signature, after: Step, b: Signature): readonly Circumstance[] {
  const found: Circumstance[] = [];
  const weather = weatherBetween(before, after);
  const differencePercent = (after.climate.humidityPercent ?? 0) - (before.climate.humidityPercent ?? 0);
  if (weather === undefined) found.push({ kind: 'humidity-unknown' });
  else if (Math.abs(differencePercent) > humidityWarningPercent) {
    const { value, sigma } = weather.frequencyRatio;
    found.push({
      kind: 'humidity',
      differencePercent,
      frequencyPercent: { value: 100 * (value - 1), sigma: 100 * sigma },
    });
  }
  if (!a.spots.some((spot) => b.spots.includes(spot))) found.push({ kind: 'spot' });
  return found;
}
