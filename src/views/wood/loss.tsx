// Internal friction of a board, as Q of each direction.
import { type Estimate, propagated } from '../../quantity/estimate.ts';
import type { BoardReading } from '../../wood/board-constants.ts';
import { withHalfWidth } from '../parts/figures.ts';
import { woodWords } from './words.ts';

export type Read = Extract<BoardReading, { kind: 'read' }>;

export function Losses(props: { readonly loss: Read['loss'] }) {
  const { loss } = props;
  const t = woodWords().reading;
  if (loss === undefined) return <p class="hint">{t.noLoss}</p>;
  return (
    <p>
      {t.loss(
        withHalfWidth(inverted(loss.long), ''),
        withHalfWidth(inverted(loss.cross), ''),
        withHalfWidth(inverted(loss.twist), ''),
      )}
    </p>
  );
}

/** Q from a loss factor. Source: definition, Q = 1 / eta. */
const inverted = (loss: Estimate) => propagated(([eta]) => 1 / eta!, [loss]).result;
