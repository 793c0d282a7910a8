// The mode estimator in furnished rooms: what was found, what is not there, whether the intervals hold, cell by cell.
import { fileURLToPath } from 'node:url';
import { fitRound } from '../../src/signal/round.ts';
import { type Cell, furnishedRound, type RoundScore, scoreOf } from './furnished-rounds.ts';

/** Every cell of source, distance and reverberation. */
export const CELLS: readonly Cell[] = (['dipole', 'monopole'] as const).flatMap((source) =>
  [0.15, 0.3, 0.6, 0.8].flatMap((distanceM) => [0.25, 0.4, 0.7].map((t60S) => ({ source, distanceM, t60S }))),
);

/** Modes below this stand with the mark "may be the room", see src/views/bench/answer.tsx. */
const MARKED_BELOW = 0.75;

interface CellScores {
  /** everything that was told */
  readonly told: readonly RoundScore[];
  /** what was told without the mark */
  readonly unmarked: readonly RoundScore[];
  /** rounds in which the page says that the room rings along */
  readonly loud: number;
  /** processor time of the fits, ms a round */
  readonly ms: number;
}

/** Rounds of a cell; one, two and three spots are tapped in turn. */
function cellScores(cell: Cell, rounds: number, firstSeed: number): CellScores {
  const told: RoundScore[] = [];
  const unmarked: RoundScore[] = [];
  let [loud, ms] = [0, 0];
  for (let i = 0; i < rounds; i++) {
    const round = furnishedRound(cell, firstSeed + 1000 * CELLS.indexOf(cell) + i, 1 + (i % 3));
    const before = process.cpuUsage();
    const fit = fitRound([round.taps]);
    const used = process.cpuUsage(before);
    ms += (used.user + used.system) / 1000;
    const singles = fit.modes.filter((mode) => mode.resolution === 'single');
    told.push(scoreOf(round, singles));
    unmarked.push(
      scoreOf(
        round,
        singles.filter(({ ofPiece = 1 }) => ofPiece >= MARKED_BELOW),
      ),
    );
    if (fit.roomAnswerDb !== undefined) loud++;
  }
  return { told, unmarked, loud, ms: ms / rounds };
}

/** Prints the table, Markdown. @param firstSeed far from those that chose a constant, which begin at 710, 720, 730 and 740 million */
export function roomFigures(rounds: number, firstSeed = 750_000_000): void {
  console.log(
    '| source | m | T60 s | modes | found % | spurious a round | without a mark: found %, spurious | holds f %, Q % | said loud % | ms |',
  );
  console.log(`|${' --- |'.repeat(10)}`);
  const sum = (scores: readonly RoundScore[], of: (score: RoundScore) => number): number =>
    scores.reduce((total, one) => total + of(one), 0);
  const percent = (part: number, of: number): string => (of === 0 ? '-' : ((100 * part) / of).toFixed(1));
  for (const cell of CELLS) {
    const { told, unmarked, loud, ms } = cellScores(cell, rounds, firstSeed);
    const [truths, found] = [sum(told, (s) => s.truths), sum(told, (s) => s.found)];
    const spurious = (scores: readonly RoundScore[]) => (sum(scores, (s) => s.spurious) / rounds).toFixed(2);
    const holds = [sum(told, (s) => s.heldF), sum(told, (s) => s.heldQ)].map((held) => percent(held, found));
    const cells = [
      cell.source,
      cell.distanceM,
      cell.t60S,
      truths,
      percent(found, truths),
      spurious(told),
      `${percent(
        sum(unmarked, (s) => s.found),
        truths,
      )}, ${spurious(unmarked)}`,
      holds.join(', '),
      percent(loud, rounds),
      ms.toFixed(0),
    ];
    console.log(`| ${cells.join(' | ')} |`);
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [rounds = '12', firstSeed] = process.argv.slice(2);
  roomFigures(Number(rounds), firstSeed === undefined ? undefined : Number(firstSeed));
}
