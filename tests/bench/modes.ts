// The mode estimator against the Cramer-Rao bound, case by case, beside an FFT peak and a matrix pencil on the same signals.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { roomPoles } from '../../src/signal/room-poles.ts';
import { fitRound } from '../../src/signal/round.ts';
import type { Mode, Tap } from '../../src/signal/tap.ts';
import { type Bound, jointBound } from './bound.ts';
import { pickPeaks } from './peak-picking.ts';
import {
  type Disturbance,
  NOISE_COLOURS,
  pairAt,
  SIX_MODES,
  seeded,
  type TrueMode,
  type TrueTap,
  trueTap,
} from './tap-signals.ts';

/** One line of the table: a case at one signal-to-noise ratio by one method. */
export interface ModeRow {
  readonly name: string;
  readonly snrDb: number;
  readonly method: 'joint fit' | 'FFT peak' | 'matrix pencil';
  readonly trials: number;
  /** RMSE over bound, frequency and ln Q, all modes pooled; NaN where nothing was found */
  readonly frequencyRatio: number;
  readonly qRatio: number;
  /** standard error of the ratios, 1 / sqrt(2 n) relative */
  readonly ratioError: number;
  /** part of the true modes found within 6 bounds or a quarter bandwidth, as themselves and as part of a pair */
  readonly foundRatio: number;
  readonly pairedRatio: number;
  /** part of the true modes within 3 stated sigma in frequency */
  readonly within3Ratio: number;
  readonly falseModes: number;
  /** part of the 95 % intervals that hold the truth; NaN for methods that state none */
  readonly frequencyCoverage: number;
  readonly qCoverage: number;
  /** mean processor time of a round, ms; NaN where not measured */
  readonly cpuMs: number;
}

interface Case {
  readonly name: string;
  readonly modes: readonly TrueMode[];
  readonly snrsDb: readonly number[];
  /** taps in each hold */
  readonly holds: readonly number[];
  readonly how: Disturbance;
  /** the bound counts from the end of the contact */
  readonly boundFromS: number;
  readonly others: boolean;
  /** a clap in the same room is given as well */
  readonly clap?: readonly TrueMode[];
}

const ONE: readonly TrueMode[] = [{ frequencyHz: 180, q: 50, levelDb: 0 }];
const ABOVE: readonly TrueMode[] = [1650, 2300, 3900].map((frequencyHz) => ({ frequencyHz, q: 50, levelDb: -6 }));
/** Reverberant poles of a small room: Q 15 to 40. */
export const ROOM: readonly TrueMode[] = [
  { frequencyHz: 61, q: 15, levelDb: -14 },
  { frequencyHz: 134, q: 24, levelDb: -12 },
  { frequencyHz: 271, q: 40, levelDb: -14 },
];

const quiet = (name: string, modes: readonly TrueMode[], snrsDb: readonly number[], holds = [1]): Case => ({
  name,
  modes,
  snrsDb,
  holds,
  how: holds[0]! > 1 ? { spreadDb: 4 } : {},
  boundFromS: 0,
  others: holds[0] === 1,
});
const disturbed = (name: string, how: Disturbance, snrsDb = [40], boundFromS = 0): Case => ({
  ...quiet(name, SIX_MODES, snrsDb),
  how,
  boundFromS,
  others: false,
});

/** All cases of the table. */
export const CASES: readonly Case[] = [
  quiet('one mode, 180 Hz Q 50', ONE, [10, 20, 30, 40, 50]),
  quiet('pair 200 + 205 Hz, Q 50', pairAt(200), [10, 20, 30, 40, 50]),
  quiet('six-mode top', SIX_MODES, [10, 20, 30, 40, 50]),
  quiet('pair 200 + 205 Hz, 8 taps', pairAt(200), [20], [8]),
  quiet('pair 400 + 405 Hz, 8 taps', pairAt(400), [20], [8]),
  quiet('six-mode top, 3 holds of 8', SIX_MODES, [30], [8, 8, 8]),
  disturbed('six, contact of 3 ms', { hitMs: 3 }, [20, 40], 0.003),
  disturbed('six, 50.03 Hz hum', { humDb: -20 }, [20, 40]),
  disturbed('six, room noise', { noise: 'room' }, [20, 40]),
  disturbed('six, pink noise', { noise: 'pink' }),
  disturbed('six, modes at 1650, 2300, 3900 Hz', { others: ABOVE }),
  disturbed(
    'six, contact + hum + room noise + modes above',
    { hitMs: 3, humDb: -20, noise: 'room', others: ABOVE },
    [40],
    0.003,
  ),
  { ...disturbed('six, room poles and a clap', { others: ROOM }), clap: ROOM },
];

