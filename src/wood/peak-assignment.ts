// Which peak is which mode: an unlabelled list of a board's peaks is laid beside the modes of every board the wood could
// be, and the board that explains most is kept.
import type { Estimate } from '../quantity/estimate.ts';
import { type BoardConstants, constantsOf, type LossFactors, lossFactors } from './board-constants.ts';
import { type BoardFit, fitBoard, type NamedFrequency } from './board-fit.ts';
import { type BoardMode, boardModes } from './board-modes.ts';
import { BoardSearch, type Candidate, SEARCH_SPREAD } from './board-search.ts';
import type { ElasticStart } from './elastic-start.ts';
import { boardOf, type MeasuredBoard, type TappedMode } from './measured-board.ts';
import { isSamePattern, type Pattern, patternKey } from './pattern-names.ts';
import { isUnlikeWood, type Naming } from './peak-alignment.ts';
import type { InputCode } from './traced.ts';

/** A peak with the mode it was found to be, or undefined where no mode of this board is near. */
interface AssignedPeak {
  readonly frequencyHz: Estimate;
  readonly pattern: Pattern | undefined;
  /** frequency of that mode by the fitted plate; undefined without one */
  readonly modelHz: number | undefined;
  /** measured over model less 1, in per cent */
  readonly misfitPercent: number | undefined;
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
      /** from the Q of the three peaks used; undefined where one is missing */
      readonly loss: LossFactors | undefined;
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
/** Boards of the search that are refined. Our choice. */
const REFINED = 8;

const keyOf = (modes: readonly BoardMode[], { modeOf }: Naming) =>
  modeOf.map((k) => (k < 0 ? '-' : patternKey(modes[k]!.pattern))).join(' ');

/** The three modes that give the constants: the lowest seen of each family. */
function informative(patterns: Patterns): number[] {
  const first = (isWanted: (pattern: Pattern) => boolean) =>
    patterns.findIndex((pattern) => pattern !== undefined && isWanted(pattern));
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
  const topHz = peaks.at(-1)!.frequencyHz.value * (1 + 2 * SEARCH_SPREAD);
  const search = new BoardSearch(board, peaks, start, topHz);
  const found = search.best(REFINED);
  const winner = found[0]!;
  const patterns = winner.naming.modeOf.map((k) => (k < 0 ? undefined : winner.modes[k]!.pattern));
  const used = informative(patterns);
  if (used.length < 3) return { kind: 'not-found', because: 'no-board-fits' };
  const lead = leadOf(search, found, patterns, used);
  const { fit, model } = fitUsed(board, start, winner, peaks, patterns, used);
  const modeNamed = named(model);
  const qs = used.map((index) => peaks[index]!.q);
  return {
    kind: 'assigned',
    peaks: all.map((peak) => {
      const { frequencyHz } = peak;
      const k = peaks.indexOf(peak);
      if (k < 0)
        return { frequencyHz, pattern: undefined, modelHz: undefined, misfitPercent: undefined, isUsed: false };
      const modelHz = modeNamed(patterns[k]!)?.frequencyHz;
      return {
        frequencyHz,
        pattern: patterns[k]!,
        modelHz,
        misfitPercent: modelHz === undefined ? undefined : 100 * (frequencyHz.value / modelHz - 1),
        isUsed: used.includes(k),
      };
    }),
    unseen: model.filter(
      (mode) => mode.frequencyHz < topHz && !patterns.some((p) => p !== undefined && isSamePattern(p, mode.pattern)),
    ),
    constants: constantsOf(fit),
    loss: qs.every((q) => q !== undefined) ? lossFactors(fit.modes, qs as Estimate[]) : undefined,
    fit,
    lead,
    isSure: lead >= SURE_LEAD,
  };
}

type Patterns = readonly (Pattern | undefined)[];

/**
 * How much dearer the next naming is. The search keeps one naming of each board: what speaks against a peak that is used is
 * another one beside it.
 */
function leadOf(search: BoardSearch, found: readonly Candidate[], patterns: Patterns, used: readonly number[]): number {
  const winner = found[0]!;
  const winning = keyOf(winner.modes, winner.naming);
  const rivals = used.map((peak) =>
    search.rival(winner, (other, { pattern }) => other === peak && isSamePattern(pattern, patterns[peak]!)),
  );
  const others = [...found, ...rivals].filter(({ modes, naming }) => keyOf(modes, naming) !== winning);
  return Math.min(...others.map(({ cost }) => cost)) - winner.cost;
}

const named = (model: readonly BoardMode[]) => (pattern: Pattern | undefined) =>
  model.find((mode) => pattern !== undefined && isSamePattern(mode.pattern, pattern));

/**
 * The board that the peaks used give, in full theory.
 * @returns the fit with the wood's unevenness in its uncertainty; the modes of the fit without it
 */
function fitUsed(
  board: MeasuredBoard,
  start: ElasticStart,
  { logs }: Candidate,
  peaks: readonly TappedMode[],
  patterns: Patterns,
  used: readonly number[],
): { readonly fit: BoardFit; readonly model: readonly BoardMode[] } {
  const observations: NamedFrequency[] = used.map((index, k) => ({
    pattern: patterns[index]!,
    frequencyHz: peaks[index]!.frequencyHz,
    input: INPUTS[k]!,
  }));
  const { size, densityKgM3 } = boardOf(board);
  const model = boardModes(size, fitBoard(board, observations, start, logs).elastic, densityKgM3);
  const foretold = peaks.flatMap(({ frequencyHz }, k) => {
    const mode = used.includes(k) ? undefined : named(model)(patterns[k]!);
    return mode === undefined ? [] : [Math.log(frequencyHz.value / mode.frequencyHz)];
  });
  // Wood is not the same all over: what the other peaks are off by, the peaks used may be off by too.
  const unevenness = Math.hypot(...foretold) / Math.sqrt(Math.max(foretold.length, 1));
  return {
    fit: fitBoard(
      board,
      observations.map((each) => ({ ...each, unevenness })),
      start,
      logs,
    ),
    model,
  };
}
