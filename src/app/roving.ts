// A roving round from the first press to the last spot: one spot after the other, two taps at each. The microphone stays open
// all the while; every tap is stored the moment it is accepted.
import { type ReadonlySignal, signal } from '@preact/signals';
import { endsListening, type MicrophoneTrouble, type MicrophoneWait } from '../capture/microphone.ts';
import type { RovingQuestion } from '../forecast/roving-question.ts';
import type { InstrumentRecord, Step, Support, TapNote } from '../record/record.ts';
import { keptRound, type RecordPlace, roundChanges } from '../record/round-edit.ts';
import { type RovingRound, tapsAt } from '../record/roving-edit.ts';
import type { Level } from '../signal/hear/level.ts';
import type { Tap, TapVerdict } from '../signal/tap.ts';
import type { Solver } from '../solver/solver.ts';
import type { BenchPorts } from './bench.ts';
import type { Heard } from './bench-state.ts';
import { Ear } from './ear.ts';
import type { Notices } from './notices.ts';
import type { Preferences } from './preferences.ts';
import type { HeardTap } from './recordings.ts';
import { RoundSounds } from './round-sounds.ts';
import type { Shelf } from './shelf.ts';

/** Taps wanted at each spot. */
export const tapsPerSpot = 2;

/** Where a roving round stands. */
export type RovingState =
  | { readonly kind: 'idle' }
  /** `waitsFor` once it takes longer than it should */
  | { readonly kind: 'opening'; readonly waitsFor?: MicrophoneWait }
  | { readonly kind: 'tapping'; readonly spot: number }
  | { readonly kind: 'interrupted'; readonly spot: number };

/** What a roving round begins with. */
export interface RovingSetting {
  readonly record: InstrumentRecord;
  readonly step: Step;
  readonly support: Support;
  readonly spots: RovingRound['roving']['spots'];
  /** of an ordinary round, for what is told meanwhile */
  readonly modes: RovingQuestion['modes'];
}

interface Session {
  readonly place: RecordPlace;
  readonly step: Step;
  readonly modes: RovingSetting['modes'];
  /** the round as the record had it, where it is gone on with, and its place among the rounds of its step */
  readonly before: RovingRound | undefined;
  readonly index: number;
}

/** With fewer spots nothing is told of single taps meanwhile. */
const spotsToTell = 5;

export class Roving {
  private readonly state_ = signal<RovingState>({ kind: 'idle' });
  private readonly round_ = signal<RovingRound | undefined>(undefined);
  private readonly last_ = signal<Heard | undefined>(undefined);
  private readonly doubtful_ = signal<ReadonlySet<number>>(new Set());
  private session: Session | undefined;
  private isReading = false;
  /** spots that the maker left out */
  private readonly left = new Set<number>();
  /** resolves when every tap accepted so far is stored, one after the other */
  private storing: Promise<void> = Promise.resolve();
  private readonly ear: Ear;
  private readonly sounds: RoundSounds;
  private readonly tapById = new Map<string, Tap>();
  private readonly ports: BenchPorts;
  private readonly shelf: Shelf;
  private readonly solver: Pick<Solver, 'run'>;
  private readonly notices: Notices;

  constructor(
    ports: BenchPorts,
    shelf: Shelf,
    solver: Pick<Solver, 'run'>,
    preferences: Preferences,
    notices: Notices,
  ) {
    this.ports = ports;
    this.shelf = shelf;
    this.solver = solver;
    this.notices = notices;
    this.sounds = new RoundSounds(ports, notices);
    this.ear = new Ear(ports, preferences, notices, {
      onVerdict: (verdict) => this.judge(verdict),
      onTime: () => undefined,
      onTrouble: (trouble) => void this.interrupt(trouble),
      onWaiting: (waitsFor) => {
        if (this.state_.value.kind === 'opening') this.state_.value = { kind: 'opening', waitsFor };
      },
    });
  }

  get state(): ReadonlySignal<RovingState> {
    return this.state_;
  }

  /** The round at hand as it stands; undefined before the first one. */
  get round(): ReadonlySignal<RovingRound | undefined> {
    return this.round_;
  }

  /** The record that the round at hand belongs to; undefined where none goes on. */
  get recordId(): string | undefined {
    return this.session?.place.recordId;
  }

  /** What was heard last. */
  get last(): ReadonlySignal<Heard | undefined> {
    return this.last_;
  }

  /** Spots whose taps do not go with the others, as far as can be told meanwhile. */
  get doubtful(): ReadonlySignal<ReadonlySet<number>> {
    return this.doubtful_;
  }

  get level(): ReadonlySignal<Level | undefined> {
    return this.ear.level;
  }

