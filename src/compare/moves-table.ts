// What moved from step to step, as a table for other programs; the other tables are in tables.ts.
import type { CsvTable } from '../record/csv.ts';
import { removals, together } from '../record/cuts.ts';
import type { InstrumentRecord } from '../record/record.ts';
import { compareSignatures } from './compare-signatures.ts';
import { obstacles } from './conditions.ts';
import { type NamedSignature, namedSignatures } from './named-modes.ts';
import { type CsvRow, orNull, which, whichHeader, yesNo } from './tables.ts';

/**
 * One row a mode between each signature and the last one before it that it may be compared with: same stage, hold,
 * bridge and strings, so that it is one of another step. What was taken off is summed over all steps between the two.
 */
export function movesTable(records: readonly InstrumentRecord[]): CsvTable {
  return {
    header: [
      ...whichHeader,
      'from_step',
      'to_step',
      'to_step_id',
      'stage',
      'hold',
      'bridge',
      'strung',
      'name',
      'mode',
      'before_hz',
      'before_sigma_hz',
      'after_hz',
      'after_sigma_hz',
      'move_hz',
      'move_sigma_hz',
      'move_percent',
      'move_percent_sigma',
      'move_cents',
      'move_cents_sigma',
      'smallest_hz',
      'trusted',
      'mass_off_g',
      'height_off_mm',
      'humidity_change_percent',
      'same_spot',
    ],
    rows: records.flatMap((record) => {
      const named = namedSignatures(record);
      return named.flatMap((after, k) => {
        const before = named.findLast(
          (one, i) => i < k && obstacles(one.step, one.signature, after.step, after.signature).length === 0,
        );
        return before === undefined ? [] : movesBetween(record, before, after);
      });
    }),
  };
}

function movesBetween(record: InstrumentRecord, before: NamedSignature, after: NamedSignature): readonly CsvRow[] {
  const from = record.steps.indexOf(before.step);
  const to = record.steps.indexOf(after.step);
  const off = together(removals(record).slice(from + 1, to + 1));
  const dry = before.step.climate.humidityPercent;
  const wet = after.step.climate.humidityPercent;
  const { support } = after.signature;
  const names = new Map([...before.modes, ...after.modes].map(({ mode, name }) => [mode, name]));
  return compareSignatures(before.signature, after.signature).map((row): CsvRow => {
    const was = row.kind === 'appeared' ? undefined : row.before;
    const is = row.kind === 'not-heard-again' ? undefined : row.after;
    const move = row.kind === 'moved' ? row.move : undefined;
    return [
      ...which(record),
      from + 1,
      to + 1,
      after.step.id,
      after.step.stage,
      support.hold,
      support.bridge,
      yesNo(support.strung),
      orNull((is && names.get(is)) ?? (was && names.get(was))),
      row.kind,
      orNull(was?.frequencyHz.value),
      orNull(was?.frequencyHz.sigma),
      orNull(is?.frequencyHz.value),
      orNull(is?.frequencyHz.sigma),
      orNull(move?.hz.value),
      orNull(move?.hz.sigma),
      orNull(move?.percent.value),
      orNull(move?.percent.sigma),
      orNull(move?.cents.value),
      orNull(move?.cents.sigma),
      orNull(move?.smallestHz),
      move === undefined ? null : yesNo(move.trusted),
      orNull(off.massOffG),
      orNull(off.heightOffMm),
      dry === undefined || wet === undefined ? null : wet - dry,
      yesNo(before.signature.spots.some((spot) => after.signature.spots.includes(spot))),
    ];
  });
}
