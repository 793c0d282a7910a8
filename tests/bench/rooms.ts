// The mode estimator in furnished rooms: what was found, what is not there, whether the intervals hold, cell by cell.
import { fileURLToPath } from 'node:url';
import { fitRound } from '../../src/signal/round.ts';
import { type Cell, furnishedRound, type RoundScore, scoreOf } from './furnished-rounds.ts';

export const CELLS: readonly Cell[] = (['dipole', 'monopole'] as const).flatMap((source) =>
  [0.15, 0.3, 0.6].flatMap((distanceM) => [0.25, 0.4, 0.7].map((t60S) => ({ source, distanceM, t60S }))),
);

/** Rounds of a cell and their scores, with the processor time of the fits, ms a round. */
export function cellScores(
  cell: Cell,
  rounds: number,
  firstSeed: number,
): { readonly scores: readonly RoundScore[]; readonly ms: number } {
  let ms = 0;
  const scores = Array.from({ length: rounds }, (_, i) => {
    const round = furnishedRound(cell, firstSeed + 1000 * CELLS.indexOf(cell) + i, 1 + (i % 3));
    const before = process.cpuUsage();
    const fit = fitRound([round.taps]);
    const used = process.cpuUsage(before);
    ms += (used.user + used.system) / 1000;
    return scoreOf(
      round,
      fit.modes.filter((mode) => mode.resolution === 'single'),
    );
  });
  return { scores, ms: ms / rounds };
}

export const HEAD = [
  '| source | m | T60 s | modes | found % | strangers a round | holds f % | holds Q % | ms |',
  `|${' --- |'.repeat(9)}`,
];

export function line(cell: Cell, { scores, ms }: ReturnType<typeof cellScores>): string {
  const sum = (of: (score: RoundScore) => number): number => scores.reduce((total, one) => total + of(one), 0);
  const [truths, found] = [sum((s) => s.truths), sum((s) => s.found)];
  const percent = (part: number, of: number) => ((100 * part) / of).toFixed(1);
  return `| ${[
    cell.source,
    cell.distanceM,
    cell.t60S,
    truths,
    percent(found, truths),
    (sum((s) => s.strangers) / scores.length).toFixed(2),
    percent(
      sum((s) => s.heldF),
      found,
    ),
    percent(
      sum((s) => s.heldQ),
      found,
    ),
    ms.toFixed(0),
  ].join(' | ')} |`;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [rounds = '10', firstSeed = '700000000'] = process.argv.slice(2);
  console.log(HEAD.join('\n'));
  for (const cell of CELLS) console.log(line(cell, cellScores(cell, Number(rounds), Number(firstSeed))));
}
