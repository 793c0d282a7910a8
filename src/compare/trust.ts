// The checks that a reference stick's record holds, and what they say of today.
import type { Estimate } from '../quantity/estimate.ts';
import type { InstrumentRecord, Step } from '../record/record.ts';
import { type ControlChart, controlChart } from './control-chart.ts';
import { signatures } from './signature.ts';

/** One check of the stick: the loudest mode of the step. */
export interface Check {
  readonly step: Step;
  readonly frequencyHz: Estimate;
}

/** Checks in the order taken; steps without a reading are passed over. */
export function checksOf(stick: InstrumentRecord): readonly Check[] {
  return stick.steps.flatMap((step) => {
    const loudest = signatures(step)
      .flatMap((signature) => signature.modes)
      .reduce<{ frequencyHz: Estimate; levelDb: number } | undefined>(
        (best, mode) => (best === undefined || mode.levelDb > best.levelDb ? mode : best),
        undefined,
      );
    return loudest === undefined ? [] : [{ step, frequencyHz: loudest.frequencyHz }];
  });
}

/**
 * The control chart of the stick.
 * @throws RangeError if the stick was never read
 */
export const trustOf = (stick: InstrumentRecord): ControlChart =>
  controlChart(checksOf(stick).map((check) => check.frequencyHz));
