// Records as tables for other programs: steps, cuts and modes (moves: moves-table.ts), each with the unit in the column's
// name. Tables of several records are one table; the first columns say which record a row is of.

import { isMeasured } from '../quantity/estimate.ts';
import type { CsvTable } from '../record/csv.ts';
import { readingOf, readStretch } from '../record/cut-place.ts';
import { cutsMade, removals } from '../record/cuts.ts';
import type { InstrumentRecord } from '../record/record.ts';
import { knownModes } from '../signal/tap.ts';
import { centsBetween, withinStep } from './match.ts';
import { type NamedSignature, namedSignatures } from './named-modes.ts';
import { sameSupport, soundRounds } from './signature.ts';

/** One row of a table. */
export type CsvRow = CsvTable['rows'][number];
/** An empty field where there is nothing. */
export const orNull = <T>(value: T | undefined): T | null => value ?? null;
/** A truth as text that every program reads as text. */
export const yesNo = (value: boolean): string => (value ? 'yes' : 'no');
/** The fields that say which record a row is of; their names are `whichHeader`. */
export const which = (record: InstrumentRecord): CsvRow => [record.id, record.name, record.model];
export const whichHeader = ['record_id', 'record', 'model'];

/** One row a step: what was done, when, in what climate. */
export function stepsTable(records: readonly InstrumentRecord[]): CsvTable {
  return {
    header: [
      ...whichHeader,
      'step',
      'step_id',
      'at',
      'stage',
      'done',
      'mass_g',
      'mass_off_g',
      'height_off_mm',
      'humidity_percent',
      'temp_c',
      'hygrometer',
      'hygrometer_offset_percent',
      'trust_check',
      'rounds',
      'taps',
      'heard',
    ],
    rows: records.flatMap((record) => {
      const removed = removals(record);
      return record.steps.map((step, i): CsvRow => {
        const { climate } = step;
        return [
          ...which(record),
          i + 1,
          step.id,
          step.atIso,
          step.stage,
          step.done,
          orNull(step.massG),
          orNull(removed[i]?.massOffG),
          orNull(removed[i]?.heightOffMm),
          orNull(climate.humidityPercent),
          orNull(climate.tempC),
          orNull(climate.hygrometer),
          orNull(climate.hygrometerOffsetPercent),
          orNull(step.trust?.verdict),
          step.rounds.length,
          step.rounds.reduce((sum, round) => sum + round.taps.length, 0),
          step.heard,
        ];
      });
    }),
  };
}

/** One row a cut; places are counted from the end named, as the page reads them, where the cut is one of the plan's. */
export function cutsTable(records: readonly InstrumentRecord[]): CsvTable {
  return {
    header: [
      ...whichHeader,
      'step',
      'step_id',
      'brace',
      'from_mm',
      'to_mm',
      'from_end',
      'off_mm',
      'mass_off_g',
      'weighed',
      'height_left_mm',
    ],
    rows: records.flatMap((record) =>
      cutsMade(record).map((made): CsvRow => {
        const { cut, step } = made;
        const brace = made.on[0]?.brace;
        const reading = brace === undefined ? undefined : readingOf(brace, record.hand);
        const [fromMm, toMm] = readStretch(reading, cut.fromMm, cut.toMm);
        return [
          ...which(record),
          record.steps.indexOf(step) + 1,
          step.id,
          cut.brace,
          orNull(fromMm),
          orNull(toMm),
          orNull(reading?.end),
          orNull(made.heightOffMm),
          orNull(made.massOffG),
          yesNo(made.isWeighed),
          orNull(made.heightLeftMm),
        ];
      }),
    ),
  };
}

/** One row a mode of a round, as read from that round alone; sigma is one standard deviation. */
export function modesTable(records: readonly InstrumentRecord[]): CsvTable {
  return {
    header: [
      ...whichHeader,
      'step',
      'step_id',
      'stage',
      'round',
      'round_id',
      'at',
      'hold',
      'bridge',
      'strung',
      'spot',
      'name',
      'frequency_hz',
      'sigma_hz',
      'q',
      'q_sigma',
      'level_db',
      'resolution',
      'taps_used',
      'scatter_known',
      'method',
    ],
    rows: records.flatMap((record) => {
      const named = namedSignatures(record);
      return record.steps.flatMap((step, i) =>
        soundRounds(step).flatMap((round): readonly CsvRow[] => {
          const signature = named.find((one) => one.step === step && sameSupport(one.signature.support, round.support));
          return (round.fit === undefined ? [] : knownModes(round.fit)).map(
            (mode): CsvRow => [
              ...which(record),
              i + 1,
              step.id,
              step.stage,
              step.rounds.indexOf(round) + 1,
              round.id,
              round.atIso,
              round.support.hold,
              round.support.bridge,
              yesNo(round.support.strung),
              round.spot,
              orNull(nameAt(signature, mode.frequencyHz.value)),
              mode.frequencyHz.value,
              mode.frequencyHz.sigma,
              isMeasured(mode.q) ? mode.q.value : null,
              isMeasured(mode.q) ? mode.q.sigma : null,
              mode.levelDb,
              mode.resolution,
              round.fit?.used.length ?? 0,
              yesNo(round.fit?.scatterKnown ?? false),
              orNull(round.fit?.method),
            ],
          );
        }),
      );
    }),
  };
}

/** Name of the signature's mode nearest to a frequency, as near as rounds of one step are matched. */
function nameAt(signature: NamedSignature | undefined, frequencyHz: number): string | undefined {
  let name: string | undefined;
  let nearest: number = withinStep.ownCents;
  for (const known of signature?.modes ?? []) {
    const away = Math.abs(centsBetween(known.mode.frequencyHz.value, frequencyHz));
    if (away >= nearest) continue;
    nearest = away;
    name = known.name;
  }
  return name;
}
