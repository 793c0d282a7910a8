// From named modes back to elastic constants: weighted least squares on the free plate, with the handbook as a weak
// prior for what the taps do not say.
import { inverseOfPositive, type Rows, times } from '../algebra/small-matrix.ts';
import type { Estimate } from '../quantity/estimate.ts';
import type { BoardElastic, Parity } from './board-energy.ts';
import { type BoardMode, boardModes, type RitzSize } from './board-modes.ts';
import type { Sensitivities } from './board-sensitivity.ts';
import { type ElasticStart, withShear } from './elastic-start.ts';
import { boardOf, type MeasuredBoard } from './measured-board.ts';
import { isSamePattern, type Pattern } from './pattern-names.ts';
import { combined, type InputCode, type LogGradient } from './traced.ts';

/** One tapped mode and which it is. */
export interface NamedFrequency {
  readonly pattern: Pattern;
  readonly frequencyHz: Estimate;
  readonly input: InputCode;
  /** how far this mode of a real board may lie from a uniform plate's, relative; 0 if not given */
  readonly unevenness?: number;
}

/** Constants of one board and how each answers to one sigma of each input. */
export interface BoardFit {
  readonly elastic: BoardElastic;
  readonly densityKgM3: number;
  readonly gradients: Readonly<Record<'eLong' | 'eCross' | 'g' | 'nu' | 'density', LogGradient>>;
  /** modes of the fitted board used in the fit, in the order of the observations */
  readonly modes: readonly BoardMode[];
  /** ln(measured / model), in the order of the observations */
  readonly misfits: readonly number[];
  /** false where the modes cannot be reached by any constants: two of them too close, or one misnamed */
  readonly isConverged: boolean;
}

/**
 * What the plate theory itself is worth, relative frequency: the spread of boardModes about three-dimensional solids.
 * Source: our comparison, tests/reference/wood-solid-plates.test.ts.
 */
const THEORY_SPREAD = 0.001;

/** A step of the logarithms below this is the last: a hundredth of what a tap can tell. */
const SETTLED = 1e-5;

const UNKNOWNS = ['eLong', 'eCross', 'g', 'nu'] as const;

/** Constants from the fit's unknowns: logarithms of the three moduli, and nu as it is. */
export function elasticFrom(logs: readonly number[], start: Pick<ElasticStart, 'shearRatios'>): BoardElastic {
  const [eLong, eCross, g, nuLR] = logs as [number, number, number, number];
  return withShear({ eLongPa: Math.exp(eLong), eCrossPa: Math.exp(eCross), gPa: Math.exp(g), nuLR }, start.shearRatios);
}

/**
 * The model's mode for each observation: by name, but by order of frequency where two modes mix, since there the names
 * say nothing.
 */
function matchModes(modes: readonly BoardMode[], observations: readonly NamedFrequency[]): BoardMode[] | undefined {
  const matched = observations.map(({ pattern }) => modes.find((mode) => isSamePattern(mode.pattern, pattern)));
  if (matched.some((mode) => mode === undefined)) return undefined;
  const found = matched as BoardMode[];
  const mixed = found.map((mode, k) => ({ mode, k })).filter(({ mode }) => mode.purity < 0.8);
  for (const parity of new Set(mixed.map(({ mode }) => mode.parity.join()))) {
    const group = mixed.filter(({ mode }) => mode.parity.join() === parity);
    const byModel = group.map(({ mode }) => mode).sort((p, q) => p.frequencyHz - q.frequencyHz);
    const byEar = group
      .map(({ k }) => k)
      .sort((p, q) => observations[p]!.frequencyHz.value - observations[q]!.frequencyHz.value);
    byEar.forEach((k, rank) => {
      found[k] = byModel[rank]!;
    });
  }
  return found;
}

function row(s: Sensitivities): number[] {
  return [s.eLong + s.shearLong + s.shearCross, s.eCross, s.g, s.nu];
}

interface State {
  readonly logs: number[];
  readonly modes: readonly BoardMode[];
  readonly misfits: readonly number[];
  readonly cost: number;
}

