// The workshop: every part of the program that has state, put together once. The views get this and nothing else.
import { effect } from '@preact/signals';
import type { Feedback } from '../capture/feedback.ts';
import type { Playback } from '../capture/playback.ts';
import type { InstrumentRecord, Step } from '../record/record.ts';
import { Solver } from '../solver/solver.ts';
import { StorageError } from '../storage/database.ts';
import { Answers } from './answers.ts';
import { Bench, type BenchPorts } from './bench.ts';
import { BoxRounds } from './box-rounds.ts';
import { Checkup, type CheckupPorts } from './checkup.ts';
import { withDemoSounds } from './demo-sounds.ts';
import type { Spoken } from './ear.ts';
import { Earlier } from './earlier.ts';
import { Exchange, type ExchangePorts } from './exchange.ts';
import { createForecasts, type Forecasts } from './forecasts.ts';
import { HearBack } from './hear-back.ts';
import { type ImportPorts, Imports } from './imports.ts';
import { Keeping, type KeepingPorts } from './keeping.ts';
import { LateShapes } from './late-shapes.ts';
import { Library, type LibraryPorts } from './library.ts';
import { type MicrophonePorts, Microphones } from './microphones.ts';
import { Notices } from './notices.ts';
import { OtherFormats } from './other-formats.ts';
import { Place } from './place.ts';
import { type PreferencePorts, Preferences } from './preferences.ts';
import { Recordings } from './recordings.ts';
import { Records, type RecordsPorts } from './records.ts';
import { Rereading } from './rereading.ts';
import { Room } from './room.ts';
import { Shelf, type ShelfPorts } from './shelf.ts';
import { Spectra } from './spectra.ts';
import { Stock } from './stock.ts';
import { TrustOfDay } from './trust-of-day.ts';
import type { Updates } from './updates.ts';

/** What the program needs of the machine it runs on. */
export interface Ports
  extends Omit<ShelfPorts, 'countEdit'>,
    PreferencePorts,
    ExchangePorts,
    ImportPorts,
    CheckupPorts,
    KeepingPorts,
    RecordsPorts,
    LibraryPorts,
    MicrophonePorts,
    Omit<BenchPorts, 'cue' | 'unlockSound' | 'isSpeaking'> {
  readonly feedback: Feedback;
  /** plays stored sounds */
  readonly playback: Pick<Playback, 'play'>;
  /** what to say aloud, in the language of the page */
  sentence(spoken: Spoken): string;
  shrinkPhoto(file: Blob): Promise<Blob>;
  readonly hash: string;
  readonly updates: Updates;
}

export interface Workshop {
  readonly notices: Notices;
  readonly preferences: Preferences;
  readonly shelf: Shelf;
  readonly records: Records;
  readonly bench: Bench;
  readonly shapes: LateShapes;
  readonly room: Room;
  readonly microphones: Microphones;
  readonly recordings: Recordings;
  readonly boxRounds: BoxRounds;
  readonly earlier: Earlier;
  readonly library: Library;
  readonly exchange: Exchange;
  readonly imports: Imports;
  readonly otherFormats: OtherFormats;
  readonly keeping: Keeping;
  readonly checkup: Checkup;
  readonly spectra: Spectra;
  readonly hearBack: HearBack;
  /** what the worker makes of boards, each computed once */
  readonly answers: Answers;
  readonly stock: Stock;
  readonly solver: Solver;
  readonly forecasts: Forecasts;
  readonly place: Place;
  readonly updates: Updates;
  readonly photos: { get(id: string): Promise<Blob | undefined>; add(file: Blob): Promise<string> };
  newId(): string;
  nowIso(): string;
  /** reads what is stored and opens what was open last */
  begin(): Promise<void>;
  /** puts the invented demo instrument on the shelf and opens it */
  openDemo(): Promise<void>;
  /** a new step of the open record, with the day's trust check; not yet in the record */
  beginStep(): Step | undefined;
  /** another record, read without opening it */
  peek(id: string): Promise<InstrumentRecord | undefined>;
}

/** Half a gigabyte of sounds is packed without a word in between: on a slow phone that takes minutes, ms. */
const filingSilenceMs = 600_000;

