// The records and the one that is open. Every edit is a function from record to record; the shelf finds out what it
// changed, shows it at once, stores it, and can take it back.
import { type ReadonlySignal, signal } from '@preact/signals';
import { applyChanges, type Change, changesBetween, inverse } from '../record/change.ts';
import { faultIn, faultOf } from '../record/check.ts';
import { begun } from '../record/edit.ts';
import type { ReadResult } from '../record/read.ts';
import {
  type Beginning,
  type InstrumentRecord,
  newRecord,
  type PlannedJob,
  type RecordSummary,
  summarise,
} from '../record/record.ts';
import { StorageError, type StorageRefusal } from '../storage/database.ts';
import type { SaveResult } from '../storage/shelf.ts';
import type { EditName } from './edits.ts';
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
  countEdit(): void;
  nowIso(): string;
  newId(): string;
}

export type Saving = 'saved' | 'saving' | 'not-saved';

/** One thing the maker did, as it can be taken back. */
export interface RecordedEdit {
  readonly recordId: string;
  readonly name: EditName;
  readonly changes: readonly Change[];
  /** the rest of an edit in several records */
  readonly also?: readonly RecordedEdit[];
}

type Edit = (record: InstrumentRecord) => InstrumentRecord;

interface Editing {
  readonly change: Edit;
  /** see {@link Waiting} */
  readonly again?: Edit;
  readonly name?: EditName | undefined;
}

/** What is still to be stored: a whole record, or changes of one. */
type Waiting =
  | {
      readonly id: string;
      readonly changes: readonly Change[];
      /** makes the changes anew on top of what another tab stored; without it theirs stands */
      readonly again?: Edit | undefined;
    }
  | { readonly id: string; readonly whole: InstrumentRecord };

/** How often an edit is done again where other tabs are quicker each time. */
const mostTries = 5;

export class Shelf {
  readonly summaries: ReadonlySignal<readonly RecordSummary[]>;
  readonly record: ReadonlySignal<InstrumentRecord | undefined>;
  readonly saving: ReadonlySignal<Saving>;
  /** what undo and redo would turn */
  readonly toUndo: ReadonlySignal<EditName | undefined>;
  readonly toRedo: ReadonlySignal<EditName | undefined>;
  /** the record that was last put back after another tab had erased it, with the sounds it had stored till then */
  readonly putBackLast: ReadonlySignal<{ readonly recordId: string } | undefined>;

