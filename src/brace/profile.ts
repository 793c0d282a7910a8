// The profile of a brace: its height along its length, straight between places. Places are counted from the brace's first
// end; beyond its places a brace is level.

/** One place of a profile. */
export interface ProfilePlace {
  readonly atMm: number;
  readonly heightMm: number;
}

/** Heights along a brace, places ascending. */
export type Profile = readonly ProfilePlace[];

/** The same as [place, height] pairs, as the case of a plate has them. */
export type HeightLine = readonly (readonly [number, number])[];

export const lineOf = (profile: Profile): HeightLine => profile.map(({ atMm, heightMm }) => [atMm, heightMm]);
export const profileOf = (line: HeightLine): Profile => line.map(([atMm, heightMm]) => ({ atMm, heightMm }));

/**
 * Height of a line of pairs at a place, mm; where it steps, the height just before the step.
 * @param line one pair or more, places ascending
 */
export function lineHeightMm(line: HeightLine, atMm: number): number {
  if (atMm <= line[0]![0]) return line[0]![1];
  for (let i = 1; i < line.length; i++) {
    const [s1, h1] = line[i]!;
    if (atMm > s1) continue;
    const [s0, h0] = line[i - 1]!;
    return s1 === s0 ? h1 : h0 + ((h1 - h0) * (atMm - s0)) / (s1 - s0);
  }
  return line.at(-1)![1];
}

/** Places along a brace with both its ends, ascending and each once; those beyond it are left out. */
export const placesWithin = (lengthMm: number, places: readonly number[]): readonly number[] =>
  [...new Set([0, lengthMm, ...places])].filter((atMm) => atMm >= 0 && atMm <= lengthMm).toSorted((a, b) => a - b);

/** Height at a distance from the first end, mm. @param profile one place or more */
export const heightAtMm = (profile: Profile, atMm: number): number => lineHeightMm(lineOf(profile), atMm);

/** Lowest height on a stretch of a brace, mm. */
export function lowestMm(profile: Profile, fromMm: number, toMm: number): number {
  const inside = profile.filter((place) => place.atMm > fromMm && place.atMm < toMm).map((place) => place.heightMm);
  return Math.min(heightAtMm(profile, fromMm), heightAtMm(profile, toMm), ...inside);
}

/** Area under the profile over the length of its brace, mm^2: the integral of the height. */
export function areaUnderMm2(profile: Profile, lengthMm: number): number {
  const places = placesWithin(
    lengthMm,
    profile.map(({ atMm }) => atMm),
  );
  const line = lineOf(profile);
  return places.slice(1).reduce((sum, to, i) => {
    const from = places[i]!;
    // Straight between the places: the height in the middle is the mean.
    return sum + (to - from) * lineHeightMm(line, (from + to) / 2);
  }, 0);
}

/** Shapes that makers begin with. */
export const profileShapes = ['level', 'tapered', 'scalloped', 'parabolic'] as const;
export type ProfileShape = (typeof profileShapes)[number];

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
