// What came in and went out, and what is wrong with a file, in the words of the bench.
import type { Finding } from '../../../app/checkup.ts';
import type { ComingFile, ComingRecord } from '../../../app/imports.ts';
import type { Notice } from '../../../app/notices.ts';
import type { UnreadableRecord } from '../../../record/archive.ts';
import type { UffContent } from '../../../record/uff-incoming.ts';
import type { SkippedDataset } from '../../../record/uff-read.ts';
import { number } from '../../parts/figures.ts';
import { count } from './count.ts';
import { field } from './incoming-fields.ts';

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

function notice(given: ExchangeNotice): { readonly text: string; readonly urgent: boolean } {
  switch (given.kind) {
    case 'imported':
      return {
        urgent: false,
        text: `Imported ${count(given.records, 'record')} with ${count(given.taps, 'tap')}.${given.lost > 0 ? ` The sound of ${count(given.lost, 'tap')} could not be saved from the file.` : ''} Undo takes it back.`,
      };
    case 'import-stopped':
      return {
        urgent: true,
        text: `${given.reason === 'full' ? 'The disk space the browser gives this page is full' : 'This browser window refuses to store anything'}: ${given.done} of ${count(given.of, 'record')} came in. Nothing that was here is lost. Make room and import the file again: what is here already is not doubled.`,
      };
    case 'exported':
      return {
        urgent: given.missing > 0 || given.unreadable > 0,
        text: [
          `Exported ${count(given.records, 'record')} with ${count(given.taps, 'tap')}${given.files > 1 ? ` in ${given.files} files: keep them together` : ''}.`,
          ...(given.missing > 0 ? [`The sound of ${count(given.missing, 'tap')} is not on this machine.`] : []),
          ...(given.unreadable > 0
            ? [`${count(given.unreadable, 'record')} cannot be read; it went along as it is, for a program that can.`]
            : []),
        ].join(' '),
      };
    case 'file-written':
      return {
        urgent: given.what === 'empty',
        text: {
          tables: 'The tables are saved: steps, cuts, modes, moves and wood, with a note of how they were made.',
          universal: 'The universal file is saved.',
          empty: 'The universal file is saved, but there was no sound and no plan to put into it.',
          sound: 'The tap is saved as a sound file.',
        }[given.what],
      };
    case 'sound-gone':
      return { urgent: true, text: 'The sound of this tap is not on this machine. Import the archive that holds it.' };
    case 'folder-refused':
      return {
        urgent: true,
        text: `The folder “${given.name}” could not be written to. Allow it when the browser asks, or choose another folder. Nothing was saved; everything here is as it was.`,
      };
    case 'bin-emptied':
      return {
        urgent: false,
        text: `Erased ${given.records > 0 ? `${count(given.records, 'record')} and ` : ''}the sound of ${count(given.taps, 'tap')} for good.`,
      };
    case 'mended':
      return {
        urgent: false,
        text: [
          `“${given.name}” is mended.`,
          ...(given.leftOut > 0
            ? [`${count(given.leftOut, 'damaged part')} left out; what stood there before is kept aside.`]
            : []),
          ...(given.roundsRead > 0 ? [`${count(given.roundsRead, 'round')} read again from the taps.`] : []),
        ].join(' '),
      };
  }
}

/** Why nothing of a file can come in. */
const refused: Readonly<Record<NonNullable<ComingFile['refused']>, string>> = {
  'not-an-archive': 'It is not a zip archive, or nothing of it is left.',
  'no-record': 'It is a zip archive, but holds no record of this program.',
  'too-many-files': 'It holds more files than any record has.',
  'no-tap':
    'It is a universal file, but no tap is in it: a tap is a time history of 0.1 s or more, evenly spaced, taken at 8 to 192 kHz.',
  'too-long': 'It is a universal file longer than any that can be read here. Write it in parts.',
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

const unreadable = ({ folder, because }: UnreadableRecord): string =>
  `The record ${folder === '' ? 'in it' : `in folder ${folder}`} ${unreadableReasons[because]}.`;

/** What a record brings, in words. */
function brings({ plan, newSounds }: ComingRecord): string {
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

const fates: Readonly<Record<ComingRecord['plan']['fate'], string>> = {
  new: 'New here',
  adds: 'Is here; this adds to it',
  'nothing-new': 'Is here already, just the same',
  beside: 'The one here cannot be read; this one comes beside it',
};

/** What is the matter with a stored record. */
function finding(given: Finding): string {
  if (given.kind === 'unreadable') {
    if (given.because === 'newer-version')
      return 'written by a newer Platewright. It is kept as it is; update to open it.';
    if (given.leftOut === undefined) return 'cannot be read. It is kept as it is.';
    return `damaged in ${count(given.leftOut.length, 'place')}. Mending leaves these out, reads modes again from the taps where it can, and keeps what stood there aside.`;
  }
  const { missingSounds, missingPhotos, unread } = given.health;
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
const room = (bytes: number): string =>
  bytes < 1e6 ? 'less than 1 MB' : bytes < 1e9 ? `${number(bytes / 1e6, 0)} MB` : `${number(bytes / 1e9, 1)} GB`;

const kinds: Readonly<Record<SkippedDataset['because'], string>> = {
  'other-kind': 'is of a kind that is not read here',
  damaged: 'is damaged: its columns hold no numbers, or it breaks off',
};

/** What a universal file holds, in sentences: what comes in first. */
function universal({ taps, repeated, spectra, shapes, points, others }: UffContent): readonly string[] {
  return [
    ...(taps > 0
      ? [
          `${count(taps, 'time history', 'time histories')}: each comes in as a tap, those of one spot as a round, and the modes are read from them anew.`,
        ]
      : []),
    ...(repeated > 0
      ? [`${count(repeated, 'time history', 'time histories')} more of the same sound: taken once.`]
      : []),
    ...(spectra > 0
      ? [`${count(spectra, 'averaged spectrum', 'averaged spectra')}: not taken, modes are read from taps.`]
      : []),
    ...(shapes > 0 ? [`${count(shapes, 'mode shape')}: not taken, a record keeps none; they stay in the file.`] : []),
    ...(points > 0 ? [`${count(points, 'point')} on the piece: taken as the number of the spot only.`] : []),
    ...(others > 0
      ? [`${count(others, 'function')} of other kinds (force, response, another rate, or too short): not taken.`]
      : []),
  ];
}

const skipped = ({ dataset, line, because }: SkippedDataset): string =>
  `Dataset ${dataset === '' ? 'without a number' : dataset} at line ${line} ${kinds[because]}.`;

/** Files that come in and go out, and whether all is safe. */
export const exchange = { notice, refused, unreadable, brings, fates, field, finding, room, universal, skipped };
