// What a brace of the plan is to the brace folder.
import { floorsAlong } from '../brace/floor.ts';
import type { PlanBrace } from './record.ts';

/** Length of a brace, mm. */
export const planBraceLengthMm = (brace: Pick<PlanBrace, 'from' | 'to'>): number =>
  Math.hypot(brace.to.xMm - brace.from.xMm, brace.to.yMm - brace.from.yMm);

/** The floors of a brace by one height that was set for the whole of it. */
export const floorsFor = (brace: PlanBrace, heightMm: number): PlanBrace['floors'] => [
  ...floorsAlong(brace.profile, planBraceLengthMm(brace), heightMm),
];
