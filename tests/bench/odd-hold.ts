// `npm run bench -- odd-hold`: three holds of three taps, one of them not held as the others. How often the odd one is told, how
// often one where there is none, and whether the intervals hold what the sound holds say.
import { HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
import { USUAL_FREQUENCY_SCATTER } from '../../src/signal/agree/hold-scatter.ts';
import { fitRound } from '../../src/signal/round.ts';
import { normal, type Random, SIX_MODES, seeded, trueTap } from './tap-signals.ts';

const HOLDS = 3;
const TAPS = 3;
/** Seeds from here on: looked at once, with the constants as they are. */
const FIRST_SEED = 871_000_000;
/** Every mode shifts by itself a little too from hold to hold, a part of the common shift. */
const OWN_PART = 0.5;

interface Case {
  readonly name: string;
  /** scatter of careful holds, times the usual */
  readonly times: number;
  /** how far each mode of the odd hold lies off */
  readonly off?: (random: Random) => readonly number[];
}

const all = (by: number) => () => SIX_MODES.map(() => by);
const each = (by: number) => (random: Random) => SIX_MODES.map(() => by * normal(random));
const one = (by: number) => (random: Random) => {
  const which = Math.floor(random() * SIX_MODES.length);
  return SIX_MODES.map((_, m) => (m === which ? by : 0));
};

const CASES: readonly Case[] = [
  { name: 'all held as usual', times: 1 },
  { name: 'all held twice as badly', times: 2 },
  { name: 'all held four times as badly', times: 4 },
  { name: 'one 0.5 % off, all modes', times: 1, off: all(0.005) },
  { name: 'one 1 % off, all modes', times: 1, off: all(0.01) },
  { name: 'one 3 % off, all modes', times: 1, off: all(-0.03) },
  { name: 'one off, each mode by 1 %', times: 1, off: each(0.01) },
  { name: 'one off, each mode by 3 %', times: 1, off: each(0.03) },
  { name: 'one off, a single mode by 3 %', times: 1, off: one(0.03) },
  { name: 'one 3 % off, held twice as badly', times: 2, off: all(0.03) },
];

export function* oddHoldFigures(rounds: number): Generator<string> {
  yield 'case | odd hold told, another one told | disagreement told, which one not | modes found | interval holds f, %';
  for (const [c, { name, times, off }] of CASES.entries()) {
    const seen = { right: 0, wrong: 0, apart: 0, found: 0, held: 0 };
    for (let i = 0; i < rounds; i++) {
      const random = seeded(FIRST_SEED + 1000 * c + i);
      const odd = off === undefined ? undefined : Math.floor(random() * HOLDS);
      const usual = times * USUAL_FREQUENCY_SCATTER;
      const holds = Array.from({ length: HOLDS }, (_, hold) => {
        const common = usual * normal(random);
        const apart = hold === odd ? off!(random) : all(0)();
        const shifts = apart.map((by) => by + common + OWN_PART * usual * normal(random));
        return Array.from({ length: TAPS }, () => trueTap(SIX_MODES, 40, random, { spreadDb: 4, shifts }).tap);
      });
      const { modes, disagreement } = fitRound(holds);
      if (disagreement?.hold !== undefined) seen[disagreement.hold === odd ? 'right' : 'wrong']++;
      else if (disagreement !== undefined) seen.apart++;
      for (const truth of SIX_MODES) {
        const mode = modes.find(({ frequencyHz: { value } }) => Math.abs(value / truth.frequencyHz - 1) < 0.01);
        if (mode === undefined) continue;
        seen.found++;
        const { value, sigma } = mode.frequencyHz;
        if (Math.abs(value - truth.frequencyHz) < HALF_WIDTH_95 * sigma) seen.held++;
      }
    }
    const part = (count: number, of: number): string => (of === 0 ? '-' : ((100 * count) / of).toFixed(1));
    yield [
      name,
      `${part(seen.right, rounds)}, ${part(seen.wrong, rounds)}`,
      part(seen.apart, rounds),
      part(seen.found, rounds * SIX_MODES.length),
      part(seen.held, seen.found),
    ].join(' | ');
  }
}
