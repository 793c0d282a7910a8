// Records out of the browser, as archives and as single files.
import { localDay } from '../quantity/day.ts';
import {
  type ArchiveRoom,
  type Bundle,
  type KeptAsIs,
  photoIds,
  roomOf,
  roomTogether,
  tapIds,
} from '../record/archive.ts';
import { textsWithin } from '../record/health.ts';
import type { InstrumentRecord } from '../record/record.ts';
import type { Tap } from '../signal/tap.ts';
import type { Solver } from '../solver/solver.ts';
import type { Notices } from './notices.ts';
import type { Shelf, ShelfPorts } from './shelf.ts';

/** What the exchange needs of the machine. */
export interface ExchangePorts extends Pick<ShelfPorts, 'loadRecord' | 'nowIso'> {
  getTaps(ids: readonly string[]): Promise<readonly (Tap | undefined)[]>;
  getPhoto(id: string): Promise<Blob | undefined>;
  /** ids of the taps and photographs whose sound and picture are here */
  soundIds(): Promise<{ readonly taps: ReadonlySet<string>; readonly photos: ReadonlySet<string> }>;
  /** what is stored under the id, whether it can be read or not */
  rawRecord(id: string): Promise<unknown>;
  /** ids of every stored record, whether it can be read or not */
  recordIds(): Promise<readonly string[]>;
  readFile(file: Blob): Promise<Uint8Array<ArrayBuffer>>;
  saveFile: SaveFile;
}

/** Hands a file to the maker, or puts it into a folder. */
export type SaveFile = (name: string, type: string, bytes: Uint8Array) => void | Promise<void>;

/** What went out. */
interface Sent {
  readonly files: number;
  readonly records: number;
  readonly taps: number;
  /** taps whose sound is not here */
  readonly missing: number;
  /** records that cannot be read and went along as they are */
  readonly unreadable: number;
}

export class Exchange {
  private readonly ports: ExchangePorts;
  private readonly shelf: Shelf;
  private readonly filing: Pick<Solver, 'run'>;
  private readonly notices: Notices;

  /** @param filing packs, away from the page */
  constructor(ports: ExchangePorts, shelf: Shelf, filing: Pick<Solver, 'run'>, notices: Notices) {
    this.ports = ports;
    this.shelf = shelf;
    this.filing = filing;
    this.notices = notices;
  }

  /** Saves one record with its taps as a file. */
  async exportOne(id: string): Promise<void> {
    const name = this.shelf.summaries.value.find((summary) => summary.id === id)?.name ?? id;
    await this.send([id], fileName(name), this.ports.saveFile);
  }

  /**
   * Saves everything on the shelf, the archive and the bin too: one archive, or several where one would be too large.
   * @param save where to; a download where not given
   */
  async exportAll(save: SaveFile = this.ports.saveFile): Promise<void> {
    // What the list forgot is stored all the same, and not every browser lets the list be read.
    const stored = await this.ports.recordIds().catch(() => []);
    const ids = [...new Set([...this.shelf.summaries.value.map((summary) => summary.id), ...stored])];
    await this.send(ids, `all-records-${localDay(this.ports.nowIso())}`, save);
  }

  /** Writes one record with its taps, saying nothing of it. */
  async copyOne(id: string, save: SaveFile): Promise<void> {
    const record = await this.recordOf(id);
    if (record === undefined) return;
    const archive = await this.filing.run('write-archive', { bundles: [await this.bundle(record)], kept: [] });
    await save(`${fileName(record.name)}-${fileName(id).slice(-12)}.zip`, 'application/zip', archive);
  }

  /** Hands a text to the maker as a file. */
  saveText(name: string, type: string, text: string): void {
    void this.ports.saveFile(name, type, new TextEncoder().encode(text));
  }

  private async send(ids: readonly string[], name: string, save: SaveFile): Promise<void> {
    await this.shelf.flush();
    let sent: Sent = { files: 0, records: 0, taps: 0, missing: 0, unreadable: 0 };
    let part: (Bundle | KeptAsIs)[] = [];
    let room: ArchiveRoom = { bytes: 0, files: 0 };
    const close = async (isLast: boolean): Promise<void> => {
      const suffix = isLast && sent.files === 0 ? '' : `-part-${sent.files + 1}`;
      const archive = await this.filing.run('write-archive', {
        bundles: part.filter((each) => 'record' in each),
        kept: part.filter((each) => 'text' in each),
      });
      await save(`${name}${suffix}.zip`, 'application/zip', archive);
      sent = { ...sent, files: sent.files + 1 };
    };
    for (const id of ids) {
      const record = await this.recordOf(id);
      const bundle = record === undefined ? await this.keptAsIs(id) : await this.bundle(record);
      if (bundle === undefined) continue;
      const together = roomTogether(room, roomOf(bundle));
      if (together === undefined && part.length > 0) {
        await close(false);
        part = [];
      }
      part.push(bundle);
      room = part.length === 1 ? roomOf(bundle) : (together ?? room);
      sent =
        record === undefined
          ? { ...sent, unreadable: sent.unreadable + 1 }
          : {
              ...sent,
              records: sent.records + 1,
              taps: sent.taps + bundle.taps.size,
              missing: sent.missing + new Set(tapIds(record)).size - bundle.taps.size,
            };
    }
    if (part.length > 0) await close(true);
    this.notices.show({ kind: 'exported', ...sent });
  }

  /** The open record as it is on screen, stored or not; any other as it is stored. */
  private async recordOf(id: string): Promise<InstrumentRecord | undefined> {
    const open = this.shelf.record.value;
    if (open?.id === id) return open;
    const read = await this.ports.loadRecord(id);
    return read?.kind === 'record' ? read.record : undefined;
  }

  private async bundle(record: InstrumentRecord): Promise<Bundle> {
    return { record, ...(await this.sounds(tapIds(record), photoIds(record))) };
  }

  /** A record that cannot be read, with every sound and picture whose id stands somewhere in it. */
  private async keptAsIs(id: string): Promise<KeptAsIs | undefined> {
    const stored = await this.ports.rawRecord(id);
    if (stored === undefined) return undefined;
    const here = await this.ports.soundIds();
    const said = textsWithin(stored);
    const photos = [...here.photos].filter((photo) => said.has(photo));
    const sounds = await this.sounds(
      [...here.taps].filter((tap) => said.has(tap)),
      photos,
    );
    return { id, text: `${JSON.stringify(stored, null, 1)}\n`, ...sounds };
  }

  private async sounds(ids: readonly string[], photosOf: readonly string[]): Promise<Pick<Bundle, 'taps' | 'photos'>> {
    const sounds = await this.ports.getTaps(ids);
    const photos = new Map<string, Uint8Array>();
    for (const id of photosOf) {
      const photo = await this.ports.getPhoto(id);
      if (photo !== undefined) photos.set(id, await this.ports.readFile(photo));
    }
    return {
      taps: new Map(ids.flatMap((id, i) => (sounds[i] === undefined ? [] : [[id, sounds[i]] as const]))),
      photos,
    };
  }
}

/** A name that every file system takes. */
export function fileName(name: string): string {
  const plain = name
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .toLowerCase()
    .slice(0, 80);
  return plain === '' ? 'record' : plain;
}