  /** Opens the microphone and begins a round. Call inside the press: sound and microphone need it. */
  async start(setting: RovingSetting): Promise<void> {
    if (this.state_.value.kind !== 'idle' || !(await this.opened())) return;
    this.begin(setting, this.source());
    this.goTo(0);
  }

  /**
   * Goes on with a round whose taps are in the record: with the spots that lack taps, or with one that is tapped anew.
   * @param spot the one to tap anew
   */
  async resume(setting: RovingSetting, round: RovingRound, spot?: number): Promise<void> {
    if (this.state_.value.kind !== 'idle' || !(await this.opened())) return;
    const ids = round.taps.map(({ id }) => id);
    (await this.ports.getTaps(ids)).forEach((tap, i) => {
      if (tap !== undefined) this.tapById.set(ids[i]!, tap);
    });
    const { record, step, modes } = setting;
    const place = { recordId: record.id, stepId: step.id, roundId: round.id };
    this.session = { place, step, modes, before: round, index: step.rounds.findIndex(({ id }) => id === round.id) };
    this.round_.value = round;
    this.left.clear();
    this.doubtful_.value = new Set();
    this.goTo(spot ?? nextSpot(round, -1, this.left) ?? 0);
    if (spot !== undefined) this.again();
  }

  /** Taps of recordings in the order of the spots, two at each; what is left over stays, left out. */
  async takeRecordings(setting: RovingSetting, source: string, taps: readonly HeardTap[]): Promise<void> {
    if (this.state_.value.kind !== 'idle') return;
    this.begin(setting, source);
    const spots = setting.spots.length;
    for (const [i, { tap, aboveRoomDb }] of taps.entries()) {
      const spot = Math.floor(i / tapsPerSpot);
      await this.take(tap, aboveRoomDb, Math.min(spot, spots - 1), spot >= spots);
    }
    await this.finish();
  }

  /** The person does not want to wait until the microphone opens. */
  giveUpOpening(): void {
    this.ear.giveUpOpening();
  }

  /** Goes on listening after the microphone was lost. */
  async goOn(): Promise<void> {
    const state = this.state_.value;
    if (state.kind !== 'interrupted') return;
    if (await this.opened()) this.goTo(state.spot);
    else this.state_.value = state;
  }

  /** Taps at this spot from now on. */
  goTo(spot: number): void {
    this.last_.value = undefined;
    this.state_.value = { kind: 'tapping', spot };
    if (this.round_.value !== undefined) this.ear.cue('hold-done', { kind: 'spot', number: spot + 1 });
  }

  /** Leaves the taps of the spot out, or of the one before where it has none yet, and taps it again. */
  again(): void {
    const [state, round] = [this.state_.value, this.round_.value];
    if (state.kind !== 'tapping' || round === undefined) return;
    const spot = tapsAt(round, state.spot).length > 0 ? state.spot : Math.max(0, state.spot - 1);
    this.round_.value = {
      ...round,
      taps: round.taps.map((tap) => (tap.rovingSpot === spot ? { ...tap, leftOut: true } : tap)),
    };
    this.store();
    this.goTo(spot);
  }

  /** Goes on to the next spot that lacks taps; the round is over where there is none. */
  leaveOut(): Promise<void> {
    const state = this.state_.value;
    if (state.kind === 'tapping') this.left.add(state.spot);
    return this.goOnFrom();
  }

  /** Goes back by one spot. */
  back(): void {
    const state = this.state_.value;
    if (state.kind === 'tapping' && state.spot > 0) this.goTo(state.spot - 1);
  }

  /** Ends the round with the taps there are. A round without taps leaves no trace. */
  async finish(): Promise<void> {
    const { session } = this;
    await this.ear.disconnect();
    await this.storing;
    const round = this.round_.value;
    this.session = undefined;
    this.state_.value = { kind: 'idle' };
    if (session === undefined || round === undefined || round.taps.length === 0) return;
    const closed: RovingRound = { ...round, state: 'closed' };
    this.tapById.clear();
    this.round_.value = closed;
    await this.keep(session, closed);
    this.shelf.note({
      recordId: session.place.recordId,
      name: 'roving-round',
      changes: roundChanges(session.place, session.before, closed, session.index),
    });
  }

  /** The sound of a tap that the browser has not stored yet. */
  unstored(id: string): Tap | undefined {
    return this.sounds.unstored(id);
  }

  /** The page was hidden or shown: what is heard while nobody sees the page is not measured. */
  presence(visible: boolean): void {
    if (this.state_.value.kind === 'tapping') this.ear.presence(visible);
  }

  private async opened(): Promise<boolean> {
    this.ports.unlockSound();
    this.state_.value = { kind: 'opening' };
    let isOpen = false;
    try {
      isOpen = await this.ear.connect();
    } finally {
      if (!isOpen) this.state_.value = { kind: 'idle' };
    }
    return isOpen;
  }

