// Which bracing pattern a plan shows, so that instruments can be sorted by it. The drawing decides, not a label.
import { crossing } from '../plate/outline.ts';
import { pointOf } from '../record/plan-outline.ts';
import type { BracingPattern } from '../record/plan-patterns.ts';
import type { Plan, PlanBrace } from '../record/record.ts';

/** From this turn away from the centre line a brace runs across, below the other it runs along, degrees. */
const acrossDeg = 65;
const alongDeg = 40;

/** Turn of a brace away from the centre line, 0 to 90 degrees. */
function turnDeg({ from, to }: PlanBrace): number {
  return (Math.atan2(Math.abs(to.yMm - from.yMm), Math.abs(to.xMm - from.xMm)) * 180) / Math.PI;
}

/**
 * The pattern that the drawn braces make: four or more crossings a lattice; else one crossing of two braces that carry
 * the strings an X; else three or more along the grain a fan; else two or more across and nothing along a ladder.
 * @returns undefined where the braces make none of these
 */
export function patternOf(plan: Pick<Plan, 'braces'>): BracingPattern | undefined {
  const { braces } = plan;
  const slanted = braces.filter((brace) => turnDeg(brace) < acrossDeg);
  const crossed = braces.flatMap((a, i) =>
    braces
      .slice(i + 1)
      .filter((b) => crossing(pointOf(a.from), pointOf(a.to), pointOf(b.from), pointOf(b.to)) !== undefined)
      .map((b) => [a, b] as const),
  );
  if (crossed.length >= 4) return 'lattice';
  if (crossed.some(([a, b]) => slanted.includes(a) && slanted.includes(b))) return 'x';
  if (braces.filter((brace) => turnDeg(brace) < alongDeg).length >= 3) return 'fan';
  if (braces.length - slanted.length >= 2 && slanted.length === 0) return 'ladder';
  return undefined;
}
