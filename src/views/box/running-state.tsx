// The state of the box that is being tapped.
import type { BenchState } from '../../app/bench-state.ts';
import { stateOfRound } from '../../compare/box-state.ts';
import type { InstrumentRecord } from '../../record/record.ts';
import { roundsOf } from '../../record/round-edit.ts';
import { StateDrawing } from './box-drawing.tsx';
import { boxWords, stateWords } from './words.ts';

/** Drawn and said as on its card, while the taps are taken. */
export function RunningState(props: { readonly record: InstrumentRecord; readonly state: BenchState }) {
  const { record, state } = props;
  const { rounds: t, codes } = boxWords();
  const round =
    'place' in state ? roundsOf(record, state.place).find(({ id }) => id === state.place.roundId) : undefined;
  const running = round === undefined ? undefined : stateOfRound(round);
  if (running === undefined) return <h2>{t.taps}</h2>;
  return (
    <div class="state-guide">
      <StateDrawing state={running} />
      <div>
        <h2>{stateWords[running]}</h2>
        <p>{codes.guides[running].todo}</p>
      </div>
    </div>
  );
}