/**
 * Runs the table.
 * @param trials  rounds a cell, each with a seed of its own
 * @param only    part of a case's name, to run a few
 * @param onRow   called with each finished line
 */
export function modeTable(trials: number, onRow: (row: ModeRow) => void = () => {}, only = ''): ModeRow[] {
  const rows: ModeRow[] = [];
  for (const one of CASES.filter(({ name }) => name.includes(only))) {
    for (const snrDb of one.snrsDb) {
      for (const row of cell(one, snrDb, trials)) {
        rows.push(row);
        onRow(row);
      }
    }
  }
  return rows;
}

/** One estimate by whatever method. */
interface Found {
  readonly frequencyHz: number;
  readonly q: number;
  readonly mode?: Mode;
}

interface Trial {
  readonly taps: readonly TrueTap[][];
  readonly bounds: readonly Bound[];
}

function cell(one: Case, snrDb: number, trials: number): ModeRow[] {
  const made = Array.from({ length: trials }, (_, i) => {
    const random = seeded(7919 * i + Math.round(snrDb));
    const taps = one.holds.map((count) =>
      Array.from({ length: count }, () => trueTap(one.modes, snrDb, random, one.how)),
    );
    const colour = NOISE_COLOURS[one.how.noise ?? 'white'];
    const clap = one.clap === undefined ? [] : roomPoles(trueTap(one.clap, snrDb + 10, random).tap);
    return { taps, clap, bounds: jointBound(one.modes, taps.flat(), colour, one.boundFromS) };
  });
  let cpuMs = 0;
  const fitted = made.map(({ taps, clap }) => {
    const holds = taps.map((hold) => hold.map(({ tap }) => tap));
    const before = process.cpuUsage();
    const { modes } = fitRound(holds, { roomPoles: clap });
    const used = process.cpuUsage(before);
    cpuMs += (used.user + used.system) / 1000 / trials;
    return modes.map((mode) => ({ frequencyHz: mode.frequencyHz.value, q: mode.q.value, mode }));
  });
  const rows = [score(one, snrDb, 'joint fit', made, fitted, cpuMs)];
  if (!one.others) return rows;
  const taps = made.map((trial) => trial.taps[0]![0]!.tap);
  const peaks = taps.map((tap) =>
    pickPeaks(
      tap,
      one.modes.map((mode) => mode.frequencyHz),
      6,
    ).map(([frequencyHz, q]) => ({ frequencyHz, q })),
  );
  rows.push(score(one, snrDb, 'FFT peak', made, peaks, Number.NaN));
  const pencil = matrixPencil(taps);
  if (pencil !== undefined) rows.push(score(one, snrDb, 'matrix pencil', made, pencil, Number.NaN));
  return rows;
}

