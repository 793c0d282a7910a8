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
  openFolder(mayAsk: boolean): Promise<SaveFile | 'none' | 'refused'>;
  nowIso(): string;
}

/** What became of the copies that are made after each round. */
export type RoundCopy = { readonly kind: 'none' | 'refused' } | { readonly kind: 'copied'; readonly atIso: string };

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
  readonly roundCopy = signal<RoundCopy>({ kind: 'none' });
  /** The moment to ask the browser for its promise: something is stored that would be missed, and it was never asked. */
  readonly promiseDue: ReadonlySignal<boolean> = computed(
    () => this.roundSaved.value && this.persisted.value === false && this.copies.value.promiseAsked !== true,
  );
  readonly canChooseFolder: boolean;
  private readonly roundSaved = signal(false);
  private copying: Promise<void> = Promise.resolve();
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
    await this.changeCopies((known) => ({ ...known, changes: known.changes + 1 }));
  }

  async measure(): Promise<void> {
    this.usedBytes.value = await this.ports.usedBytes().catch(() => undefined);
  }

  /** Asks the browser to keep what is stored. */
  async askToPersist(): Promise<void> {
    this.persisted.value = await this.ports.askToPersist().catch(() => undefined);
    this.asked.value = true;
    await this.noteAsked();
  }

  /** The maker does not want to be asked; the records' page still offers it. */
  noteAsked(): Promise<void> {
    return this.changeCopies((known) => ({ ...known, promiseAsked: true }));
  }

  /**
   * A round was closed: its record goes into the chosen folder, where the browser lets the page write there without
   * asking. Quiet: the records' page says what became of it. One copy at a time; copies of everything are counted apart.
   */
  roundClosed(recordId: string): Promise<void> {
    this.roundSaved.value = true;
    this.copying = this.copying.then(() => this.copyRound(recordId));
    return this.copying;
  }

  private async copyRound(recordId: string): Promise<void> {
    if (this.folder.value === undefined) return;
    const folder = await this.ports.openFolder(false).catch(() => 'refused' as const);
    if (folder === 'none') return;
    this.roundCopy.value = { kind: 'refused' };
    if (folder === 'refused') return;
    try {
      await this.exchange.copyOne(recordId, folder);
      this.roundCopy.value = { kind: 'copied', atIso: this.ports.nowIso() };
    } catch (cause) {
      // The folder was moved, is on a disk that was taken away, or is full.
      if (!(cause instanceof DOMException)) throw cause;
    }
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
    const folder = this.folder.value === undefined ? 'none' : await this.ports.openFolder(true);
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
    await this.changeCopies((known) => ({ ...known, changes: Math.max(0, known.changes - changesBefore), atIso }));
    await this.measure();
  }

  /** A browser that stores nothing counts for this session. */
  private async changeCopies(change: (known: Copies) => Copies): Promise<void> {
    this.copies.value = await this.ports.changeCopies(change).catch(() => change(this.copies.value));
  }
}
