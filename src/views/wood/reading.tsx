// What a board is: the constants with their doubt and where it comes from, the bare formulas beside them, what to beware of.

import { useState } from 'preact/hooks';
import { boardTapsOf, keptReading, peaksOf, sizesOf, startOf, unfitBoard } from '../../compare/piece-reading.ts';
import { type Estimate, propagated, scaled } from '../../quantity/estimate.ts';
import type { Piece } from '../../record/record.ts';
import { nameModeOfPiece } from '../../record/wood-edit.ts';
import type { BoardReading } from '../../wood/board-constants.ts';
import type { EntrySuspect } from '../../wood/entry-check.ts';
import { TAP_PATTERNS, type TapKind } from '../../wood/hold-guide.ts';
import { isSamePattern } from '../../wood/pattern-names.ts';
import type { Traced } from '../../wood/traced.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { LargeFigure } from '../parts/figure.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { useLength, useMass } from '../parts/own-units.ts';
import { Table } from '../parts/table.tsx';
import { useWorkshop } from '../workshop-context.ts';
import { Evenness } from './evenness.tsx';
import { useChangePiece } from './piece-form.tsx';
import { tapWords, woodWords } from './words.ts';

export function BoardReadingOf(props: { readonly piece: Piece }) {
  if (boardTapsOf(props.piece) === undefined) return null;
  return (
    <>
      <Evenness piece={props.piece} />
      {unfitBoard(props.piece) === undefined && <ReadBoard piece={props.piece} />}
    </>
  );
}

function ReadBoard(props: { readonly piece: Piece }) {
  const { answers } = useWorkshop();
  const t = woodWords().reading;
  const { piece } = props;
  const given = boardTapsOf(piece);
  if (given === undefined) return null;
  const state = answers.of('read-board', { given, start: startOf(piece) }).value;
  if (state.kind === 'working') return <p role="status">{t.working}</p>;
  if (state.kind === 'failed')
    return (
      <p class="stop" role="alert">
        {t.failed(state.message)}
      </p>
    );
  const reading = state.answer;
  switch (reading.kind) {
    case 'missing-taps':
      return <p>{t.stillToTap(reading.missing)}</p>;
    case 'not-wood':
      return <Suspects suspects={reading.suspects} />;
    case 'read':
      return <Constants piece={piece} reading={reading} />;
  }
}

function Suspects(props: { readonly suspects: readonly EntrySuspect[] }) {
  const mm = useLength();
  const g = useMass();
  const { codes } = woodWords();
  const first = props.suspects[0];
  if (first === undefined) return null;
  return (
    <div class="stop" role="alert">
      <p>{codes.suspectHead(first)}</p>
      <ol>
        {props.suspects.slice(0, 3).map((suspect) => (
          <li key={`${suspect.entry} ${suspect.slip} ${suspect.with ?? ''}`}>
            {codes.suspect(suspect, (entry, value) =>
              entry === 'mass' ? g(value) : entry in TAP_PATTERNS ? `${number(value, 1)} Hz` : mm(value),
            )}
          </li>
        ))}
      </ol>
    </div>
  );
}

type Read = Extract<BoardReading, { kind: 'read' }>;

