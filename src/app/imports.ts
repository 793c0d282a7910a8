// Archives into the browser: first what is in them is shown, and only when the maker agrees is anything stored. A record
// that is here already is joined, never overwritten and never doubled.
import { type ReadonlySignal, signal } from '@preact/signals';
import { type Bundle, type LostFile, photoIds, tapIds, type UnreadableRecord } from '../record/archive.ts';
import type { PassedOver } from '../record/archive-unzip.ts';
import { changesBetween } from '../record/change.ts';
import { type Incoming, incoming } from '../record/incoming.ts';
import type { FileResult } from '../record/incoming-file.ts';
import { type ImportedOutline, mostOutlineCharacters } from '../record/plan-import.ts';
import type { ReadResult } from '../record/read.ts';
import type { InstrumentRecord } from '../record/record.ts';
import type { UffContent } from '../record/uff-incoming.ts';
import type { Tap } from '../signal/tap.ts';
import type { Solver } from '../solver/solver.ts';
import { StorageError } from '../storage/database.ts';
import type { Notices } from './notices.ts';
import type { Rereading } from './rereading.ts';
import type { RecordedEdit, Shelf, ShelfPorts } from './shelf.ts';

/** What taking in needs of the machine. */
export interface ImportPorts extends Pick<ShelfPorts, 'loadRecord' | 'nowIso' | 'newId'> {
  /** ids of the taps and photographs whose sound and picture are here */
  soundIds(): Promise<{ readonly taps: ReadonlySet<string>; readonly photos: ReadonlySet<string> }>;
  putTaps(taps: readonly (readonly [string, Tap])[]): Promise<void>;
  putPhoto(id: string, photo: Blob): Promise<void>;
  readFile(file: Blob): Promise<Uint8Array<ArrayBuffer>>;
}

/** One record of a file, before it is taken. */
export interface ComingRecord {
  readonly name: string;
  readonly plan: Incoming;
  /** sounds in the file that are not here yet */
  readonly newSounds: number;
}

/** One file, before it is taken. */
export interface ComingFile {
  readonly name: string;
  readonly refused: Extract<FileResult, { kind: 'refused' }>['because'] | undefined;
  readonly records: readonly ComingRecord[];
  readonly unreadable: readonly UnreadableRecord[];
  readonly lost: readonly LostFile[];
  readonly passedOver: readonly PassedOver[];
  /** what a universal file holds; undefined where it is an archive */
  readonly universal: UffContent | undefined;
}

export type ImportState =
  | { readonly kind: 'none' }
  | { readonly kind: 'reading'; readonly name: string }
  | { readonly kind: 'asking'; readonly files: readonly ComingFile[] }
  | { readonly kind: 'taking'; readonly done: number; readonly of: number };

/** Sounds stored in one go: some tens of megabytes. */
const soundsAtOnce = 50;

export class Imports {
  readonly state: ReadonlySignal<ImportState>;
  private readonly current = signal<ImportState>({ kind: 'none' });
  /** what was shown and waits for the maker's word, as it was unpacked */
  private unpackedFiles: readonly FileResult[] = [];
  private readonly ports: ImportPorts;
  private readonly shelf: Shelf;
  private readonly notices: Notices;
  private readonly rereading: Rereading;
  private readonly filing: Pick<Solver, 'run'>;

  /** @param filing unpacks, away from the page */
  constructor(ports: ImportPorts, shelf: Shelf, rereading: Rereading, filing: Pick<Solver, 'run'>, notices: Notices) {
    this.ports = ports;
    this.shelf = shelf;
    this.rereading = rereading;
    this.filing = filing;
    this.notices = notices;
    this.state = this.current;
  }

  /** Looks into files and shows what would come in. Nothing is stored. */
  async look(files: readonly File[]): Promise<void> {
    if (files.length === 0 || this.current.value.kind === 'taking') return;
    await this.shelf.flush();
    const unpacked: FileResult[] = [];
    const looked: ComingFile[] = [];
    const met = new Map<string, ReadResult>();
    try {
      for (const file of files) {
        this.current.value = { kind: 'reading', name: file.name };
        const archive = await this.unpacked(file);
        unpacked.push(archive);
        looked.push(await this.lookInto(file.name, archive, met));
      }
    } catch (cause) {
      this.current.value = { kind: 'none' };
      if (!(cause instanceof StorageError)) throw cause;
      this.notices.show({ kind: 'storage', reason: cause.reason });
      return;
    }
    this.unpackedFiles = unpacked;
    this.current.value = { kind: 'asking', files: looked };
  }

  /** Leaves everything as it was. */
  cancel(): void {
    this.unpackedFiles = [];
    this.current.value = { kind: 'none' };
  }

