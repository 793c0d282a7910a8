// Edits of the list of a job: plain functions from record to record.
import type { BoxRepair } from './box-edit.ts';
import { changeBox } from './box-edit.ts';
import { withField } from './edit.ts';
import type { InstrumentRecord, PlannedJob } from './record.ts';

type Job = NonNullable<InstrumentRecord['job']>;

const changeJob = (record: InstrumentRecord, change: (job: Job) => Job): InstrumentRecord => ({
  ...record,
  job: change(record.job ?? { planned: 'new-top', ticked: [] }),
});

/** What is planned; what was ticked stays ticked. */
export const planJob = (record: InstrumentRecord, planned: PlannedJob): InstrumentRecord =>
  changeJob(record, (job) => ({ ...job, planned }));

/** Ticks a line, or takes the tick back. */
export const tickLine = (record: InstrumentRecord, line: string, atIso: string | undefined): InstrumentRecord =>
  changeJob(record, (job) => {
    const others = job.ticked.filter((known) => known.line !== line);
    return { ...job, ticked: atIso === undefined ? others : [...others, { line, atIso }] };
  });

/** Changes what is known of the repair; a record without one is left as it is. */
export const changeRepair = (record: InstrumentRecord, change: (repair: BoxRepair) => BoxRepair): InstrumentRecord =>
  record.box?.repair === undefined
    ? record
    : changeBox(record, (box) => ({ ...box, repair: change(record.box!.repair!) }));

/** Keeps the drawing as that of the old top. It stays on the plan too, where the new top begins from it. */
export const keepAsOldTop = (record: InstrumentRecord): InstrumentRecord =>
  changeRepair(record, (repair) => withField(repair, 'oldPlan', record.plan));
