import type { Series } from '../../compare/series.ts';
import type { InstrumentRecord } from '../../record/record.ts';
import { usualSpot } from '../../record/round-edit.ts';
import { useWorkshop } from '../workshop-context.ts';

/** Listens for a step, held and tapped as the series is. */
export function useListen(record: InstrumentRecord, { support }: Series): (stepId: string | undefined) => void {
  const { bench } = useWorkshop();
  const spot = usualSpot(record) ?? bench.spot.value;
  return (stepId) => {
    if (stepId !== undefined) void bench.start({ recordId: record.id, stepId }, { support, spot });
  };
}
