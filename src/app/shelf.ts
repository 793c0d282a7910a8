// The records and the one that is open. Every edit is a function from record to record; the shelf finds out what it
// changed, shows it at once, stores it, and can take it back.
import { type ReadonlySignal, signal } from '@preact/signals';
import { applyChanges, type Change, changesBetween, inverse } from '../record/change.ts';
import type { ReadResult } from '../record/read.ts';
import { type InstrumentRecord, newRecord, type RecordSummary, summarise } from '../record/record.ts';
import { StorageError, type StorageRefusal } from '../storage/database.ts';
import type { SaveResult } from '../storage/shelf.ts';
import type { DeedName } from './deeds.ts';
import type { Notices } from './notices.ts';

/** What the shelf needs of the machine. */
export interface ShelfPorts {
  listSummaries(): Promise<readonly RecordSummary[]>;
  loadRecord(id: string): Promise<ReadResult | undefined>;
  putRecord(record: InstrumentRecord, nowIso: string): Promise<void>;
  saveChanges(id: string, changes: readonly Change[], nowIso: string): Promise<SaveResult>;
  /** tells other tabs that a record has changed */
  announce(recordId: string): void;
  /** one more thing was done that copies outside the browser do not hold */
  countDeed(): void;
  nowIso(): string;
  newId(): string;
}

export type Saving = 'saved' | 'saving' | 'not-saved';

/** One thing the maker did, as it can be taken back. */
export interface Deed {
  readonly recordId: string;
  readonly name: DeedName;
  readonly changes: readonly Change[];
  /** the rest of a deed in several records */
  readonly also?: readonly Deed[];
}

/** What is still to be stored: a whole record, or changes of one. */
type Waiting =
  | { readonly id: string; readonly changes: readonly Change[] }
  | { readonly id: string; readonly whole: InstrumentRecord };

export class Shelf {
  readonly summaries: ReadonlySignal<readonly RecordSummary[]>;
  readonly record: ReadonlySignal<InstrumentRecord | undefined>;
  readonly saving: ReadonlySignal<Saving>;
  /** what undo and redo would turn */
  readonly toUndo: ReadonlySignal<DeedName | undefined>;
  readonly toRedo: ReadonlySignal<DeedName | undefined>;

  private readonly summariesState = signal<readonly RecordSummary[]>([]);
  private readonly recordState = signal<InstrumentRecord | undefined>(undefined);
  private readonly savingState = signal<Saving>('saved');
  private readonly toUndoState = signal<DeedName | undefined>(undefined);
  private readonly toRedoState = signal<DeedName | undefined>(undefined);
  private done: Deed[] = [];
  private undone: Deed[] = [];
  private waiting: Waiting[] = [];
  private refusal: StorageRefusal = 'unknown';
  private writing: Promise<void> | undefined;
  private readonly ports: ShelfPorts;
  private readonly notices: Notices;

  constructor(ports: ShelfPorts, notices: Notices) {
    this.ports = ports;
    this.notices = notices;
    this.summaries = this.summariesState;
    this.record = this.recordState;
    this.saving = this.savingState;
    this.toUndo = this.toUndoState;
    this.toRedo = this.toRedoState;
  }

  async refresh(): Promise<void> {
    this.summariesState.value = await this.guarded(() => this.ports.listSummaries(), []);
  }

  /** Opens a record; one that cannot be read stays where it is and is said so. */
  async open(id: string): Promise<void> {
    await this.flush();
    const read = await this.guarded(() => this.ports.loadRecord(id), undefined);
    if (read?.kind === 'record') this.recordState.value = read.record;
    else if (read !== undefined) {
      const name = this.summariesState.value.find((summary) => summary.id === id)?.name ?? id;
      this.notices.show({ kind: 'record-unreadable', name, because: read.because });
    }
  }

  async create(given: {
    name: string;
    kind?: InstrumentRecord['kind'];
    model?: string;
    hand?: InstrumentRecord['hand'];
  }): Promise<string> {
    const record = newRecord({ ...given, id: this.ports.newId(), createdAtIso: this.ports.nowIso() });
    await this.put(record);
    this.ports.countDeed();
    return record.id;
  }

  /** Puts a whole record on the shelf and opens it. What the browser refuses to store waits, like any change. */
  async put(record: InstrumentRecord): Promise<void> {
    await this.flush();
    this.recordState.value = record;
    this.summariesState.value = [
      ...this.summariesState.value.filter((summary) => summary.id !== record.id),
      summarise(record, this.ports.nowIso()),
    ];
    this.waiting.push({ id: record.id, whole: record });
    await this.flush();
  }

  /** Takes off the list what was erased, and its deeds. */
  forget(id: string): void {
    this.summariesState.value = this.summariesState.value.filter((summary) => summary.id !== id);
    if (this.recordState.value?.id === id) this.recordState.value = undefined;
    const speaksOf = (deed: Deed): boolean => deed.recordId === id || (deed.also ?? []).some(speaksOf);
    this.done = this.done.filter((deed) => !speaksOf(deed));
    this.undone = this.undone.filter((deed) => !speaksOf(deed));
    this.showWhatTurns();
    this.ports.announce(id);
  }

  /**
   * Changes the open record.
   * @param deed undefined for a part of a larger deed, which is then noted as a whole
   * @returns what changed
   */
  edit(deed: DeedName | undefined, change: (record: InstrumentRecord) => InstrumentRecord): readonly Change[] {
    const before = this.recordState.value;
    if (before === undefined) return [];
    const changes = this.change(before, change);
    if (changes.length > 0 && deed !== undefined) this.note({ recordId: before.id, name: deed, changes });
    return changes;
  }