  private source(): string {
    const facts = this.ear.microphone.value;
    return facts === undefined ? '' : `${facts.label} · ${facts.sampleRateHz} Hz`;
  }

  private begin({ record, step, support, spots, modes }: RovingSetting, source: string): void {
    const round: RovingRound = {
      id: this.ports.newId(),
      atIso: this.ports.nowIso(),
      support,
      spot: 'roving',
      source,
      state: 'open',
      taps: [],
      roving: { spots },
    };
    this.sounds.clear();
    this.tapById.clear();
    this.doubtful_.value = new Set();
    this.session = {
      place: { recordId: record.id, stepId: step.id, roundId: round.id },
      step,
      modes,
      before: undefined,
      index: step.rounds.length,
    };
    this.left.clear();
    this.round_.value = round;
  }

  private async interrupt(trouble: MicrophoneTrouble): Promise<void> {
    this.notices.show({ kind: 'microphone-trouble', trouble });
    const state = this.state_.value;
    if (!endsListening(trouble) || state.kind !== 'tapping') return;
    await this.ear.disconnect();
    this.state_.value = { kind: 'interrupted', spot: state.spot };
  }

  private judge(verdict: TapVerdict): void {
    const state = this.state_.value;
    if (state.kind !== 'tapping') return;
    this.last_.value = { ...verdict, number: (this.last_.value?.number ?? 0) + 1 };
    if (verdict.kind === 'refused') {
      this.ear.cue('refused');
      return;
    }
    void this.take(verdict.tap, verdict.aboveRoomDb, state.spot);
    if (tapsAt(this.round_.value!, state.spot).length < tapsPerSpot) this.ear.cue('kept');
    else void this.goOnFrom();
  }

  private async take(tap: Tap, aboveRoomDb: number, rovingSpot: number, isLeftOut = false): Promise<void> {
    const round = this.round_.value;
    if (round === undefined) return;
    const id = this.ports.newId();
    const note: TapNote = {
      id,
      atIso: this.ports.nowIso(),
      sampleRateHz: tap.sampleRateHz,
      aboveRoomDb,
      hold: 0,
      rovingSpot,
      ...(isLeftOut && { leftOut: true }),
    };
    this.sounds.add(id, tap, 0);
    this.tapById.set(id, tap);
    this.round_.value = { ...round, taps: [...round.taps, note] };
    this.store();
    await this.storing;
  }

  private async goOnFrom(): Promise<void> {
    const [state, round] = [this.state_.value, this.round_.value];
    if (state.kind !== 'tapping' || round === undefined) return;
    const next = nextSpot(round, state.spot, this.left);
    if (next === undefined) await this.finish();
    else {
      this.goTo(next);
      void this.tellMeanwhile();
    }
  }

  /** Which spots to tap again, from the taps alone. */
  private async tellMeanwhile(): Promise<void> {
    const [round, session] = [this.round_.value, this.session];
    if (this.isReading || round === undefined || session === undefined) return;
    const taps = round.taps.filter(({ id, leftOut }) => leftOut === undefined && this.tapById.has(id));
    const spotOf = taps.map(({ rovingSpot }) => rovingSpot!);
    if (new Set(spotOf).size < spotsToTell) return;
    this.isReading = true;
    try {
      const answer = await this.solver.run('tap-shapes', {
        taps: taps.map(({ id }) => this.tapById.get(id)!),
        spotOf,
        spots: round.roving.spots.length,
        modes: session.modes,
      });
      if (answer.kind === 'shapes') this.doubtful_.value = new Set(answer.oddTaps.map((i) => spotOf[i]!));
    } catch {
      // It is said again, and in full, once the round is over.
      this.doubtful_.value = new Set();
    } finally {
      this.isReading = false;
    }
  }

  /** The sounds first, then the notes that speak of them. */
  private store(): void {
    const [session, round] = [this.session, this.round_.value];
    if (session === undefined || round === undefined) return;
    const stored = this.storing.then(async () => {
      await this.sounds.store();
      await this.keep(session, round);
    });
    this.storing = stored.catch(() => undefined);
  }

  private async keep({ place, step }: Session, round: RovingRound): Promise<void> {
    await this.shelf.keep(place.recordId, (record) => keptRound(record, place, step, round));
  }
}

/** The next spot that lacks taps and was not left out, after the one given and then from the first on. */
function nextSpot(round: RovingRound, after: number, left: ReadonlySet<number>): number | undefined {
  const count = round.roving.spots.length;
  const inTurn = Array.from({ length: count }, (_, i) => (after + 1 + i) % count);
  return inTurn.find((spot) => tapsAt(round, spot).length < tapsPerSpot && !left.has(spot));
}
