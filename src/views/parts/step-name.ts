// What a step is called, in every list, choice and report alike.
import { bothSides, readingOf, readStretch } from '../../record/cut-place.ts';
import { type CutMade, cutsMade } from '../../record/cuts.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import { stageWords } from '../words/codes.ts';
import { words } from '../words/language.ts';
import { useLength } from './own-units.ts';

type OfStep<T> = (record: InstrumentRecord, step: Step) => T;

/** What was cut at a step, in words; the same cut on both sides is one. Empty where nothing was entered. */
export function useCutNames(): OfStep<readonly string[]> {
  const depth = useLength(3);
  const place = useLength('rule', 0);
  const partsOf = (record: InstrumentRecord, { cut, on, heightOffMm }: CutMade) => {
    const reading = on[0] && readingOf(on[0].brace, record.hand);
    const [fromMm, toMm] = readStretch(reading, cut.fromMm, cut.toMm);
    const stretch = fromMm === undefined || toMm === undefined ? undefined : ([place(fromMm), place(toMm)] as const);
    return { brace: cut.brace, off: heightOffMm === undefined ? undefined : depth(heightOffMm), stretch };
  };
  return (record, step) => {
    const cuts = cutsMade(record)
      .filter((made) => made.step.id === step.id && (made.cut.brace !== '' || made.on.length > 0))
      .map((made) => partsOf(record, made));
    return bothSides(cuts, ({ off, stretch }) => JSON.stringify([off, stretch])).map(
      ({ brace, off, stretch, isOnBothSides }) =>
        words.steps.cutAt(isOnBothSides ? words.steps.onBothSides(brace) : brace, off, stretch),
    );
  };
}

/** What a step is called: the maker's words, else what was cut, else its stage. */
export function useStepName(): OfStep<string> {
  const cutNames = useCutNames();
  return (record, step) => {
    if (step.done !== '') return step.done;
    const cuts = cutNames(record, step);
    return cuts.length > 0 ? cuts.join('; ') : stageWords[step.stage];
  };
}
