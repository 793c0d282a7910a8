// The answer in figures that can be read from two metres.

import { isNoteKnown, nearestNote } from '../../quantity/pitch.ts';
import type { Mode } from '../../signal/tap.ts';
import { LargeFigure } from '../parts/figure.tsx';
import { cents, number, withHalfWidth } from '../parts/figures.ts';
import { qText } from '../parts/own-units.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';

export type ShownMode = Pick<Mode, 'frequencyHz' | 'q' | 'levelDb' | 'resolution'> & {
  readonly ofPiece?: number | undefined;
  readonly name?: string | undefined;
};

/** Modes that are shown large: the strongest ones; the rest stand in a line below. */
const mainModes = 6;

/** Probabilities from which a mode is surely, and probably, the piece's. Own choice: one in twenty is not, and one in four. */
const SURELY = 0.95;
const PROBABLY = 0.75;

/** A mode of which nothing is said, in a room that does not answer, is not marked. */
const isInDoubt = ({ ofPiece = 1 }: ShownMode): boolean => ofPiece < SURELY;

const doubtOf = ({ ofPiece = 1 }: ShownMode): string =>
  ofPiece >= PROBABLY ? words.bench.probably : words.bench.mayBeRoom;

export function Answer(props: {
  readonly modes: readonly ShownMode[];
  readonly scatterKnown: boolean;
  readonly onName?: (mode: ShownMode) => void;
}) {
  const known = props.modes.filter((mode) => isNoteKnown(mode.frequencyHz));
  const loudest = known.toSorted((a, b) => b.levelDb - a.levelDb).slice(0, mainModes);
  const main = known.filter((mode) => loudest.includes(mode));
  const others = known.filter((mode) => !loudest.includes(mode));
  const unknown = props.modes.filter((mode) => !isNoteKnown(mode.frequencyHz));
  return (
    <>
      <ol class="figures">
        {main.map((mode) => (
          <Figure key={mode.frequencyHz.value} mode={mode} onName={props.onName} />
        ))}
      </ol>
      {others.length > 0 && (
        <p class="others">
          {words.bench.weaker(
            others
              .map((mode) => withHalfWidth(mode.frequencyHz, 'Hz') + (isInDoubt(mode) ? ` (${doubtOf(mode)})` : ''))
              .join(', '),
          )}
        </p>
      )}
      {unknown.length > 0 && (
        <p class="others">
          {words.bench.notMeasurable(unknown.map((mode) => number(mode.frequencyHz.value, 0)).join(', '))}
        </p>
      )}
      {known.some(isInDoubt) && <p class="hint">{words.bench.inDoubt}</p>}
      <p class="hint">{props.scatterKnown ? words.bench.withScatter : words.bench.withoutScatter}</p>
    </>
  );
}

function Figure(props: { readonly mode: ShownMode; readonly onName: ((mode: ShownMode) => void) | undefined }) {
  const { mode } = props;
  const a4Hz = useWorkshop().preferences.settings.value.a4Hz;
  const note = nearestNote(mode.frequencyHz.value, a4Hz);
  return (
    <li class="figure">
      <LargeFigure figure={mode.frequencyHz} unit="Hz" mostDecimals={2} />
      <p class="figure-more">
        <span>
          {note.name}
          {number(note.octave, 0)} {cents(note.cents)} {words.bench.cents}
        </span>
        <span>{qText(mode.q)}</span>
        {mode.resolution === 'pair' && <span class="tag">{words.bench.pair}</span>}
        {isInDoubt(mode) && <span class="tag">{doubtOf(mode)}</span>}
      </p>
      {props.onName && (
        <button type="button" class="name" onClick={() => props.onName?.(mode)}>
          {mode.name ?? words.bench.nameThis}
        </button>
      )}
    </li>
  );
}
