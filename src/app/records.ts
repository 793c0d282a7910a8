// What can be done to a record as a whole. Everything here can be undone, but for emptying the bin.
import { photoIds, tapIds } from '../record/archive.ts';
import { longestLine } from '../record/fields.ts';
import type { InstrumentRecord } from '../record/record.ts';
import type { Notices } from './notices.ts';
import type { Shelf, ShelfPorts } from './shelf.ts';

/** What is needed of the machine. */
export interface RecordsPorts extends Pick<ShelfPorts, 'loadRecord' | 'nowIso' | 'newId'> {
  removeRecord(id: string): Promise<void>;
  removeSounds(tapIds: readonly string[], photoIds: readonly string[]): Promise<void>;
}

export class Records {
  private readonly shelf: Shelf;
  private readonly notices: Notices;
  private readonly ports: RecordsPorts;

  constructor(shelf: Shelf, notices: Notices, ports: RecordsPorts) {
    this.shelf = shelf;
    this.notices = notices;
    this.ports = ports;
  }

  /**
   * A copy under a name of its own. The taps are shared: they are never changed.
   * @param nameOf the copy's name, in the maker's language
   */
  async duplicate(id: string, nameOf: (name: string) => string): Promise<void> {
    const record = await this.shelf.current(id);
    if (record !== undefined)
      await this.shelf.put({
        ...record,
        id: this.ports.newId(),
        name: nameOf(record.name).slice(0, longestLine),
        createdAtIso: this.ports.nowIso(),
      });
  }

  async archive(id: string, archived: boolean): Promise<void> {
    await this.shelf.edit(id, archived ? 'archive' : 'unarchive', (record) => ({ ...record, archived }));
  }

  /** Into the bin; nothing is erased. */
  async remove(id: string): Promise<void> {
    await this.shelf.edit(id, 'bin', (record) => ({ ...record, deletedAtIso: this.ports.nowIso() }));
    const name = this.shelf.summaries.value.find((summary) => summary.id === id)?.name ?? id;
    this.notices.show({ kind: 'deleted', name });
  }

  async restore(id: string): Promise<void> {
    await this.shelf.edit(id, 'bring-back', ({ deletedAtIso: _deleted, ...record }) => record);
  }

  /** Erases what lies in the bin, with every sound and photograph that no other record refers to. Cannot be undone. */
  async emptyBin(): Promise<void> {
    await this.shelf.flush();
    const binned: InstrumentRecord[] = [];
    const usedTaps = new Set<string>();
    const usedPhotos = new Set<string>();
    for (const summary of this.shelf.summaries.value) {
      const read = await this.ports.loadRecord(summary.id);
      // What cannot be read may refer to anything: then nothing is known to be unused.
      if (read?.kind !== 'record') {
        this.notices.show({ kind: 'record-unreadable', name: summary.name, because: read?.because ?? 'gone' });
        return;
      }
      if (read.record.deletedAtIso !== undefined) {
        binned.push(read.record);
        continue;
      }
      for (const id of tapIds(read.record)) usedTaps.add(id);
      for (const id of photoIds(read.record)) usedPhotos.add(id);
    }
    const taps = [...new Set(binned.flatMap(tapIds))].filter((id) => !usedTaps.has(id));
    const photos = [...new Set(binned.flatMap(photoIds))].filter((id) => !usedPhotos.has(id));
    // Records first: broken off in between, sounds are left over, but no record speaks of one that is gone.
    for (const { id } of binned) {
      await this.ports.removeRecord(id);
      this.shelf.forget(id);
    }
    await this.ports.removeSounds(taps, photos);
    this.notices.show({ kind: 'bin-emptied', records: binned.length, taps: taps.length });
  }
}