/**
 * Constants of a board from its named modes.
 * @param board        ruler, caliper, scale; sigma > 0 where known
 * @param observations at least one named mode
 * @param start        handbook prior: the centre and spread of every constant, and the shear ratios
 * @param from         constants to begin from, as natural logarithms (nu plain)
 * @param ritz         basis size
 * @returns the fit; its gradients hold taps, sizes, mass, handbook and theory as independent inputs
 * Source: Gauss-Newton with Levenberg's damping; uncertainty by the implicit function theorem to first order.
 */
export function fitBoard(
  board: MeasuredBoard,
  observations: readonly NamedFrequency[],
  start: ElasticStart,
  from: readonly [number, number, number, number],
  ritz?: RitzSize,
): BoardFit {
  const { size, densityKgM3 } = boardOf(board);
  const parities = [...new Set(observations.map(({ pattern }) => `${pattern.m % 2}${pattern.n % 2}`))].map(
    (key) => [Number(key[0]), Number(key[1])] as unknown as Parity,
  );
  const weights = observations.map(
    ({ frequencyHz: { value, sigma } }) => 1 / ((sigma / value) ** 2 + THEORY_SPREAD ** 2),
  );
  const relative = ({ value, sigma }: Estimate) => sigma / value;
  const priorCentre = [
    Math.log(start.eLongPa.value),
    Math.log(start.eCrossPa.value),
    Math.log(start.gPa.value),
    start.nuLR.value,
  ];
  const priorSigma = [relative(start.eLongPa), relative(start.eCrossPa), relative(start.gPa), start.nuLR.sigma];
  // Twice the handbook's spread: a prior that only steps in where the taps say nothing.
  const priorWeights = priorSigma.map((sigma, k) => (k < 3 ? 0.25 : 1) / sigma ** 2);

  const evaluate = (logs: number[]): State | undefined => {
    const [eLong, eCross, , nu] = logs as [number, number, number, number];
    if (!(nu > -0.5 && nu < 1 && nu * nu * Math.exp(eCross - eLong) < 0.9)) return undefined;
    const all = boardModes(size, elasticFrom(logs, start), densityKgM3, parities, ritz);
    const modes = matchModes(all, observations);
    if (modes === undefined) return undefined;
    const misfits = observations.map(({ frequencyHz }, k) => Math.log(frequencyHz.value / modes[k]!.frequencyHz));
    const cost =
      misfits.reduce((sum, misfit, k) => sum + weights[k]! * misfit ** 2, 0) +
      logs.reduce((sum, each, k) => sum + priorWeights[k]! * (each - priorCentre[k]!) ** 2, 0);
    return { logs, modes, misfits, cost };
  };

  const jacobian = (state: State) => state.modes.map((mode) => row(scaleNu(mode.sensitivity, state.logs[3]!)));
  const normal = (rows: readonly number[][], damping: number) => {
    const matrix = UNKNOWNS.map((_, i) =>
      UNKNOWNS.map((_, j) => {
        const information = rows.reduce(
          (sum, each, k) => sum + weights[k]! * each[i]! * each[j]!,
          i === j ? priorWeights[i]! : 0,
        );
        return i === j ? information * (1 + damping) : information;
      }),
    );
    return inverseOfPositive(matrix);
  };

  let state = evaluate([...from]) ?? evaluate(priorCentre);
  if (state === undefined)
    throw new RangeError('fitBoard: no modes of these names at the start, need patterns below (5,5)');
  let damping = 0;
  let isSettled = false;
  for (let iteration = 0; iteration < 25 && !isSettled; iteration++) {
    const here: State = state;
    const rows = jacobian(here);
    const gradient = UNKNOWNS.map(
      (_, i) =>
        rows.reduce((sum, each, k) => sum + weights[k]! * each[i]! * here.misfits[k]!, 0) -
        priorWeights[i]! * (here.logs[i]! - priorCentre[i]!),
    );
    const step = times(normal(rows, damping), gradient);
    const longest = Math.max(...step.map(Math.abs));
    const shortened = longest > 0.5 ? 0.5 / longest : 1;
    const next = evaluate(here.logs.map((each, i) => each + shortened * step[i]!));
    isSettled = longest < SETTLED;
    if (next !== undefined && next.cost <= here.cost) {
      state = next;
      damping /= 10;
    } else {
      damping = Math.max(10 * damping, 1e-3);
    }
  }
  return report(board, observations, start, state, jacobian(state), normal(jacobian(state), 0), weights);
}