function Constants(props: { readonly piece: Piece; readonly reading: Read }) {
  const { nowIso } = useWorkshop();
  const { piece, reading } = props;
  const change = useChangePiece(piece.id);
  const mm = useLength();
  const { reading: t, codes } = woodWords();
  const { constants } = reading;
  const lines: readonly (readonly [string, string, Traced])[] = [
    [t.density, 'kg/m³', constants.densityKgM3],
    [t.eLong, 'GPa', constants.eLongGpa],
    [t.eCross, 'GPa', constants.eCrossGpa],
    [t.shear, 'GPa', constants.gGpa],
    [t.speedLong, 'm/s', constants.speedLongMS],
    [t.speedCross, 'm/s', constants.speedCrossMS],
    [t.radiationRatio, 'm⁴/(kg s)', constants.radiationRatio],
    [t.impedance, 'MPa s/m', megapascal(constants.impedance)],
  ];
  const kept = piece.reading;
  const isKept =
    kept?.eLongGpa?.value === constants.eLongGpa.value && kept.densityKgM3?.value === constants.densityKgM3.value;
  const worst = constants.eLongGpa.contributions[0]?.input;
  const better = worst === undefined ? undefined : codes.betterBoard(worst);
  return (
    <>
      {reading.warnings.map((warning) => (
        <p class="note" role="alert" key={codes.warning(warning, mm)}>
          {codes.warning(warning, mm)}
        </p>
      ))}
      <ul class="figures">
        {lines.slice(0, 4).map(([label, unit, value]) => (
          <BigFigure key={label} label={label} unit={unit} value={value} />
        ))}
      </ul>
      <Actions>
        <Button
          kind="primary"
          isBig
          text={isKept ? t.kept : kept === undefined ? t.keep : t.keepInstead}
          isDisabled={isKept}
          onPress={() => change('reading', (p) => ({ ...p, reading: keptReading(p, constants, nowIso()) }))}
        />
      </Actions>
      {better !== undefined && (
        <p>
          <strong>{codes.measureBetter}</strong> {better}
        </p>
      )}
      <Table
        label={t.allConstants}
        head={[t.constant, t.value]}
        rows={lines.map(([label, unit, value]) => [
          label,
          <>
            {withHalfWidth(value, unit)}
            <span class="hint block">{t.doubt(shares(value))}</span>
          </>,
        ])}
      />
      <p class="hint">{t.plusMinus}</p>
      <Losses loss={reading.loss} />
      <details>
        <summary>{t.bare}</summary>
        <p>{t.bareHint}</p>
        <ul>
          {(Object.keys(TAP_PATTERNS) as TapKind[]).map((kind) => (
            <li key={kind}>
              {t.bareOne(
                tapWords[kind],
                number(reading.simple[kind].gpa, 2),
                number(100 * (reading.simple[kind].ratio - 1), 1),
              )}
            </li>
          ))}
        </ul>
      </details>
      <PeaksTogether piece={piece} />
    </>
  );
}

const megapascal = (value: Traced): Traced => ({
  ...scaled(value, 1e-6),
  contributions: value.contributions,
});

/** "thickness 95 %", "length 3 %": shares of the variance that matter. */
function shares(value: Traced): readonly string[] {
  const total = value.contributions.reduce((sum, { sigma }) => sum + sigma * sigma, 0);
  return value.contributions
    .map(({ input, sigma }) => ({ input, percent: (100 * sigma * sigma) / total }))
    .filter(({ percent }) => percent >= 5)
    .map(({ input, percent }) => woodWords().codes.share(input, number(percent, 0)));
}

export function BigFigure(props: {
  readonly label: string;
  readonly unit: string;
  readonly value: { readonly value: number; readonly sigma: number };
}) {
  return (
    <li class="figure">
      <LargeFigure figure={props.value} unit={props.unit} />
      <p class="figure-more">{props.label}</p>
    </li>
  );
}

function Losses(props: { readonly loss: Read['loss'] }) {
  const { loss } = props;
  const t = woodWords().reading;
  if (loss === null) return <p class="hint">{t.noLoss}</p>;
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

/** Every peak of every round beside the modes of the board that explains most of them. */
function PeaksTogether(props: { readonly piece: Piece }) {
  const [asked, setAsked] = useState(false);
  const heard = peaksOf(props.piece);
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
  const heard = peaksOf(piece);
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
            (known) => peak.pattern !== null && isSamePattern(TAP_PATTERNS[known], peak.pattern),
          );
          return [
            withHalfWidth(peak.frequencyHz, 'Hz'),
            peak.pattern === null ? t.noMode : codes.pattern(peak.pattern),
            peak.modelHz === null ? '–' : `${number(peak.modelHz, 1)} Hz`,
            peak.misfitPercent === null ? '–' : `${number(peak.misfitPercent, 1)} %`,
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
