import type { JobPart } from '../../../compare/old-guitar-job.ts';

const parts: Readonly<Record<JobPart, string>> = {
  before: 'Before anything comes apart',
  opening: 'Opening it',
  off: 'With the top off',
  new: 'The new top, and stringing up',
};

/** The work on an old guitar, line by line. */
export const boxJob = {
  job: {
    titleOf: (instrument: string) => `${instrument}: the job, line by line`,
    left: (left: number, all: number) =>
      left === 0 ? 'All of it is done.' : `${left} of ${all} still to do. What is in the record is ticked by itself.`,
    parts,
    notYet: 'Nothing comes apart until the lines above are done: what is not read now can never be read again.',
    openIt: 'All that can be read of it as it is has been read. Now open it.',
    inRecord: 'in the record',
    keepDrawing: 'Keep the drawing as the old top',
    enter: 'Enter it',
    print: 'Print the list',
  },
};
