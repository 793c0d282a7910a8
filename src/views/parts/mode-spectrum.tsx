// The mean spectrum of a signature, drawn as lines so that it prints sharp, with a flag on every mode.

import type { SpectrumState } from '../../app/spectra.ts';
import type { NamedMode } from '../../compare/named-modes.ts';
import type { Round } from '../../record/record.ts';
import { words } from '../words/language.ts';
import { useWorkshop } from '../workshop-context.ts';
import { number, parts } from './figures.ts';
import { Scroll } from './scroll.tsx';
import { ticksWithin } from './ticks.ts';
import './trace.css';

type Spectrum = Extract<SpectrumState, { readonly kind: 'spectrum' }>['spectrum'];

const width = 720;
const box = { left: 44, right: 18, bottom: 34 };
const lowestHz = 40;
const floorDb = -60;
const rowPx = 15;

/** What is shown: far enough above the highest mode for its flag, 400 to 1000 Hz. */
const highestHz = (modes: readonly NamedMode[]): number => {
  const ends = modes.map(({ mode, name }) => (name === undefined ? 1.12 : 1.32) * mode.frequencyHz.value);
  return Math.min(1000, Math.max(400, Math.ceil(Math.max(0, ...ends) / 100) * 100));
};

/** The mean spectrum over all taps of some rounds; said where it is still read, or where the sound is not here. */
export function MeasuredSpectrum(props: {
  readonly rounds: readonly Round[];
  readonly modes: readonly NamedMode[];
  readonly low: boolean;
}) {
  const state = useWorkshop().spectra.of(props.rounds).value;
  const t = words.report;
  switch (state.kind) {
    case 'loading':
      return <p role="status">{t.readingSound}</p>;
    case 'no-sound':
      return <p>{t.noSound}</p>;
    case 'spectrum':
      return (
        <Scroll label={t.spectrumTitle}>
          <ModeSpectrum spectrum={state.spectrum} modes={props.modes} low={props.low} />
        </Scroll>
      );
  }
}

function ModeSpectrum(props: {
  readonly spectrum: Spectrum;
  readonly modes: readonly NamedMode[];
  /** for the sheet that must stay one page */
  readonly low: boolean;
}) {
  const plotHeight = props.low ? 150 : 196;
  const { spectrum } = props;
  const toHz = highestHz(props.modes);
  const x = (hz: number) => box.left + ((hz - lowestHz) / (toHz - lowestHz)) * (width - box.left - box.right);
  const flags = flagsOf(
    props.modes.filter(({ mode }) => mode.frequencyHz.value <= toHz),
    x,
  );
  const top = 20 + rowPx * Math.max(0, ...flags.map(({ row }) => row));
  const height = top + plotHeight;
  const y = (db: number) => top + (Math.max(floorDb, Math.min(0, db)) / floorDb) * (plotHeight - box.bottom);
  const shown = shownLevels(spectrum, toHz);
  const bottom = height - box.bottom;
  return (
    <svg
      class="trace mode-spectrum"
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={words.report.spectrumTitle}
    >
      {ticksWithin(floorDb, 0, 4).map((db) => (
        <g key={db}>
          <path class="trace-grid" d={`M${box.left} ${y(db)}H${width - box.right}`} />
          <text class="trace-tick end" x={box.left - 6} y={y(db) + 4}>
            {number(db, 0)}
          </text>
        </g>
      ))}
      {ticksWithin(lowestHz, toHz, 11).map((hz) => (
        <g key={hz}>
          <path class="trace-grid" d={`M${x(hz)} ${bottom}v5`} />
          <text class="trace-tick middle" x={x(hz)} y={bottom + 18}>
            {number(hz, 0)}
          </text>
        </g>
      ))}
      <text class="trace-tick end" x={width - box.right} y={height - 3}>
        Hz
      </text>
      <text class="trace-tick" x={box.left} y={height - 3}>
        {words.report.levelAxis}
      </text>
      <path class="trace-curve" d={curve(shown, x, y)} />
      {flags.map((flag) => (
        <g key={flag.hz}>
          <path
            class="trace-flag"
            d={`M${x(flag.hz)} ${top - rowPx * flag.row - 4}V${y(levelAt(shown, flag.hz)) - 3}`}
          />
          <text class={flag.named ? 'trace-name' : 'trace-tick'} x={x(flag.hz) - 2} y={top - rowPx * flag.row - 7}>
            {flag.text}
          </text>
        </g>
      ))}
    </svg>
  );
}

interface Levels {
  readonly hz: readonly number[];
  readonly db: readonly number[];
}

/** The part shown, relative to its strongest. */
function shownLevels({ frequencyHz, levelDb }: Spectrum, toHz: number): Levels {
  const hz: number[] = [];
  const db: number[] = [];
  frequencyHz.forEach((f, i) => {
    if (f < lowestHz || f > toHz) return;
    hz.push(f);
    db.push(levelDb[i]!);
  });
  const top = Math.max(...db);
  return { hz, db: db.map((level) => level - top) };
}

/** Highest level within 3 Hz of a frequency. */
const levelAt = ({ hz, db }: Levels, at: number): number =>
  hz.reduce((most, f, i) => (Math.abs(f - at) <= 3 ? Math.max(most, db[i]!) : most), floorDb);

const curve = ({ hz, db }: Levels, x: (hz: number) => number, y: (db: number) => number): string =>
  hz.map((f, i) => `${i === 0 ? 'M' : 'L'}${x(f).toFixed(1)} ${y(db[i]!).toFixed(1)}`).join('');

interface Flag {
  readonly hz: number;
  readonly text: string;
  readonly named: boolean;
  readonly row: number;
}

/** One flag a mode, each above the poles and flags that its text would cross: from the highest mode down. */
function flagsOf(modes: readonly NamedMode[], x: (hz: number) => number): readonly Flag[] {
  const flags: Flag[] = [];
  for (const { mode, name } of modes.toReversed()) {
    const hz = mode.frequencyHz.value;
    const figure = parts(mode.frequencyHz, 1).value;
    const text = name === undefined ? figure : `${name} ${figure}`;
    const until = x(hz) + 7 * text.length + 4;
    const crossed = flags.filter((flag) => x(flag.hz) < until).map((flag) => flag.row);
    flags.push({ hz, text, named: name !== undefined, row: Math.max(-1, ...crossed) + 1 });
  }
  return flags;
}