  /** Takes in what was shown. Undo takes all of it back. */
  async agree(): Promise<void> {
    const asked = this.current.value;
    if (asked.kind !== 'asking') return;
    const of = asked.files.reduce((sum, file) => sum + file.records.length, 0);
    const edits: RecordedEdit[] = [];
    let taps = 0;
    this.current.value = { kind: 'taking', done: 0, of };
    try {
      for (const archive of this.unpackedFiles) {
        if (archive.kind === 'refused') continue;
        for (const bundle of archive.bundles) {
          taps += bundle.taps.size;
          await this.take(bundle, edits);
          const state: ImportState = this.current.value;
          if (state.kind === 'taking') this.current.value = { ...state, done: state.done + 1 };
        }
      }
      this.note(edits);
      const lost = asked.files.reduce((sum, file) => sum + file.lost.filter(({ what }) => what === 'tap').length, 0);
      this.notices.show({ kind: 'imported', records: of, taps, lost });
    } catch (cause) {
      if (!(cause instanceof StorageError)) throw cause;
      this.note(edits);
      const done = this.current.value.kind === 'taking' ? this.current.value.done : 0;
      this.notices.show({ kind: 'import-stopped', done, of, reason: cause.reason });
    } finally {
      this.cancel();
    }
  }

  /** @param met how records stand once the files looked at before have come in */
  private async lookInto(name: string, archive: FileResult, met: Map<string, ReadResult>): Promise<ComingFile> {
    const { universal } = archive;
    const empty = {
      name,
      records: [],
      unreadable: [],
      lost: [],
      passedOver: [],
      refused: undefined,
      universal,
    };
    if (archive.kind === 'refused') return { ...empty, refused: archive.because };
    const here = await this.ports.soundIds();
    const records: ComingRecord[] = [];
    for (const { record, taps } of archive.bundles) {
      const plan = incoming(record, met.get(record.id) ?? (await this.ports.loadRecord(record.id)), record.id);
      if (plan.fate !== 'beside') met.set(record.id, { kind: 'record', record: plan.record });
      const newSounds = [...taps.keys()].filter((id) => !here.taps.has(id)).length;
      records.push({ name: record.name, plan, newSounds });
    }
    const { unreadable, lost, passedOver } = archive;
    return { ...empty, records, unreadable, lost, passedOver };
  }

  /** The outline in a drawing of another program. */
  async outline(file: File): Promise<ImportedOutline> {
    if (file.size > mostOutlineCharacters) return { kind: 'refused', because: 'too-large' };
    return this.filing.run('read-outline', { name: file.name, text: await file.text() });
  }

  private async unpacked(file: File): Promise<FileResult> {
    const bytes = await this.ports.readFile(file);
    const atIso = new Date(file.lastModified).toISOString();
    const read = await this.filing.run('read-file', { bytes, name: file.name, atIso });
    return read.kind === 'read' && (await this.isHere(read.universal)) ? { ...read, bundles: [] } : read;
  }

  /** Whether a universal file of our own writing brings only taps whose sound is here. */
  private async isHere(universal: UffContent | undefined): Promise<boolean> {
    if (universal === undefined || universal.ownTapIds.length < universal.taps + universal.repeated) return false;
    const { taps } = await this.ports.soundIds();
    return universal.ownTapIds.every((id) => taps.has(id));
  }

  /** Sounds first, the record last: broken off in between, no record speaks of a sound that is not here. */
  private async take(bundle: Bundle, edits: RecordedEdit[]): Promise<void> {
    await this.takeSounds(bundle);
    await this.shelf.stored();
    const { id } = bundle.record;
    const plan = incoming(bundle.record, await this.ports.loadRecord(id), this.ports.newId());
    if (plan.fate === 'adds') {
      await this.shelf.open(id);
      const changes = await this.shelf.edit(id, undefined, () => plan.record);
      const read = plan.toRead.length === 0 ? [] : await this.rereading.read(id, plan.toRead);
      edits.push({ recordId: id, name: 'import', changes: [...changes, ...read] });
    } else if (plan.fate !== 'nothing-new') {
      edits.push(this.arrival(plan.record));
      await this.shelf.put(plan.record);
      // Taps of other programs come without modes.
      if (plan.toRead.length > 0) await this.rereading.read(plan.record.id, plan.toRead);
    }
    await this.shelf.stored();
  }

  /** A record that came is taken back into the bin. */
  private arrival(record: InstrumentRecord): RecordedEdit {
    const binned = { ...record, deletedAtIso: this.ports.nowIso() };
    return { recordId: record.id, name: 'import', changes: changesBetween(binned, record) };
  }

  /** What is here already stays as it is. */
  private async takeSounds({ record, taps, photos }: Bundle): Promise<void> {
    const here = await this.ports.soundIds();
    const missing = [...new Set(tapIds(record))].flatMap((id) => {
      const tap = taps.get(id);
      return tap === undefined || here.taps.has(id) ? [] : [[id, tap] as const];
    });
    for (let at = 0; at < missing.length; at += soundsAtOnce)
      await this.ports.putTaps(missing.slice(at, at + soundsAtOnce));
    for (const id of photoIds(record)) {
      const photo = photos.get(id);
      if (photo !== undefined && !here.photos.has(id))
        await this.ports.putPhoto(id, new Blob([new Uint8Array(photo)], { type: 'image/jpeg' }));
    }
  }

  private note(edits: readonly RecordedEdit[]): void {
    const [first, ...also] = edits;
    if (first !== undefined) this.shelf.note({ ...first, also });
  }
}
