// The real storage over a database in memory, as the program sees it, with a disk that can be filled.
import 'fake-indexeddb/auto';
import { promisifyRequest } from 'idb-keyval';
import { Notices } from '../../src/app/notices.ts';
import { Shelf } from '../../src/app/shelf.ts';
import { writeArchive, writeTexts } from '../../src/record/archive.ts';
import { readIncomingFile } from '../../src/record/incoming-file.ts';
import { type InstrumentRecord, summarise } from '../../src/record/record.ts';
import { Database, StorageError } from '../../src/storage/database.ts';
import { records } from '../../src/storage/shelf.ts';
import { getPhoto, getTaps, putPhoto, putTaps, soundIds } from '../../src/storage/sounds.ts';

/** Puts a document on the shelf past its door, as a fault or another program would. */
export async function plant(document: InstrumentRecord, at: string): Promise<void> {
  await new Database('platewright-shelf').run('readwrite', (store) => {
    store.put(document, `record:${document.id}`);
    store.put(summarise(document, at), `summary:${document.id}`);
    return promisifyRequest(store.transaction);
  });
}

interface SavedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** Ports, shelf and notices; every id in use is told apart by the prefix. */
export function storageMachine(prefix: string) {
  const disk = { putsLeft: Number.POSITIVE_INFINITY };
  const saved: SavedFile[] = [];
  let ids = 0;
  const counted =
    <A extends unknown[], R>(work: (...given: A) => Promise<R>) =>
    async (...given: A): Promise<R> => {
      if (disk.putsLeft-- <= 0) throw new StorageError('full', undefined);
      return work(...given);
    };
  const ports = {
    getTaps,
    getPhoto,
    soundIds,
    ...records,
    putRecord: counted(records.putRecord),
    saveChanges: counted(records.saveChanges),
    putTaps: counted(putTaps),
    putPhoto: counted(putPhoto),
    announce: () => undefined,
    countEdit: () => undefined,
    nowIso: () => '2026-11-25T08:00:00.000Z',
    newId: () => `${prefix}-made-${++ids}`,
    readFile: async (file: Blob) => new Uint8Array(await file.arrayBuffer()),
    saveFile: (name: string, _type: string, bytes: Uint8Array) => {
      saved.push({ name, bytes });
    },
  };
  const notices = new Notices();
  return { disk, saved, ports, notices, shelf: new Shelf(ports, notices) };
}

/** Packs and unpacks as the worker does. */
export const filing = {
  run: async (kind: string, ask: never) => {
    if (kind === 'read-file') {
      const { bytes, name, atIso } = ask as { bytes: Uint8Array; name: string; atIso: string };
      return readIncomingFile(bytes, name, atIso);
    }
    if (kind === 'write-texts') return writeTexts((ask as { texts: ReadonlyMap<string, string> }).texts);
    const { bundles, kept } = ask as { bundles: never; kept: never };
    return writeArchive(bundles, kept);
  },
} as never;

/** A tap whose samples tell it apart. */
export const soundOf = (mark: number) => ({
  samples: Float32Array.from({ length: 120 }, (_, i) => (i === 0 ? 0 : mark * (-0.5) ** (i - 1))),
  sampleRateHz: 48_000,
  onsetIndex: 1,
});
