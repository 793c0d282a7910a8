// The mode estimator against the Cramer-Rao bound, case by case, beside an FFT peak and a matrix pencil on the same signals.
import { fileURLToPath } from 'node:url';
import { fitRound } from '../../src/signal/round.ts';
import type { Tap } from '../../src/signal/tap.ts';
import { matrixPencil } from './matrix-pencil.ts';
import { CASES, type Case, trialsOf } from './mode-cases.ts';
import { MODE_HEAD, type ModeRow, modeLine, Score } from './mode-score.ts';
import { pickPeaks } from './peak-picking.ts';
import { pythonWithScipy } from './scipy.ts';

/** The other methods are run on the first so large a part of the rounds of a cell: the matrix pencil takes half a second a tap. */
const PEAK_PART = 0.5;
const PENCIL_PART = 0.1;

/**
 * Runs the table.
 * @param trials  rounds a cell, each with a seed of its own
 * @param only    part of a cell's name ("six-mode top, 20 dB"), to run a few
 * @param onRow   called with each finished line
 */
export function modeTable(trials: number, onRow: (row: ModeRow) => void = () => {}, only = ''): ModeRow[] {
  const rows: ModeRow[] = [];
  for (const one of CASES) {
    for (const snrDb of one.snrsDb.filter((db) => `${one.name}, ${db} dB`.includes(only))) {
      for (const row of cell(one, snrDb, trials)) {
        rows.push(row);
        onRow(row);
      }
    }
  }
  return rows;
}

function cell(one: Case, snrDb: number, trials: number): ModeRow[] {
  const trial = trialsOf(one, snrDb);
  const joint = new Score(one, snrDb, 'joint fit');
  const peaks = new Score(one, snrDb, 'FFT peak');
  const pencil = new Score(one, snrDb, 'matrix pencil');
  const forPencil: Tap[] = [];
  for (let i = 0; i < trials; i++) {
    const { taps, clap, bounds } = trial(i);
    const holds = taps.map((hold) => hold.map(({ tap }) => tap));
    const before = process.cpuUsage();
    const { modes } = fitRound(holds, { roomPoles: clap });
    const used = process.cpuUsage(before);
    joint.add(
      bounds,
      modes.map((mode) => ({ frequencyHz: mode.frequencyHz.value, q: mode.q.value, mode })),
      (used.user + used.system) / 1000,
    );
    if (!one.others || i >= PEAK_PART * trials) continue;
    const tap = holds[0]![0]!;
    const near = one.modes.map((mode) => mode.frequencyHz);
    peaks.add(
      bounds,
      pickPeaks(tap, near, 6).map(([frequencyHz, q]) => ({ frequencyHz, q })),
    );
    if (i < PENCIL_PART * trials) forPencil.push(tap);
  }
  if (!one.others) return [joint.row()];
  const found = matrixPencil(forPencil);
  found?.forEach((poles, i) => {
    pencil.add(trial(i).bounds, poles);
  });
  return [joint.row(), peaks.row(), ...(found === undefined ? [] : [pencil.row()])];
}

/** The table as text; a note first where the independent method cannot run here. */
export function modeFigures(trials: number, only = ''): void {
  if (!pythonWithScipy()) console.log('Without python3 and scipy the matrix pencil is left out.');
  for (const line of MODE_HEAD) console.log(line);
  modeTable(trials, (row) => console.log(modeLine(row)), only);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) modeFigures(Number(process.argv[2] ?? 20), process.argv[3]);
