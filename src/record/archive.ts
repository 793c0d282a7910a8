// Records leave and enter as a zip that any program can open: for each record a folder with record.json, its taps as
// WAV (32-bit float, as heard) and its photographs. One record lies at the top of the archive, several in a folder each.
// All records come before all sounds, so that an archive that breaks off still holds every record.
import { strFromU8, strToU8, type ZipOptions, type Zippable, zipSync } from 'fflate';
import { readWav } from '../files/wav.ts';
import { writeWav } from '../files/wav-write.ts';
import { isTapRate, type Tap } from '../signal/tap.ts';
import { archiveLimits, type FileReading, openZip, type PassedOver, type ZipLimits } from './archive-unzip.ts';
import { readRecordText, recordText, type TextReadResult } from './read.ts';
import type { InstrumentRecord } from './record.ts';
import { stepPhotos } from './step-photos.ts';

/** A record with the sounds and pictures it refers to, by id. */
export interface Bundle {
  readonly record: InstrumentRecord;
  readonly taps: ReadonlyMap<string, Tap>;
  readonly photos: ReadonlyMap<string, Uint8Array>;
}

/** A record that cannot be read here, carried as it is for a program that can. */
export interface KeptAsIs {
  readonly id: string;
  /** its document as JSON */
  readonly text: string;
  readonly taps: ReadonlyMap<string, Tap>;
  readonly photos: ReadonlyMap<string, Uint8Array>;
}

/** A sound or picture that a record refers to and that the archive did not give. */
export interface LostFile {
  readonly recordId: string;
  readonly what: 'tap' | 'photo';
  readonly id: string;
  readonly because: FileFault | TapFault;
}

type FileFault = Extract<FileReading, { kind: 'lost' }>['because'];

/** Why a sound cannot be a tap: its rate, its length, or a rate that is not the one its note tells. */
type TapFault = 'rate-out-of-range' | 'too-short' | 'rate-not-as-noted';

/** Shorter than the ring of anything, samples: 2 ms at 48 kHz, 12 ms at 8 kHz. */
const leastTapSamples = 100;

/** A record that could not be read. */
export interface UnreadableRecord {
  /** where it lies in the archive; empty at the top */
  readonly folder: string;
  readonly because: Extract<TextReadResult, { kind: 'refused' }>['because'] | FileFault;
}

/** What an archive gave. */
export type ArchiveResult =
  | {
      readonly kind: 'read';
      readonly bundles: readonly Bundle[];
      readonly unreadable: readonly UnreadableRecord[];
      readonly lost: readonly LostFile[];
      /** how many of the lost files are taps */
      readonly lostTaps: number;
      /** names in the archive that were passed over */
      readonly passedOver: readonly PassedOver[];
    }
  | { readonly kind: 'refused'; readonly because: 'not-an-archive' | 'no-record' | 'too-many-files' | '64-bit' };

const recordFile = 'record.json';
const onsetLabel = 'first contact';
/** A zip without its 64-bit extension counts bytes in 32 bits; half of it leaves room and fits a browser's memory. */
const mostArchiveBytes = 2 ** 31;

/** Everything in a record that is measured or photographed: its steps, and its pieces of wood. */
const measuredIn = (record: InstrumentRecord) => [...record.steps, ...(record.pieces ?? [])];

export const tapIds = (record: InstrumentRecord): readonly string[] =>
  measuredIn(record).flatMap(({ rounds }) => rounds.flatMap((round) => round.taps.map((tap) => tap.id)));

export const photoIds = (record: InstrumentRecord): readonly string[] =>
  measuredIn(record).flatMap((measured) => stepPhotos(measured).map(({ photoId }) => photoId));

/**
 * A tap as a WAV file: samples and rate as heard, the first contact as a cue.
 * @param about INFO texts beside title and program, such as ICRD (date) and ICMT (comment)
 */
export function tapToWav(tap: Tap, title: string, about: Readonly<Record<string, string>> = {}): Uint8Array {
  return writeWav([tap.samples], tap.sampleRateHz, {
    info: { INAM: title, ISFT: 'Platewright', ...about },
    cues: [{ sample: tap.onsetIndex, label: onsetLabel }],
  });
}

/** A tap from a WAV file that this program wrote, or undefined where it is no such file or breaks off. */
export function tapFromWav(bytes: Uint8Array): Tap | undefined {
  const audio = readWav(bytes);
  if (audio.kind !== 'audio' || audio.truncated) return undefined;
  const samples = audio.channels[0];
  const onset = audio.cues.find((cue) => cue.label === onsetLabel);
  if (samples === undefined || onset === undefined || onset.sample >= samples.length) return undefined;
  return { samples, sampleRateHz: audio.sampleRateHz, onsetIndex: onset.sample };
}

/** The rate that each tap of a record was taken at, by its note, Hz. */
const notedRates = (record: InstrumentRecord): ReadonlyMap<string, number> =>
  new Map(
    measuredIn(record).flatMap(({ rounds }) =>
      rounds.flatMap((round) => round.taps.map(({ id, sampleRateHz }) => [id, sampleRateHz] as const)),
    ),
  );

/** A tap out of an archive, or why it cannot be read as one. @param notedHz rate by the tap's note, Hz */
function tapAsNoted(bytes: Uint8Array, notedHz: number | undefined): Tap | LostFile['because'] {
  const tap = tapFromWav(bytes);
  if (tap === undefined) return 'damaged';
  if (!isTapRate(tap.sampleRateHz)) return 'rate-out-of-range';
  if (tap.samples.length < leastTapSamples) return 'too-short';
  return tap.sampleRateHz === notedHz ? tap : 'rate-not-as-noted';
}

