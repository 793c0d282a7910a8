// What was told of plates drawn by lot, against what could have been told.
import { HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
import type { Mode } from '../../src/signal/tap.ts';
import type { RandomRound } from './random-rounds.ts';
import type { TrueMode } from './tap-signals.ts';

/** A mode could be told if the bound knows its frequency and Q to these parts and no louder one lies within a bandwidth. */
const TELLABLE_FREQUENCY = 0.003;
const TELLABLE_Q = 0.2;
/** A told mode is one of the truth's if within one bandwidth of it, found if within half; the louder modes choose first. */
const FOUND_BANDWIDTHS = 0.5;
const PAIR_BANDWIDTHS = 1.5;
/** Half of the errors of a normal distribution lie within so many standard deviations. */
const MEDIAN_OF_NORMAL = 0.6745;

/** One true mode and what became of it. */
export interface Fate {
  readonly truth: TrueMode;
  /** distance to its nearest neighbour in mean bandwidths, infinite where it is alone */
  readonly apart: number;
  /** whether the bound allows it to be told */
  readonly tellable: boolean;
  readonly told?: Mode;
  readonly asPair: boolean;
  /** errors over the bound, where told */
  readonly frequencyRatio: number;
  readonly lnQRatio: number;
  /** stated standard deviation of the frequency over the bound */
  readonly statedRatio: number;
  readonly frequencyHeld: boolean;
  readonly qHeld: boolean;
}

/** What became of a round. */
export interface Verdict {
  readonly fates: readonly Fate[];
  /** told modes that are none of the truth */
  readonly spurious: readonly Mode[];
  /** told modes of the truth, but more than three stated standard deviations off */
  readonly off: readonly Mode[];
  /** pairs told; those of two true modes at least; those whose centre then is within the interval */
  readonly pairs: number;
  readonly truePairs: number;
  readonly heldPairs: number;
}

const bandwidthHz = ({ frequencyHz, q }: TrueMode): number => frequencyHz / q;

/** Holds what was told of a round against its truth, each mode once. */
export function verdictOn({ modes, above, bounds }: RandomRound, told: readonly Mode[]): Verdict {
  const singles = told.filter(({ resolution }) => resolution === 'single');
  const ofTruth = new Map<TrueMode, Mode>();
  const give = (nearer: number, truths: readonly TrueMode[]): void => {
    for (const truth of truths) {
      const free = singles.filter((mode) => ![...ofTruth.values()].includes(mode));
      const away = ({ frequencyHz }: Mode): number => Math.abs(frequencyHz.value - truth.frequencyHz);
      const nearest = free.toSorted((a, b) => away(a) - away(b))[0];
      if (nearest && away(nearest) < nearer * bandwidthHz(truth) && !ofTruth.has(truth)) ofTruth.set(truth, nearest);
    }
  };
  const loudestFirst = [...modes, ...above].sort((a, b) => b.levelDb - a.levelDb);
  give(FOUND_BANDWIDTHS, loudestFirst);
  give(1, loudestFirst);
  const pairs = told.filter(({ resolution }) => resolution === 'pair');
  const membersOf = ({ frequencyHz }: Mode): readonly TrueMode[] =>
    modes
      .filter((truth) => Math.abs(truth.frequencyHz - frequencyHz.value) < PAIR_BANDWIDTHS * bandwidthHz(truth))
      .filter((truth) => !ofTruth.has(truth));
  const truePairs = pairs.filter((pair) => membersOf(pair).length >= 2);
  const heldPairs = truePairs.filter((pair) => {
    const members = membersOf(pair)
      .toSorted((a, b) => b.levelDb - a.levelDb)
      .slice(0, 2);
    const centreHz = (members[0]!.frequencyHz + members[1]!.frequencyHz) / 2;
    return Math.abs(pair.frequencyHz.value - centreHz) < HALF_WIDTH_95 * pair.frequencyHz.sigma;
  });
  const fates = modes.map((truth, m): Fate => {
    const bound = bounds[m]!;
    const mode = ofTruth.get(truth);
    const df = mode === undefined ? Number.NaN : mode.frequencyHz.value - truth.frequencyHz;
    const dq = mode === undefined ? Number.NaN : Math.log(mode.q.value / truth.q);
    const found = mode !== undefined && Math.abs(df) < FOUND_BANDWIDTHS * bandwidthHz(truth);
    const others = modes.filter((other) => other !== truth);
    const awayFrom = (other: TrueMode): number =>
      (2 * Math.abs(other.frequencyHz - truth.frequencyHz)) / (bandwidthHz(other) + bandwidthHz(truth));
    return {
      truth,
      apart: Math.min(Number.POSITIVE_INFINITY, ...others.map(awayFrom)),
      tellable:
        bound.frequencyHz < TELLABLE_FREQUENCY * truth.frequencyHz &&
        bound.lnQ < TELLABLE_Q &&
        !others.some((other) => other.levelDb > truth.levelDb && awayFrom(other) < 1),
      ...(found && { told: mode }),
      asPair: !found && pairs.some((pair) => membersOf(pair).includes(truth)),
      frequencyRatio: Math.abs(df) / bound.frequencyHz,
      lnQRatio: Math.abs(dq) / bound.lnQ,
      statedRatio: mode === undefined ? Number.NaN : mode.frequencyHz.sigma / bound.frequencyHz,
      frequencyHeld: found && Math.abs(df) < HALF_WIDTH_95 * mode.frequencyHz.sigma,
      qHeld: found && Math.abs(dq) < (HALF_WIDTH_95 * mode.q.sigma) / mode.q.value,
    };
  });
  const isOff = ([truth, { frequencyHz }]: [TrueMode, Mode]): boolean =>
    Math.abs(frequencyHz.value - truth.frequencyHz) > 3 * frequencyHz.sigma;
  return {
    fates,
    spurious: [
      ...singles.filter((mode) => ![...ofTruth.values()].includes(mode)),
      ...pairs.filter((pair) => membersOf(pair).length === 0),
    ],
    off: [...ofTruth].filter(isOff).map(([, mode]) => mode),
    pairs: pairs.length,
    truePairs: truePairs.length,
    heldPairs: heldPairs.length,
  };
}

const percent = (part: number, of: number): string => (of === 0 ? '-' : `${((100 * part) / of).toFixed(1)} %`);
const ratio = (x: number): string => (Number.isFinite(x) ? x.toFixed(2) : '-');

function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, x) => sum + x * x, 0) / values.length);
}
const quantile = (values: readonly number[], part: number): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length * part)] ?? Number.NaN;

