// Records leave and enter as a zip that any program can open: for each record a folder with record.json, its taps as
// WAV (32-bit float, as heard) and its photographs. One record lies at the top of the archive, several in a folder each.
import { strFromU8, strToU8, unzipSync, type Zippable, zipSync } from 'fflate';
import type { Tap } from '../signal/tap.ts';
import { readWav } from '../signal/wav.ts';
import { writeWav } from '../signal/wav-write.ts';
import { readRecord } from './read.ts';
import type { InstrumentRecord } from './record.ts';

/** A record with the sounds and pictures it refers to, by id. */
export interface Bundle {
  readonly record: InstrumentRecord;
  readonly taps: ReadonlyMap<string, Tap>;
  readonly photos: ReadonlyMap<string, Uint8Array>;
}

/** What an archive gave. */
export type ArchiveResult =
  | {
      readonly kind: 'read';
      readonly bundles: readonly Bundle[];
      /** records in it that could not be read, by folder */
      readonly unreadable: readonly { readonly folder: string; readonly because: string }[];
      /** taps that a record refers to and whose sound is missing or damaged */
      readonly lostTaps: number;
    }
  | { readonly kind: 'refused'; readonly because: 'not-an-archive' | 'no-record' | 'too-large' };

const recordFile = 'record.json';
const onsetLabel = 'first contact';
/** More than 5,000 steps with 20,000 taps need; an archive that claims more is not ours. */
const mostBytes = 4 * 2 ** 30;

export const tapIds = (record: InstrumentRecord): readonly string[] =>
  record.steps.flatMap((step) => step.rounds.flatMap((round) => round.taps.map((tap) => tap.id)));

export const photoIds = (record: InstrumentRecord): readonly string[] =>
  record.steps.flatMap((step) => (step.photoId === undefined ? [] : [step.photoId]));

/** A tap as a WAV file: samples and rate as heard, the first contact as a cue. */
export function tapToWav(tap: Tap, title: string): Uint8Array {
  return writeWav([tap.samples], tap.sampleRateHz, {
    info: { INAM: title, ISFT: 'Platewright' },
    cues: [{ sample: tap.onsetIndex, label: onsetLabel }],
  });
}

/** A tap from a WAV file that this program wrote, or undefined where it is no such file. */
export function tapFromWav(bytes: Uint8Array): Tap | undefined {
  const audio = readWav(bytes);
  if (audio.kind !== 'audio') return undefined;
  const samples = audio.channels[0];
  const onset = audio.cues.find((cue) => cue.label === onsetLabel);
  if (samples === undefined || onset === undefined || onset.sample >= samples.length) return undefined;
  return { samples, sampleRateHz: audio.sampleRateHz, onsetIndex: onset.sample };
}

/** The archive of the bundles given. */
export function writeArchive(bundles: readonly Bundle[]): Uint8Array {
  const files: Zippable = {};
  for (const { record, taps, photos } of bundles) {
    const folder = bundles.length === 1 ? '' : `${record.id}/`;
    files[`${folder}${recordFile}`] = [strToU8(`${JSON.stringify(record, null, 1)}\n`), { level: 6 }];
    for (const [id, tap] of taps)
      files[`${folder}taps/${id}.wav`] = [tapToWav(tap, `${record.name} ${id}`), { level: 1 }];
    for (const [id, photo] of photos) files[`${folder}photos/${id}.jpg`] = [photo, { level: 0 }];
  }
  return zipSync(files);
}

/** Reads an archive. Never throws: what can be saved is given, what cannot is said. */
export function readArchive(bytes: Uint8Array): ArchiveResult {
  let files: Readonly<Record<string, Uint8Array>>;
  let claimed = 0;
  try {
    files = unzipSync(bytes, {
      filter: (file) => {
        claimed += file.originalSize;
        return claimed <= mostBytes;
      },
    });
  } catch {
    // The zip library throws on anything that is no zip.
    return { kind: 'refused', because: 'not-an-archive' };
  }
  if (claimed > mostBytes) return { kind: 'refused', because: 'too-large' };
  const folders = Object.keys(files)
    .filter((name) => name === recordFile || name.endsWith(`/${recordFile}`))
    .map((name) => name.slice(0, -recordFile.length));
  if (folders.length === 0) return { kind: 'refused', because: 'no-record' };
  const bundles: Bundle[] = [];
  const unreadable: { folder: string; because: string }[] = [];
  let lostTaps = 0;
  for (const folder of folders) {
    const read = readRecord(parsed(files[`${folder}${recordFile}`]));
    if (read.kind === 'refused') {
      unreadable.push({ folder, because: read.because });
      continue;
    }
    const taps = new Map<string, Tap>();
    for (const id of tapIds(read.record)) {
      const file = files[`${folder}taps/${id}.wav`];
      const tap = file === undefined ? undefined : tapFromWav(file);
      if (tap === undefined) lostTaps++;
      else taps.set(id, tap);
    }
    const photos = new Map<string, Uint8Array>();
    for (const id of photoIds(read.record)) {
      const file = files[`${folder}photos/${id}.jpg`];
      if (file !== undefined) photos.set(id, file);
    }
    bundles.push({ record: read.record, taps, photos });
  }
  return { kind: 'read', bundles, unreadable, lostTaps };
}

function parsed(bytes: Uint8Array | undefined): unknown {
  if (bytes === undefined) return undefined;
  try {
    return JSON.parse(strFromU8(bytes));
  } catch {
    // Not JSON: the reader calls it foreign.
    return undefined;
  }
}
