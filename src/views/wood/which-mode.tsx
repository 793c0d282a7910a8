// Which of the modes heard is the one that was asked for.
import { heardIn, lastRoundFor, type ModeOfPiece, modesOf } from '../../compare/piece-reading.ts';
import type { Piece } from '../../record/record.ts';
import { nameModeOfPiece } from '../../record/wood-edit.ts';
import type { TapKind } from '../../wood/hold-guide.ts';
import { ChoiceField } from '../parts/choice-field.tsx';
import { number, parts } from '../parts/figures.ts';
import { MeasuredField } from '../parts/measured-field.tsx';
import { qText } from '../parts/own-units.ts';
import { words } from '../words/language.ts';
import { useChangePiece } from './piece-form.tsx';
import { tapWords, woodWords } from './words.ts';

/** Which peak is the wanted mode: the strongest of its round, unless the maker says otherwise. */
export function WhichMode(props: { readonly piece: Piece; readonly kind: TapKind }) {
  const { piece, kind } = props;
  const change = useChangePiece(piece.id);
  const mode = modesOf(piece)[kind];
  const heard = piece.rounds.filter((round) => round.wanted === kind && round.state === 'closed').flatMap(heardIn);
  const recorder = lastRoundFor(piece, kind)?.fit?.recorder;
  const t = woodWords().measure;
  const key = (hz: number) => hz.toFixed(3);
  return (
    <div class="which-mode">
      {mode !== undefined && <ModeFigure mode={mode} />}
      {mode?.origin === 'round' && recorder !== undefined && <p class="note">{words.bench.recorder[recorder]}</p>}
      {mode?.origin === 'round' && lastRoundFor(piece, kind)?.fit?.scatterKnown === false && (
        <p class="note">{t.oneHold}</p>
      )}
      {heard.length > 0 && (
        <ChoiceField
          label={t.whichPeak(kind)}
          value={mode?.origin === 'maker' ? key(mode.frequencyHz.value) : ''}
          options={[
            ['', t.strongest],
            ...heard.map(
              (each) =>
                [
                  key(each.frequencyHz.value),
                  `${number(each.frequencyHz.value, 1)} Hz, ${number(each.levelDb, 0)} dB`,
                ] as const,
            ),
          ]}
          onChange={(chosen) => {
            const found = heard.find((each) => key(each.frequencyHz.value) === chosen);
            change('which-mode', (p) =>
              nameModeOfPiece(p, kind, found && { frequencyHz: found.frequencyHz, ...(found.q && { q: found.q }) }),
            );
          }}
        />
      )}
      <details>
        <summary>{t.orType}</summary>
        <MeasuredField
          label={tapWords[kind]}
          of="boardModeHz"
          tool={1}
          value={mode?.origin === 'maker' ? mode.frequencyHz : undefined}
          onChange={(frequencyHz) =>
            change('which-mode', (p) => nameModeOfPiece(p, kind, frequencyHz && { frequencyHz }))
          }
        />
      </details>
    </div>
  );
}

function ModeFigure(props: { readonly mode: ModeOfPiece }) {
  const { q } = props.mode;
  const frequency = parts(props.mode.frequencyHz, 2);
  return (
    <p class="figure-value">
      <span class="figure-number">{frequency.value}</span>
      <span class="figure-unit">
        Hz ±{frequency.halfWidth}
        <br />
        {q === undefined ? woodWords().measure.qUnknown : qText(q)}
      </span>
    </p>
  );
}
