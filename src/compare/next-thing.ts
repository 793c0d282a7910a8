// The one next thing to do, from what is on the bench and from what is in the record already.
import { type Beginning, type InstrumentRecord, type Stage, stages } from '../record/record.ts';
import { isConcluded } from '../record/round-edit.ts';
import { isBoxTapped, type JobLineName, nextLine } from './old-guitar-job.ts';

type Thing =
  | 'read-board'
  | 'join'
  | 'thin-top'
  | 'draw-plan'
  | 'tap-top'
  | 'set-target'
  | 'next-pass'
  | 'measure-box'
  | 'tap-box'
  | 'name-box-peaks'
  | 'see-box';

export type NextThing = Thing | JobLineName;

/**
 * What a job consists of, in the order in which it is done; the last is never over. Order of the trade: common practice, no
 * source.
 */
const jobs: Readonly<Record<Exclude<Beginning, 'old-guitar'>, readonly Thing[]>> = {
  board: ['read-board', 'join', 'thin-top', 'draw-plan', 'tap-top', 'set-target', 'next-pass'],
  'joined-top': ['thin-top', 'draw-plan', 'tap-top', 'set-target', 'next-pass'],
  'braced-top': ['tap-top', 'set-target', 'next-pass'],
  'closed-guitar': ['measure-box', 'tap-box', 'name-box-peaks', 'see-box'],
};

const isAtLeast = (stage: Stage, least: Stage): boolean => stages.indexOf(stage) >= stages.indexOf(least);
const hasReached = ({ steps }: InstrumentRecord, least: Stage): boolean =>
  steps.some(({ stage }) => isAtLeast(stage, least));
const isOpenTop = (stage: Stage): boolean => stage === 'braced' || stage === 'on-rims';

const isDone: Readonly<Record<Thing, (record: InstrumentRecord) => boolean>> = {
  'read-board': (record) => (record.pieces ?? []).some(({ kind, reading }) => kind === 'top' && reading !== undefined),
  join: (record) => hasReached(record, 'joined'),
  'thin-top': (record) => hasReached(record, 'thicknessed'),
  'draw-plan': ({ plan }) => plan !== undefined,
  'tap-top': ({ steps }) => steps.some(({ stage, rounds }) => isOpenTop(stage) && rounds.some(isConcluded)),
  'set-target': ({ targets }) => targets.length > 0,
  'next-pass': () => false,
  'measure-box': ({ box }) => box?.cavity !== undefined,
  'tap-box': ({ steps }) => isBoxTapped(steps),
  'name-box-peaks': ({ box }) => (box?.peaks ?? []).length > 0,
  'see-box': () => false,
};

/**
 * What comes after the last thing that is done: what was left out on the way is not asked for again.
 * @returns undefined for a record whose maker was not asked what is on the bench
 */
export function nextThing(record: InstrumentRecord): NextThing | undefined {
  if (record.begunWith === undefined) return undefined;
  if (record.begunWith === 'old-guitar') return nextLine(record);
  const job = jobs[record.begunWith];
  return job[job.findLastIndex((thing) => isDone[thing](record)) + 1];
}
