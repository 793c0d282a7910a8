// Which peak is which mode: an unlabelled list of a board's peaks is laid beside the modes of every board the wood could
// be, and the board that explains most is kept.
import type { Estimate } from '../quantity/estimate.ts';
import { type BoardConstants, constantsOf, type LossFactors, lossFactors } from './board-constants.ts';
import { type BoardFit, elasticFrom, fitBoard, type NamedFrequency } from './board-fit.ts';
import { type BoardMode, boardModes, type RitzSize } from './board-modes.ts';
import type { ElasticStart } from './elastic-start.ts';
import { boardOf, type MeasuredBoard, type TappedMode } from './measured-board.ts';
import type { Pattern } from './pattern-names.ts';
import { alignPeaks, type Naming } from './peak-alignment.ts';
import type { InputCode } from './traced.ts';

/** A peak with the mode it was found to be, or null where no mode of this board is near. */
export interface AssignedPeak {
  readonly frequencyHz: Estimate;
  readonly pattern: Pattern | null;
  /** frequency of that mode by the fitted plate; null without one */
  readonly modelHz: number | null;
  /** measured over model less 1, in per cent */
  readonly misfitPercent: number | null;
  /** true for the peaks the constants were read from; the others are predictions */
  readonly isUsed: boolean;
}

/** A reading of an unlabelled list of peaks. */
export type PeakReading =
  | {
      readonly kind: 'assigned';
      readonly peaks: readonly AssignedPeak[];
      /** modes of the fitted board below the highest peak that no peak shows */
      readonly unseen: readonly BoardMode[];
      readonly constants: BoardConstants;
      /** from the Q of the three peaks used; null where one is missing */
      readonly loss: LossFactors | null;
      readonly fit: BoardFit;
      /** how much better this naming explains the peaks than the next that names them otherwise, in cost; below 4 is unsure */
      readonly lead: number;
    }
  | { readonly kind: 'not-found'; readonly because: 'too-few-peaks' | 'no-board-fits' };

/** Coarse plate for the search, in thin theory: a tenth of the work; the shear is put back as one factor a mode. */
const SEARCH_RITZ: RitzSize = { functions: 5, perParity: 5 };
/** How far a real board's modes lie from a uniform plate's, relative. Source: ours, from three measured half-tops. */
const SEARCH_SPREAD = 0.012;
/** Cross-grain stiffnesses tried, in steps of the handbook's spread. */
const CROSS_STEPS = [-2, -1.5, -1, -0.5, 0, 0.5, 1, 1.5, 2];

type Logs = readonly [number, number, number, number];

function priorCost(logs: Logs, start: ElasticStart): number {
  const priors = [start.eLongPa, start.eCrossPa, start.gPa];
  return priors.reduce((sum, { value, sigma }, k) => sum + ((logs[k]! - Math.log(value)) / (sigma / value)) ** 2, 0);
}

const nameOf = ({ m, n }: Pattern) => `${m},${n}`;

const keyOf = (modes: readonly BoardMode[], { modeOf }: Naming) =>
  modeOf.map((k) => (k < 0 ? '-' : nameOf(modes[k]!.pattern))).join(' ');

/** The three modes that give the constants: the lowest seen of each family. */
function informative(patterns: readonly (Pattern | null)[]): number[] {
  const first = (isWanted: (pattern: Pattern) => boolean) =>
    patterns.findIndex((pattern) => pattern !== null && isWanted(pattern));
  const wanted = [
    first(({ m, n }) => m >= 2 && n === 0),
    first(({ m, n }) => m === 1 && n === 1),
    first(({ m, n }) => m === 0 && n >= 2),
  ];
  if (wanted[2] === -1) wanted[2] = first(({ n }) => n >= 2);
  if (wanted[1] === -1) wanted[1] = first(({ m, n }) => n === 1 && m >= 1);
  return [...new Set(wanted.filter((index) => index >= 0))];
}

