// A cut on a brace, and what it leaves: the one rule by which the record, the plan, the forecast and the advice take wood off.
import { areaUnderMm2, heightAtMm, type Profile, placesWithin } from './profile.ts';
import { type SectionShape, unitSection } from './section.ts';

/** An even depth off a stretch, places from the brace's first end. */
export interface EvenCut {
  readonly fromMm: number;
  readonly toMm: number;
  readonly offMm: number;
}

/** An even cut on one of several braces. */
export interface BraceCut extends EvenCut {
  readonly braceId: string;
}

/** Over this length a cut runs out at both ends of its stretch, mm: a plane leaves no step. Common practice, no source. */
const RUN_OUT_MM = 4;

/**
 * A profile after a cut of even depth over a stretch. Nothing goes below nought.
 * @param lengthMm of the brace; the stretch is clipped to it, and does not run out where the brace ends
 */
export function afterEvenCut(profile: Profile, lengthMm: number, cut: EvenCut): Profile {
  const [from, to] = [Math.max(0, Math.min(cut.fromMm, cut.toMm)), Math.min(lengthMm, Math.max(cut.fromMm, cut.toMm))];
  if (!(to > from) || !(cut.offMm > 0)) return profile;
  // A stretch that is shorter than its two run-outs is not cut to the full depth.
  const depth = (atMm: number): number => {
    const inside = Math.min(from <= 0 ? RUN_OUT_MM : atMm - from, to >= lengthMm ? RUN_OUT_MM : to - atMm);
    return cut.offMm * Math.max(0, Math.min(1, inside / RUN_OUT_MM));
  };
  const marks = [from, to, from + RUN_OUT_MM, to - RUN_OUT_MM, (from + to) / 2];
  const inside = marks.filter((atMm) => atMm >= from && atMm <= to);
  return lowered(profile, lengthMm, inside, (atMm, heightMm) => heightMm - depth(atMm));
}

/**
 * A profile after heights were measured at places of the brace: the cut is straight between them, and no place grows.
 * @param heights places with their heights after the cut; beyond the first and the last it runs out
 */
export function afterHeights(profile: Profile, lengthMm: number, heights: Profile): Profile {
  if (heights.length === 0) return profile;
  const depths = heights.map(({ atMm, heightMm }) => ({
    atMm,
    heightMm: Math.max(0, heightAtMm(profile, atMm) - heightMm),
  }));
  const [first, last] = [depths[0]!.atMm, depths.at(-1)!.atMm];
  const marks = [first - RUN_OUT_MM, ...heights.map(({ atMm }) => atMm), last + RUN_OUT_MM];
  return lowered(profile, lengthMm, marks, (atMm, heightMm) => {
    const beyond = Math.max(0, first - atMm, atMm - last);
    return heightMm - heightAtMm(depths, atMm) * Math.max(0, 1 - beyond / RUN_OUT_MM);
  });
}

/** A profile with further places, each lowered, and none below nought. */
function lowered(
  profile: Profile,
  lengthMm: number,
  marks: readonly number[],
  left: (atMm: number, heightMm: number) => number,
): Profile {
  return placesWithin(lengthMm, [...marks, ...profile.map(({ atMm }) => atMm)]).map((atMm) => ({
    atMm,
    heightMm: Math.max(0, left(atMm, heightAtMm(profile, atMm))),
  }));
}

/** Wood between two profiles of a brace, mm^3. */
export function volumeOffMm3(
  brace: { readonly section: SectionShape; readonly widthMm: number; readonly lengthMm: number },
  before: Profile,
  after: Profile,
): number {
  const areaMm2 = areaUnderMm2(before, brace.lengthMm) - areaUnderMm2(after, brace.lengthMm);
  // A lower brace of a carved section is the same section again, lower: its area goes with the height.
  return areaMm2 * unitSection(brace.section).area * brace.widthMm;
}

/** Deepest place of a cut, mm. */
export function deepestMm(before: Profile, after: Profile): number {
  return Math.max(0, ...after.map(({ atMm, heightMm }) => heightAtMm(before, atMm) - heightMm));
}
