// Records out of and into the browser, as archives.
import { type Bundle, photoIds, readArchive, tapIds, writeArchive } from '../record/archive.ts';
import { sameValue } from '../record/change.ts';
import type { InstrumentRecord } from '../record/record.ts';
import type { Tap } from '../signal/tap.ts';
import type { Notices } from './notices.ts';
import type { Shelf, ShelfPorts } from './shelf.ts';

/** What the exchange needs of the machine. */
export interface ExchangePorts extends Pick<ShelfPorts, 'loadRecord' | 'nowIso' | 'newId'> {
  getTaps(ids: readonly string[]): Promise<readonly (Tap | undefined)[]>;
  putTaps(taps: readonly (readonly [string, Tap])[]): Promise<void>;
  getPhoto(id: string): Promise<Blob | undefined>;
  putPhoto(id: string, photo: Blob): Promise<void>;
  readFile(file: Blob): Promise<Uint8Array<ArrayBuffer>>;
  saveFile(name: string, type: string, bytes: Uint8Array): void;
}

export class Exchange {
  private readonly ports: ExchangePorts;
  private readonly shelf: Shelf;
  private readonly notices: Notices;

  constructor(ports: ExchangePorts, shelf: Shelf, notices: Notices) {
    this.ports = ports;
    this.shelf = shelf;
    this.notices = notices;
  }

  /** Saves one record with its taps as a file. */
  async exportOne(id: string): Promise<void> {
    await this.shelf.flush();
    const name = this.shelf.summaries.value.find((summary) => summary.id === id)?.name ?? id;
    await this.exportRecords([id], fileName(name));
  }

  /** Hands a text to the maker as a file. */
  saveText(name: string, type: string, text: string): void {
    this.ports.saveFile(name, type, new TextEncoder().encode(text));
  }

  /** Saves everything on the shelf, the archive and the bin too. */
  async exportAll(): Promise<void> {
    await this.shelf.flush();
    const ids = this.shelf.summaries.value.map((summary) => summary.id);
    await this.exportRecords(ids, `all-records-${this.ports.nowIso().slice(0, 10)}`);
  }

  /** Takes in the records of archives. A record that is here already in the same state is passed over. */
  async importFiles(files: readonly File[]): Promise<void> {
    for (const file of files) {
      const archive = readArchive(await this.ports.readFile(file));
      if (archive.kind === 'refused') {
        this.notices.show({ kind: 'archive-refused', name: file.name, because: archive.because });
        continue;
      }
      let taps = 0;
      for (const bundle of archive.bundles) taps += await this.takeIn(bundle);
      const first = archive.unreadable[0];
      if (archive.bundles.length === 0 && first !== undefined)
        this.notices.show({ kind: 'archive-refused', name: file.name, because: first.because });
      else this.notices.show({ kind: 'imported', records: archive.bundles.length, taps, lost: archive.lostTaps });
    }
  }

  /** Puts one bundle on the shelf. @returns how many taps came with it */
  async takeIn(bundle: Bundle): Promise<number> {
    await this.ports.putTaps([...bundle.taps]);
    for (const [id, photo] of bundle.photos)
      await this.ports.putPhoto(id, new Blob([new Uint8Array(photo)], { type: 'image/jpeg' }));
    const here = await this.ports.loadRecord(bundle.record.id);
    if (here?.kind === 'record' && !sameValue(here.record, bundle.record)) {
      // Both are kept: the one that came in as a copy beside the one that is here.
      await this.shelf.put({ ...bundle.record, id: this.ports.newId(), name: `${bundle.record.name} (imported)` });
    } else await this.shelf.put(bundle.record);
    return bundle.taps.size;
  }

  private async exportRecords(ids: readonly string[], name: string): Promise<void> {
    const bundles: Bundle[] = [];
    for (const id of ids) {
      const read = await this.ports.loadRecord(id);
      if (read?.kind === 'record') bundles.push(await this.bundle(read.record));
      else this.notices.show({ kind: 'record-unreadable', name: id, because: read?.because ?? 'gone' });
    }
    const taps = bundles.reduce((sum, bundle) => sum + bundle.taps.size, 0);
    const wanted = bundles.reduce((sum, bundle) => sum + tapIds(bundle.record).length, 0);
    this.ports.saveFile(`${name}.zip`, 'application/zip', writeArchive(bundles));
    this.notices.show({ kind: 'exported', records: bundles.length, taps, missing: wanted - taps });
  }

  private async bundle(record: InstrumentRecord): Promise<Bundle> {
    const ids = tapIds(record);
    const sounds = await this.ports.getTaps(ids);
    const photos = new Map<string, Uint8Array>();
    for (const id of photoIds(record)) {
      const photo = await this.ports.getPhoto(id);
      if (photo !== undefined) photos.set(id, await this.ports.readFile(photo));
    }
    return {
      record,
      taps: new Map(ids.flatMap((id, i) => (sounds[i] === undefined ? [] : [[id, sounds[i]] as const]))),
      photos,
    };
  }
}

/** A name that every file system takes. */
function fileName(name: string): string {
  const plain = name
    .normalize('NFD')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase();
  return plain === '' ? 'record' : plain;
}
