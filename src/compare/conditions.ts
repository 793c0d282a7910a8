// Whether two measurements may be compared at all, and what besides the shaving could have moved the modes.
import type { Stage, Step, Support } from '../record/record.ts';
import type { Signature } from './signature.ts';

/** A difference that forbids comparing: the number would be of another thing. */
export type Obstacle =
  | { readonly kind: 'stage'; readonly before: Stage; readonly after: Stage }
  | { readonly kind: 'hold'; readonly before: Support['hold']; readonly after: Support['hold'] }
  | { readonly kind: 'bridge'; readonly before: Support['bridge']; readonly after: Support['bridge'] }
  | { readonly kind: 'strings'; readonly before: boolean; readonly after: boolean };

/** A difference that is allowed but must be said beside the move. */
export type Circumstance =
  | { readonly kind: 'humidity'; readonly differencePercent: number; readonly frequencyPercent: number }
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
  return found;
}

/** Humidity difference from which the weather must be named beside a move, %RH. Common practice, no source. */
export const humidityWarningPercent = 5;

/**
 * What else changed between two signatures that may be compared.
 * @param frequencyPercentForHumidity relative change of frequency, %, from one climate to the other (wood/moisture)
 */
export function circumstances(
  before: Step,
  a: Signature,
  after: Step,
  b: Signature,
  frequencyPercentForHumidity: (beforePercent: number, afterPercent: number, tempC: number) => number,
): readonly Circumstance[] {
  const found: Circumstance[] = [];
  const wet = after.climate.humidityPercent;
  const dry = before.climate.humidityPercent;
  if (wet === undefined || dry === undefined) found.push({ kind: 'humidity-unknown' });
  else if (Math.abs(wet - dry) > humidityWarningPercent) {
    const tempC = after.climate.tempC ?? before.climate.tempC ?? 20;
    found.push({
      kind: 'humidity',
      differencePercent: wet - dry,
      frequencyPercent: frequencyPercentForHumidity(dry, wet, tempC),
    });
  }
  if (!a.spots.some((spot) => b.spots.includes(spot))) found.push({ kind: 'spot' });
  return found;
}
