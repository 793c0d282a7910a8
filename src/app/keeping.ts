// Whether the records are safe: copies outside the browser, its promise to keep them, and the room they take.
import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { Copies } from '../storage/keeping.ts';
import type { Exchange, SaveFile } from './exchange.ts';
import type { Notices } from './notices.ts';

/** What keeping needs of the machine. */
export interface KeepingPorts {
  loadCopies(): Promise<Copies>;
  changeCopies(change: (known: Copies) => Copies): Promise<Copies>;
  isPersisted(): Promise<boolean | undefined>;
  askToPersist(): Promise<boolean | undefined>;
  usedBytes(): Promise<number | undefined>;
  canChooseFolder(): boolean;
  chosenFolder(): Promise<string | undefined>;
  chooseFolder(): Promise<string | undefined>;
  forgetFolder(): Promise<void>;
  openFolder(): Promise<SaveFile | 'none' | 'refused'>;
  nowIso(): string;
}

/** Things done after which a copy is due. Own choice: some afternoons at the bench. */
const copyDueAfter = 20;

export class Keeping {
  readonly copies = signal<Copies>({ changes: 0, atIso: undefined });
  /** undefined where the browser does not say */
  readonly persisted = signal<boolean | undefined>(undefined);
  /** true once it was asked for in this session */
  readonly asked = signal(false);
  readonly usedBytes = signal<number | undefined>(undefined);
  readonly folder = signal<string | undefined>(undefined);
  readonly copyDue: ReadonlySignal<boolean> = computed(() => this.copies.value.changes >= this.remindAt.value);
  readonly canChooseFolder: boolean;
  private readonly remindAt = signal(copyDueAfter);
  private readonly ports: KeepingPorts;
  private readonly exchange: Exchange;
  private readonly notices: Notices;

  constructor(ports: KeepingPorts, exchange: Exchange, notices: Notices) {
    this.ports = ports;
    this.exchange = exchange;
    this.notices = notices;
    this.canChooseFolder = ports.canChooseFolder();
  }

  /** Reads how things stand. A browser that refuses to say is told by the shelf. */
  async load(): Promise<void> {
    const unsaid = () => undefined;
    this.copies.value = await this.ports.loadCopies().catch(() => this.copies.value);
    this.persisted.value = await this.ports.isPersisted().catch(unsaid);
    this.folder.value = this.canChooseFolder ? await this.ports.chosenFolder().catch(unsaid) : undefined;
    await this.measure();
  }

  /** Something was done that no copy holds yet. */
  async count(): Promise<void> {
    this.copies.value = await this.ports
      .changeCopies((known) => ({ ...known, changes: known.changes + 1 }))
      .catch(() => ({ ...this.copies.value, changes: this.copies.value.changes + 1 }));
  }

  async measure(): Promise<void> {
    this.usedBytes.value = await this.ports.usedBytes().catch(() => undefined);
  }

  /** Asks the browser to keep what is stored. */
  async askToPersist(): Promise<void> {
    this.persisted.value = await this.ports.askToPersist().catch(() => undefined);
    this.asked.value = true;
  }

  /** The reminder comes again when as much again has changed. */
  remindLater(): void {
    this.remindAt.value = this.copies.value.changes + copyDueAfter;
  }

  async chooseFolder(): Promise<void> {
    this.folder.value = (await this.ports.chooseFolder()) ?? this.folder.value;
  }

  async forgetFolder(): Promise<void> {
    await this.ports.forgetFolder();
    this.folder.value = undefined;
  }

  /** Saves everything: into the chosen folder, or as a download where there is none. */
  async saveAll(): Promise<void> {
    const changesBefore = this.copies.value.changes;
    const folder = this.folder.value === undefined ? 'none' : await this.ports.openFolder();
    if (folder === 'refused') {
      this.notices.show({ kind: 'folder-refused', name: this.folder.value ?? '' });
      return;
    }
    try {
      await this.exchange.exportAll(folder === 'none' ? undefined : folder);
    } catch (cause) {
      if (!(cause instanceof DOMException)) throw cause;
      // The folder was moved, is on a disk that was taken away, or is full.
      this.notices.show({ kind: 'folder-refused', name: this.folder.value ?? '' });
      return;
    }
    const atIso = this.ports.nowIso();
    this.remindAt.value = copyDueAfter;
    this.copies.value = await this.ports
      .changeCopies((known) => ({ changes: Math.max(0, known.changes - changesBefore), atIso }))
      .catch(() => ({ changes: 0, atIso }));
    await this.measure();
  }
}
