// What a board is: the constants with their doubt and where it comes from, the bare formulas beside them, what to beware of.
import { useState } from 'preact/hooks';
import { boardTapsOf, keptReading, peaksOf, sizesOf, startOf } from '../compare/piece-reading.ts';
import { type Estimate, propagated, scaled } from '../quantity/estimate.ts';
import type { Piece } from '../record/record.ts';
import { nameModeOfPiece } from '../record/wood-edit.ts';
import type { BoardReading } from '../wood/board-constants.ts';
import type { EntrySuspect } from '../wood/entry-check.ts';
import { TAP_PATTERNS, type TapKind } from '../wood/hold-guide.ts';
import { isSamePattern } from '../wood/pattern-names.ts';
import type { Traced } from '../wood/traced.ts';
import { number, parts, withHalfWidth } from './figures.ts';
import { useLength, useMass } from './unit-words.ts';
import { useChangePiece } from './wood-piece-form.tsx';
import {
  betterWords,
  inputWords,
  patternWords,
  suspectHead,
  suspectWords,
  tapWords,
  warningWords,
} from './wood-words.ts';
import { useWorkshop } from './workshop-context.ts';

export function BoardReadingOf(props: { readonly piece: Piece }) {
  const { answers } = useWorkshop();
  const { piece } = props;
  const given = boardTapsOf(piece);
  if (given === undefined) return null;
  const state = answers.of('read-board', { given, start: startOf(piece) }).value;
  if (state.kind === 'working') return <p role="status">Reading the board …</p>;
  if (state.kind === 'failed')
    return (
      <p class="stop" role="alert">
        The board could not be read ({state.message}).
      </p>
    );
  const reading = state.answer;
  switch (reading.kind) {
    case 'missing-taps':
      return (
        <p>
          Still to be tapped: {reading.missing.map((kind) => tapWords[kind].toLowerCase()).join(', ')}. All three are
          needed, because each constant moves all of them.
        </p>
      );
    case 'not-wood':
      return <Suspects suspects={reading.suspects} />;
    case 'read':
      return <Constants piece={piece} reading={reading} />;
  }
}