export function createWorkshop(given: Ports): Workshop {
  // Packing an archive takes seconds: a round that closes meanwhile must not wait for it.
  const filing = new Solver(filingSilenceMs);
  const ports: Ports = { ...given, getTaps: withDemoSounds(given, filing) };
  const notices = new Notices();
  const preferences = new Preferences(ports);
  const shelf: Shelf = new Shelf({ ...ports, countEdit: () => void keeping.count() }, notices);
  const solver = new Solver();
  const room = new Room(ports, solver, preferences, notices);
  const bench = new Bench(
    { ...ports, ...answering(ports, preferences) },
    shelf,
    solver,
    preferences,
    notices,
    room,
    () => shapes.isRoving,
  );
  // What the browser refuses to store can still be carried out of it.
  const getTaps: ExchangePorts['getTaps'] = async (ids) => {
    const stored = await ports.getTaps(ids).catch(() => []);
    return ids.map((id, i) => stored[i] ?? bench.unstored(id) ?? shapes.now.peek()?.roving.unstored(id));
  };
  const shapes: LateShapes = new LateShapes(async () => {
    const { Shapes } = await import('./shapes.ts');
    const heardWith = { ...ports, ...answering(ports, preferences) };
    return new Shapes(heardWith, ports.getTaps, shelf, solver, preferences, notices);
  }, notices);
  const exchange = new Exchange(
    { ...ports, getTaps, getPhoto: (id) => ports.getPhoto(id).catch(() => undefined) },
    shelf,
    filing,
    notices,
  );
  const keeping = new Keeping(ports, exchange, notices);
  const trustOfDay = new TrustOfDay();
  const peek = async (id: string) => {
    const read = await ports.loadRecord(id);
    return read?.kind === 'record' ? read.record : undefined;
  };
  const rereading = new Rereading(ports.getTaps, solver, shelf);
  const demo = () =>
    import('./demo.ts').then(
      ({ openDemo }) =>
        openDemo(ports, shelf).catch((cause: unknown) => {
          if (!(cause instanceof StorageError)) throw cause;
          notices.show({ kind: 'storage', reason: cause.reason });
        }),
      () => notices.show({ kind: 'part-missing' }),
    );
  const recordings = new Recordings(bench, notices, ports.readFile);
  return {
    notices,
    preferences,
    shelf,
    answers: new Answers(solver),
    stock: new Stock(ports, shelf, preferences, notices),
    solver,
    forecasts: createForecasts(),
    bench,
    shapes,
    room,
    microphones: new Microphones(ports),
    records: new Records(shelf, notices, ports),
    recordings,
    boxRounds: new BoxRounds(bench, recordings),
    earlier: new Earlier(shelf, peek),
    exchange,
    keeping,
    otherFormats: new OtherFormats(ports, filing, notices),
    checkup: new Checkup(ports, shelf, rereading, preferences, notices),
    library: new Library(ports, shelf, peek),
    imports: new Imports(ports, shelf, rereading, filing, notices),
    spectra: new Spectra(ports.getTaps, solver),
    hearBack: new HearBack({ getTaps: ports.getTaps, play: (sounds) => ports.playback.play(sounds) }, notices),
    place: new Place(ports.hash),
    updates: ports.updates,
    photos: photosOf(ports),
    newId: ports.newId,
    nowIso: ports.nowIso,
    peek,
    openDemo: demo,
    beginStep: () => {
      const record = shelf.record.value;
      return record && trustOfDay.begunStep(record, ports.newId(), ports.nowIso());
    },
    begin: async () => {
      await preferences.load();
      await shelf.refresh();
      if (shelf.summaries.value.length === 0) await demo();
      await noteSticks(shelf, trustOfDay, peek);
      await openLast(shelf, preferences);
      effect(() => {
        if (bench.state.value.kind !== 'answer') return;
        void keeping.roundClosed(bench.state.value.place.recordId);
      });
      effect(() => {
        const record = shelf.record.value;
        if (record === undefined) return;
        trustOfDay.note(record);
        if (preferences.settings.peek().openRecordId !== record.id) preferences.change({ openRecordId: record.id });
      });
    },
  };
}

/** How the bench answers a tap: not at all, by a sound, or by a sentence where one fits and can be said. */
function answering(
  { feedback: out, sentence }: Ports,
  { settings }: Preferences,
): Pick<BenchPorts, 'unlockSound' | 'cue' | 'isSpeaking'> {
  return {
    unlockSound: () => {
      if (settings.value.feedback !== 'silent') out.unlock();
    },
    cue: (cue, spoken) => {
      const { feedback, language } = settings.value;
      if (feedback === 'silent') return 0;
      const saidForS = feedback === 'spoken' && spoken !== undefined ? out.say(sentence(spoken), language) : 0;
      return saidForS > 0 ? saidForS : out.play(cue);
    },
    isSpeaking: () => out.isSpeaking(),
  };
}

function photosOf(ports: Ports): Workshop['photos'] {
  return {
    get: ports.getPhoto,
    add: async (file) => {
      const id = ports.newId();
      await ports.putPhoto(id, await ports.shrinkPhoto(file));
      return id;
    },
  };
}

/** Looks through the reference sticks for the check of the day. */
async function noteSticks(shelf: Shelf, trustOfDay: TrustOfDay, peek: Workshop['peek']): Promise<void> {
  for (const summary of shelf.summaries.value) {
    const stick = summary.kind === 'reference-stick' && !summary.deleted ? await peek(summary.id) : undefined;
    if (stick !== undefined) trustOfDay.note(stick);
  }
}

/** Opens what was open last, or else the first record that is neither deleted nor put away. */
async function openLast(shelf: Shelf, { settings }: Preferences): Promise<void> {
  const working = shelf.summaries.value.filter((summary) => !summary.deleted && !summary.archived);
  const open = working.find((summary) => summary.id === settings.value.openRecordId) ?? working[0];
  if (open !== undefined && shelf.record.peek() === undefined) await shelf.open(open.id);
}
