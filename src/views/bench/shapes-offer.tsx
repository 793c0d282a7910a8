import type { Step } from '../../record/record.ts';
import { isConcluded } from '../../record/round-edit.ts';
import { words } from '../words/language.ts';

/** The way to the shapes, once an ordinary round has told which modes there are. */
export function ShapesOffer({ step }: { readonly step: Step }) {
  if (!step.rounds.some(isConcluded)) return null;
  return (
    <p>
      <a class="button" href="#/bench/shapes">
        {words.bench.shapes.offer}
      </a>{' '}
      <span class="hint">{words.bench.shapes.hint}</span>
    </p>
  );
}
