// Braces that mirror each other about the centre line are shaved as one: a maker keeps an X symmetric unless told otherwise.

import { mirrorPoint } from '../plate/mirror.ts';
import { distance } from '../plate/outline.ts';
import type { BraceCase } from '../plate/plate-case.ts';

/** Ends that lie this close to the mirror image count as its mirror, mm. */
const SAME_PLACE_MM = 2;

/** Groups of braces, as indices: mirrored pairs together, all others alone. */
export function mirrorPairs(braces: readonly BraceCase[]): ReadonlySet<number>[] {
  const groups: Set<number>[] = [];
  braces.forEach((brace, i) => {
    const partner = groups.find((group) => {
      const [only] = group;
      return group.size === 1 && areMirrored(braces[only!]!, brace);
    });
    if (partner === undefined) groups.push(new Set([i]));
    else partner.add(i);
  });
  return groups;
}

function areMirrored(a: BraceCase, b: BraceCase): boolean {
  const [from, to] = [mirrorPoint(b.from), mirrorPoint(b.to)];
  return distance(a.from, from) < SAME_PLACE_MM && distance(a.to, to) < SAME_PLACE_MM;
}
