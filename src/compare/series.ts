import type { InstrumentRecord, Stage, Support, Target } from '../record/record.ts';

/** Conditions under which steps may be followed together. */
export interface Series {
  readonly stage: Stage;
  readonly support: Support;
}

/** Names what may be compared at all: one stage, one way of holding, bridge, strings and lump. */
export const seriesKey = ({ stage, support }: Series): string =>
  [stage, support.hold, support.bridge, support.strung, support.addedMassG ?? 0, support.addedMassOnBackG ?? 0].join(
    ' ',
  );

/** What is wanted at a stage. */
export const targetsAt = (record: InstrumentRecord, stage: Stage): readonly Target[] =>
  record.targets.filter((target) => target.stage === stage);
