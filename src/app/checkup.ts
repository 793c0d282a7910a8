// The check of everything stored: records that cannot be read, sounds that are gone, modes that can be read again.
import { type ReadonlySignal, signal } from '@preact/signals';
import { fileOfDemoTap } from '../demo/demo-tap-id.ts';
import { photoIds, tapIds } from '../record/archive.ts';
import { changesBetween } from '../record/change.ts';
import { freshStep } from '../record/edit.ts';
import { type Health, healthOf, mended, type RoundsWanted, textsWithin } from '../record/health.ts';
import type { ReadResult } from '../record/read.ts';
import { type InstrumentRecord, newRecord, type Round } from '../record/record.ts';
import type { RoundPlace } from '../record/round-edit.ts';
import { StorageError } from '../storage/database.ts';
import type { ExchangePorts } from './exchange.ts';
import type { ImportPorts } from './imports.ts';
import type { Notices } from './notices.ts';
import type { Preferences } from './preferences.ts';
import type { RecordsPorts } from './records.ts';
import type { Rereading } from './rereading.ts';
import type { Shelf, ShelfPorts } from './shelf.ts';

export interface CheckupPorts
  extends Pick<ShelfPorts, 'loadRecord' | 'nowIso' | 'newId' | 'putRecord'>,
    Pick<ImportPorts, 'soundIds'>,
    Pick<ExchangePorts, 'getTaps'>,
    Pick<RecordsPorts, 'removeSounds'> {
  recordIds(): Promise<readonly string[]>;
  rawRecord(id: string): Promise<unknown>;
  /** documents kept aside when a record was mended */
  keptAside(): Promise<readonly unknown[]>;
  replaceDamaged(record: InstrumentRecord, nowIso: string): Promise<void>;
}

/** Sounds and photographs that no record speaks of. */
export interface Orphans {
  readonly taps: readonly string[];
  readonly photos: readonly string[];
}

/** One record that is not as it should be. */
export type Finding =
  | { readonly kind: 'lacks'; readonly recordId: string; readonly name: string; readonly health: Health }
  | {
      readonly kind: 'unreadable';
      readonly recordId: string;
      readonly name: string;
      readonly because: Extract<ReadResult, { kind: 'refused' }>['because'];
      /** parts that mending would leave out; undefined where it cannot be mended */
      readonly leftOut: readonly string[] | undefined;
    };

export type CheckupState =
  | { readonly kind: 'not-checked' }
  | { readonly kind: 'checking' }
  | {
      readonly kind: 'checked';
      readonly records: number;
      readonly taps: number;
      readonly findings: readonly Finding[];
      readonly orphans: Orphans;
    };

export class Checkup {
  readonly state: ReadonlySignal<CheckupState>;
  private readonly current = signal<CheckupState>({ kind: 'not-checked' });
  private readonly ports: CheckupPorts;
  private readonly shelf: Shelf;
  private readonly rereading: Rereading;
  private readonly preferences: Preferences;
  private readonly notices: Notices;

  constructor(ports: CheckupPorts, shelf: Shelf, rereading: Rereading, preferences: Preferences, notices: Notices) {
    this.preferences = preferences;
    this.ports = ports;
    this.shelf = shelf;
    this.rereading = rereading;
    this.notices = notices;
    this.state = this.current;
  }

  /** Looks through everything stored, one record at a time, loading no sound. */
  async check(): Promise<void> {
    if (this.current.value.kind === 'checking') return;
    this.current.value = { kind: 'checking' };
    try {
      await this.shelf.flush();
      const here = await this.ports.soundIds();
      const listed = new Set(this.shelf.summaries.value.map(({ id }) => id));
      const stored = await this.ports.recordIds();
      const findings: Finding[] = [];
      let taps = 0;
      const spokenOf = new Set<string>();
      for (const aside of await this.ports.keptAside()) for (const id of textsWithin(aside)) spokenOf.add(id);
      for (const id of stored) {
        const read = await this.ports.loadRecord(id);
        if (read?.kind === 'record') {
          taps += tapIds(read.record).length;
          for (const each of [...tapIds(read.record), ...photoIds(read.record)]) spokenOf.add(each);
          const health = healthOf(read.record, orMade(here), this.wanted());
          const { missingSounds, missingPhotos, unread } = health;
          if (missingSounds.length + missingPhotos.length + unread.length > 0)
            findings.push({ kind: 'lacks', recordId: id, name: read.record.name, health });
          // The list forgot it: it is put on the list again.
          if (!listed.has(id)) await this.ports.putRecord(read.record, this.ports.nowIso());
        } else if (read !== undefined) {
          for (const each of textsWithin(await this.ports.rawRecord(id))) spokenOf.add(each);
          findings.push(await this.unreadable(id, read.because));
        }
      }
      if (stored.some((id) => !listed.has(id))) await this.shelf.refresh();
      const unspoken = (ids: ReadonlySet<string>) => [...ids].filter((id) => !spokenOf.has(id));
      const orphans = { taps: unspoken(here.taps), photos: unspoken(here.photos) };
      this.current.value = { kind: 'checked', records: stored.length, taps, findings, orphans };
    } catch (cause) {
      this.current.value = { kind: 'not-checked' };
      if (!(cause instanceof StorageError)) throw cause;
      this.notices.show({ kind: 'storage', reason: cause.reason });
    }
  }

