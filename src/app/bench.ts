// The bench: one round of taps from the first press to the answer. Taps are stored the moment they are accepted; the
// hold closes by itself, and the stream's own samples are the clock, so that a busy page loses nothing.
import { computed, type ReadonlySignal, signal } from '@preact/signals';
import { endsListening, type MicrophoneFacts, type MicrophoneTrouble } from '../capture/microphone.ts';
import type { InstrumentRecord, Piece, Round, Stage, Step, Support, TapNote } from '../record/record.ts';
import {
  changeRound,
  homeOf,
  keptRound,
  type RecordHome,
  type RecordPlace,
  removeRound,
  roundChanges,
  usualSpot,
} from '../record/round-edit.ts';
import { supportAt } from '../record/support.ts';
import type { Level } from '../signal/hear/level.ts';
import type { RoundFit, Tap, TapVerdict } from '../signal/tap.ts';
import type { Solver } from '../solver/solver.ts';
import type { BenchState, Heard, RoundSetting } from './bench-state.ts';
import { Ear, type EarPorts } from './ear.ts';
import { isLosingSound } from './losing-sound.ts';
import type { Notices } from './notices.ts';
import type { Preferences } from './preferences.ts';
import type { Room } from './room.ts';
import { RoundReading } from './round-reading.ts';
import { RoundSounds, type SoundPorts } from './round-sounds.ts';
import type { Shelf } from './shelf.ts';

/** What the bench needs of the machine. */
export interface BenchPorts extends EarPorts, SoundPorts {
  unlockSound(): void;
  nowIso(): string;
  newId(): string;
}

/**
 * The round at hand, as it stands here. The record may be closed, changed or erased meanwhile: this is what it is held to.
 */
interface Session {
  readonly place: RecordPlace;
  /** the step or the piece as it was when the round began */
  readonly home: Step | Piece;
  round: Round;
  /** the round as the record had it, where it is read again */
  readonly before: Round | undefined;
  /** its place among the rounds of its home */
  readonly index: number;
}

export class Bench {
  readonly state = signal<BenchState>({ kind: 'idle' });
  readonly support = signal<Support>({ hold: 'at-node', bridge: 'off', strung: false });
  /** false where bridge and strings have to be asked for before the first taps in a stage */
  readonly supportKnown = signal(true);
  readonly spot = signal('lower-bout-centre');
  readonly heard = signal<readonly Heard[]>([]);
  readonly provisional = signal<RoundFit | undefined>(undefined);
  readonly listening: ReadonlySignal<boolean> = computed(
    () =>
      this.state.value.kind === 'listening' ||
      this.state.value.kind === 'between-holds' ||
      this.state.value.kind === 'opening',
  );

  private session: Session | undefined;
  private takenUp: string | undefined;
  /** resolves when every tap accepted so far is stored, one after the other */
  private storing: Promise<void> = Promise.resolve();
  private readonly ear: Ear;
  private readonly sounds: RoundSounds;
  private readonly reading: RoundReading;
  private readonly ports: BenchPorts;
  private readonly shelf: Shelf;
  private readonly solver: Solver;
  private readonly preferences: Preferences;
  private readonly notices: Notices;
  /** Whether another round, from spot to spot, has the microphone: there is one ear. */
  private readonly isHeardElsewhere: () => boolean;
  private readonly room: Pick<Room, 'known'>;

  constructor(
    ports: BenchPorts,
    shelf: Shelf,
    solver: Solver,
    preferences: Preferences,
    notices: Notices,
    room: Pick<Room, 'known'>,
    isHeardElsewhere = () => false,
  ) {
    this.isHeardElsewhere = isHeardElsewhere;
    this.room = room;
    this.ports = ports;
    this.shelf = shelf;
    this.solver = solver;
    this.preferences = preferences;
    this.notices = notices;
    this.sounds = new RoundSounds(ports, notices);
    this.reading = new RoundReading(solver, notices);
    this.ear = new Ear(ports, preferences, notices, {
      onVerdict: (verdict) => this.judge(verdict),
      onTime: () => this.countDown(),
      onTrouble: (trouble) => void this.interrupt(trouble),
      onWaiting: (waitsFor) => {
        if (this.state.value.kind === 'opening') this.state.value = { kind: 'opening', waitsFor };
      },
    });
    // What another tab erased with the record is stored again with it.
    shelf.putBackLast.subscribe((back) => {
      if (back !== undefined && back.recordId === this.session?.place.recordId) void this.sounds.storeAllAgain();
    });
  }

  get level(): ReadonlySignal<Level | undefined> {
    return this.ear.level;
  }

