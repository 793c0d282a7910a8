// What came in and went out, and what is wrong with a file, in the words of the bench.
import type { Finding } from '../app/checkup.ts';
import type { ComingFile, ComingRecord } from '../app/imports.ts';
import type { Notice } from '../app/notices.ts';
import type { UnreadableRecord } from '../record/archive.ts';
import { count, number } from './figures.ts';

type ExchangeNotice = Extract<
  Notice,
  {
    kind:
      | 'imported'
      | 'exported'
      | 'import-stopped'
      | 'file-written'
      | 'sound-gone'
      | 'folder-refused'
      | 'bin-emptied'
      | 'mended';
  }
>;

export function exchangeNoticeWords(notice: ExchangeNotice): { readonly text: string; readonly urgent: boolean } {
  switch (notice.kind) {
    case 'imported':
      return {
        urgent: false,
        text: `Imported ${count(notice.records, 'record')} with ${count(notice.taps, 'tap')}.${notice.lost > 0 ? ` The sound of ${count(notice.lost, 'tap')} could not be saved from the file.` : ''} Undo takes it back.`,
      };
    case 'import-stopped':
      return {
        urgent: true,
        text: `${notice.reason === 'full' ? 'The disk space the browser gives this page is full' : 'This browser window refuses to store anything'}: ${notice.done} of ${count(notice.of, 'record')} came in. Nothing that was here is lost. Make room and import the file again: what is here already is not doubled.`,
      };
    case 'exported':
      return {
        urgent: notice.missing > 0 || notice.unreadable > 0,
        text: [
          `Exported ${count(notice.records, 'record')} with ${count(notice.taps, 'tap')}${notice.files > 1 ? ` in ${notice.files} files: keep them together` : ''}.`,
          ...(notice.missing > 0 ? [`The sound of ${count(notice.missing, 'tap')} is not on this machine.`] : []),
          ...(notice.unreadable > 0
            ? [`${count(notice.unreadable, 'record')} cannot be read and stayed behind, kept as it is.`]
            : []),
        ].join(' '),
      };
    case 'file-written':
      return {
        urgent: notice.what === 'empty',
        text: {
          tables: 'The tables are saved: steps, shavings, modes, moves and wood, with a note of how they were made.',
          universal: 'The universal file is saved.',
          empty: 'The universal file is saved, but there was no sound and no plan to put into it.',
          sound: 'The tap is saved as a sound file.',
        }[notice.what],
      };
    case 'sound-gone':
      return { urgent: true, text: 'The sound of this tap is not on this machine. Import the archive that holds it.' };
    case 'folder-refused':
      return {
        urgent: true,
        text: `The folder “${notice.name}” could not be written to. Allow it when the browser asks, or choose another folder. Nothing was saved; everything here is as it was.`,
      };
    case 'bin-emptied':
      return {
        urgent: false,
        text: `Erased ${count(notice.records, 'record')} and the sound of ${count(notice.taps, 'tap')} for good.`,
      };
    case 'mended':
      return {
        urgent: false,
        text: [
          `“${notice.name}” is mended.`,
          ...(notice.leftOut > 0
            ? [`${count(notice.leftOut, 'damaged part')} left out; what stood there before is kept aside.`]
            : []),
          ...(notice.roundsRead > 0 ? [`${count(notice.roundsRead, 'round')} read again from the taps.`] : []),
        ].join(' '),
      };
  }
}

/** Why nothing of a file can come in. */
export const refusedWords: Readonly<Record<NonNullable<ComingFile['refused']>, string>> = {
  'not-an-archive': 'It is not a zip archive, or nothing of it is left.',
  'no-record': 'It is a zip archive, but holds no record of this program.',
  'too-many-files': 'It holds more files than any record has.',
  '64-bit': 'It is a zip in the 64-bit form, which is not read here. Unpack it and pack it again in parts below 4 GB.',
};

const unreadableReasons: Readonly<Record<UnreadableRecord['because'], string>> = {
  'newer-version':
    'was written by a newer Platewright. Update, then import the file again; the file itself is not touched',
  foreign: 'is not a record of this program',
  damaged: 'is damaged',
  'not-json': 'is damaged: its text breaks off or is mixed up',
  'too-long': 'is longer than any record',
  'too-deep': 'is nested deeper than any record',
  missing: 'is missing',
  'too-large': 'claims to be larger than any record',
};

export const unreadableWords = ({ folder, because }: UnreadableRecord): string =>
  `The record ${folder === '' ? 'in it' : `in folder ${folder}`} ${unreadableReasons[because]}.`;

/** What a record brings, in words. */
export function bringsWords({ plan, newSounds }: ComingRecord): string {
  const { steps, rounds, taps, pieces } = plan.brings;
  const parts = [
    steps > 0 ? count(steps, 'step') : '',
    rounds > 0 ? count(rounds, 'round') : '',
    taps > 0 ? count(taps, 'tap') : '',
    pieces > 0 ? `${count(pieces, 'piece')} of wood` : '',
  ].filter((part) => part !== '');
  if (newSounds > 0) parts.push(`${count(newSounds, 'sound')} not here yet`);
  return parts.join(', ');
}

/** Whether taking a record in would change anything. */
export const bringsAnything = ({ plan, newSounds }: ComingRecord): boolean =>
  plan.fate !== 'nothing-new' || newSounds > 0;

export const fateWords: Readonly<Record<ComingRecord['plan']['fate'], string>> = {
  new: 'New here',
  adds: 'Is here; this adds to it',
  'nothing-new': 'Is here already, just the same',
  beside: 'The one here cannot be read; this one comes beside it',
};

/** The field that both sides say differently. */
export const fieldWords = (path: readonly string[]): string =>
  path
    .filter((part) => !part.startsWith('#'))
    .map((part) => part.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase())
    .join(', ');

/** What is the matter with a stored record. */
export function findingWords(finding: Finding): string {
  if (finding.kind === 'unreadable') {
    if (finding.because === 'newer-version')
      return 'written by a newer Platewright. It is kept as it is; update to open it.';
    if (finding.leftOut === undefined) return 'cannot be read. It is kept as it is.';
    return `damaged in ${count(finding.leftOut.length, 'place')}. Mending leaves these out, reads modes again from the taps where it can, and keeps what stood there aside.`;
  }
  const { missingSounds, missingPhotos, unread } = finding.health;
  return [
    ...(missingSounds.length > 0
      ? [
          `the sound of ${count(missingSounds.length, 'tap')} is not here; what was read from it stays. Import the archive that holds it.`,
        ]
      : []),
    ...(missingPhotos.length > 0 ? [`${count(missingPhotos.length, 'photograph')} not here.`] : []),
    ...(unread.length > 0 ? [`${count(unread.length, 'round')} with taps but no modes.`] : []),
  ].join(' ');
}

/** Room on the disk. */
export const roomWords = (bytes: number): string =>
  bytes < 1e6 ? 'less than 1 MB' : bytes < 1e9 ? `${number(bytes / 1e6, 0)} MB` : `${number(bytes / 1e9, 1)} GB`;
