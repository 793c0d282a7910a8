// Guided measurement: one mode after the other, with the board drawn to scale, where to hold it and where to tap it.

import { useState } from 'preact/hooks';
import {
  heardIn,
  lastRoundFor,
  type ModeOfPiece,
  modesOf,
  plateWoodOf,
  sizesOf,
  startOf,
} from '../../compare/piece-reading.ts';
import type { Piece } from '../../record/record.ts';
import { roundsOf } from '../../record/round-edit.ts';
import { nameModeOfPiece } from '../../record/wood-edit.ts';
import { withShear } from '../../wood/elastic-start.ts';
import type { HoldGuide, TapKind } from '../../wood/hold-guide.ts';
import { boardOf } from '../../wood/measured-board.ts';
import { stickGuides } from '../../wood/stick-guide.ts';
import { HeardList } from '../bench/heard-list.tsx';
import { Session } from '../bench/session.tsx';
import { TakeRecordings } from '../bench/take-recordings.tsx';
import { Button } from '../parts/actions.tsx';
import { ChoiceField } from '../parts/choice-field.tsx';
import { number, parts } from '../parts/figures.ts';
import { MeasuredField } from '../parts/measured-field.tsx';
import { qText, useLength } from '../parts/own-units.ts';
import { useSpaceBar } from '../parts/space-bar.ts';
import type { SidePlace } from '../words/en/wood-reading.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { WoodDrawing } from './hold-drawing.tsx';
import { useChangePiece } from './piece-form.tsx';
import { tapWords, woodWords } from './words.ts';

export const isStick = ({ kind }: Piece): boolean => kind === 'brace-stock' || kind === 'bridge-blank';

const boardTaps: readonly TapKind[] = ['long-grain-bending', 'cross-grain-bending', 'twist'];
const stickTaps: readonly TapKind[] = ['long-grain-bending', 'twist'];

/** Held at a node line with nothing glued on: what every round of a free board or stick is. */
const freePiece = { hold: 'at-node', bridge: 'off', strung: false } as const;

type Guide = Omit<HoldGuide, 'expectedHz'> & { readonly expectedHz?: number };

/** Guides of the piece; undefined while they are computed or where sizes are missing. */
function useGuides(piece: Piece): readonly Guide[] | undefined {
  const { answers } = useWorkshop();
  const board = sizesOf(piece);
  if (board === undefined) return undefined;
  if (isStick(piece)) return stickGuides(board.lengthMm.value, board.widthMm.value);
  const start = startOf(piece);
  const wood = plateWoodOf(piece);
  const elastic = withShear(
    wood === undefined
      ? {
          eLongPa: start.eLongPa.value,
          eCrossPa: start.eCrossPa.value,
          gPa: start.gPa.value,
          nuLR: start.nuLR.value,
        }
      : {
          eLongPa: wood.eLongGpa.value * 1e9,
          eCrossPa: wood.eCrossGpa.value * 1e9,
          gPa: wood.gGpa.value * 1e9,
          nuLR: wood.nuLR,
        },
    start.shearRatios,
  );
  const state = answers.of('hold-guides', { ...boardOf(board), elastic }).value;
  return state.kind === 'answer' ? state.answer : undefined;
}

export function Measure(props: { readonly piece: Piece }) {
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
  useSpaceBar();
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
            <button
              type="button"
              class={mode === undefined || next === undefined ? 'primary big' : 'big'}
              disabled={state.kind === 'opening'}
              onClick={() => void bench.start(home, setting)}
            >
              {state.kind === 'opening' ? t.opening : t.listenFor(kind)}
            </button>
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

/** Which peak is the wanted mode: the strongest of its round, unless the maker says otherwise. */
function WhichMode(props: { readonly piece: Piece; readonly kind: TapKind }) {
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
