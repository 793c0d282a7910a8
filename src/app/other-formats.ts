// What goes out for other programs: tables, universal files and single sounds.

import { movesTable } from '../compare/moves-table.ts';
import { rowOf } from '../compare/piece-table.ts';
import { cutsTable, modesTable, stepsTable } from '../compare/tables.ts';
import { plateConditions, solvableCase, usualConditions } from '../forecast/plan-question.ts';
import { localDay } from '../quantity/day.ts';
import { tapIds, tapToWav } from '../record/archive.ts';
import { type CsvTable, writeCsv } from '../record/csv.ts';
import { planNow } from '../record/cuts.ts';
import { roundPlaces } from '../record/incoming.ts';
import { type InstrumentRecord, recordFormat, type Step } from '../record/record.ts';
import { shelfTable } from '../record/shelf-csv.ts';
import { writeSpreadsheetCsv } from '../record/spreadsheet-csv.ts';
import type { PointShapes } from '../record/uff-record.ts';
import type { PowerSpectrum } from '../signal/average-spectrum.ts';
import type { Tap } from '../signal/tap.ts';
import type { Solver } from '../solver/solver.ts';
import { type ExchangePorts, fileName } from './exchange.ts';
import type { Notices } from './notices.ts';

type FormatPorts = Pick<ExchangePorts, 'getTaps' | 'saveFile' | 'nowIso'>;

/** Modes whose shapes go into a universal file. */
const shapeModes = 8;

export class OtherFormats {
  private readonly ports: FormatPorts;
  private readonly solver: Pick<Solver, 'run'>;
  private readonly notices: Notices;

  constructor(ports: FormatPorts, solver: Pick<Solver, 'run'>, notices: Notices) {
    this.ports = ports;
    this.solver = solver;
    this.notices = notices;
  }

  /**
   * Steps, shavings, modes, moves and wood of a record as CSV in one archive, with a note of how they were made.
   * @param decimal undefined: for programs, as RFC 4180 has it; else for a spreadsheet that writes its decimals so
   */
  async tables(record: InstrumentRecord, decimal?: ',' | '.'): Promise<void> {
    const write = (table: CsvTable): string =>
      decimal === undefined ? writeCsv(table) : writeSpreadsheetCsv(table, decimal);
    const texts = new Map([
      ['steps.csv', write(stepsTable([record]))],
      ['cuts.csv', write(cutsTable([record]))],
      ['modes.csv', write(modesTable([record]))],
      ['moves.csv', write(movesTable([record]))],
      ['wood.csv', write(shelfTable((record.pieces ?? []).map(rowOf)))],
      ['about.json', `${JSON.stringify(this.about(record), null, 1)}\n`],
    ]);
    const packed = await this.solver.run('write-texts', { texts });
    await this.ports.saveFile(`${fileName(record.name)}-tables.zip`, 'application/zip', packed);
    this.notices.show({ kind: 'file-written', what: 'tables' });
  }

  /** One step as a universal file: every tap, the averaged spectrum of each round. */
  async universalStep(record: InstrumentRecord, step: Step): Promise<void> {
    const alone = { ...record, steps: [step] };
    const taps = await this.sounds(alone);
    const place = record.steps.indexOf(step) + 1;
    await this.universal(record, taps, await this.spectra(alone, taps), undefined, `-step-${place}`);
  }

  /** A record as a universal file: averaged spectra of every round, and the shapes of its plan where it has one. */
  async universalRecord(record: InstrumentRecord): Promise<void> {
    const spectra = new Map<string, PowerSpectrum>();
    // Step by step, so that no more than one step's sound is in memory.
    for (const step of record.steps) {
      const alone = { ...record, steps: [step] };
      for (const [id, spectrum] of await this.spectra(alone, await this.sounds(alone))) spectra.set(id, spectrum);
    }
    await this.universal(record, new Map(), spectra, await this.shapes(record), '');
  }

  /** Measured shapes as a universal file: their spots as nodes, and a mode shape for each. */
  async universalShapes(record: InstrumentRecord, step: Step, shapes: PointShapes): Promise<void> {
    const alone = { ...record, steps: [{ ...step, rounds: [] }] };
    await this.universal(alone, new Map(), new Map(), shapes, '-shapes');
  }

  /** Measured shapes as a table, for programs. */
  async tableOfShapes(record: InstrumentRecord, table: CsvTable): Promise<void> {
    const bytes = new TextEncoder().encode(writeCsv(table));
    await this.ports.saveFile(`${fileName(record.name)}-shapes.csv`, 'text/csv', bytes);
    this.notices.show({ kind: 'file-written', what: 'tables' });
  }

