// What a brace of the plan is to the brace folder.
import type { PlanBrace } from './record.ts';

/** Length of a brace, mm. */
export const planBraceLengthMm = (brace: Pick<PlanBrace, 'from' | 'to'>): number =>
  Math.hypot(brace.to.xMm - brace.from.xMm, brace.to.yMm - brace.from.yMm);

/** A floor from one end of a brace to the other. */
export const wholeFloor = (brace: PlanBrace, heightMm: number): PlanBrace['floors'][number] => ({
  fromMm: 0,
  toMm: planBraceLengthMm(brace),
  heightMm,
});
