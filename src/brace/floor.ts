// Floors: heights that a brace is not to be cut below, each on a stretch of it.
import { type HeightLine, heightAtMm, lineHeightMm, lowestMm, type Profile, placesWithin } from './profile.ts';

/** A lowest height allowed on a stretch, places from the brace's first end. */
export interface Floor {
  readonly fromMm: number;
  readonly toMm: number;
  readonly heightMm: number;
}

/** A place where a brace lies below its floor. */
export interface BelowFloor {
  readonly fromMm: number;
  readonly toMm: number;
  readonly floorMm: number;
  readonly heightMm: number;
}

/** Heights are told to hundredths of a millimetre: less than half of one below a floor is on it, mm. */
const AT_FLOOR_MM = 0.005;

/**
 * One height that was set for the whole of a brace, as floors: where the brace stands that high, for ends and scallops that
 * were carved lower are not what it was set for. A height above all of the brace holds for its whole length.
 * @param profile as glued, one place or more
 */
export function floorsAlong(profile: Profile, lengthMm: number, heightMm: number): readonly Floor[] {
  const places = placesWithin(lengthMm, [...profile.map(({ atMm }) => atMm), ...crossings(profile, heightMm)]);
  const floors: Floor[] = [];
  for (let i = 1; i < places.length; i++) {
    const [fromMm, toMm] = [places[i - 1]!, places[i]!];
    if (heightAtMm(profile, (fromMm + toMm) / 2) < heightMm) continue;
    const last = floors.at(-1);
    if (last?.toMm === fromMm) floors[floors.length - 1] = { ...last, toMm };
    else floors.push({ fromMm, toMm, heightMm });
  }
  return floors.length > 0 ? floors : [{ fromMm: 0, toMm: lengthMm, heightMm }];
}

/** Places where a profile passes through a height. */
const crossings = (profile: Profile, heightMm: number): readonly number[] =>
  profile.slice(1).flatMap((b, i) => {
    const a = profile[i]!;
    return (a.heightMm - heightMm) * (b.heightMm - heightMm) < 0
      ? [a.atMm + ((b.atMm - a.atMm) * (heightMm - a.heightMm)) / (b.heightMm - a.heightMm)]
      : [];
  });

/** Stretches with a floor where the profile lies lower than it. */
export function belowFloors(floors: readonly Floor[], profile: Profile): readonly BelowFloor[] {
  return floors
    .map((floor) => ({ ...floor, floorMm: floor.heightMm, heightMm: lowestMm(profile, floor.fromMm, floor.toMm) }))
    .filter(({ floorMm, heightMm }) => heightMm < floorMm - AT_FLOOR_MM);
}

/** Higher than any brace: where no floor was set, no wood may be advised away, mm. */
const UNTOUCHABLE_MM = 999;

/** The floors of a brace as one line over its length; a stretch without a floor is not to be touched. */
export function floorLine(floors: readonly Floor[], lengthMm: number): HeightLine {
  const places = placesWithin(
    lengthMm,
    floors.flatMap((floor) => [floor.fromMm, floor.toMm]),
  );
  return places.slice(1).flatMap((to, i) => {
    const from = places[i]!;
    const middle = (from + to) / 2;
    const here = floors.filter((floor) => middle > floor.fromMm && middle < floor.toMm);
    const height = here.length === 0 ? UNTOUCHABLE_MM : Math.max(...here.map((floor) => floor.heightMm));
    return [
      [from, height],
      [to, height],
    ] as const;
  });
}

/** Wood that a profile has to spare above its floor on a stretch, mm: both are straight between their places. */
export function spareMm(profile: HeightLine, floor: HeightLine, fromMm: number, toMm: number): number {
  const places = [fromMm, toMm, ...[...profile, ...floor].map(([s]) => s)].filter((s) => s >= fromMm && s <= toMm);
  return Math.max(0, Math.min(...places.map((s) => lineHeightMm(profile, s) - lineHeightMm(floor, s))));
}
