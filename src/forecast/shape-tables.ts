// Measured shapes for other programs: a table, and movements at points for a universal file.
import { orNull, which, whichHeader } from '../compare/tables.ts';
import type { CsvTable } from '../record/csv.ts';
import type { InstrumentRecord } from '../record/record.ts';
import type { RovingRound } from '../record/roving-edit.ts';
import { firstShapeNode, type PointShapes } from '../record/uff-record.ts';
import type { TapShapes } from './tap-shapes.ts';

/** One row a mode and spot; what is from the taps alone says nothing of the drawing. */
export function shapesTable(record: InstrumentRecord, round: RovingRound, answer: TapShapes): CsvTable {
  return {
    header: [
      ...whichHeader,
      'round_id',
      'mode_hz',
      'mode_hz_sigma',
      'q',
      'computed_mode',
      'computed_hz',
      'likeness_whole',
      'likeness_at_spots',
      'spot',
      'x_mm',
      'y_mm',
      'movement',
      'movement_sigma',
      'sign_probability',
      'movement_whole',
    ],
    rows: answer.shapes.flatMap(({ frequencyHz, q, atSpots, signOdds, whole }, k) => {
      const computed = whole && answer.computed[whole.computed];
      return round.roving.spots.map(({ xMm, yMm }, s) => [
        ...which(record),
        round.id,
        frequencyHz.value,
        frequencyHz.sigma,
        q,
        orNull(computed?.name),
        orNull(computed?.frequencyHz.value),
        orNull(whole?.likeness),
        orNull(whole && answer.likeness[k]![whole.computed]),
        s + 1,
        orNull(xMm),
        orNull(yMm),
        orNull(atSpots[s]?.value),
        orNull(atSpots[s]?.sigma),
        orNull(signOdds[s]),
        orNull(whole?.atSpots[s]),
      ]);
    }),
  };
}

const mmToM = (mm: number): number => mm / 1000;

/** Movement at the tapped spots, from the taps alone; undefined where the spots have no places. */
export function tappedPointShapes(round: RovingRound, answer: TapShapes): PointShapes | undefined {
  const tapped = round.roving.spots.flatMap(({ xMm, yMm }, s) =>
    xMm === undefined || yMm === undefined || answer.missingSpots.includes(s) ? [] : [{ s, xMm, yMm }],
  );
  if (tapped.length === 0) return undefined;
  return {
    origin: 'taps',
    points: tapped.map(({ s, xMm, yMm }) => ({ node: firstShapeNode + s, x: mmToM(xMm), y: mmToM(yMm), z: 0 })),
    modes: answer.shapes.map(({ frequencyHz, q, atSpots, whole }) => ({
      name: (whole && answer.computed[whole.computed]?.name) ?? '',
      frequencyHz: frequencyHz.value,
      q,
      z: tapped.map(({ s }) => atSpots[s]!.value),
    })),
  };
}
