// What a roving round of a step begins with: the support and the modes of its last ordinary round, and where the spots lie.
import { useMemo } from 'preact/hooks';
import type { RovingSetting } from '../../app/roving.ts';
import { plateOnBench } from '../../forecast/roving-question.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import { roundOfModes } from '../../record/roving-edit.ts';
import { spotGrid, walked } from '../../shapes/spot-grid.ts';

export type SpotCount = '16' | '9';

export interface OfferedSetting extends RovingSetting {
  /** where the ordinary round was tapped */
  readonly tappedAt: string;
}

/** @returns undefined where no ordinary round tells the modes */
export function useSetting(record: InstrumentRecord, step: Step, count: SpotCount): OfferedSetting | undefined {
  return useMemo(() => {
    const round = roundOfModes(step, () => true);
    if (round?.fit === undefined) return undefined;
    const plate = plateOnBench(record, step, round.support);
    const at = plate === undefined ? [] : walked(spotGrid(plate, Number(count)));
    const spots =
      at.length === 0 ? Array.from({ length: Number(count) }, () => ({})) : at.map(([xMm, yMm]) => ({ xMm, yMm }));
    const modes = round.fit.modes.map(({ frequencyHz, q }) => ({ frequencyHz, q: q.value }));
    return { record, step, support: round.support, spots, modes, tappedAt: round.spot };
  }, [record, step, count]);
}
