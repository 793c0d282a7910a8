// Whether two measurements may be compared at all, and what besides the shaving could have moved the modes.
import type { Estimate } from '../quantity/estimate.ts';
import type { ClimateNote, Stage, Step, Support } from '../record/record.ts';
import { type ClimateEffect, climateEffect } from '../wood/climate.ts';
import type { GrainDirection } from '../wood/moisture.ts';
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
  /** the change of air that is worth naming, and what all of it does to a mode of a plate */
  | {
      readonly kind: 'air';
      readonly humidityChangePercent: number | undefined;
      readonly tempChangeC: number | undefined;
      readonly frequencyPercent: Estimate;
    }
  | { readonly kind: 'humidity-unknown'; readonly tempChangeC: number | undefined }
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
const humidityWarningPercent = 5;

/**
 * Temperature difference from which it must be named, K: what moves a plate as much as that humidity does. By the
 * coefficients of wood/climate.ts about 20 deg C and 50 %RH one degree is worth 1.3 %RH (tests/compare/conditions.test.ts).
 */
const temperatureWarningC = 4;

/** Room temperature where none was noted, deg C, and how far a workshop may well be off it, one sigma. Common practice. */
const usualTempC: Estimate = { value: 20, sigma: 3 };

/** What the weather between two steps does to a mode, by how it bends the wood; undefined where a humidity was not noted. */
export function weatherBetween(
  before: Pick<Step, 'climate'>,
  after: Pick<Step, 'climate'>,
  direction: GrainDirection = 'plate',
): ClimateEffect | undefined {
  const dry = before.climate.humidityPercent;
  const wet = after.climate.humidityPercent;
  if (dry === undefined || wet === undefined) return undefined;
  const temps = [before.climate.tempC, after.climate.tempC] as const;
  const effect = (from: number, to: number) =>
    climateEffect({ humidityPercent: dry, tempC: from }, { humidityPercent: wet, tempC: to }, direction);
  const [from, to] = [temps[0] ?? usualTempC.value, temps[1] ?? usualTempC.value];
  const weather = effect(from, to);
  const unknown = temps.filter((tempC) => tempC === undefined).length;
  if (unknown === 0) return weather;
  // What was not noted at both may have been alike or not; the doubt is that of one or two temperatures.
  const perSpread = effect(from, to + usualTempC.sigma).frequencyRatio.value - weather.frequencyRatio.value;
  const { value, sigma } = weather.frequencyRatio;
  return { ...weather, frequencyRatio: { value, sigma: Math.hypot(sigma, Math.sqrt(unknown) * perSpread) } };
}

/** How far the air of a workshop wanders from one set of taps to the next, one sigma, %RH. Common practice, no source. */
const wanderPercent = 1;

/** What the air may do to a mode of a plate from one set of taps to the next, one sigma, Hz. */
export function weatherSpreadHz(frequencyHz: number): number {
  const [from, to] = [50, 50 + wanderPercent].map((humidityPercent) => ({ humidityPercent, tempC: usualTempC.value }));
  return frequencyHz * Math.abs(climateEffect(from!, to!, 'plate').frequencyRatio.value - 1);
}

/** How the air changed where the change is worth naming beside a move; undefined where it is not, or was not noted. */
export function airChange(
  before: ClimateNote,
  after: ClimateNote,
): { readonly humidityChangePercent: number | undefined; readonly tempChangeC: number | undefined } {
  const named = (from: number | undefined, to: number | undefined, least: number) =>
    from === undefined || to === undefined || Math.abs(to - from) <= least ? undefined : to - from;
  return {
    humidityChangePercent: named(before.humidityPercent, after.humidityPercent, humidityWarningPercent),
    tempChangeC: named(before.tempC, after.tempC, temperatureWarningC),
  };
}

/** What else changed between two signatures that may be compared. */
export function circumstances(before: Step, a: Signature, after: Step, b: Signature): readonly Circumstance[] {
  const found: Circumstance[] = [];
  const weather = weatherBetween(before, after);
  const change = airChange(before.climate, after.climate);
  if (weather === undefined) found.push({ kind: 'humidity-unknown', tempChangeC: change.tempChangeC });
  else if (change.humidityChangePercent !== undefined || change.tempChangeC !== undefined) {
    const { value, sigma } = weather.frequencyRatio;
    found.push({ kind: 'air', ...change, frequencyPercent: { value: 100 * (value - 1), sigma: 100 * sigma } });
  }
  if (!a.spots.some((spot) => b.spots.includes(spot))) found.push({ kind: 'spot' });
  return found;
}