  get microphone(): ReadonlySignal<MicrophoneFacts | undefined> {
    return this.ear.microphone;
  }

  /**
   * Opens the microphone and begins a round. Call inside the press: sound and microphone need it.
   * @param home    the step or the piece of wood it is a measurement of
   * @param setting how it is held and tapped; what was chosen on the bench if not given
   */
  async start(home: RecordHome, setting: RoundSetting = this.chosen()): Promise<void> {
    const { kind } = this.state.value;
    if (this.isHeardElsewhere()) {
      this.notices.show({ kind: 'bench-busy' });
      return;
    }
    if (kind !== 'idle' && kind !== 'answer') {
      // A second press while the microphone opens is none of another round.
      if (kind !== 'opening') this.notices.show({ kind: 'bench-busy' });
      return;
    }
    const record = this.shelf.record.value;
    if (record?.id !== home.recordId) throw new RangeError(`start: record ${home.recordId}, need the open one`);
    // Asked before the microphone is: it would stay open.
    if (homeOf(record, home) === undefined) throw new RangeError('start: no such step or piece in the record');
    this.ports.unlockSound();
    this.state.value = { kind: 'opening' };
    if (!(await this.connect())) return;
    const facts = this.microphone.value;
    const source = facts === undefined ? '' : `${facts.label} · ${facts.sampleRateHz} Hz`;
    const room = this.room.known.value;
    const session = this.begin(record, home, setting, source, room === undefined ? {} : { roomPoles: room.poles });
    this.listenTo(session.place, 0);
  }

  /** Goes on with a round that was broken off. Its taps are in the record. */
  resume(place: RecordPlace): Promise<void> {
    return this.goOn(place, (holds) => Math.max(0, holds - 1));
  }

  /** Goes on with a round that is over by one hold more, as where one of its holds disagreed. */
  tapAnotherHold(place: RecordPlace): Promise<void> {
    return this.goOn(place, (holds) => holds);
  }

  /** @param holdAfter the hold that is tapped next, from how many there are */
  private async goOn(place: RecordPlace, holdAfter: (holds: number) => number): Promise<void> {
    this.ports.unlockSound();
    const session = this.takeUpRound(place);
    if (session === undefined) return;
    await this.sounds.fetch(session.round);
    this.state.value = { kind: 'opening' };
    if (await this.connect()) this.listenTo(place, holdAfter(this.sounds.holds.length));
  }

  /** The person does not want to wait until the microphone opens. */
  giveUpOpening(): void {
    this.ear.giveUpOpening();
  }

  /** Ends the round with the taps there are, and reads them. A round without taps leaves no trace. */
  async finish(): Promise<void> {
    const { state, session } = this;
    if (session === undefined || !('place' in state.value)) return;
    if (state.value.kind === 'answer' || state.value.kind === 'reading') return;
    await this.ear.disconnect();
    await this.storing;
    if (this.sounds.holds.every((hold) => hold.length === 0)) {
      void this.shelf.edit(session.place.recordId, undefined, (record) => removeRound(record, session.place));
      this.session = undefined;
      this.state.value = { kind: 'idle' };
      return;
    }
    await this.read(session);
  }

  /** Leaves out the holds that are still to come. */
  skipHolds(): Promise<void> {
    return this.finish();
  }

  /** Stops reading; the taps stay in the record and can be read later. */
  cancel(): void {
    this.reading.cancel();
  }

  /** Takes a refused sound after all: the maker knows better. A round that is over is read again with it. */
  async keepAnyway(number: number): Promise<void> {
    const heard = this.heard.value.find((line) => line.number === number);
    const { session } = this;
    const state = this.state.value;
    if (heard?.kind !== 'refused' || heard.keptAnyway || session === undefined) return;
    if (!('place' in state) || state.kind === 'reading') return;
    this.heard.value = this.heard.value.map((line) => (line.number === number ? { ...line, keptAnyway: true } : line));
    const hold = 'hold' in state ? state.hold : Math.max(0, this.sounds.holds.length - 1);
    const isOver = state.kind === 'answer';
    await this.accept(heard.tap, 0, session, hold, !isOver);
    if (isOver) await this.readAgain(session.place);
  }

  /** Taps from recordings: each file is one hold of a round. */
  async takeRecordings(
    home: RecordHome,
    name: string,
    holds: readonly (readonly { tap: Tap; aboveRoomDb: number }[])[],
    setting: RoundSetting = this.chosen(),
  ): Promise<void> {
    const record = this.shelf.record.value;
    if (record?.id !== home.recordId || !this.isFree()) return;
    const session = this.begin(record, home, setting, name);
    for (const [hold, taps] of holds.entries())
      for (const { tap, aboveRoomDb } of taps) await this.accept(tap, aboveRoomDb, session, hold, false);
    await this.read(session);
  }

