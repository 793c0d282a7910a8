// Edits of what the record keeps of the box: plain functions from record to record.
import { pinMode } from './edit.ts';
import type { BoxPart, InstrumentRecord, Pin } from './record.ts';

export type BoxPeakNote = NonNullable<BoxPart['peaks']>[number];
export type BoxCavity = NonNullable<BoxPart['cavity']>;
export type BoxStrings = NonNullable<BoxPart['strings']>;
export type BoxRepair = NonNullable<BoxPart['repair']>;

/** Replaces the box part by what `change` makes of it. */
export function changeBox(record: InstrumentRecord, change: (box: BoxPart) => BoxPart): InstrumentRecord {
  return { ...record, box: change(record.box ?? {}) };
}

/**
 * Notes which part a peak belongs to; an earlier word on the same peak, or on another peak of the round for the same part,
 * gives way (any number of peaks may be none of the three).
 * @param pin name of the same mode for the step, where the round is one of the box as it is
 */
export function labelPeak(record: InstrumentRecord, note: BoxPeakNote, pin: Pin | undefined): InstrumentRecord {
  const others = (record.box?.peaks ?? []).filter(
    (known) =>
      known.roundId !== note.roundId ||
      (known.frequencyHz !== note.frequencyHz && (known.part !== note.part || note.part === 'other')),
  );
  const labelled = changeBox(record, (box) => ({ ...box, peaks: [...others, note] }));
  return pin === undefined ? labelled : pinMode(labelled, pin);
}

/** Forgets what was said of the peaks of these rounds, so that the program proposes anew. */
export function unlabelRounds(record: InstrumentRecord, roundIds: readonly string[]): InstrumentRecord {
  return changeBox(record, (box) => ({
    ...box,
    peaks: (box.peaks ?? []).filter((known) => !roundIds.includes(known.roundId)),
  }));
}
