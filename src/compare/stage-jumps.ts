// The named modes of an instrument at each of its stages, for what one instrument can tell another.
import { type EarlierJump, expectAfterStage, type StageForecast } from '../box/stage-jump.ts';
import type { Estimate } from '../quantity/estimate.ts';
import type { InstrumentRecord, Stage, Step } from '../record/record.ts';
import { namedSignatures } from './named-modes.ts';
import type { Signature } from './signature.ts';

/** A mode that the maker has named, as one step read it. */
export interface NamedReading {
  readonly name: string;
  readonly step: Step;
  readonly frequencyHz: Estimate;
}

/** Signatures that stand for the piece itself: a lump, a blocked hole or a hand on the back make it another thing. */
const isItself = ({ support }: Signature): boolean =>
  support.addedMassG === undefined &&
  support.addedMassOnBackG === undefined &&
  support.hold !== 'box-hole-blocked' &&
  support.hold !== 'box-back-damped';

/** Every reading of a named mode of the piece itself, in the order of the steps. */
export function namedReadings(record: InstrumentRecord): readonly NamedReading[] {
  return namedSignatures(record)
    .filter(({ signature }) => isItself(signature))
    .flatMap(({ step, modes }) =>
      modes.flatMap(({ name, mode }) => (name === undefined ? [] : [{ name, step, frequencyHz: mode.frequencyHz }])),
    );
}

/** The named mode as the first or the last step of a stage read it, or undefined where none did. */
function atStage(
  record: InstrumentRecord,
  stage: Stage,
  name: string,
  which: 'first' | 'last',
): NamedReading | undefined {
  const readings = namedReadings(record).filter((mode) => mode.step.stage === stage && mode.name === name);
  return which === 'first' ? readings[0] : readings.at(-1);
}

/** A change of stage, with the name of the mode on either side: a top's monopole may be called "top" in the box. */
export interface StageChange {
  readonly from: Stage;
  readonly to: Stage;
  readonly nameBefore: string;
  readonly nameAfter: string;
}

/** One earlier instrument that went through the change. */
export interface InstrumentJump extends EarlierJump {
  readonly recordId: string;
  readonly instrument: string;
  /** both readings with their sigmas */
  readonly before: Estimate;
  readonly after: Estimate;
}

/** What each record's mode did: from the last reading of the stage before to the first of the stage after. */
export function stageJumps(records: readonly InstrumentRecord[], change: StageChange): readonly InstrumentJump[] {
  return records.flatMap((record) => {
    const before = atStage(record, change.from, change.nameBefore, 'last');
    const after = atStage(record, change.to, change.nameAfter, 'first');
    if (before === undefined || after === undefined) return [];
    return [
      {
        recordId: record.id,
        instrument: record.name,
        before: before.frequencyHz,
        after: after.frequencyHz,
        fromHz: before.frequencyHz.value,
        toHz: after.frequencyHz.value,
      },
    ];
  });
}

/**
 * What to aim for before a stage so that the mode after it comes out as wanted: the jumps of the earlier instruments taken
 * backward, with the doubt of the wish.
 */
export function aimBeforeStage(
  records: readonly InstrumentRecord[],
  change: StageChange,
  wantedHz: Estimate,
): StageForecast {
  const backward = stageJumps(records, change).map(({ fromHz, toHz }) => ({ fromHz: toHz, toHz: fromHz }));
  return expectAfterStage(backward, wantedHz);
}

/** The mode as the instrument now stands, or undefined where it was not read and named at that stage. */
export function modeNow(record: InstrumentRecord, stage: Stage, name: string): Estimate | undefined {
  return atStage(record, stage, name, 'last')?.frequencyHz;
}