function score(
  one: Case,
  snrDb: number,
  method: ModeRow['method'],
  trials: readonly Trial[],
  found: readonly (readonly Found[])[],
  cpuMs: number,
): ModeRow {
  const tally = { single: 0, paired: 0, within3: 0, f: 0, q: 0, fIn: 0, qIn: 0, wrong: 0 };
  trials.forEach(({ bounds }, t) => {
    const left = new Set(found[t]!);
    one.modes.forEach((truth, m) => {
      const bound = bounds[m]!;
      const near = Math.max(6 * bound.frequencyHz, (0.25 * truth.frequencyHz) / truth.q);
      const best = [...left].reduce<Found | undefined>(
        (a, b) => (a && off(a, truth) <= off(b, truth) ? a : b),
        undefined,
      );
      const couple = found[t]!.find(
        ({ mode, frequencyHz }) =>
          mode?.resolution === 'pair' &&
          Math.abs(frequencyHz - truth.frequencyHz) < (1.5 * truth.frequencyHz) / truth.q,
      );
      if (best === undefined || off(best, truth) > near || best.mode?.resolution === 'pair') {
        if (couple !== undefined) tally.paired++;
        return;
      }
      left.delete(best);
      tally.single++;
      const df = best.frequencyHz - truth.frequencyHz;
      const dq = Math.log(best.q / truth.q);
      tally.f += (df / bound.frequencyHz) ** 2;
      tally.q += (dq / bound.lnQ) ** 2;
      if (best.mode === undefined) return;
      const { frequencyHz, q } = best.mode;
      if (Math.abs(df) < 3 * frequencyHz.sigma) tally.within3++;
      if (Math.abs(df) < 1.96 * frequencyHz.sigma) tally.fIn++;
      if (Math.abs(dq) < (1.96 * q.sigma) / q.value) tally.qIn++;
    });
    for (const { mode } of left) if (method === 'joint fit' && mode?.resolution !== 'pair') tally.wrong++;
    if (method === 'matrix pencil') tally.wrong += left.size;
  });
  const all = trials.length * one.modes.length;
  const n = tally.single;
  const stated = method === 'joint fit';
  return {
    name: one.name,
    snrDb,
    method,
    trials: trials.length,
    frequencyRatio: Math.sqrt(tally.f / n),
    qRatio: Math.sqrt(tally.q / n),
    ratioError: 1 / Math.sqrt(2 * n),
    foundRatio: n / all,
    pairedRatio: tally.paired / all,
    within3Ratio: stated ? tally.within3 / all : Number.NaN,
    falseModes: tally.wrong,
    frequencyCoverage: stated ? tally.fIn / n : Number.NaN,
    qCoverage: stated ? tally.qIn / n : Number.NaN,
    cpuMs,
  };
}

const off = (found: Found, truth: TrueMode): number => Math.abs(found.frequencyHz - truth.frequencyHz);

/** The taps through the NumPy matrix pencil; undefined where Python with SciPy is not at hand. */
export function matrixPencil(taps: readonly Tap[]): Found[][] | undefined {
  if (!pythonWithScipy()) return undefined;
  const folder = mkdtempSync(join(tmpdir(), 'pencil-'));
  try {
    const file = join(folder, 'taps.f32');
    let offset = 0;
    const listed = taps.map(({ samples, onsetIndex, sampleRateHz }) => {
      const entry = { offset, length: samples.length, onset: onsetIndex, rate: sampleRateHz };
      offset += samples.length;
      return entry;
    });
    const joined = new Float32Array(offset);
    taps.forEach(({ samples }, i) => {
      joined.set(samples, listed[i]!.offset);
    });
    writeFileSync(file, new Uint8Array(joined.buffer));
    const job = join(folder, 'job.json');
    writeFileSync(job, JSON.stringify({ file, taps: listed }));
    const script = fileURLToPath(new URL('matrix_pencil.py', import.meta.url));
    const printed = execFileSync('python3', [script, job], {
      encoding: 'utf8',
      maxBuffer: 1 << 28,
      stdio: ['ignore', 'pipe', 'ignore'],
    });
    return (JSON.parse(printed) as [number, number][][]).map((modes) =>
      modes.map(([frequencyHz, q]) => ({ frequencyHz, q })),
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Whether the independent method can run here. */
export function pythonWithScipy(): boolean {
  return spawnSync('python3', ['-c', 'import scipy'], { stdio: 'ignore' }).status === 0;
}

/** The table as text, a line a row. */
export function modeLine(row: ModeRow): string {
  const per = (x: number): string => (Number.isNaN(x) ? '   -  ' : `${(100 * x).toFixed(1)} %`.padStart(7));
  return [
    row.name.padEnd(46),
    `${row.snrDb} dB`,
    row.method.padEnd(13),
    `f ${row.frequencyRatio.toFixed(2)}`.padEnd(8),
    `Q ${row.qRatio.toFixed(2)}`.padEnd(8),
    `+-${(100 * row.ratioError).toFixed(1)} %`.padEnd(8),
    `found ${per(row.foundRatio)}`,
    `as pair ${per(row.pairedRatio)}`,
    `false ${row.falseModes}`.padEnd(9),
    `95 % holds f ${per(row.frequencyCoverage)} Q ${per(row.qCoverage)}`,
    `3 sigma ${per(row.within3Ratio)}`,
    Number.isNaN(row.cpuMs) ? '' : `${row.cpuMs.toFixed(0)} ms`,
  ].join('  ');
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  if (!pythonWithScipy()) console.log('Without python3 and scipy the matrix pencil is left out.');
  modeTable(Number(process.argv[2] ?? 20), (row) => console.log(modeLine(row)), process.argv[3] ?? '');
}
