// What a board is: the constants with their doubt and where it comes from, the bare formulas beside them, what to beware of.

import { boardTapsOf, keptReading, startOf, unfitBoard } from '../../compare/piece-reading.ts';
import { scaled } from '../../quantity/estimate.ts';
import type { Piece } from '../../record/record.ts';
import type { EntrySuspect } from '../../wood/entry-check.ts';
import { TAP_PATTERNS, type TapKind } from '../../wood/hold-guide.ts';
import type { Traced } from '../../wood/traced.ts';
import { Actions, Button } from '../parts/actions.tsx';
import { LargeFigure } from '../parts/figure.tsx';
import { number, withHalfWidth } from '../parts/figures.ts';
import { useLength, useMass } from '../parts/own-units.ts';
import { Table } from '../parts/table.tsx';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { Evenness } from './evenness.tsx';
import { Losses, type Read } from './loss.tsx';
import { PeaksTogether } from './named-peaks.tsx';
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

function Constants(props: { readonly piece: Piece; readonly reading: Read }) {
  const { nowIso } = useWorkshop();
  const { piece, reading } = props;
  const change = useChangePiece(piece.id);
  const mm = useLength();
  const { reading: t, codes } = woodWords();
  const { constants } = reading;
  const lines: readonly (readonly [string, string, Traced])[] = [
    [words.quantities.density, 'kg/m³', constants.densityKgM3],
    [words.quantities.modulusAlong, 'GPa', constants.eLongGpa],
    [words.quantities.modulusAcross, 'GPa', constants.eCrossGpa],
    [words.quantities.shearModulus, 'GPa', constants.gGpa],
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
