// Which peak is which mode: an unlabelled list of a board's peaks is laid beside the modes of every board the wood could
// be, and the board that explains most is kept.
import type { Estimate } from '../quantity/estimate.ts';
import { type BoardConstants, constantsOf, type LossFactors, lossFactors } from './board-constants.ts';
import { type BoardFit, elasticFrom, fitBoard, type NamedFrequency } from './board-fit.ts';
import { type BoardMode, boardModes, type RitzSize } from './board-modes.ts';
import type { ElasticStart } from './elastic-start.ts';
import { boardOf, type MeasuredBoard, type TappedMode } from './measured-board.ts';
import type { Pattern } from './pattern-names.ts';
import { alignPeaks, isUnlikeWood, type Naming } from './peak-alignment.ts';
import type { InputCode } from './traced.ts';

/** A peak with the mode it was found to be, or null where no mode of this board is near. */
interface AssignedPeak {
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
      /** how much better this naming explains the peaks than the next that names them otherwise, in cost */
      readonly lead: number;
      /** whether that is enough to believe it */
      readonly isSure: boolean;
    }
  | { readonly kind: 'not-found'; readonly because: 'too-few-peaks' | 'no-board-fits' };

/**
 * Lead from which a naming is believed. Of 140 boards of tests/bench/unnamed-boards.ts (seeds 0 to 69, strays of either kind)
 * 8 of 38 below it have a wrong name among the peaks used, 1 of 98 above it.
 */
const SURE_LEAD = 8;
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
  const all = [...heard].sort((p, q) => p.frequencyHz.value - q.frequencyHz.value);
  // what is no wood must not take a place in the search, nor a mode from the peak that is
  const peaks = all.filter((peak) => !isUnlikeWood(peak));
  if (peaks.length < 3) return { kind: 'not-found', because: 'too-few-peaks' };
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
  const judge = (logs: Logs, spread: number, isBarred?: (peak: number, mode: BoardMode) => boolean) => {
    const modes = modesAt(logs);
    const naming = alignPeaks(peaks, modes, spread, isBarred);
    return { logs, modes, naming, cost: naming.cost + priorCost(logs, start) };
  };
  type Candidate = ReturnType<typeof judge>;
  const refinedFrom = (candidate: Candidate, isBarred?: (peak: number, mode: BoardMode) => boolean): Candidate => {
    let state = candidate;
    for (let round = 0; round < 2; round++) {
      const observations = observationsOf(peaks, state.modes, state.naming, shearFactor);
      if (observations.length < 3) break;
      const { elastic } = fitBoard(board, observations, thin, state.logs, SEARCH_RITZ);
      const logs: Logs = [Math.log(elastic.eLongPa), Math.log(elastic.eCrossPa), Math.log(elastic.gPa), elastic.nuLR];
      state = judge(logs, SEARCH_SPREAD, isBarred);
    }
    return state;
  };

  const relative = ({ value, sigma }: Estimate) => sigma / value;
  const typical = modesAt(centre);
  const soundsAt = (m: number, n: number) =>
    typical.find(({ pattern }) => pattern.m === m && pattern.n === n)?.frequencyHz;
  // each of the low peaks may be the first long-grain bend or the twist, and either may be unheard
  const eLongs = [...values.slice(0, 6).map((hz) => centre[0] + 2 * Math.log(hz / (soundsAt(2, 0) ?? hz))), centre[0]];
  const gs = [...values.slice(0, 4).map((hz) => centre[2] + 2 * Math.log(hz / (soundsAt(1, 1) ?? hz))), centre[2]];
  const isWood = (log: number, usual: number, of: Estimate) => Math.abs(log - usual) <= 3 * relative(of);
  const starts: Logs[] = eLongs
    .filter((log) => isWood(log, centre[0], start.eLongPa))
    .flatMap((eLong) =>
      gs
        .filter((log) => isWood(log, centre[2], start.gPa))
        .flatMap((g) =>
          CROSS_STEPS.map((step): Logs => [eLong, centre[1] + step * relative(start.eCrossPa), g, centre[3]]),
        ),
    );
  const ranked = starts.map((logs) => judge(logs, 2 * SEARCH_SPREAD)).sort((p, q) => p.cost - q.cost);
  const refined = ranked.slice(0, 8).map((candidate) => refinedFrom(candidate));
  refined.sort((p, q) => p.cost - q.cost);
  // The handbook's own board is always among them.
  const winner = refined[0]!;
  const winning = keyOf(winner.modes, winner.naming);
  const patterns = winner.naming.modeOf.map((k) => (k < 0 ? null : winner.modes[k]!.pattern));
  const used = informative(patterns);
  if (used.length < 3) return { kind: 'not-found', because: 'no-board-fits' };
  // the search keeps one naming of each board: what speaks against a peak that is used is another one beside it
  const rivals = used.map((peak) => {
    const isBarred = (other: number, { pattern }: BoardMode) =>
      other === peak && nameOf(pattern) === nameOf(patterns[peak]!);
    return refinedFrom(judge(winner.logs, SEARCH_SPREAD, isBarred), isBarred);
  });
  const nextCost = Math.min(
    ...[...refined, ...rivals].filter((each) => keyOf(each.modes, each.naming) !== winning).map(({ cost }) => cost),
  );
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
    peaks: all.map((peak) => {
      const { frequencyHz } = peak;
      const k = peaks.indexOf(peak);
      if (k < 0) return { frequencyHz, pattern: null, modelHz: null, misfitPercent: null, isUsed: false };
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
    lead: nextCost - winner.cost,
    isSure: nextCost - winner.cost >= SURE_LEAD,
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