function Suspects(props: { readonly suspects: readonly EntrySuspect[] }) {
  const mm = useLength();
  const g = useMass();
  const first = props.suspects[0];
  if (first === undefined) return null;
  return (
    <div class="stop" role="alert">
      <p>{suspectHead(first)}</p>
      <ol>
        {props.suspects.slice(0, 3).map((suspect) => (
          <li key={`${suspect.entry} ${suspect.slip} ${suspect.with ?? ''}`}>
            {suspectWords(suspect, (entry, value) =>
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
  const { constants } = reading;
  const lines: readonly (readonly [string, string, Traced])[] = [
    ['Density', 'kg/m³', constants.densityKgM3],
    ['E along the grain', 'GPa', constants.eLongGpa],
    ['E across the grain', 'GPa', constants.eCrossGpa],
    ['Shear modulus G', 'GPa', constants.gGpa],
    ['Speed of sound along', 'm/s', constants.speedLongMS],
    ['Speed of sound across', 'm/s', constants.speedCrossMS],
    ['Radiation ratio c/ρ', 'm⁴/(kg s)', constants.radiationRatio],
    ['Characteristic impedance', 'MPa s/m', megapascal(constants.impedance)],
  ];
  const kept = piece.reading;
  const isKept =
    kept?.eLongGpa?.value === constants.eLongGpa.value && kept.densityKgM3?.value === constants.densityKgM3.value;
  const worst = constants.eLongGpa.contributions[0]?.input;
  const better = worst === undefined ? undefined : betterWords(worst);
  return (
    <>
      {reading.warnings.map((warning) => (
        <p class="note" role="alert" key={warningWords(warning, mm)}>
          {warningWords(warning, mm)}
        </p>
      ))}
      <ul class="figures">
        {lines.slice(0, 4).map(([label, unit, value]) => (
          <BigFigure key={label} label={label} unit={unit} value={value} />
        ))}
      </ul>
      <div class="actions">
        <button
          type="button"
          class="primary big"
          disabled={isKept}
          onClick={() => change('reading', (p) => ({ ...p, reading: keptReading(p, constants, nowIso()) }))}
        >
          {isKept ? 'Kept with the piece' : kept === undefined ? 'Keep this reading' : 'Keep this reading instead'}
        </button>
      </div>
      {better !== undefined && (
        <p>
          <strong>What to measure better:</strong> most of the doubt in E along comes from {inputWords[worst!]}.{' '}
          {better}.
        </p>
      )}
      <section class="scroll" tabIndex={0} aria-label="All constants">
        <table>
          <thead>
            <tr>
              <th>Constant</th>
              <th>Value</th>
            </tr>
          </thead>
          <tbody>
            {lines.map(([label, unit, value]) => (
              <tr key={label}>
                <th scope="row">{label}</th>
                <td>
                  {withHalfWidth(value, unit)}
                  <span class="hint block">doubt: {sharesWords(value)}</span>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <p class="hint">± is the 95 % interval, from taps, ruler and scale together.</p>
      <Losses loss={reading.loss} />
      <details>
        <summary>The bare formulas as a check</summary>
        <p>
          They take each mode as if the others were not there; the plate solved as a whole is the answer above. They may
          be off by 8 % where the bends lie close, and the twist formula reads 8 to 12 % low.
        </p>
        <ul>
          {(Object.keys(TAP_PATTERNS) as TapKind[]).map((kind) => (
            <li key={kind}>
              {tapWords[kind]}: {number(reading.simple[kind].gpa, 2)} GPa,{' '}
              {number(100 * (reading.simple[kind].ratio - 1), 1)} % from the plate
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

/** "thickness 95 %, length 3 %": shares of the variance that matter. */
function sharesWords(value: Traced): string {
  const total = value.contributions.reduce((sum, { sigma }) => sum + sigma * sigma, 0);
  return value.contributions
    .map(({ input, sigma }) => ({ input, percent: (100 * sigma * sigma) / total }))
    .filter(({ percent }) => percent >= 5)
    .map(({ input, percent }) => `${inputWords[input].replace(/^the /, '')} ${number(percent, 0)} %`)
    .join(', ');
}

export function BigFigure(props: {
  readonly label: string;
  readonly unit: string;
  readonly value: { readonly value: number; readonly sigma: number };
}) {
  const { value, halfWidth } = parts(props.value);
  return (
    <li class="figure">
      <p class="figure-value">
        <span class="figure-number">{value}</span>
        <span class="figure-unit">
          {props.unit}
          <br />±{halfWidth}
        </span>
      </p>
      <p class="figure-more">{props.label}</p>
    </li>
  );
}

function Losses(props: { readonly loss: Read['loss'] }) {
  const { loss } = props;
  if (loss === null) return <p class="hint">Damping: not measurable here, a Q is missing.</p>;
  return (
    <p>
      Q of the wood alone: along {withHalfWidth(inverted(loss.long), '')}, across{' '}
      {withHalfWidth(inverted(loss.cross), '')}, in twist {withHalfWidth(inverted(loss.twist), '')}.
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
      <summary>All peaks together: which is which</summary>
      {asked && <NamedPeaks piece={props.piece} />}
    </details>
  );
}

function NamedPeaks(props: { readonly piece: Piece }) {
  const { answers } = useWorkshop();
  const { piece } = props;
  const change = useChangePiece(piece.id);
  const board = sizesOf(piece);
  if (board === undefined) return null;
  const heard = peaksOf(piece);
  const state = answers.of('name-peaks', { board, heard, start: startOf(piece) }).value;
  if (state.kind === 'working') return <p role="status">Laying the peaks beside every board they could be …</p>;
  if (state.kind === 'failed') return <p class="stop">The peaks could not be named ({state.message}).</p>;
  const named = state.answer;
  if (named.kind === 'not-found')
    return <p>No board of this wood explains these peaks. Check the sizes, and tap all three modes.</p>;
  return (
    <>
      {named.lead < 4 && (
        <p class="note">Another naming explains the peaks nearly as well: do not trust this one alone.</p>
      )}
      <section class="scroll" tabIndex={0} aria-label="Peaks and modes">
        <table>
          <thead>
            <tr>
              <th>Peak</th>
              <th>Mode</th>
              <th>Plate model</th>
              <th>Apart</th>
              <th>Take it</th>
            </tr>
          </thead>
          <tbody>
            {named.peaks.map((peak) => {
              const kind = (Object.keys(TAP_PATTERNS) as TapKind[]).find(
                (known) => peak.pattern !== null && isSamePattern(TAP_PATTERNS[known], peak.pattern),
              );
              return (
                <tr key={peak.frequencyHz.value}>
                  <td>{withHalfWidth(peak.frequencyHz, 'Hz')}</td>
                  <td>{peak.pattern === null ? 'no mode of this board' : patternWords(peak.pattern)}</td>
                  <td>{peak.modelHz === null ? '–' : `${number(peak.modelHz, 1)} Hz`}</td>
                  <td>{peak.misfitPercent === null ? '–' : `${number(peak.misfitPercent, 1)} %`}</td>
                  <td>
                    {kind !== undefined && (
                      <button
                        type="button"
                        class="quiet"
                        onClick={() =>
                          change('which-mode', (p) =>
                            nameModeOfPiece(
                              p,
                              kind,
                              heard.find((mode) => mode.frequencyHz.value === peak.frequencyHz.value),
                            ),
                          )
                        }
                      >
                        as {tapWords[kind].toLowerCase()}
                      </button>
                    )}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </section>
      {named.unseen.length > 0 && (
        <p class="hint">
          Not heard:{' '}
          {named.unseen
            .map((mode) => `${patternWords(mode.pattern)} near ${number(mode.frequencyHz, 0)} Hz`)
            .join('; ')}
          .
        </p>
      )}
    </>
  );
}