  /** One tap as a WAV file, with what is known of it inside. */
  async wav(record: InstrumentRecord, tapId: string): Promise<void> {
    const found = roundPlaces(record).find(({ round }) => round.taps.some(({ id }) => id === tapId));
    const note = found?.round.taps.find(({ id }) => id === tapId);
    const [tap] = await this.ports.getTaps([tapId]);
    if (found === undefined || note === undefined || tap === undefined) {
      this.notices.show({ kind: 'sound-gone' });
      return;
    }
    const { round, place } = found;
    const comment = {
      record: record.name,
      ...place,
      tapId,
      spot: round.spot,
      support: round.support,
      hold: note.hold + 1,
      aboveRoomDb: note.aboveRoomDb,
      source: round.source,
      format: recordFormat,
    };
    const number = round.taps.indexOf(note) + 1;
    const bytes = tapToWav(tap, `${record.name}, tap ${number}`, {
      ICRD: localDay(note.atIso),
      ICMT: JSON.stringify(comment),
    });
    await this.ports.saveFile(`${fileName(record.name)}-tap-${tapId}.wav`, 'audio/wav', bytes);
    this.notices.show({ kind: 'file-written', what: 'sound' });
  }

  private async universal(
    record: InstrumentRecord,
    taps: ReadonlyMap<string, Tap>,
    spectra: ReadonlyMap<string, PowerSpectrum>,
    shapes: PointShapes | undefined,
    suffix: string,
  ): Promise<void> {
    const writer = await this.universalWriter();
    if (writer === undefined) return;
    const text = writer.writeUff(writer.recordToUff(record, taps, spectra, shapes));
    await this.ports.saveFile(
      `${fileName(record.name)}${suffix}.uff`,
      'application/octet-stream',
      new TextEncoder().encode(text),
    );
    this.notices.show({
      kind: 'file-written',
      what: taps.size === 0 && spectra.size === 0 && !shapes ? 'empty' : 'universal',
    });
  }

  /** Fetched when it is first wanted. */
  private async universalWriter() {
    try {
      const [{ firstShapeNode, recordToUff }, { writeUff }] = await Promise.all([
        import('../record/uff-record.ts'),
        import('../record/uff-write.ts'),
      ]);
      return { firstShapeNode, recordToUff, writeUff };
    } catch {
      this.notices.show({ kind: 'part-missing' });
      return undefined;
    }
  }

  private async sounds(record: InstrumentRecord): Promise<ReadonlyMap<string, Tap>> {
    const ids = tapIds(record);
    const sounds = await this.ports.getTaps(ids);
    return new Map(ids.flatMap((id, i) => (sounds[i] === undefined ? [] : [[id, sounds[i]] as const])));
  }

  /** Averaged spectra of the rounds of the steps; rounds of several rates or without sound have none. */
  private async spectra(
    record: InstrumentRecord,
    sounds: ReadonlyMap<string, Tap>,
  ): Promise<ReadonlyMap<string, PowerSpectrum>> {
    const spectra = new Map<string, PowerSpectrum>();
    // From spot to spot no two taps are of one thing: an average would tell nothing.
    for (const { rounds } of record.steps)
      for (const round of rounds.filter(({ roving }) => roving === undefined)) {
        const taps = round.taps.map(({ id }) => sounds.get(id)).filter((tap) => tap !== undefined);
        const rates = new Set(taps.map(({ sampleRateHz }) => sampleRateHz));
        if (rates.size === 1) spectra.set(round.id, await this.solver.run('average-power-spectrum', { taps }));
      }
    return spectra;
  }

  private async shapes(record: InstrumentRecord): Promise<PointShapes | undefined> {
    if (record.plan === undefined) return undefined;
    const { support } = plateConditions(record).at(-1) ?? usualConditions;
    const plate = solvableCase(planNow(record, record.plan), support);
    if (plate === undefined) return undefined;
    const answer = await this.solver.run('top-shapes', { plate, count: shapeModes });
    const writer = await this.universalWriter();
    if (answer.kind !== 'shapes' || writer === undefined) return undefined;
    const points = Array.from(answer.xMm, (xMm, i) => ({
      node: writer.firstShapeNode + i,
      x: xMm / 1000,
      y: answer.yMm[i]! / 1000,
      z: 0,
    }));
    return { origin: 'plan', points, modes: answer.modes.map((mode) => ({ ...mode, q: undefined })) };
  }

  private about(record: InstrumentRecord): unknown {
    const rounds = roundPlaces(record).map(({ round }) => round);
    return {
      program: 'Platewright',
      recordFormat,
      writtenAtIso: this.ports.nowIso(),
      record: { id: record.id, name: record.name, model: record.model },
      methods: [...new Set(rounds.flatMap(({ fit }) => (fit === undefined ? [] : [fit.method])))],
      sampleRatesHz: [...new Set(rounds.flatMap(({ taps }) => taps.map(({ sampleRateHz }) => sampleRateHz)))],
      sources: [...new Set(rounds.map(({ source }) => source))],
      tapsUsed: rounds.reduce((sum, { fit }) => sum + (fit?.used.length ?? 0), 0),
      tapsSetAside: rounds.reduce((sum, { fit }) => sum + (fit?.setAside.length ?? 0), 0),
      uncertainty: 'sigma is one standard deviation; the 95 % interval is 1.96 sigma to either side',
    };
  }
}