/** Files carry no time, so that the same records give the same bytes. The earliest that a zip can say. */
const mtime = new Date(1980, 0, 1);
const packed = (level: ZipOptions['level'] & number): ZipOptions => ({ level, mtime });

/**
 * The archive of the bundles given.
 * @param kept records that cannot be read, each in the folder where a program that knows it looks for it
 * @throws RangeError if two have one id, or where it would hold more than a zip can (see `roomTogether`)
 */
export function writeArchive(bundles: readonly Bundle[], kept: readonly KeptAsIs[] = []): Uint8Array {
  const parts = [
    ...bundles.map(({ record, taps, photos }) => ({
      id: record.id,
      name: record.name,
      text: recordText(record),
      taps,
      photos,
    })),
    ...kept.map((each) => ({ ...each, name: each.id })),
  ];
  const folderOf = (id: string): string => (parts.length === 1 ? '' : `${id}/`);
  if (new Set(parts.map(({ id }) => id)).size < parts.length)
    throw new RangeError('writeArchive: two records of one id, need different ids');
  const files: Zippable = {};
  let bytes = 0;
  const add = (name: string, content: Uint8Array, options: ZipOptions): void => {
    files[name] = [content, options];
    bytes += content.length;
  };
  for (const { id, text } of parts) add(`${folderOf(id)}${recordFile}`, strToU8(text), packed(6));
  for (const { id, name, taps, photos } of parts) {
    const folder = folderOf(id);
    for (const [tapId, tap] of taps) add(`${folder}taps/${tapId}.wav`, tapToWav(tap, `${name} ${tapId}`), packed(1));
    for (const [photoId, photo] of photos) add(`${folder}photos/${photoId}.jpg`, photo, packed(0));
  }
  const count = Object.keys(files).length;
  if (bytes > mostArchiveBytes || count > archiveLimits.mostFiles)
    throw new RangeError(
      `writeArchive: ${count} files of ${bytes} bytes, need at most ${archiveLimits.mostFiles} of ${mostArchiveBytes}`,
    );
  return zipSync(files);
}

/** An archive of texts. */
export function writeTexts(texts: ReadonlyMap<string, string>): Uint8Array {
  return zipSync(Object.fromEntries([...texts].map(([name, text]) => [name, [strToU8(text), packed(6)]])));
}

/** Room for one archive when all records are saved: what a browser can build in memory without trouble. */
const mostPartBytes = 2 ** 29;

/** Room that a record takes in an archive. */
export interface ArchiveRoom {
  readonly bytes: number;
  readonly files: number;
}

/** Room of a record with its sounds and pictures, before packing. */
export function roomOf({ taps, photos }: Pick<Bundle, 'taps' | 'photos'>): ArchiveRoom {
  let bytes = 0;
  for (const tap of taps.values()) bytes += tap.samples.byteLength;
  for (const photo of photos.values()) bytes += photo.byteLength;
  return { bytes, files: 1 + taps.size + photos.size };
}

/**
 * Room of two parts of one archive together, or undefined where they are too much for one: all records are then saved
 * as several archives, which give all of them back when they are taken in, in any order.
 */
export function roomTogether(a: ArchiveRoom, b: ArchiveRoom, mostBytes = mostPartBytes): ArchiveRoom | undefined {
  const both = { bytes: a.bytes + b.bytes, files: a.files + b.files };
  return both.bytes > mostBytes || both.files > archiveLimits.mostFiles ? undefined : both;
}

/** Bytes as text, one character each: all that a universal file needs. */
export const latinText = (bytes: Uint8Array): string => strFromU8(bytes, true);

/** Reads an archive. Never throws: what can be saved is given, what cannot is said. */
export function readArchive(bytes: Uint8Array, limits: ZipLimits = archiveLimits): ArchiveResult {
  const zip = openZip(bytes, limits);
  if (zip.kind === 'refused') return zip;
  const folders = zip.names
    .filter((name) => name === recordFile || name.endsWith(`/${recordFile}`))
    .map((name) => name.slice(0, -recordFile.length));
  if (folders.length === 0) return { kind: 'refused', because: 'no-record' };
  const bundles: Bundle[] = [];
  const unreadable: UnreadableRecord[] = [];
  const lost: LostFile[] = [];
  for (const folder of folders) {
    const file = zip.read(`${folder}${recordFile}`);
    const read = file.kind === 'file' ? readRecordText(strFromU8(file.bytes)) : file;
    if (read.kind !== 'record') {
      unreadable.push({ folder, because: read.because });
      continue;
    }
    const { record } = read;
    const collected = <T extends object>(
      what: LostFile['what'],
      ids: readonly string[],
      name: (id: string) => string,
      content: (bytes: Uint8Array, id: string) => T | LostFile['because'],
    ): ReadonlyMap<string, T> => {
      const found = new Map<string, T>();
      for (const id of new Set(ids)) {
        const reading = zip.read(`${folder}${name(id)}`);
        const value = reading.kind === 'file' ? content(reading.bytes, id) : reading.because;
        if (typeof value === 'object') found.set(id, value);
        else lost.push({ recordId: record.id, what, id, because: value });
      }
      return found;
    };
    const notedHz = notedRates(record);
    bundles.push({
      record,
      taps: collected(
        'tap',
        tapIds(record),
        (id) => `taps/${id}.wav`,
        (wav, id) => tapAsNoted(wav, notedHz.get(id)),
      ),
      photos: collected(
        'photo',
        photoIds(record),
        (id) => `photos/${id}.jpg`,
        (photo) => photo,
      ),
    });
  }
  const lostTaps = lost.filter((file) => file.what === 'tap').length;
  return { kind: 'read', bundles, unreadable, lost, lostTaps, passedOver: zip.passedOver };
}