const INPUTS: readonly InputCode[] = ['long-tap', 'twist-tap', 'cross-tap'];

/**
 * Name the peaks of a free board and read its constants.
 * @param board   ruler, caliper, scale
 * @param heard   at least three peaks, any order; Q where the decay gave one
 * @param start   handbook values of the wood with the spread of a single board
 * @returns each peak with its mode and the misfit of the plate model; constants from the lowest mode of each family, so
 *          that the other misfits are predictions; modes that should sound but were not heard
 * Source: our derivation: search over which peaks are long-grain bending and twist and over cross-grain stiffness, least
 * squares on the free plate, cost of strays and unheard modes; checked on measured half-tops and on solids.
 */
export function assignPeaks(board: MeasuredBoard, heard: readonly TappedMode[], start: ElasticStart): PeakReading {
  if (heard.length < 3) return { kind: 'not-found', because: 'too-few-peaks' };
  const peaks = [...heard].sort((p, q) => p.frequencyHz.value - q.frequencyHz.value);
  const values = peaks.map(({ frequencyHz }) => frequencyHz.value);
  const topHz = values.at(-1)! * (1 + 2 * SEARCH_SPREAD);
  const { size, densityKgM3 } = boardOf(board);
  const thin: ElasticStart = { ...start, shearRatios: null };
  const centre: Logs = [
    Math.log(start.eLongPa.value),
    Math.log(start.eCrossPa.value),
    Math.log(start.gPa.value),
    start.nuLR.value,
  ];
  const solve = (logs: Logs, theory: ElasticStart) =>
    boardModes(size, elasticFrom(logs, theory), densityKgM3, undefined, SEARCH_RITZ);
  const thinHz = new Map(solve(centre, thin).map(({ pattern, frequencyHz }) => [nameOf(pattern), frequencyHz]));
  const shearFactors = new Map(
    solve(centre, start).map(({ pattern, frequencyHz }) => [
      nameOf(pattern),
      frequencyHz / (thinHz.get(nameOf(pattern)) ?? frequencyHz),
    ]),
  );
  const shearFactor = (pattern: Pattern) => shearFactors.get(nameOf(pattern)) ?? 1;
  const modesAt = (logs: Logs) =>
    solve(logs, thin)
      .map((mode) => ({ ...mode, frequencyHz: mode.frequencyHz * shearFactor(mode.pattern) }))
      .filter(({ frequencyHz }) => frequencyHz < topHz)
      .sort((p, q) => p.frequencyHz - q.frequencyHz);
  const judge = (logs: Logs, spread: number) => {
    const modes = modesAt(logs);
    const naming = alignPeaks(peaks, modes, spread);
    return { logs, modes, naming, cost: naming.cost + priorCost(logs, start) };
  };

  const relative = ({ value, sigma }: Estimate) => sigma / value;
  const typical = modesAt(centre);
  const soundsAt = (m: number, n: number) =>
    typical.find(({ pattern }) => pattern.m === m && pattern.n === n)?.frequencyHz;
  const starts: Logs[] = [];
  for (const longHz of values.slice(0, 6)) {
    const eLong = centre[0] + 2 * Math.log(longHz / (soundsAt(2, 0) ?? longHz));
    if (Math.abs(eLong - centre[0]) > 3 * relative(start.eLongPa)) continue;
    for (const twistHz of values.slice(0, 4)) {
      const g = centre[2] + 2 * Math.log(twistHz / (soundsAt(1, 1) ?? twistHz));
      if (twistHz === longHz || Math.abs(g - centre[2]) > 3 * relative(start.gPa)) continue;
      for (const step of CROSS_STEPS) starts.push([eLong, centre[1] + step * relative(start.eCrossPa), g, centre[3]]);
    }
  }
  const ranked = starts.map((logs) => judge(logs, 2 * SEARCH_SPREAD)).sort((p, q) => p.cost - q.cost);
  const refined = ranked.slice(0, 8).map((candidate) => {
    let state = candidate;
    for (let round = 0; round < 2; round++) {
      const observations = observationsOf(peaks, state.modes, state.naming, shearFactor);
      if (observations.length < 3) break;
      const fit = fitBoard(board, observations, thin, state.logs, SEARCH_RITZ);
      const { elastic } = fit;
      const logs: Logs = [Math.log(elastic.eLongPa), Math.log(elastic.eCrossPa), Math.log(elastic.gPa), elastic.nuLR];
      state = judge(logs, SEARCH_SPREAD);
    }
    return state;
  });
  refined.sort((p, q) => p.cost - q.cost);
  const winner = refined[0];
  if (winner === undefined) return { kind: 'not-found', because: 'no-board-fits' };
  const winning = keyOf(winner.modes, winner.naming);
  const runnerUp = refined.find((each) => keyOf(each.modes, each.naming) !== winning);
  const patterns = winner.naming.modeOf.map((k) => (k < 0 ? null : winner.modes[k]!.pattern));
  const used = informative(patterns);
  if (used.length < 3) return { kind: 'not-found', because: 'no-board-fits' };
  const observations: NamedFrequency[] = used.map((index, k) => ({
    pattern: patterns[index]!,
    frequencyHz: peaks[index]!.frequencyHz,
    input: INPUTS[k]!,
  }));
  const model = boardModes(size, fitBoard(board, observations, start, winner.logs).elastic, densityKgM3);
  const modeNamed = (pattern: Pattern | null) =>
    model.find((mode) => pattern !== null && nameOf(mode.pattern) === nameOf(pattern));
  const foretold = peaks.flatMap(({ frequencyHz }, k) => {
    const mode = used.includes(k) ? undefined : modeNamed(patterns[k]!);
    return mode === undefined ? [] : [Math.log(frequencyHz.value / mode.frequencyHz)];
  });
  // Wood is not the same all over: what the other peaks are off by, the peaks used may be off by too.
  const unevenness = Math.hypot(...foretold) / Math.sqrt(Math.max(foretold.length, 1));
  const fit = fitBoard(
    board,
    observations.map((each) => ({ ...each, unevenness })),
    start,
    winner.logs,
  );
  const qs = used.map((index) => peaks[index]!.q);
  return {
    kind: 'assigned',
    peaks: peaks.map(({ frequencyHz }, k) => {
      const modelHz = modeNamed(patterns[k]!)?.frequencyHz ?? null;
      return {
        frequencyHz,
        pattern: patterns[k]!,
        modelHz,
        misfitPercent: modelHz === null ? null : 100 * (frequencyHz.value / modelHz - 1),
        isUsed: used.includes(k),
      };
    }),
    unseen: model.filter(
      (mode) => mode.frequencyHz < topHz && !patterns.some((p) => p !== null && nameOf(p) === nameOf(mode.pattern)),
    ),
    constants: constantsOf(fit),
    loss: qs.every((q) => q !== undefined) ? lossFactors(fit.modes, qs as Estimate[]) : null,
    fit,
    lead: (runnerUp?.cost ?? Number.POSITIVE_INFINITY) - winner.cost,
  };
}

/** The named peaks as observations of a thin board, each as loose as a real board is uneven. */
function observationsOf(
  peaks: readonly TappedMode[],
  modes: readonly BoardMode[],
  { modeOf }: Naming,
  shearFactor: (pattern: Pattern) => number,
): NamedFrequency[] {
  return peaks.flatMap(({ frequencyHz }, k) => {
    const mode = modes[modeOf[k]!];
    if (mode === undefined) return [];
    const value = frequencyHz.value / shearFactor(mode.pattern);
    return [
      { pattern: mode.pattern, frequencyHz: { value, sigma: SEARCH_SPREAD * value }, input: 'other-taps' as const },
    ];
  });
}
