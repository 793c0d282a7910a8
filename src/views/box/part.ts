// What every part of the box view is given, and how it edits its part of the record.
import type { EditName } from '../../app/edits.ts';
import type { BoxReading } from '../../compare/box-reading.ts';
import { type BoxCavity, changeBox } from '../../record/box-edit.ts';
import type { BoxPart, InstrumentRecord, Step } from '../../record/record.ts';
import { useEditRecord } from '../workshop-context.ts';

/** What every part of the box view is given. */
export interface BoxPartProps {
  readonly record: InstrumentRecord;
  /** the last step on the closed box; undefined where there is none yet */
  readonly step: Step | undefined;
  readonly reading: BoxReading | undefined;
}

/** Edits the box part of the open record. */
export function useBoxEdit(): (editName: EditName, change: (box: BoxPart) => BoxPart) => void {
  const editRecord = useEditRecord();
  return (editName, change) => editRecord(editName, (record) => changeBox(record, change));
}

/** The sizes to begin with where none were noted. */
export const noSizes: BoxCavity = { from: 'outline' };
