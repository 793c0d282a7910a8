// Chosen instruments side by side: their named modes on one scale, in a table, and their spectra on request.

import { type LibraryEntry, type ModeSpread, shownMean } from '../../../compare/library.ts';
import { HALF_WIDTH_95 } from '../../../quantity/estimate.ts';
import { number, parts, withHalfWidth } from '../../parts/figures.ts';
import { Scroll } from '../../parts/scroll.tsx';
import { Table } from '../../parts/table.tsx';
import { ticksWithin } from '../../parts/ticks.ts';
import { words } from '../../words/language.ts';
import { SideSpectra } from './side-spectra.tsx';
import '../../parts/trace.css';

/** More lines than this are not told apart. */
export const mostDrawn = 8;

interface SideProps {
  /** each under the same stage and support; at least one */
  readonly entries: readonly LibraryEntry[];
  /** of all instruments measured so, by mode */
  readonly spreads: readonly ModeSpread[];
}

export function LibrarySide(props: SideProps) {
  const entries = props.entries.slice(0, mostDrawn);
  const t = words.ownLibrary;
  return (
    <>
      <Scroll label={t.sideTitle}>
        <Strips entries={entries} spreads={props.spreads} />
      </Scroll>
      {props.entries.length > mostDrawn && <p class="hint">{t.most(mostDrawn)}</p>}
      <SideTable entries={entries} spreads={props.spreads} />
      <SideSpectra key={entries.map((entry) => entry.recordId).join(' ')} entries={entries} />
    </>
  );
}

const width = 760;
const rowHeight = 34;
const box = { left: 170, right: 20, top: 30, bottom: 30 };

function Strips({ entries, spreads }: SideProps) {
  const t = words.ownLibrary;
  const all = entries.flatMap((entry) => [...entry.modes.values()].map((hz) => hz.value));
  const low = 0.94 * Math.min(...all);
  const high = 1.06 * Math.max(...all);
  const height = box.top + rowHeight * entries.length + box.bottom;
  const x = (hz: number) => box.left + ((hz - low) / (high - low)) * (width - box.left - box.right);
  const y = (row: number) => box.top + rowHeight * (row + 0.5);
  const shown = spreads.filter((spread) => entries.some((entry) => entry.modes.has(spread.mode)));
  return (
    <svg class="trace" viewBox={`0 0 ${width} ${height}`} role="img" aria-label={t.sideTitle}>
      {ticksWithin(low, high, 8).map((hz) => (
        <g key={hz}>
          <path class="trace-grid" d={`M${x(hz)} ${box.top}V${height - box.bottom}`} />
          <text class="trace-tick middle" x={x(hz)} y={height - 12}>
            {number(hz, 0)}
          </text>
        </g>
      ))}
      <text class="trace-tick" x={box.left - 24} y={height - 12}>
        {t.at}
      </text>
      {shown.map((spread, i) => {
        const { value } = spread.meanHz;
        const half = spread.spreadHz?.value ?? 0;
        return (
          <g key={spread.mode}>
            <rect
              class="trace-band"
              x={x(value - half)}
              width={Math.max(1, x(value + half) - x(value - half))}
              y={box.top}
              height={height - box.top - box.bottom}
            />
            <text class={`trace-name middle ${colourOf(i)}`} x={x(value)} y={i % 2 === 0 ? box.top - 17 : box.top - 4}>
              {spread.mode}
            </text>
          </g>
        );
      })}
      {entries.map((entry, row) => (
        <g key={entry.recordId}>
          <path class="trace-grid" d={`M${box.left} ${y(row)}H${width - box.right}`} />
          <text class="trace-name" x={0} y={y(row) + 4}>
            {shortened(entry.name)}
          </text>
          {[...entry.modes].map(([mode, hz]) => (
            <g key={mode}>
              <path
                class="trace-bar"
                d={`M${x(hz.value - HALF_WIDTH_95 * hz.sigma)} ${y(row)}H${x(hz.value + HALF_WIDTH_95 * hz.sigma)}`}
              />
              <circle
                class={`trace-dot ${colourOf(shown.findIndex((spread) => spread.mode === mode))}`}
                cx={x(hz.value)}
                cy={y(row)}
                r={5}
              >
                <title>{`${entry.name}: ${mode} ${withHalfWidth(hz, 'Hz')}`}</title>
              </circle>
            </g>
          ))}
        </g>
      ))}
    </svg>
  );
}

/** Colours repeat after six; the place on the scale tells modes apart as well. */
const colourOf = (i: number): string => `trace-series-${(i % 6) + 1}`;

/** As much of a name as fits beside the drawing. */
const shortened = (name: string): string => (name.length > 22 ? `${name.slice(0, 21)}…` : name);

function SideTable({ entries, spreads }: SideProps) {
  const t = words.ownLibrary;
  const shown = spreads.filter((spread) => entries.some((entry) => entry.modes.has(spread.mode)));
  return (
    <Table
      label={t.side}
      isMatrix
      head={[t.instrument, ...shown.map((spread) => spread.mode)]}
      rows={[
        ...entries.map((entry) => [
          entry.name,
          ...shown.map(({ mode }) => {
            const hz = entry.modes.get(mode);
            return hz === undefined ? '–' : withHalfWidth(hz, 'Hz');
          }),
        ]),
        [t.meanRow, ...shown.map((spread) => withHalfWidth(shownMean(spread), 'Hz'))],
        [
          t.spreadRow,
          ...shown.map(({ spreadHz }) => (spreadHz === undefined ? '–' : `${parts(spreadHz, 1).value} Hz`)),
        ],
      ]}
    />
  );
}
