// What a brace of the plan is to the brace folder.
import type { PlanBrace } from './record.ts';

/** Length of a brace, mm. */
export const planBraceLengthMm = (brace: Pick<PlanBrace, 'from' | 'to'>): number =>
  Math.hypot(brace.to.xMm - brace.from.xMm, brace.to.yMm - brace.from.yMm);
