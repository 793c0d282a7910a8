// The workshop: every part of the program that has state, put together once. The views get this and nothing else.
import { effect } from '@preact/signals';
import type { Feedback } from '../capture/feedback.ts';
import { centsBetween } from '../compare/match.ts';
import { signatures } from '../compare/signature.ts';
import { tracks } from '../compare/tracks.ts';
import { freshStep } from '../record/edit.ts';
import type { InstrumentRecord, Step } from '../record/record.ts';
import { Solver } from '../solver/solver.ts';
import { Answers } from './answers.ts';
import { Bench, type BenchPorts } from './bench.ts';
import { BoxRounds } from './box-rounds.ts';
import { type DemoPorts, openDemo } from './demo.ts';
import { Earlier } from './earlier.ts';
import { Exchange, type ExchangePorts } from './exchange.ts';
import { createForecasts, type Forecasts } from './forecasts.ts';
import { type ImportPorts, Imports } from './imports.ts';
import { createNotices, type Notices } from './notices.ts';
import { createPlace, type Place } from './place.ts';
import { createPreferences, type PreferencePorts, type Preferences } from './preferences.ts';
import { Recordings } from './recordings.ts';
import { Records } from './records.ts';
import { Rereading } from './rereading.ts';
import { Room } from './room.ts';
import { Shelf, type ShelfPorts } from './shelf.ts';
import { Spectra } from './spectra.ts';
import { Stock } from './stock.ts';
import { TrustOfDay } from './trust-of-day.ts';
import type { Updates } from './updates.ts';

/** What the program needs of the machine it runs on. */
export interface Ports
  extends ShelfPorts,
    PreferencePorts,
    ExchangePorts,
    ImportPorts,
    DemoPorts,
    Omit<BenchPorts, 'cue' | 'unlockSound'> {
  readonly feedback: Feedback;
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
  readonly room: Room;
  readonly recordings: Recordings;
  readonly boxRounds: BoxRounds;
  readonly earlier: Earlier;
  readonly exchange: Exchange;
  readonly imports: Imports;
  readonly spectra: Spectra;
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
  /** the maker's name for the mode at this frequency of this step */
  nameOfMode(record: InstrumentRecord, step: Step, frequencyHz: number): string | undefined;
}

export function createWorkshop(ports: Ports): Workshop {
  const notices = createNotices();
  const preferences = createPreferences(ports);
  const shelf = new Shelf(ports, notices);
  const solver = new Solver();
  const room = new Room(ports, solver, preferences, notices);
  const bench = new Bench(
    {
      ...ports,
      unlockSound: () => {
        if (preferences.settings.value.feedback !== 'silent') ports.feedback.unlock();
      },
      cue: (cue, spoken) => {
        const { feedback } = preferences.settings.value;
        if (feedback === 'silent') return 0;
        const saidForS = feedback === 'spoken' && spoken !== '' ? ports.feedback.say(spoken) : 0;
        return saidForS > 0 ? saidForS : ports.feedback.play(cue);
      },
    },
    shelf,
    solver,
    preferences,
    notices,
    room,
  );
  const trustOfDay = new TrustOfDay();
  const peek = async (id: string) => {
    const read = await ports.loadRecord(id);
    return read?.kind === 'record' ? read.record : undefined;
  };
  const rereading = new Rereading(ports.getTaps, solver, shelf);
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
    room,
    records: new Records(shelf, notices, ports),
    recordings,
    boxRounds: new BoxRounds(bench, recordings),
    earlier: new Earlier(shelf, peek),
    exchange: new Exchange(ports, shelf, notices),
    imports: new Imports(ports, shelf, rereading, notices),
    spectra: new Spectra(ports.getTaps, solver),
    place: createPlace(ports.hash),
    updates: ports.updates,
    photos: {
      get: ports.getPhoto,
      add: async (file) => {
        const id = ports.newId();
        await ports.putPhoto(id, await ports.shrinkPhoto(file));
        return id;
      },
    },
    newId: ports.newId,
    nowIso: ports.nowIso,
    peek,
    openDemo: () => openDemo(ports, solver, shelf),
    beginStep: () => {
      const record = shelf.record.value;
      if (record === undefined) return undefined;
      const atIso = ports.nowIso();
      const trust = record.kind === 'instrument' ? trustOfDay.on(atIso) : undefined;
      return { ...freshStep(ports.newId(), atIso, record.steps.at(-1)), ...(trust === undefined ? {} : { trust }) };
    },
    begin: async () => {
      await preferences.load();
      await shelf.refresh();
      if (shelf.summaries.value.length === 0) await openDemo(ports, solver, shelf);
      for (const summary of shelf.summaries.value) {
        const stick = summary.kind === 'reference-stick' && !summary.deleted ? await peek(summary.id) : undefined;
        if (stick !== undefined) trustOfDay.note(stick);
      }
      const working = shelf.summaries.value.filter((summary) => !summary.deleted && !summary.archived);
      const open = working.find((summary) => summary.id === preferences.settings.value.openRecordId) ?? working[0];
      if (open !== undefined && shelf.record.peek() === undefined) await shelf.open(open.id);
      effect(() => {
        const record = shelf.record.value;
        if (record === undefined) return;
        trustOfDay.note(record);
        if (preferences.settings.peek().openRecordId !== record.id) preferences.change({ openRecordId: record.id });
      });
    },
    nameOfMode,
  };
}

/** A mode is the pinned one where its frequency lies this close to where the track says, cents. */
const sameModeCents = 20;

function nameOfMode(record: InstrumentRecord, step: Step, frequencyHz: number): string | undefined {
  return signatures(step)
    .flatMap(({ support }) => tracks(record, step.stage, support))
    .find((track) =>
      track.points.some(
        (point) =>
          point.step.id === step.id &&
          Math.abs(centsBetween(point.mode.frequencyHz.value, frequencyHz)) < sameModeCents,
      ),
    )?.name;
}