export const RANDOM_HEAD: readonly string[] = [
  '| case | rounds | could be told | found | as pair | spurious | off by 3 sigma | 95 % holds f | holds Q | f / bound, median | Q / bound, median | stated f / bound: median, 90 % | pairs told, of two, centre held |',
  `|${' --- |'.repeat(13)}`,
];

/** One row of the table, Markdown: all rounds of a case. */
export function randomLine(name: string, verdicts: readonly Verdict[]): string {
  const sum = (of: (verdict: Verdict) => number): number => verdicts.reduce((total, one) => total + of(one), 0);
  const tellable = verdicts.flatMap(({ fates }) => fates.filter((fate) => fate.tellable));
  const found = tellable.filter(({ told }) => told !== undefined);
  const over = (values: readonly number[]): string =>
    `${ratio(rootMeanSquare(values))}, ${ratio(quantile(values, 0.5) / MEDIAN_OF_NORMAL)}`;
  const cells = [
    name,
    verdicts.length,
    tellable.length,
    percent(found.length, tellable.length),
    percent(tellable.filter(({ asPair }) => asPair).length, tellable.length),
    sum(({ spurious }) => spurious.length),
    sum(({ off }) => off.length),
    percent(found.filter(({ frequencyHeld }) => frequencyHeld).length, found.length),
    percent(found.filter(({ qHeld }) => qHeld).length, found.length),
    over(found.map(({ frequencyRatio }) => frequencyRatio)),
    over(found.map(({ lnQRatio }) => lnQRatio)),
    [0.5, 0.9]
      .map((part) =>
        ratio(
          quantile(
            found.map(({ statedRatio }) => statedRatio),
            part,
          ),
        ),
      )
      .join(', '),
    [sum(({ pairs }) => pairs), sum(({ truePairs }) => truePairs), sum(({ heldPairs }) => heldPairs)].join(', '),
  ];
  return `| ${cells.join(' | ')} |`;
}

/** Modes by level under the loudest and by distance to their neighbour. */
const PARTS: readonly (readonly [string, (fate: Fate) => boolean])[] = [
  ['0 to -20 dB', ({ truth }) => truth.levelDb > -20],
  ['-20 to -30 dB', ({ truth }) => truth.levelDb <= -20 && truth.levelDb > -30],
  ['-30 to -40 dB', ({ truth }) => truth.levelDb <= -30 && truth.levelDb > -40],
  ['neighbour < 1.5', ({ apart }) => apart < 1.5],
  ['1.5 to 4', ({ apart }) => apart >= 1.5 && apart < 4],
  ['> 4 bandwidths', ({ apart }) => apart >= 4],
];

export const PARTS_HEAD: readonly string[] = [
  `| case | ${PARTS.map(([name]) => name).join(' | ')} |`,
  `| --- |${' --- |'.repeat(PARTS.length)}`,
];

/** One row of the second table: part found of how many; part of the 95 % intervals that hold f and Q. */
export function partsLine(name: string, verdicts: readonly Verdict[]): string {
  const tellable = verdicts.flatMap(({ fates }) => fates.filter((fate) => fate.tellable));
  const cells = PARTS.map(([, belongs]) => {
    const of = tellable.filter(belongs);
    const found = of.filter(({ told }) => told !== undefined);
    const held = (which: 'frequencyHeld' | 'qHeld'): string =>
      found.length === 0 ? '-' : ((100 * found.filter((fate) => fate[which]).length) / found.length).toFixed(0);
    return `${percent(found.length, of.length)} of ${of.length}; ${held('frequencyHeld')}, ${held('qHeld')}`;
  });
  return `| ${name} | ${cells.join(' | ')} |`;
}
