// Heights along a brace: shapes to start from, and what a cut leaves.
import { braceHeightMm } from '../plate/glued-part.ts';
import type { PlanBrace, Profile } from './record.ts';

/** Length of a brace, mm. */
export const planBraceLengthMm = (brace: Pick<PlanBrace, 'from' | 'to'>): number =>
  Math.hypot(brace.to.xMm - brace.from.xMm, brace.to.yMm - brace.from.yMm);

/** Height at a distance from the first end, mm: straight between the points, level beyond them. */
export const heightAtMm = (profile: Profile, atMm: number): number =>
  braceHeightMm({ heightMm: profile.map((point) => [point.atMm, point.heightMm] as const) }, atMm);

export type ProfileShape = 'level' | 'tapered' | 'scalloped' | 'parabolic';

/**
 * A profile of a well-known shape.
 * @param lengthMm of the brace
 * @param heightMm greatest height; `scalloped`: at both peaks, a quarter of the length from the ends, with two thirds between
 * @param endMm    height at both ends
 */
export function shapedProfile(shape: ProfileShape, lengthMm: number, heightMm: number, endMm: number): Profile {
  const at = (shares: readonly (readonly [number, number])[]): Profile =>
    shares.map(([share, height]) => ({ atMm: tenth(share * lengthMm), heightMm: tenth(height) }));
  const between = (share: number) => endMm + share * (heightMm - endMm);
  switch (shape) {
    case 'level':
      return at([
        [0, heightMm],
        [1, heightMm],
      ]);
    case 'tapered':
      return at([
        [0, endMm],
        [0.22, heightMm],
        [0.78, heightMm],
        [1, endMm],
      ]);
    case 'scalloped':
      return at([
        [0, endMm],
        [0.12, between(0.45)],
        [0.25, heightMm],
        [0.38, between(0.72)],
        [0.5, between(0.62)],
        [0.62, between(0.72)],
        [0.75, heightMm],
        [0.88, between(0.45)],
        [1, endMm],
      ]);
    case 'parabolic':
      return at(Array.from({ length: 11 }, (_, i) => [i / 10, between(1 - (2 * (i / 10) - 1) ** 2)] as const));
  }
}

const tenth = (mm: number): number => Math.round(mm * 10) / 10;
const hundredth = (mm: number): number => Math.round(mm * 100) / 100;

/** Over this length the cut runs out at both ends of its stretch, mm: a plane leaves no step. */
const RUN_OUT_MM = 4;

/**
 * A profile after a cut of even depth over a stretch. Nothing goes below nought.
 * @param lengthMm of the brace; the stretch is clipped to it
 */
export function cutProfile(profile: Profile, lengthMm: number, fromMm: number, toMm: number, offMm: number): Profile {
  const [from, to] = [Math.max(0, Math.min(fromMm, toMm)), Math.min(lengthMm, Math.max(fromMm, toMm))];
  if (!(to > from) || offMm === 0) return profile;
  const depth = (at: number): number => {
    const inside = Math.min(from <= 0 ? RUN_OUT_MM : at - from, to >= lengthMm ? RUN_OUT_MM : to - at);
    return offMm * Math.max(0, Math.min(1, inside / RUN_OUT_MM));
  };
  const places = [0, lengthMm, from, to, from + RUN_OUT_MM, to - RUN_OUT_MM, ...profile.map((point) => point.atMm)]
    .filter((at) => at >= 0 && at <= lengthMm)
    .map(hundredth);
  return [...new Set(places)]
    .toSorted((a, b) => a - b)
    .map((atMm) => ({ atMm, heightMm: hundredth(Math.max(0, heightAtMm(profile, atMm) - depth(atMm))) }));
}

/** Lowest height on a stretch of a brace, mm. */
export function lowestMm(profile: Profile, fromMm: number, toMm: number): number {
  const inside = profile.filter((point) => point.atMm > fromMm && point.atMm < toMm).map((point) => point.heightMm);
  return Math.min(heightAtMm(profile, fromMm), heightAtMm(profile, toMm), ...inside);
}

/** A place where a brace lies below its floor. */
export interface BelowFloor {
  readonly fromMm: number;
  readonly toMm: number;
  readonly floorMm: number;
  readonly heightMm: number;
}

/** Stretches with a floor where the profile lies lower than it. */
export function belowFloors(floors: PlanBrace['floors'], profile: Profile): readonly BelowFloor[] {
  return floors
    .map((floor) => ({ ...floor, floorMm: floor.heightMm, heightMm: lowestMm(profile, floor.fromMm, floor.toMm) }))
    .filter(({ floorMm, heightMm }) => heightMm < floorMm - 1e-6);
}
