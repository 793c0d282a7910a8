// Every peak of every round beside the modes of the board that explains most of them.
import { useState } from 'preact/hooks';
import { piecePeaks, sizesOf, startOf } from '../../compare/piece-reading.ts';
import type { Piece } from '../../record/record.ts';
import { nameModeOfPiece } from '../../record/wood-edit.ts';
import { TAP_PATTERNS, type TapKind } from '../../wood/hold-guide.ts';
import { isSamePattern } from '../../wood/pattern-names.ts';
import { Button } from '../parts/actions.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { Table } from '../parts/table.tsx';
import { useWorkshop } from '../workshop-context.ts';
import { useChangePiece } from './piece-form.tsx';
import { woodWords } from './words.ts';

/** Every peak of every round beside the modes of the board that explains most of them. */
export function PeaksTogether(props: { readonly piece: Piece }) {
  const [asked, setAsked] = useState(false);
  const heard = piecePeaks(props.piece);
  if (heard.length < 3) return null;
  return (
    <details onToggle={(event) => event.currentTarget.open && setAsked(true)}>
      <summary>{woodWords().reading.together}</summary>
      {asked && <NamedPeaks piece={props.piece} />}
    </details>
  );
}

function NamedPeaks(props: { readonly piece: Piece }) {
  const { answers } = useWorkshop();
  const { piece } = props;
  const change = useChangePiece(piece.id);
  const { reading: t, codes } = woodWords();
  const board = sizesOf(piece);
  if (board === undefined) return null;
  const heard = piecePeaks(piece);
  const state = answers.of('name-peaks', { board, heard, start: startOf(piece) }).value;
  if (state.kind === 'working') return <p role="status">{t.naming}</p>;
  if (state.kind === 'failed') return <p class="stop">{t.namingFailed(state.message)}</p>;
  const named = state.answer;
  if (named.kind === 'not-found') return <p>{t.namingNone}</p>;
  return (
    <>
      {!named.isSure && <p class="note">{t.namingClose}</p>}
      <Table
        label={t.peaksLabel}
        head={[t.peak, t.mode, t.model, t.apart, t.take]}
        rows={named.peaks.map((peak) => {
          const kind = (Object.keys(TAP_PATTERNS) as TapKind[]).find(
            (known) => peak.pattern !== undefined && isSamePattern(TAP_PATTERNS[known], peak.pattern),
          );
          return [
            withHalfWidth(peak.frequencyHz, 'Hz'),
            peak.pattern === undefined ? t.noMode : codes.pattern(peak.pattern),
            peak.modelHz === undefined ? '–' : `${number(peak.modelHz, 1)} Hz`,
            peak.misfitPercent === undefined ? '–' : `${number(peak.misfitPercent, 1)} %`,
            kind !== undefined && (
              <Button
                kind="quiet"
                text={t.takeAs(kind)}
                onPress={() =>
                  change('which-mode', (p) =>
                    nameModeOfPiece(
                      p,
                      kind,
                      heard.find((mode) => mode.frequencyHz.value === peak.frequencyHz.value),
                    ),
                  )
                }
              />
            ),
          ];
        })}
      />
      {named.unseen.length > 0 && (
        <p class="hint">
          {t.notHeard(named.unseen.map((mode) => t.near(codes.pattern(mode.pattern), number(mode.frequencyHz, 0))))}
        </p>
      )}
    </>
  );
}
