// The work on an old guitar as one list, from the first photograph to the bridge a week after stringing: what is in the record
// already counts as done, the rest is ticked by hand. Its order is that of the trade: common practice, no source.
import { damagesOf } from '../record/damage.ts';
import { type InstrumentRecord, type PlannedJob, type Stage, type Step, stages } from '../record/record.ts';
import { isConcluded } from '../record/round-edit.ts';
import { stepPhotos } from '../record/step-photos.ts';
import { stateOfRound } from './box-state.ts';

export const jobParts = ['before', 'opening', 'off', 'new'] as const;
export type JobPart = (typeof jobParts)[number];

interface Line {
  readonly part: JobPart;
  /** the jobs that ask for it; all where none is named */
  readonly of?: readonly PlannedJob[];
  /** told from the record; ticked by hand where there is no such thing in it */
  readonly isIn?: (record: InstrumentRecord) => boolean;
}

const NEW_TOP: readonly PlannedJob[] = ['new-top'];
const VOICED: readonly PlannedJob[] = ['new-top', 'voicing'];
const OPENED: readonly PlannedJob[] = ['new-top', 'repair'];

/** A box is told by its rounds as it is, with the hole blocked and with a lump on the top at least. */
const FEWEST_BOX_STATES = 3;

/** Front, back, inside and bridge. */
const FEWEST_PHOTOS = 4;

const isAtLeast = (stage: Stage, least: Stage): boolean => stages.indexOf(stage) >= stages.indexOf(least);
const isOpenTop = (stage: Stage): boolean => stage === 'braced' || stage === 'on-rims';

/** Whether a closed box was tapped in enough states at some of these steps. */
export const isBoxTapped = (steps: readonly Step[]): boolean =>
  steps.some(
    ({ stage, rounds }) =>
      isAtLeast(stage, 'closed') &&
      new Set(rounds.filter(isConcluded).flatMap((round) => stateOfRound(round) ?? [])).size >= FEWEST_BOX_STATES,
  );

/** Steps from the removal on; none while the repair has no last step. */
function stepsSince({ steps, box, id }: InstrumentRecord): readonly Step[] {
  const last = box?.repair?.recordId === id ? steps.findIndex((step) => step.id === box.repair?.stepId) : -1;
  return last < 0 ? [] : steps.slice(last + 1);
}

const isWoodKnown = (wood: NonNullable<NonNullable<InstrumentRecord['box']>['repair']>['oldWood']): boolean =>
  wood.densityKgM3 !== undefined && wood.eLongGpa !== undefined && wood.eCrossGpa !== undefined;

const lines = {
  photographs: {
    part: 'before',
    isIn: ({ steps }) => steps.flatMap(stepPhotos).length >= FEWEST_PHOTOS,
  },
  'strings-on': {
    part: 'before',
    isIn: ({ box }) => box?.strings?.action12Mm !== undefined && box.strings.bridgeTunedDeg !== undefined,
  },
  damage: {
    part: 'before',
    isIn: ({ box }) =>
      box?.repair !== undefined && (box.repair.isTopSound === true || damagesOf(box.repair, 'top').length > 0),
  },
  'strings-slack': { part: 'before', isIn: ({ box }) => box?.strings?.bridgeSlackDeg !== undefined },
  'same-air': { part: 'before', of: OPENED },
  'tap-box': { part: 'before', isIn: ({ steps }) => isBoxTapped(steps) },
  'name-box-peaks': { part: 'before', isIn: ({ box }) => (box?.peaks ?? []).length > 0 },
  'measure-box': { part: 'before', isIn: ({ box }) => box?.cavity !== undefined },
  copy: { part: 'before', of: OPENED },
  heat: { part: 'opening', of: OPENED },
  blades: { part: 'opening', of: OPENED },
  dust: { part: 'opening', of: OPENED },
  edges: { part: 'opening', of: NEW_TOP },
  'weigh-old': { part: 'off', of: NEW_TOP },
  'photograph-inside': { part: 'off', of: NEW_TOP },
  'old-thickness': {
    part: 'off',
    of: NEW_TOP,
    isIn: ({ box }) => box?.repair?.oldThicknessMm !== undefined,
  },
  'old-braces': { part: 'off', of: NEW_TOP, isIn: ({ box }) => box?.repair?.oldPlan !== undefined },
  strips: {
    part: 'off',
    of: NEW_TOP,
    isIn: ({ box }) => box?.repair !== undefined && isWoodKnown(box.repair.oldWood),
  },
  'open-body': { part: 'off', of: NEW_TOP },
  'new-wood': {
    part: 'new',
    of: NEW_TOP,
    isIn: ({ box }) => box?.repair !== undefined && isWoodKnown(box.repair.newWood),
  },
  'match-wood': { part: 'new', of: NEW_TOP, isIn: ({ box }) => box?.repair?.newThicknessMm !== undefined },
  'draw-new-top': {
    part: 'new',
    of: NEW_TOP,
    isIn: ({ plan, box }) => plan !== undefined && box?.repair?.oldPlan !== undefined,
  },
  'print-sheet': { part: 'new', of: NEW_TOP },
  'tap-new-top': {
    part: 'new',
    of: NEW_TOP,
    isIn: (record) => stepsSince(record).some(({ stage, rounds }) => isOpenTop(stage) && rounds.some(isConcluded)),
  },
  'set-target': { part: 'new', of: VOICED, isIn: ({ targets }) => targets.length > 0 },
  'next-pass': { part: 'new', of: VOICED },
  'before-glue': { part: 'new', of: NEW_TOP },
  'box-again': { part: 'new', isIn: (record) => isBoxTapped(stepsSince(record)) },
  'string-up': {
    part: 'new',
    isIn: ({ box }) =>
      ['10 min', '1 day', '1 week'].every((at) => box?.strings?.turns?.some(({ after }) => after === at)),
  },
} as const satisfies Readonly<Record<string, Line>>;

export type JobLineName = keyof typeof lines;

export interface JobLine {
  readonly name: JobLineName;
  readonly part: JobPart;
  readonly isDone: boolean;
  /** by hand, and may be taken back by hand */
  readonly isTicked: boolean;
}

/** Of a record begun before it was asked what is planned. */
const usualJob: NonNullable<InstrumentRecord['job']> = { planned: 'new-top', ticked: [] };

const jobOf = ({ job, begunWith }: InstrumentRecord) => job ?? (begunWith === 'old-guitar' ? usualJob : undefined);

/** The lines of a job in their order; none for a record that has no job. */
export function jobLines(record: InstrumentRecord): readonly JobLine[] {
  const job = jobOf(record);
  if (job === undefined) return [];
  return (Object.entries(lines) as [JobLineName, Line][]).flatMap(([name, { part, of, isIn }]) => {
    if (of !== undefined && !of.includes(job.planned)) return [];
    const isTicked = job.ticked.some(({ line }) => line === name);
    return [{ name, part, isTicked, isDone: isTicked || isIn?.(record) === true }];
  });
}

/** Whether there is a list for what is on the bench. */
export const hasJob = (record: InstrumentRecord): boolean => jobOf(record) !== undefined;

/** The first line that is not done; what was ticked further on does not hide what was left out. */
export const nextLine = (record: InstrumentRecord): JobLineName | undefined =>
  jobLines(record).find(({ isDone }) => !isDone)?.name;

/** Whether nothing is left to read of the instrument as it is: afterwards it is too late. */
export const mayBeOpened = (record: InstrumentRecord): boolean =>
  jobLines(record).every(({ part, isDone }) => part !== 'before' || isDone);