/** The fit's fourth unknown is nu itself, not its logarithm. */
function scaleNu(sensitivity: Sensitivities, nu: number): Sensitivities {
  return { ...sensitivity, nu: nu === 0 ? 0 : sensitivity.nu / nu };
}

/** First-order answer of the constants to one sigma of each input. */
function report(
  board: MeasuredBoard,
  observations: readonly NamedFrequency[],
  start: ElasticStart,
  state: State,
  rows: readonly number[][],
  covariance: Rows,
  weights: readonly number[],
): BoardFit {
  const relative = ({ value, sigma }: Estimate) => sigma / value;
  /** answer of the four unknowns to a relative change of every observed (or minus: modelled) frequency */
  const answer = (changes: readonly number[]) => {
    const right = UNKNOWNS.map((_, i) => rows.reduce((sum, each, k) => sum + weights[k]! * each[i]! * changes[k]!, 0));
    return times(covariance, right);
  };
  const single = (k: number, amount: number) => answer(observations.map((_, j) => (j === k ? amount : 0)));
  const modelled = (sigma: number, of: (s: Sensitivities) => number) =>
    answer(state.modes.map((mode) => -sigma * of(mode.sensitivity)));
  const shear: (readonly [InputCode, readonly number[]])[] =
    start.shearRatios === undefined
      ? []
      : [
          ['handbook', modelled(relative(start.shearRatios.longRatio), (s) => s.shearLong)],
          ['handbook', modelled(relative(start.shearRatios.crossRatio), (s) => s.shearCross)],
        ];
  const changes: (readonly [InputCode, readonly number[]])[] = [
    ['length', modelled(relative(board.lengthMm), (s) => s.length)],
    ['width', modelled(relative(board.widthMm), (s) => s.width)],
    ['thickness', modelled(relative(board.thicknessMm), (s) => s.thickness)],
    ['mass', modelled(relative(board.massG), (s) => s.mass)],
    ...shear,
    ...observations.map(({ frequencyHz, input }, k) => [input, single(k, relative(frequencyHz))] as const),
    ...observations.map((_, k) => ['theory', single(k, THEORY_SPREAD)] as const),
    ...observations.map(({ unevenness = 0 }, k) => ['unevenness', single(k, unevenness)] as const),
    // the prior on nu is an observation of its own; the wide priors on the moduli weigh nothing beside a tap
    ['handbook', covariance[3]!.map((each) => each / start.nuLR.sigma)],
    ...UNKNOWNS.slice(0, 3).map((_, i) => {
      const sigma = 2 * [start.eLongPa, start.eCrossPa, start.gPa].map(relative)[i]!;
      return ['handbook', covariance[i]!.map((each) => each / sigma)] as const;
    }),
  ];
  const gradientOf = (index: number, scale = 1): LogGradient => {
    const gathered: Partial<Record<InputCode, number[]>> = {};
    for (const [input, change] of changes) gathered[input] = [...(gathered[input] ?? []), change[index]! * scale];
    return gathered;
  };
  const nu = state.logs[3]!;
  const density: LogGradient = {
    mass: [relative(board.massG)],
    length: [-relative(board.lengthMm)],
    width: [-relative(board.widthMm)],
    thickness: [-relative(board.thicknessMm)],
  };
  return {
    elastic: elasticFrom(state.logs, start),
    densityKgM3: boardOf(board).densityKgM3,
    gradients: {
      eLong: gradientOf(0),
      eCross: gradientOf(1),
      g: gradientOf(2),
      nu: gradientOf(3, 1 / nu),
      density: combined([[density, 1]]),
    },
    modes: state.modes,
    misfits: state.misfits,
    isConverged: state.misfits.every((misfit, k) => misfit ** 2 * weights[k]! < 9),
  };
}