  /** Reads a round again as if nobody had clapped: what was taken for the room's is the piece's after all. */
  async readWithoutRoom(place: RecordPlace): Promise<void> {
    await this.shelf.edit(place.recordId, 'room', (record) =>
      changeRound(record, place, ({ roomPoles: _, ...round }) => round),
    );
    await this.readAgain(place);
  }

  /** Reads a round again with every hold, though one was not borne out by the others: the maker knows better. */
  async countEveryHold(place: RecordPlace): Promise<void> {
    await this.shelf.edit(place.recordId, 'every-hold', (record) =>
      changeRound(record, place, (round) => ({ ...round, countsEveryHold: true })),
    );
    await this.readAgain(place);
  }

  /** Reads the taps of a stored round again. */
  async readAgain(place: RecordPlace): Promise<void> {
    const session = this.takeUpRound(place);
    if (session === undefined) return;
    await this.sounds.fetch(session.round);
    await this.read(session);
  }

  /** The page was hidden or shown: what is heard while nobody sees the page is not measured. */
  presence(visible: boolean): void {
    if (this.state.value.kind !== 'listening' && this.state.value.kind !== 'between-holds') return;
    this.ear.presence(visible);
  }

  /** Takes over how the piece was last held in its stage and where it is usually tapped, once for each that comes up. */
  takeUp(record: InstrumentRecord, stage: Stage): void {
    if (this.takenUp === `${record.id} ${stage}`) return;
    this.takenUp = `${record.id} ${stage}`;
    const { support, isKnown } = supportAt(record, stage);
    this.support.value = support;
    this.supportKnown.value = isKnown;
    this.spot.value = usualSpot(record) ?? 'lower-bout-centre';
  }

  /** Whether another round may come to the bench; the maker is told where not. */
  private isFree(): boolean {
    const { kind } = this.state.value;
    const isFree = kind === 'idle' || kind === 'answer' || kind === 'interrupted';
    if (!isFree) this.notices.show({ kind: 'bench-busy' });
    return isFree;
  }

  private chosen(): RoundSetting {
    return { support: this.support.value, spot: this.spot.value };
  }

  private begin(
    record: InstrumentRecord,
    { recordId, ...home }: RecordHome,
    setting: RoundSetting,
    source: string,
    room: Pick<Round, 'roomPoles'> = {},
  ): Session {
    this.heard.value = [];
    this.provisional.value = undefined;
    this.sounds.clear();
    const round: Round = {
      id: this.ports.newId(),
      atIso: this.ports.nowIso(),
      ...setting,
      source,
      ...room,
      state: 'open',
      taps: [],
    };
    const where = homeOf(record, home);
    if (where === undefined) throw new RangeError('begin: no such step or piece in the record');
    const place = { ...home, recordId, roundId: round.id };
    this.session = { place, home: where, round, before: undefined, index: where.rounds.length };
    void this.keep(this.session);
    return this.session;
  }

  /** The round of the open record as the one at hand. */
  private takeUpRound(place: RecordPlace): Session | undefined {
    if (!this.isFree()) return undefined;
    const record = this.shelf.record.value;
    const home = record?.id === place.recordId ? homeOf(record, place) : undefined;
    const round = home?.rounds.find(({ id }) => id === place.roundId);
    if (home === undefined || round === undefined) return undefined;
    const before = round.state === 'open' ? undefined : round;
    this.session = { place, home, round, before, index: home.rounds.indexOf(round) };
    return this.session;
  }

  /** Has the record hold the round as it stands here. */
  private async keep({ place, home, ...session }: Session, round: Round = session.round): Promise<void> {
    await this.shelf.keep(place.recordId, (record) => keptRound(record, place, home, round));
  }

  private async connect(): Promise<boolean> {
    let isOpen = false;
    try {
      isOpen = await this.ear.connect();
    } finally {
      if (!isOpen) this.state.value = { kind: 'idle' };
    }
    if (isOpen) this.solver.warmUp();
    return isOpen;
  }

  private async interrupt(trouble: MicrophoneTrouble): Promise<void> {
    this.notices.show({ kind: 'microphone-trouble', trouble });
    const state = this.state.value;
    if (!endsListening(trouble) || !('place' in state)) return;
    await this.ear.disconnect();
    this.state.value = { kind: 'interrupted', place: state.place };
  }

