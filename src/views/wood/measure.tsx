// Guided measurement: one mode after the other, with the board drawn to scale, where to hold it and where to tap it.

import { useState } from 'preact/hooks';
import { modesOf, sizesOf } from '../../compare/piece-reading.ts';
import type { Piece } from '../../record/record.ts';
import { roundsOf } from '../../record/round-edit.ts';
import type { HoldGuide, TapKind } from '../../wood/hold-guide.ts';
import { HeardList } from '../bench/heard-list.tsx';
import { Session } from '../bench/session.tsx';
import { TakeRecordings } from '../bench/take-recordings.tsx';
import { Button } from '../parts/actions.tsx';
import { number, parts } from '../parts/figures.ts';
import { useLength } from '../parts/own-units.ts';
import type { SidePlace } from '../words/en/wood-reading.ts';
import { useWorkshop } from '../workshop-context.ts';
import { type Guide, isStick, useGuides } from './guides.ts';
import { WoodDrawing } from './hold-drawing.tsx';
import { WhichMode } from './which-mode.tsx';
import { tapWords, woodWords } from './words.ts';

const boardTaps: readonly TapKind[] = ['long-grain-bending', 'cross-grain-bending', 'twist'];
const stickTaps: readonly TapKind[] = ['long-grain-bending', 'twist'];

/** Held at a node line with nothing glued on: what every round of a free board or stick is. */
const freePiece = { hold: 'at-node', bridge: 'off', strung: false } as const;

export function MeasurePiece(props: { readonly piece: Piece }) {
  const { piece } = props;
  const t = woodWords().measure;
  const board = sizesOf(piece);
  const kinds = isStick(piece) ? stickTaps : boardTaps;
  const modes = modesOf(piece);
  const guides = useGuides(piece);
  // The first mode that is missing; after its round the answer stays until the maker goes on.
  const [chosen, setChosen] = useState(kinds.find((known) => modes[known] === undefined) ?? kinds[0]!);
  const kind = kinds.includes(chosen) ? chosen : kinds[0]!;
  const next = kinds.find((known) => modes[known] === undefined && known !== kind);
  if (board === undefined) return <p>{t.sizesFirst}</p>;
  return (
    <>
      <div class="tap-kinds">
        {kinds.map((known, i) => (
          <button
            key={known}
            type="button"
            class={known === kind ? 'tap-kind chosen' : 'tap-kind'}
            aria-pressed={known === kind}
            onClick={() => setChosen(known)}
          >
            <WoodDrawing
              small
              title=""
              lengthMm={board.lengthMm.value}
              widthMm={board.widthMm.value}
              guide={guides?.find((guide) => guide.tap === known)}
            />
            <span>
              {i + 1}. {tapWords[known]}
            </span>
            <strong>
              {modes[known] === undefined ? t.notTapped : `${parts(modes[known].frequencyHz, 1).value} Hz`}
            </strong>
          </button>
        ))}
      </div>
      <TapOne
        key={`${piece.id} ${kind}`}
        piece={piece}
        kind={kind}
        guide={guides?.find((guide) => guide.tap === kind)}
        next={next}
        onNext={setChosen}
      />
    </>
  );
}

function TapOne(props: {
  readonly piece: Piece;
  readonly kind: TapKind;
  readonly guide: Guide | undefined;
  /** the next mode that is still missing */
  readonly next: TapKind | undefined;
  readonly onNext: (kind: TapKind) => void;
}) {
  const { bench, preferences, recordings, shelf } = useWorkshop();
  const record = shelf.record.value!;
  const t = woodWords().measure;
  const { piece, kind, guide, next } = props;
  const home = { recordId: record.id, pieceId: piece.id };
  const mode = modesOf(piece)[kind];
  const where = useWhere(piece);
  const { tapsPerHold, holdsPerRound } = preferences.settings.value;
  const setting = { support: freePiece, spot: t.spot(kind), wanted: kind };
  const take = (files: readonly File[]) => void recordings.take(() => home, files, setting);
  const state = bench.state.value;
  // Rounds of another piece or mode stay on screen only while they run.
  const round =
    'place' in state && 'pieceId' in state.place && state.place.pieceId === piece.id ? state.place : undefined;
  const wanted =
    round === undefined ? undefined : roundsOf(record, round).find((known) => known.id === round.roundId)?.wanted;
  const isOver = state.kind === 'idle' || state.kind === 'answer' || state.kind === 'opening';
  return (
    <div
      class="tap-one listening"
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        take([...(event.dataTransfer?.files ?? [])]);
      }}
    >
      <div>
        <WoodDrawing
          title={t.drawing(kind)}
          lengthMm={piece.lengthMm!.value}
          widthMm={piece.widthMm!.value}
          guide={guide}
        />
        <p class="hint">{t.drawingHint}</p>
      </div>
      <div>
        {isOver ? (
          <>
            <p class="lead">
              {guide === undefined ? t.workingOut : t.holdAndTap(where(guide.hold), where(guide.strike))}
              {guide?.expectedHz !== undefined && ` ${t.expect(number(guide.expectedHz, 0))}`}
            </p>
            <Button
              kind={mode === undefined || next === undefined ? 'primary' : undefined}
              isBig
              takesSpaceBar
              text={state.kind === 'opening' ? t.opening : t.listenFor(kind)}
              isDisabled={state.kind === 'opening'}
              onPress={() => void bench.start(home, setting)}
            />
            <p class="hint">{t.countsItself(tapsPerHold, holdsPerRound)}</p>
            <TakeRecordings onTake={take} />
            {state.kind === 'answer' && wanted === kind && <HeardList />}
            <WhichMode piece={piece} kind={kind} />
            {mode !== undefined && next !== undefined && (
              <Button kind="primary" isBig text={t.next(next)} onPress={() => props.onNext(next)} />
            )}
          </>
        ) : wanted === kind ? (
          <Session answer={() => null} />
        ) : (
          <p>{t.otherRound}</p>
        )}
      </div>
    </div>
  );
}

/** A place on the piece in words: by its left end and its lower edge. */
function useWhere(piece: Piece): (point: HoldGuide['hold']) => string {
  const mm = useLength();
  const one = (at: number, whole: number): SidePlace => {
    if (at < 0.01 * whole) return 'first';
    if (at > 0.99 * whole) return 'last';
    return Math.abs(at / whole - 0.5) < 0.01 ? 'middle' : { fromFirst: mm(at) };
  };
  return ({ xMm, yMm }) => woodWords().measure.where(one(xMm, piece.lengthMm!.value), one(yMm, piece.widthMm!.value));
}
