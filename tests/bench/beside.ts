// The mode estimator beside a stabilisation diagram, on the same rounds in furnished rooms, by the same rules.
import { fileURLToPath } from 'node:url';
import { fitRound } from '../../src/signal/round.ts';
import { type DiagramRead, diagrams, STRICT, USUAL } from './diagram.ts';
import { type FurnishedRound, furnishedRound, type RoundScore, scoreOf } from './furnished-rounds.ts';
import { CELLS } from './rooms.ts';
import { pythonWithScipy } from './scipy.ts';
import { asked, errors, foundAndSpurious, holds, timed } from './side-by-side.ts';

const HEAD = [
  'source',
  'm',
  'T60 s',
  'modes',
  'joint fit: found %, spurious',
  'diagram: found %, spurious',
  'strict diagram: found %, spurious',
  'errors f, ln Q: joint fit',
  'diagram',
  'strict',
  'holds f %, Q %: joint fit',
  'diagram',
  'time over the diagram',
];

/** Rounds of some cells by each method. */
interface Scores {
  readonly fit: RoundScore[];
  readonly usual: RoundScore[];
  readonly strict: RoundScore[];
  fitMs: number;
  diagramMs: number;
}
const noScores = (): Scores => ({ fit: [], usual: [], strict: [], fitMs: 0, diagramMs: 0 });

function add(scores: Scores, round: FurnishedRound, read: DiagramRead): void {
  const { result, ms } = timed(() => fitRound([round.taps]));
  scores.fitMs += ms;
  scores.diagramMs += read.ms;
  scores.fit.push(
    scoreOf(
      round,
      result.modes.filter(({ resolution }) => resolution === 'single'),
    ),
  );
  scores.usual.push(scoreOf(round, read.told(USUAL)));
  scores.strict.push(scoreOf(round, read.told(STRICT)));
}

const line = (names: readonly (string | number)[], { fit, usual, strict, fitMs, diagramMs }: Scores): string =>
  `| ${[
    ...names,
    asked(fit),
    ...[fit, usual, strict].map(foundAndSpurious),
    ...[fit, usual, strict].map(errors),
    ...[fit, usual].map(holds),
    (fitMs / diagramMs).toFixed(1),
  ].join(' | ')} |`;

/**
 * Prints the table, Markdown.
 * @param firstSeed seeds from 710, 720, 730 and 740 million on chose constants; 770 million judges
 */
export function besideFigures(rounds: number, firstSeed = 770_000_000): void {
  if (!pythonWithScipy()) {
    console.log('Without python3 and scipy there is no diagram to set beside: nothing was run.');
    return;
  }
  console.log(`| ${HEAD.join(' | ')} |`);
  console.log(`|${' --- |'.repeat(HEAD.length)}`);
  const all = noScores();
  CELLS.forEach((cell, c) => {
    const scores = noScores();
    const made = Array.from({ length: rounds }, (_, i) => furnishedRound(cell, firstSeed + 1000 * c + i, 1 + (i % 3)));
    const read = diagrams(
      made.map(({ taps }) => taps),
      -20,
    );
    made.forEach((round, i) => {
      add(scores, round, read[i]!);
    });
    for (const method of ['fit', 'usual', 'strict'] as const) all[method].push(...scores[method]);
    all.fitMs += scores.fitMs;
    all.diagramMs += scores.diagramMs;
    console.log(line([cell.source, cell.distanceM, cell.t60S], scores));
  });
  console.log(line(['all', '', ''], all));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [rounds = '8', firstSeed] = process.argv.slice(2);
  besideFigures(Number(rounds), firstSeed === undefined ? undefined : Number(firstSeed));
}
