// The search over the boards that a wood could be: a coarse plate in thin theory, whose modes are laid beside the peaks.
import type { Estimate } from '../quantity/estimate.ts';
import { elasticFrom, fitBoard, type NamedFrequency } from './board-fit.ts';
import { type BoardMode, boardModes, type RitzSize } from './board-modes.ts';
import type { ElasticStart } from './elastic-start.ts';
import { boardOf, type MeasuredBoard, type TappedMode } from './measured-board.ts';
import { type Pattern, patternKey } from './pattern-names.ts';
import { alignPeaks, type Naming } from './peak-alignment.ts';

/** Coarse plate for the search, in thin theory: a tenth of the work; the shear is put back as one factor a mode. */
const SEARCH_RITZ: RitzSize = { functions: 5, perParity: 5 };
/** How far a real board's modes lie from a uniform plate's, relative. Source: ours, from three measured half-tops. */
export const SEARCH_SPREAD = 0.012;
/** Cross-grain stiffnesses tried, in steps of the handbook's spread. */
const CROSS_STEPS = [-2, -1.5, -1, -0.5, 0, 0.5, 1, 1.5, 2];

/** ln E_L, ln E_C, ln G, nu_LR: what is searched over. */
type Logs = readonly [number, number, number, number];

function priorCost(logs: Logs, start: ElasticStart): number {
  const priors = [start.eLongPa, start.eCrossPa, start.gPa];
  return priors.reduce((sum, { value, sigma }, k) => sum + ((logs[k]! - Math.log(value)) / (sigma / value)) ** 2, 0);
}

/** A naming that is not allowed: this peak as that mode. */
export type Barred = (peak: number, mode: BoardMode) => boolean;

/** One board tried, with the best naming of the peaks by its modes. */
export interface Candidate {
  readonly logs: Logs;
  readonly modes: readonly BoardMode[];
  readonly naming: Naming;
  readonly cost: number;
}

export class BoardSearch {
  private readonly board: MeasuredBoard;
  private readonly peaks: readonly TappedMode[];
  private readonly start: ElasticStart;
  private readonly topHz: number;
  private readonly centre: Logs;
  private readonly thin: ElasticStart;
  /** frequency with shear over that without, by mode, at the handbook's values */
  private readonly shearFactors: ReadonlyMap<string, number>;
  private readonly of: ReturnType<typeof boardOf>;

  /**
   * @param board ruler, caliper, scale
   * @param peaks what may be wood, ascending in frequency
   * @param start handbook values with the spread of a single board
   * @param topHz modes above it are not asked for
   */
  constructor(board: MeasuredBoard, peaks: readonly TappedMode[], start: ElasticStart, topHz: number) {
    this.board = board;
    this.peaks = peaks;
    this.start = start;
    this.topHz = topHz;
    this.of = boardOf(board);
    this.thin = { ...start, shearRatios: undefined };
    this.centre = [
      Math.log(start.eLongPa.value),
      Math.log(start.eCrossPa.value),
      Math.log(start.gPa.value),
      start.nuLR.value,
    ];
    const thinHz = new Map(
      this.solve(this.centre, this.thin).map(({ pattern, frequencyHz }) => [patternKey(pattern), frequencyHz]),
    );
    this.shearFactors = new Map(
      this.solve(this.centre, start).map(({ pattern, frequencyHz }) => [
        patternKey(pattern),
        frequencyHz / (thinHz.get(patternKey(pattern)) ?? frequencyHz),
      ]),
    );
  }

  /**
   * The boards that explain the peaks best, best first. The handbook's own board is always among those tried.
   * @param count how many are refined
   */
  best(count: number): Candidate[] {
    const ranked = this.starts()
      .map((logs) => this.judged(logs, 2 * SEARCH_SPREAD))
      .sort((p, q) => p.cost - q.cost);
    return ranked
      .slice(0, count)
      .map((candidate) => this.refined(candidate))
      .sort((p, q) => p.cost - q.cost);
  }

  /** The best other naming of a board, one peak barred from the mode it was taken for. */
  rival({ logs }: Candidate, isBarred: Barred): Candidate {
    return this.refined(this.judged(logs, SEARCH_SPREAD, isBarred), isBarred);
  }

  /** Each of the low peaks may be the first long-grain bend or the twist, and either may be unheard. */
  private starts(): Logs[] {
    const { start, centre } = this;
    const values = this.peaks.map(({ frequencyHz }) => frequencyHz.value);
    const typical = this.modesAt(centre);
    const soundsAt = (m: number, n: number) =>
      typical.find(({ pattern }) => pattern.m === m && pattern.n === n)?.frequencyHz;
    const relative = ({ value, sigma }: Estimate) => sigma / value;
    const tried = (at: 0 | 2, of: Estimate, low: readonly number[], usualHz: number | undefined) =>
      [...low.map((hz) => centre[at] + 2 * Math.log(hz / (usualHz ?? hz))), centre[at]].filter(
        (log) => Math.abs(log - centre[at]) <= 3 * relative(of),
      );
    const gs = tried(2, start.gPa, values.slice(0, 4), soundsAt(1, 1));
    return tried(0, start.eLongPa, values.slice(0, 6), soundsAt(2, 0)).flatMap((eLong) =>
      gs.flatMap((g) =>
        CROSS_STEPS.map((step): Logs => [eLong, centre[1] + step * relative(start.eCrossPa), g, centre[3]]),
      ),
    );
  }

  private judged(logs: Logs, spread: number, isBarred?: Barred): Candidate {
    const modes = this.modesAt(logs);
    const naming = alignPeaks(this.peaks, modes, spread, isBarred);
    return { logs, modes, naming, cost: naming.cost + priorCost(logs, this.start) };
  }

  private refined(candidate: Candidate, isBarred?: Barred): Candidate {
    let state = candidate;
    for (let round = 0; round < 2; round++) {
      const observations = this.observationsOf(state);
      if (observations.length < 3) break;
      const { elastic } = fitBoard(this.board, observations, this.thin, state.logs, SEARCH_RITZ);
      const logs: Logs = [Math.log(elastic.eLongPa), Math.log(elastic.eCrossPa), Math.log(elastic.gPa), elastic.nuLR];
      state = this.judged(logs, SEARCH_SPREAD, isBarred);
    }
    return state;
  }

  /** The named peaks as observations of a thin board, each as loose as a real board is uneven. */
  private observationsOf({ modes, naming }: Candidate): NamedFrequency[] {
    return this.peaks.flatMap(({ frequencyHz }, k) => {
      const mode = modes[naming.modeOf[k]!];
      if (mode === undefined) return [];
      const value = frequencyHz.value / this.shearFactor(mode.pattern);
      return [
        { pattern: mode.pattern, frequencyHz: { value, sigma: SEARCH_SPREAD * value }, input: 'other-taps' as const },
      ];
    });
  }

  private modesAt(logs: Logs): BoardMode[] {
    return this.solve(logs, this.thin)
      .map((mode) => ({ ...mode, frequencyHz: mode.frequencyHz * this.shearFactor(mode.pattern) }))
      .filter(({ frequencyHz }) => frequencyHz < this.topHz)
      .sort((p, q) => p.frequencyHz - q.frequencyHz);
  }

  private solve(logs: Logs, theory: ElasticStart): readonly BoardMode[] {
    return boardModes(this.of.size, elasticFrom(logs, theory), this.of.densityKgM3, undefined, SEARCH_RITZ);
  }

  private shearFactor(pattern: Pattern): number {
    return this.shearFactors.get(patternKey(pattern)) ?? 1;
  }
}