  /** The check when the page opens: rounds that an earlier page did not come to read are read now. */
  async atStart(): Promise<void> {
    await this.check();
    const found = this.current.value;
    if (found.kind !== 'checked') return;
    let rounds = 0;
    for (const finding of found.findings) {
      if (finding.kind !== 'lacks' || finding.health.unread.length === 0) continue;
      rounds += await this.readUnread(finding.recordId, finding.health.unread);
    }
    if (rounds === 0) return;
    this.notices.show({ kind: 'left-read', rounds });
    await this.check();
  }

  /** @returns how many of the rounds were read */
  private async readUnread(recordId: string, unread: readonly RoundPlace[]): Promise<number> {
    const changes = await this.rereading.read(recordId, unread);
    if (changes.length > 0) this.shelf.note({ recordId, name: 'reading', changes });
    return new Set(changes.map(({ path }) => path.slice(0, 4).join(' '))).size;
  }

  private wanted(): RoundsWanted {
    const { tapsPerHold, holdsPerRound } = this.preferences.settings.value;
    return { tapsPerHold, holdsPerRound, nowIso: this.ports.nowIso() };
  }

  /** Mends one record as far as it can be, and reads modes again from its taps. */
  async mend(finding: Finding): Promise<void> {
    const { recordId } = finding;
    let leftOut = 0;
    if (finding.kind === 'unreadable') {
      const whole = mended(await this.ports.rawRecord(recordId), finding.name);
      if (whole === undefined) return;
      leftOut = whole.leftOut.length;
      await this.ports.replaceDamaged(whole.record, this.ports.nowIso());
      await this.shelf.refresh();
    }
    const read = await this.ports.loadRecord(recordId);
    if (read?.kind !== 'record') return;
    const { unread } = healthOf(read.record, orMade(await this.ports.soundIds()), this.wanted());
    const roundsRead = await this.readUnread(recordId, unread);
    this.notices.show({ kind: 'mended', name: read.record.name, leftOut, roundsRead });
    await this.check();
  }

  /** Erases sounds and photographs that no record speaks of, as it stands now. Cannot be undone. */
  async removeOrphans(): Promise<void> {
    const asked = this.orphans();
    await this.check();
    // Another tab may have written their record since they were listed.
    const now = this.orphans();
    const taps = now.taps.filter((id) => asked.taps.includes(id));
    const photos = now.photos.filter((id) => asked.photos.includes(id));
    await this.ports.removeSounds(taps, photos);
    this.notices.show({ kind: 'bin-emptied', records: 0, taps: taps.length });
    await this.check();
  }

  /** Puts taps that no record speaks of into a record of their own, from which nothing is concluded. */
  async attachOrphans(name: string): Promise<void> {
    await this.check();
    const { taps: ids } = this.orphans();
    const sounds = await this.ports.getTaps(ids);
    const atIso = this.ports.nowIso();
    const rounds = new Map<number, Round>();
    ids.forEach((id, i) => {
      const sampleRateHz = sounds[i]?.sampleRateHz;
      if (sampleRateHz === undefined) return;
      const round = rounds.get(sampleRateHz) ?? {
        id: this.ports.newId(),
        atIso,
        support: { hold: 'at-node' as const, bridge: 'off' as const, strung: false },
        spot: '',
        source: '',
        state: 'set-aside' as const,
        taps: [],
      };
      const note = { id, atIso, sampleRateHz, aboveRoomDb: 0, hold: 0 };
      rounds.set(sampleRateHz, { ...round, taps: [...round.taps, note] });
    });
    if (rounds.size === 0) return;
    const step = { ...freshStep(this.ports.newId(), atIso, undefined), rounds: [...rounds.values()] };
    const record = { ...newRecord({ id: this.ports.newId(), createdAtIso: atIso, name }), steps: [step] };
    await this.shelf.put(record);
    this.shelf.note({
      recordId: record.id,
      name: 'import',
      changes: changesBetween({ ...record, deletedAtIso: atIso }, record),
    });
    await this.check();
  }

  private orphans(): Orphans {
    const state = this.current.value;
    return state.kind === 'checked' ? state.orphans : { taps: [], photos: [] };
  }

  private async unreadable(
    recordId: string,
    because: Extract<Finding, { kind: 'unreadable' }>['because'],
  ): Promise<Finding> {
    const name = this.shelf.summaries.value.find(({ id }) => id === recordId)?.name ?? recordId;
    const leftOut = because === 'damaged' ? mended(await this.ports.rawRecord(recordId), name)?.leftOut : undefined;
    return { kind: 'unreadable', recordId, name, because, leftOut };
  }
}

/** The sounds that are stored, and those of the demo, which are made when they are wanted. */
const orMade = ({ taps, photos }: Awaited<ReturnType<ImportPorts['soundIds']>>) => ({
  taps: { has: (id: string) => taps.has(id) || fileOfDemoTap(id) !== undefined },
  photos,
});
