// The day's trust check: the latest reading of a reference stick, kept with every step of that day.
import { checksOf, trustOf } from '../compare/trust.ts';
import { localDay } from '../quantity/day.ts';
import { freshStep, withField } from '../record/edit.ts';
import type { InstrumentRecord, Step } from '../record/record.ts';

export class TrustOfDay {
  private latest: { readonly atIso: string; readonly trust: NonNullable<Step['trust']> } | undefined;

  /** Takes note of a stick's record as it now is. Records of instruments are passed over. */
  note(record: InstrumentRecord): void {
    if (record.kind !== 'reference-stick' || record.deletedAtIso !== undefined) return;
    const check = checksOf(record).at(-1);
    if (check === undefined || (this.latest !== undefined && check.step.atIso < this.latest.atIso)) return;
    const { verdict } = trustOf(record);
    // A reading that says nothing is no check: the stick is to be tapped again.
    if (verdict !== 'not-read')
      this.latest = { atIso: check.step.atIso, trust: { recordId: record.id, stepId: check.step.id, verdict } };
  }

  /** A new step of a record, with the check of its day; a stick's own steps are the checks. Not yet in the record. */
  begunStep(record: InstrumentRecord, id: string, atIso: string): Step {
    const step = freshStep(id, atIso, record.steps.at(-1));
    return record.kind === 'instrument' ? withField(step, 'trust', this.on(atIso)) : step;
  }

  /** The check made on the day of the moment given, or undefined where there was none. */
  on(atIso: string): Step['trust'] {
    return this.latest !== undefined && localDay(this.latest.atIso) === localDay(atIso) ? this.latest.trust : undefined;
  }
}
