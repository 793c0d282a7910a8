// The mode estimator on plates drawn by lot: what could be told and was, what was told and is not there, whether the intervals hold.
import { fileURLToPath } from 'node:url';
import { fitRound } from '../../src/signal/round.ts';
import { randomRound, SURROUNDINGS } from './random-rounds.ts';
import { PARTS_HEAD, partsLine, RANDOM_HEAD, randomLine, type Verdict, verdictOn } from './random-score.ts';

/**
 * The two tables as text, Markdown.
 * @param rounds of each case
 * @param only   part of a case's name, to run a few
 * @param first  number of the first round: numbers below 100000 judge, those above are for choosing by
 */
export function randomPlateFigures(rounds: number, only = '', first = 0): void {
  const parts: string[] = [];
  for (const line of RANDOM_HEAD) console.log(line);
  for (const around of SURROUNDINGS.filter(({ name }) => name.includes(only))) {
    const verdicts: Verdict[] = Array.from({ length: rounds }, (_, i) => {
      const round = randomRound(around, first + i);
      return verdictOn(round, fitRound([round.taps.map(({ tap }) => tap)]).modes);
    });
    console.log(randomLine(around.name, verdicts));
    parts.push(partsLine(around.name, verdicts));
  }
  console.log('');
  for (const line of [...PARTS_HEAD, ...parts]) console.log(line);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [rounds, only, first] = process.argv.slice(2);
  randomPlateFigures(Number(rounds ?? 20), only, Number(first ?? 0));
}