  private listenTo(place: RecordPlace, hold: number): void {
    this.state.value = { kind: 'listening', place, hold, taken: this.sounds.holds[hold]?.length ?? 0 };
  }

  private countDown(): void {
    const state = this.state.value;
    if (state.kind !== 'between-holds') return;
    const secondsLeft = this.ear.deafForS;
    if (secondsLeft === 0) this.listenTo(state.place, state.hold);
    else if (Math.ceil(secondsLeft) !== Math.ceil(state.secondsLeft)) this.state.value = { ...state, secondsLeft };
  }

  private judge(verdict: TapVerdict): void {
    const state = this.state.value;
    if (state.kind !== 'listening') return;
    this.heard.value = [...this.heard.value, { ...verdict, number: this.heard.value.length }];
    if (verdict.kind === 'refused') {
      this.ear.cue('refused');
      if (isLosingSound(this.heard.value)) this.notices.show({ kind: 'microphone-trouble', trouble: 'losing-sound' });
      return;
    }
    if (this.session !== undefined) void this.accept(verdict.tap, verdict.aboveRoomDb, this.session, state.hold);
  }

  private async accept(tap: Tap, aboveRoomDb: number, session: Session, hold: number, live = true): Promise<void> {
    const id = this.ports.newId();
    this.sounds.add(id, tap, hold);
    const note: TapNote = { id, atIso: this.ports.nowIso(), sampleRateHz: tap.sampleRateHz, aboveRoomDb, hold };
    if (live) this.advance(session.place, hold);
    session.round = { ...session.round, taps: [...session.round.taps, note] };
    const stored = this.storing.then(() => this.store(session));
    this.storing = stored.catch(() => undefined);
    await stored;
    if (live && this.isComplete()) await this.finish();
    else if (live) void this.readProvisionally();
  }

  /** The sounds first, then the notes that speak of them. */
  private async store(session: Session): Promise<void> {
    const { round } = session;
    await this.sounds.store();
    await this.keep(session, round);
  }

  /** The sound of a tap that the browser has not stored yet. */
  unstored(id: string): Tap | undefined {
    return this.sounds.unstored(id);
  }

  private isComplete(): boolean {
    const { tapsPerHold, holdsPerRound } = this.preferences.settings.value;
    const { holds } = this.sounds;
    return holds.length >= holdsPerRound && holds.at(-1)!.length >= tapsPerHold;
  }

  private advance(place: RecordPlace, hold: number): void {
    const { tapsPerHold, holdsPerRound, holdPauseS } = this.preferences.settings.value;
    const taken = this.sounds.holds[hold]!.length;
    if (taken < tapsPerHold) {
      this.state.value = { kind: 'listening', place, hold, taken };
      this.ear.cue('kept');
    } else if (hold + 1 < holdsPerRound) {
      this.ear.cue('hold-done', { kind: 'pick-up-again' });
      this.ear.deafFor(holdPauseS);
      this.state.value = { kind: 'between-holds', place, hold: hold + 1, secondsLeft: holdPauseS };
    }
  }

  /** What the taps so far say, while the round goes on. */
  private async readProvisionally(): Promise<void> {
    const fit = await this.reading.readMeanwhile(this.sounds.holds, this.room.known.value?.poles ?? []);
    if (fit !== undefined && this.listening.value) this.provisional.value = fit;
  }

  private async read(session: Session): Promise<void> {
    const { place, before, index } = session;
    this.state.value = { kind: 'reading', place, fraction: 0 };
    const fit = await this.reading.read(this.sounds.holds, session.round, (fraction) => {
      this.state.value = { kind: 'reading', place, fraction };
    });
    session.round = { ...session.round, state: 'closed', ...(fit === undefined ? {} : { fit }) };
    await this.keep(session);
    // The whole round becomes one edit, so that one undo takes it back: a new round, or a second reading of an old one.
    this.shelf.note({
      recordId: place.recordId,
      name: before === undefined ? 'round' : 'reading',
      changes: roundChanges(place, before, session.round, index),
    });
    this.state.value = { kind: 'answer', place };
    const first = fit?.modes[0];
    if (first !== undefined) this.ear.cue('round-done', { kind: 'lowest-mode', frequencyHz: first.frequencyHz.value });
  }

  /** Sets a closed round aside, or takes it back in. */
  setAside(place: RecordPlace, aside: boolean): void {
    void this.shelf.edit(place.recordId, 'set-aside', (record) =>
      changeRound(record, place, (round) => ({ ...round, state: aside ? 'set-aside' : 'closed' })),
    );
  }
}