  private readonly summariesState = signal<readonly RecordSummary[]>([]);
  private readonly recordState = signal<InstrumentRecord | undefined>(undefined);
  private readonly savingState = signal<Saving>('saved');
  private readonly toUndoState = signal<EditName | undefined>(undefined);
  private readonly toRedoState = signal<EditName | undefined>(undefined);
  private readonly putBackState = signal<{ readonly recordId: string } | undefined>(undefined);
  /** counts the records asked for, so that the last one opens */
  private asked = 0;
  /** records that edits are kept for, as they stand here */
  private readonly kept = new Map<string, InstrumentRecord>();
  private turning = false;
  private elsewhere: Promise<unknown> = Promise.resolve();
  private done: RecordedEdit[] = [];
  private undone: RecordedEdit[] = [];
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
    this.putBackLast = this.putBackState;
  }

  async refresh(): Promise<void> {
    this.summariesState.value = await this.guarded(() => this.ports.listSummaries(), []);
  }

  /** Opens a record; one that cannot be read stays where it is and is said so. Of several asked for, the last one opens. */
  async open(id: string): Promise<void> {
    const asked = ++this.asked;
    const record = await this.loaded(id);
    if (record !== undefined && asked === this.asked) this.recordState.value = record;
  }

  async create(given: {
    name: string;
    kind?: InstrumentRecord['kind'];
    model?: string;
    hand?: InstrumentRecord['hand'];
    begunWith?: Beginning | undefined;
    planned?: PlannedJob | undefined;
  }): Promise<string> {
    const empty = newRecord({ ...given, id: this.ports.newId(), createdAtIso: this.ports.nowIso() });
    const record = empty.begunWith === undefined ? empty : begun(empty, this.ports.newId());
    await this.put(record);
    this.ports.countEdit();
    return record.id;
  }

  /**
   * Puts a whole record on the shelf and opens it. What the browser refuses to store waits, like any change.
   * @returns false where it could not be read again; then nothing is stored and the maker is told
   */
  async put(record: InstrumentRecord): Promise<boolean> {
    const fault = faultIn(record);
    if (fault !== undefined) {
      this.notices.show({ kind: 'not-storable', where: fault });
      return false;
    }
    this.asked++;
    await this.flush();
    this.recordState.value = record;
    this.summariesState.value = [
      ...this.summariesState.value.filter((summary) => summary.id !== record.id),
      summarise(record, this.ports.nowIso()),
    ];
    this.waiting.push({ id: record.id, whole: record });
    await this.flush();
    return true;
  }

  /** Takes off the list what was erased, and its edits. */
  forget(id: string): void {
    this.summariesState.value = this.summariesState.value.filter((summary) => summary.id !== id);
    if (this.recordState.value?.id === id) this.recordState.value = undefined;
    const speaksOf = (edit: RecordedEdit): boolean => edit.recordId === id || (edit.also ?? []).some(speaksOf);
    this.done = this.done.filter((edit) => !speaksOf(edit));
    this.undone = this.undone.filter((edit) => !speaksOf(edit));
    this.showWhatTurns();
    this.ports.announce(id);
  }

  /**
   * Changes a record: the open one at once, any other where it is stored.
   * @param name undefined for a part of a larger edit, which is then noted as a whole
   * @returns what changed; nothing where the record cannot be read, or could not be read again after the change
   */
  edit(recordId: string, name: EditName | undefined, change: Edit): Promise<readonly Change[]> {
    return this.changed(recordId, { name, change });
  }

  /**
   * Changes a record by an edit that holds whatever else was done to the record meanwhile: where another tab was quicker it
   * is done again on what that tab stored, and where the record was erased the record is put back.
   * @param change gives the same when done twice
   */
  keep(recordId: string, change: Edit): Promise<readonly Change[]> {
    const open = this.recordState.value;
    if (open?.id === recordId) this.kept.set(recordId, open);
    return this.changed(recordId, { change, again: change });
  }

  /**
   * Changes two records as one edit; the open one stays open.
   * @returns false where the other record cannot be read; then nothing is changed
   */
  async editBoth(name: EditName, hereId: string, otherId: string, there: Edit, here: Edit): Promise<boolean> {
    if (hereId === otherId) return false;
    const changes = await this.changed(otherId, { change: there });
    if (changes.length === 0) return false;
    const also: RecordedEdit = { recordId: otherId, name, changes };
    this.note({ recordId: hereId, name, changes: await this.changed(hereId, { change: here }), also: [also] });
    return true;
  }

  /** Notes an edit that was done in parts, so that undo takes it back as one. */
  note(edit: RecordedEdit): void {
    this.done = [...this.done.slice(-199), edit];
    this.undone = [];
    this.showWhatTurns();
    this.ports.countEdit();
  }

  undo(): Promise<void> {
    return this.turn('done', 'undone', inverse);
  }

  redo(): Promise<void> {
    return this.turn('undone', 'done', (changes) => changes);
  }

  /** Another tab changed a record: show what is stored now, with what waits here on top. */
  async changedElsewhere(id: string): Promise<void> {
    await this.refresh();
    if (this.recordState.value?.id !== id) return;
    await this.flush();
    const read = await this.guarded(() => this.ports.loadRecord(id), undefined);
    if (this.recordState.value?.id !== id) return;
    if (read?.kind === 'record') this.recordState.value = this.withWaiting(read.record);
    else if (read === undefined && !this.waiting.some((entry) => entry.id === id))
      this.notices.show({ kind: 'erased-elsewhere', name: this.recordState.value.name });
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

  /** Takes the last edit of one list to the other. An edit that cannot be turned now stays where it is. */
  private async turn(
    from: 'done' | 'undone',
    to: 'done' | 'undone',
    turned: (changes: readonly Change[]) => readonly Change[],
  ): Promise<void> {
    const edit = this[from].at(-1);
    if (edit === undefined || this.turning) return;
    this.turning = true;
    try {
      const came = await this.turnAll(edit, turned);
      if (came !== 'not-now') this[from] = this[from].filter((other) => other !== edit);
      if (came === 'turned') this[to] = [...this[to], edit];
      if (came === 'conflict') this.notices.show({ kind: 'cannot-undo' });
    } finally {
      this.turning = false;
      this.showWhatTurns();
    }
  }

  /** All parts of an edit or none: what they would change is looked at before anything is changed. */
  private async turnAll(
    edit: RecordedEdit,
    turned: (changes: readonly Change[]) => readonly Change[],
  ): Promise<'turned' | 'conflict' | 'not-now'> {
    const parts = [...(edit.also ?? []), edit];
    for (const part of parts) {
      const record = await this.current(part.recordId);
      if (record === undefined) return 'not-now';
      if (applyChanges(record, turned(part.changes)).kind === 'conflict') return 'conflict';
    }
    for (const part of parts)
      await this.changed(part.recordId, {
        change: (record) => {
          const result = applyChanges(record, turned(part.changes));
          return result.kind === 'changed' ? result.document : record;
        },
      });
    // What was turned is shown.
    if (this.recordState.value?.id !== edit.recordId) await this.open(edit.recordId);
    return 'turned';
  }

  /** The record as it stands with everything done to it here; undefined where it cannot be read. */
  async current(id: string): Promise<InstrumentRecord | undefined> {
    const open = this.recordState.value;
    return open?.id === id ? open : this.loaded(id);
  }

  private async loaded(id: string): Promise<InstrumentRecord | undefined> {
    await this.flush();
    const read = await this.guarded(() => this.ports.loadRecord(id), undefined);
    if (read?.kind === 'record') return this.withWaiting(read.record);
    if (read !== undefined) {
      const name = this.summariesState.value.find((summary) => summary.id === id)?.name ?? id;
      this.notices.show({ kind: 'record-unreadable', name, because: read.because });
    }
    // What the browser refused to store is here all the same.
    return this.waiting.reduce<InstrumentRecord | undefined>(
      (found, entry) => (entry.id === id && 'whole' in entry ? this.withWaiting(entry.whole) : found),
      undefined,
    );
  }

  /** Shows and stores an edit of a record. The open record is changed before this returns. */
  private changed(id: string, edit: Editing): Promise<readonly Change[]> {
    const open = this.recordState.value;
    if (open?.id === id) return Promise.resolve(this.changeNow(open, edit));
    // One after the other, so that each sees what the one before it did.
    const next = this.elsewhere.then(async () => {
      const before = (await this.current(id)) ?? this.kept.get(id);
      return before === undefined ? [] : this.changeNow(before, edit);
    });
    this.elsewhere = next.catch(() => undefined);
    return next;
  }

  private changeNow(before: InstrumentRecord, { change, again, name }: Editing): readonly Change[] {
    const after = change(before);
    const changes = changesBetween(before, after);
    if (changes.length === 0) return changes;
    const fault = faultOf(after, changes);
    if (fault !== undefined) {
      this.notices.show({ kind: 'not-storable', where: fault });
      return [];
    }
    this.show(after);
    this.waiting.push({ id: before.id, changes, again });
    if (name !== undefined) this.note({ recordId: before.id, name, changes });
    void this.flush();
    return changes;
  }

  /** A record as stored, with what waits here on top; what no longer fits is left out. */
  private withWaiting(stored: InstrumentRecord): InstrumentRecord {
    return this.waiting.reduce((record, entry) => {
      if (entry.id !== record.id || !('changes' in entry)) return record;
      const result = applyChanges(record, entry.changes);
      if (result.kind === 'changed') return result.document;
      return entry.again === undefined ? record : entry.again(record);
    }, stored);
  }

  private show(record: InstrumentRecord): void {
    if (this.recordState.value?.id === record.id) this.recordState.value = record;
    if (this.kept.has(record.id)) this.kept.set(record.id, record);
    const summary = summarise(record, this.ports.nowIso());
    this.summariesState.value = this.summariesState.value.map((known) => (known.id === record.id ? summary : known));
  }

  private showWhatTurns(): void {
    this.toUndoState.value = this.done.at(-1)?.name;
    this.toRedoState.value = this.undone.at(-1)?.name;
  }

  private async write(): Promise<void> {
    this.savingState.value = 'saving';
    try {
      for (let next = this.waiting[0]; next !== undefined; next = this.waiting[0]) {
        const result = await this.save(next);
        this.waiting.shift();
        if (result.kind === 'saved') this.ports.announce(next.id);
        // Someone else changed the same place. Theirs is stored; ours is shown to have lost, and only ours of that place.
        else this.notices.show({ kind: result.kind === 'newer' ? 'newer-elsewhere' : 'changed-elsewhere' });
        const stands = result.kind === 'saved' ? result.record : await this.readStored(next.id);
        if (stands !== undefined && this.recordState.value?.id === next.id)
          this.recordState.value = this.withWaiting(stands);
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
    if ('whole' in next) {
      await this.ports.putRecord(next.whole, this.ports.nowIso());
      return { kind: 'saved', record: next.whole };
    }
    let result = await this.ports.saveChanges(next.id, next.changes, this.ports.nowIso());
    if (result.kind === 'gone') return this.putBack(next.id);
    for (let tries = 0; result.kind === 'conflict' && next.again !== undefined && tries < mostTries; tries++) {
      const theirs = await this.readStored(next.id);
      if (theirs === undefined) break;
      const changes = changesBetween(theirs, next.again(theirs));
      result = await this.ports.saveChanges(next.id, changes, this.ports.nowIso());
    }
    return result;
  }

  private async readStored(id: string): Promise<InstrumentRecord | undefined> {
    const read = await this.ports.loadRecord(id);
    return read?.kind === 'record' ? read.record : undefined;
  }

  /** Another tab erased a record that is being worked on here: it is stored again as it is here. */
  private async putBack(id: string): Promise<SaveResult> {
    const known = this.recordState.value?.id === id ? this.recordState.value : this.kept.get(id);
    if (known === undefined) return { kind: 'gone' };
    const { deletedAtIso: _binned, ...record } = known;
    await this.ports.putRecord(record, this.ports.nowIso());
    // It holds everything that was still to be stored of it.
    this.waiting = this.waiting.filter((entry, i) => i === 0 || entry.id !== id);
    this.notices.show({ kind: 'put-back', name: record.name });
    this.putBackState.value = { recordId: id };
    await this.refresh();
    return { kind: 'saved', record };
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
