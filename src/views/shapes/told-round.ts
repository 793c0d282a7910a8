import type { TapShapes } from '../../forecast/tap-shapes.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import type { RovingRound } from '../../record/roving-edit.ts';

/** A roving round with what was read from it. */
export interface Told {
  readonly record: InstrumentRecord;
  readonly step: Step;
  readonly round: RovingRound;
  readonly answer: TapShapes;
}
