// The maker's other instruments, read from the shelf when something asks what they did.
import { type ReadonlySignal, signal } from '@preact/signals';
import type { InstrumentRecord } from '../record/record.ts';
import type { Shelf } from './shelf.ts';

export class Earlier {
  /** every readable instrument on the shelf but the open one; undefined until read */
  readonly records: ReadonlySignal<readonly InstrumentRecord[] | undefined>;

  private readonly state = signal<readonly InstrumentRecord[] | undefined>(undefined);
  private readonly shelf: Shelf;
  private readonly peek: (id: string) => Promise<InstrumentRecord | undefined>;

  constructor(shelf: Shelf, peek: (id: string) => Promise<InstrumentRecord | undefined>) {
    this.shelf = shelf;
    this.peek = peek;
    this.records = this.state;
  }

  /** Reads them anew. */
  async load(): Promise<void> {
    const open = this.shelf.record.value?.id;
    const others = this.shelf.summaries.value.filter(
      (summary) => summary.kind === 'instrument' && !summary.deleted && summary.id !== open,
    );
    const read = await Promise.all(others.map((summary) => this.peek(summary.id)));
    this.state.value = read.filter((record) => record !== undefined);
  }
}