  /**
   * Changes another record and the open one as one deed; the open one stays open.
   * @returns false where the other record cannot be opened; then nothing is changed
   */
  async editBoth(
    name: DeedName,
    otherId: string,
    there: (record: InstrumentRecord) => InstrumentRecord,
    here: (record: InstrumentRecord) => InstrumentRecord,
  ): Promise<boolean> {
    const home = this.recordState.value;
    if (home === undefined || home.id === otherId) return false;
    await this.open(otherId);
    const other = this.recordState.value;
    if (other?.id !== otherId) return false;
    const also: Deed = { recordId: otherId, name, changes: this.change(other, there) };
    await this.open(home.id);
    const back = this.recordState.value;
    if (back?.id !== home.id) return false;
    this.note({ recordId: home.id, name, changes: this.change(back, here), also: [also] });
    return true;
  }

  /** Notes a deed that was done in parts, so that undo takes it back as one. */
  note(deed: Deed): void {
    this.done = [...this.done.slice(-199), deed];
    this.undone = [];
    this.showWhatTurns();
    this.ports.countDeed();
  }

  async undo(): Promise<void> {
    const deed = this.done.pop();
    if (deed !== undefined && (await this.redoAll(deed, inverse))) this.undone.push(deed);
    this.showWhatTurns();
  }

  async redo(): Promise<void> {
    const deed = this.undone.pop();
    if (deed !== undefined && (await this.redoAll(deed, (changes) => changes))) this.done.push(deed);
    this.showWhatTurns();
  }

  /** Another tab changed a record: show what is stored now, with what waits here on top. */
  async changedElsewhere(id: string): Promise<void> {
    await this.refresh();
    if (this.recordState.value?.id !== id) return;
    await this.flush();
    const read = await this.guarded(() => this.ports.loadRecord(id), undefined);
    if (read?.kind === 'record' && this.recordState.value?.id === id) this.recordState.value = read.record;
  }

  /** Resolves when everything changed so far is stored, or could not be. */
  async flush(): Promise<void> {
    if (this.waiting.length > 0 && this.writing === undefined) this.writing = this.write();
    await this.writing;
  }

  /** Resolves when everything changed so far is stored. @throws StorageError where the browser refuses */
  async stored(): Promise<void> {
    await this.flush();
    if (this.waiting.length > 0) throw new StorageError(this.refusal, undefined);
  }

  private async redoAll(deed: Deed, turned: (changes: readonly Change[]) => readonly Change[]): Promise<boolean> {
    for (const part of deed.also ?? []) if (!(await this.redoWith(part, turned(part.changes)))) return false;
    return this.redoWith(deed, turned(deed.changes));
  }

  /** Shows and stores an edit of the open record. */
  private change(before: InstrumentRecord, edit: (record: InstrumentRecord) => InstrumentRecord): readonly Change[] {
    const after = edit(before);
    const changes = changesBetween(before, after);
    if (changes.length === 0) return changes;
    this.show(after);
    this.store(before.id, changes);
    return changes;
  }

  private async redoWith(deed: Deed, changes: readonly Change[]): Promise<boolean> {
    if (this.recordState.value?.id !== deed.recordId) await this.open(deed.recordId);
    const current = this.recordState.value;
    if (current?.id !== deed.recordId) return false;
    const result = applyChanges(current, changes);
    if (result.kind === 'conflict') {
      this.notices.show({ kind: 'cannot-undo' });
      return false;
    }
    this.show(result.document);
    this.store(deed.recordId, changes);
    return true;
  }

  private show(record: InstrumentRecord): void {
    this.recordState.value = record;
    const summary = summarise(record, this.ports.nowIso());
    this.summariesState.value = this.summariesState.value.map((known) => (known.id === record.id ? summary : known));
  }

  private showWhatTurns(): void {
    this.toUndoState.value = this.done.at(-1)?.name;
    this.toRedoState.value = this.undone.at(-1)?.name;
  }

  private store(id: string, changes: readonly Change[]): void {
    this.waiting.push({ id, changes });
    void this.flush();
  }

  private async write(): Promise<void> {
    this.savingState.value = 'saving';
    try {
      for (let next = this.waiting[0]; next !== undefined; next = this.waiting[0]) {
        const result = await this.save(next);
        this.waiting.shift();
        if (result.kind !== 'saved') {
          // Someone else changed the same place. Theirs is stored; ours is shown to have lost.
          this.notices.show({ kind: 'changed-elsewhere' });
          this.waiting = this.waiting.filter((entry) => entry.id !== next.id);
          const read = await this.ports.loadRecord(next.id);
          if (read?.kind === 'record' && this.recordState.value?.id === next.id) this.recordState.value = read.record;
        } else {
          this.ports.announce(next.id);
          const idle = !this.waiting.some((entry) => entry.id === next.id);
          if (idle && this.recordState.value?.id === next.id) this.recordState.value = result.record;
        }
      }
      this.savingState.value = 'saved';
    } catch (cause) {
      // What waits stays in memory and is tried again with the next change.
      this.savingState.value = 'not-saved';
      this.refusal = cause instanceof StorageError ? cause.reason : 'unknown';
      this.notices.show({ kind: 'storage', reason: this.refusal });
    } finally {
      this.writing = undefined;
    }
  }

  private async save(next: Waiting): Promise<SaveResult> {
    if ('changes' in next) return this.ports.saveChanges(next.id, next.changes, this.ports.nowIso());
    await this.ports.putRecord(next.whole, this.ports.nowIso());
    return { kind: 'saved', record: next.whole };
  }

  private async guarded<T>(work: () => Promise<T>, otherwise: T): Promise<T> {
    try {
      return await work();
    } catch (cause) {
      this.notices.show({ kind: 'storage', reason: cause instanceof StorageError ? cause.reason : 'unknown' });
      return otherwise;
    }
  }
}
