// How well a method found the modes of known taps, gathered round by round.
import type { Mode } from '../../src/signal/tap.ts';
import type { Bound } from './bound.ts';
import type { Case } from './mode-cases.ts';
import type { TrueMode } from './tap-signals.ts';

export type Method = 'joint fit' | 'FFT peak' | 'matrix pencil';

/** One line of the table: a case at one signal-to-noise ratio by one method. */
export interface ModeRow {
  readonly name: string;
  readonly snrDb: number;
  readonly method: Method;
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

/** One estimate by whatever method. */
export interface PoleFound {
  readonly frequencyHz: number;
  readonly q: number;
  readonly mode?: Mode;
}

const off = (found: PoleFound, truth: TrueMode): number => Math.abs(found.frequencyHz - truth.frequencyHz);

/** Adds up rounds of one case by one method. */
export class Score {
  readonly #case: Case;
  readonly #snrDb: number;
  readonly #method: Method;
  readonly #tally = { rounds: 0, single: 0, paired: 0, within3: 0, f: 0, q: 0, fIn: 0, qIn: 0, wrong: 0, cpuMs: 0 };

  constructor(one: Case, snrDb: number, method: Method) {
    this.#case = one;
    this.#snrDb = snrDb;
    this.#method = method;
  }

  /** Adds one round; what it took, ms of processor time, where it was measured. */
  add(bounds: readonly Bound[], found: readonly PoleFound[], cpuMs = Number.NaN): void {
    const tally = this.#tally;
    tally.rounds++;
    tally.cpuMs += cpuMs;
    const left = new Set(found);
    this.#case.modes.forEach((truth, m) => {
      const bound = bounds[m]!;
      const near = Math.max(6 * bound.frequencyHz, (0.25 * truth.frequencyHz) / truth.q);
      const best = [...left].reduce<PoleFound | undefined>(
        (a, b) => (a && off(a, truth) <= off(b, truth) ? a : b),
        undefined,
      );
      if (best === undefined || off(best, truth) > near || best.mode?.resolution === 'pair') {
        const isCouple = ({ mode, frequencyHz }: PoleFound): boolean =>
          mode?.resolution === 'pair' &&
          Math.abs(frequencyHz - truth.frequencyHz) < (1.5 * truth.frequencyHz) / truth.q;
        if (found.some(isCouple)) tally.paired++;
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
    if (this.#method === 'FFT peak') return;
    for (const { mode } of left) if (mode?.resolution !== 'pair') tally.wrong++;
  }

  /** The line of the table so far. */
  row(): ModeRow {
    const tally = this.#tally;
    const all = tally.rounds * this.#case.modes.length;
    const n = tally.single;
    const stated = this.#method === 'joint fit';
    return {
      name: this.#case.name,
      snrDb: this.#snrDb,
      method: this.#method,
      trials: tally.rounds,
      frequencyRatio: Math.sqrt(tally.f / n),
      qRatio: Math.sqrt(tally.q / n),
      ratioError: 1 / Math.sqrt(2 * n),
      foundRatio: n / all,
      pairedRatio: tally.paired / all,
      within3Ratio: stated ? tally.within3 / all : Number.NaN,
      falseModes: tally.wrong,
      frequencyCoverage: stated ? tally.fIn / n : Number.NaN,
      qCoverage: stated ? tally.qIn / n : Number.NaN,
      cpuMs: tally.cpuMs / tally.rounds,
    };
  }
}

/** The head of the table, Markdown. */
export const MODE_HEAD: readonly string[] = [
  '| case | SNR dB | method | rounds | f / bound | Q / bound | ± | found | as pair | false modes | 95 % holds f | holds Q | in 3 sigma | ms |',
  '| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |',
];

/** One row of the table, Markdown. */
export function modeLine(row: ModeRow): string {
  const percent = (x: number): string => (Number.isNaN(x) ? '' : `${(100 * x).toFixed(1)} %`);
  const ratio = (x: number): string => (Number.isNaN(x) ? '' : x.toFixed(2));
  const cells = [
    row.name,
    row.snrDb,
    row.method,
    row.trials,
    ratio(row.frequencyRatio),
    ratio(row.qRatio),
    ratio(row.ratioError),
    percent(row.foundRatio),
    percent(row.pairedRatio),
    row.method === 'FFT peak' ? '' : row.falseModes,
    percent(row.frequencyCoverage),
    percent(row.qCoverage),
    percent(row.within3Ratio),
    Number.isNaN(row.cpuMs) ? '' : row.cpuMs.toFixed(0),
  ];
  return `| ${cells.join(' | ')} |`;
}
