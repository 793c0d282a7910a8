// What can be done to a record as a whole. Everything here can be undone.
import type { InstrumentRecord } from '../record/record.ts';
import type { Notices } from './notices.ts';
import type { Shelf } from './shelf.ts';

export class Records {
  private readonly shelf: Shelf;
  private readonly notices: Notices;
  private readonly ports: { nowIso(): string; newId(): string };

  constructor(shelf: Shelf, notices: Notices, ports: { nowIso(): string; newId(): string }) {
    this.shelf = shelf;
    this.notices = notices;
    this.ports = ports;
  }

  /** A copy under a name of its own. The taps are shared: they are never changed. */
  async duplicate(id: string): Promise<void> {
    await this.change(id, '', (record) => record);
    const record = this.shelf.record.value;
    if (record?.id === id)
      await this.shelf.put({
        ...record,
        id: this.ports.newId(),
        name: `${record.name} (copy)`,
        createdAtIso: this.ports.nowIso(),
      });
  }

  archive(id: string, archived: boolean): Promise<void> {
    return this.change(id, archived ? 'archive' : 'take from the archive', (record) => ({ ...record, archived }));
  }

  /** Into the bin; nothing is erased. */
  async remove(id: string): Promise<void> {
    await this.change(id, 'delete', (record) => ({ ...record, deletedAtIso: this.ports.nowIso() }));
    const name = this.shelf.record.value?.name ?? id;
    this.notices.show({ kind: 'deleted', name });
  }

  restore(id: string): Promise<void> {
    return this.change(id, 'bring back', ({ deletedAtIso: _deleted, ...record }) => record);
  }

  private async change(id: string, label: string, edit: (record: InstrumentRecord) => InstrumentRecord): Promise<void> {
    if (this.shelf.record.value?.id !== id) await this.shelf.open(id);
    if (this.shelf.record.value?.id === id) this.shelf.edit(label, edit);
  }
}
