// The spectrum of one step with its modes flagged: the sound is read when it is first looked at.
import { useState } from 'preact/hooks';
import { namedSignatures } from '../../compare/named-modes.ts';
import { roundsAt } from '../../compare/signature.ts';
import type { InstrumentRecord, Step } from '../../record/record.ts';
import { MeasuredSpectrum } from '../parts/mode-spectrum.tsx';
import { conditionsWords } from '../words/conditions.ts';
import { words } from '../words/language.ts';

export function StepSpectrum(props: { readonly record: InstrumentRecord; readonly step: Step }) {
  const [isOpen, setOpen] = useState(false);
  const { record, step } = props;
  const measured = namedSignatures(record).filter((known) => known.step.id === step.id);
  if (measured.length === 0) return null;
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{words.steps.spectrum}</summary>
      {isOpen &&
        measured.map(({ signature, modes }) => (
          <section key={conditionsWords({ stage: step.stage, support: signature.support })}>
            {measured.length > 1 && (
              <p class="hint">{conditionsWords({ stage: step.stage, support: signature.support })}</p>
            )}
            <MeasuredSpectrum rounds={roundsAt(step, signature.support, signature.spots)} modes={modes} low={false} />
          </section>
        ))}
    </details>
  );
}
