// What the figures of a board rest on: that it is a rectangle, and of one thickness as far as the caliper says.
import { unfitBoard } from '../../compare/piece-reading.ts';
import { withField } from '../../record/edit.ts';
import type { Piece } from '../../record/record.ts';
import { ChoiceField } from '../parts/choice-field.tsx';
import { NumberField } from '../parts/number-field.tsx';
import { useChangePiece } from './piece-form.tsx';
import { woodWords } from './words.ts';

/** Asks for both, and says what is still to be said or why the board cannot be read. */
export function Evenness(props: { readonly piece: Piece }) {
  const { piece } = props;
  const change = useChangePiece(piece.id);
  const t = woodWords().evenness;
  const unfit = unfitBoard(piece);
  return (
    <>
      {unfit !== undefined && (
        <p class={unfit === 'cut-out' ? 'stop' : 'note'} role={unfit === 'cut-out' ? 'alert' : 'status'}>
          {t.unfit[unfit]}
        </p>
      )}
      <div class="fields">
        <ChoiceField
          label={t.shape}
          value={piece.shape ?? 'not-said'}
          options={[
            ...(piece.shape === undefined ? ([['not-said', t.shapes['not-said']]] as const) : []),
            ['rectangle', t.shapes.rectangle],
            ['cut-out', t.shapes['cut-out']],
          ]}
          onChange={(shape) => shape !== 'not-said' && change('piece-shape', (p) => ({ ...p, shape }))}
        />
        <NumberField
          of="uneven"
          hint={t.unevenHint}
          value={piece.unevenMm}
          onChange={(unevenMm) => change('piece-size', (p) => withField(p, 'unevenMm', unevenMm))}
        />
      </div>
    </>
  );
}
