import type { Stage, Support } from '../record/record.ts';

/** Conditions under which steps may be followed together. */
export interface Series {
  readonly stage: Stage;
  readonly support: Support;
}
