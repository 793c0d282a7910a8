// What each stage of the estimator is worth: the program with one stage off beside the whole program, on the same sounds.
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { fitRound } from '../../src/signal/round.ts';
import { furnishedRound, type RoundScore, scoreOf } from './furnished-rounds.ts';
import { heardHalfTops } from './half-tops.ts';
import { CASES, trialsOf } from './mode-cases.ts';
import { randomRound, SURROUNDINGS } from './random-rounds.ts';
import { verdictOn } from './random-score.ts';
import { CELLS } from './rooms.ts';
import { errors, foundAndSpurious, holds, timed } from './side-by-side.ts';
import { normal, type Random, SIX_MODES, seeded, trueTap } from './tap-signals.ts';

type Fit = typeof fitRound;
type Told = ReturnType<Fit>;

/** A stage: how to turn it off, and the code that would go with it. */
interface Stage {
  readonly name: string;
  /** replacements of text in a copy of src/signal: file, text, other text */
  readonly off: readonly (readonly [file: string, text: string, other: string])[];
  /** files, or what in them begins with a text and ends where its indentation does: file#text */
  readonly owns: readonly string[];
}

const STAGES: readonly Stage[] = [
  {
    name: 'pull of the room taken off',
    off: [
      [
        'tell/scatter.ts',
        'const pulls = answer === undefined ? gains.map(() => UNPULLED) : pullsOf(joint, level, gains);',
        'const pulls = gains.map(() => UNPULLED);',
      ],
    ],
    owns: [
      'tell/diffuse-pull.ts',
      'tell/scatter.ts#function pullsOf',
      'search/curvature.ts#export function bends',
      'search/curvature.ts#function alike',
    ],
  },
  {
    name: 'asking whether a room answers, and tap pattern',
    off: [['round.ts', 'if (which.length < FEWEST_TAPS)', 'if (which.length < Number.POSITIVE_INFINITY)']],
    owns: ['agree/tap-pattern.ts'],
  },
  {
    name: 'tap pattern (still asked for)',
    off: [
      [
        'round.ts',
        'reportedModes(joint, holdOf, bandHz, options.roomPoles ?? [], early)',
        'reportedModes(joint, holdOf, bandHz, options.roomPoles ?? [], undefined)',
      ],
    ],
    owns: ['agree/tap-pattern.ts'],
  },
  {
    name: 'companions',
    off: [['round.ts', 'if (early === undefined) joint = withCompanions(joint);', '']],
    owns: ['tell/companion.ts', 'search/curvature.ts#export function curvatures'],
  },
  {
    name: 'taps that do not ring alike, all of it',
    off: [['agree/agreement.ts', 'if (all.length === 1 || ', 'if (true || ']],
    owns: [
      'agree/agreement.ts#export function agreedModes',
      'agree/agreement.ts#function withoutCouples',
      'agree/agreement.ts#function scatters',
      'agree/agreement.ts#function criterion',
      'search/elastic.ts',
    ],
  },
  {
    name: 'poles of their own for every tap',
    off: [['agree/agreement.ts', 'if (mayRingApart && ', 'if (false && ']],
    owns: ['agree/agreement.ts#if (mayRingApart && '],
  },
  {
    name: 'taps set aside',
    off: [['round.ts', 'if (odd.length > 0) {', 'if (false) {']],
    owns: ['agree/set-aside.ts#export function disagreeing', 'round.ts#if (odd.length > 0) {'],
  },
  {
    name: 'intervals widened where taps scatter',
    off: [['tell/scatter.ts', 'const scattered = !scatterIncluded && ', 'const scattered = false && ']],
    owns: ['tell/scatter.ts#function ofQuantity'],
  },
  {
    name: 'random effects',
    off: [
      [
        'agree/readings.ts',
        "import { type Reading, scatteringMean } from './random-effects.ts';",
        "import { type Reading, weightedMean } from './random-effects.ts';\nconst scatteringMean = (r: readonly Reading[]) => weightedMean(r, 0);",
      ],
    ],
    owns: ['agree/random-effects.ts#export function scatteringMean'],
  },
  {
    name: 'hum, all of it',
    off: [['prepare/hearing.ts', 'const found = findHum(', 'const found = undefined && findHum(']],
    owns: ['prepare/hum.ts', 'prepare/hearing.ts#function humLines'],
  },
  {
    name: 'hum lines kept as columns',
    off: [['prepare/hearing.ts', 'if (heard.length === 0) return { hum: []', 'if (true) return { hum: []']],
    owns: ['prepare/hearing.ts#function humLines'],
  },
  {
    name: 'noise as a low quantile',
    off: [
      ['prepare/noise.ts', 'smooth: withoutLines(power, degrees, one.sampleRateHz, filter)', 'smooth: power'],
      [
        'prepare/noise.ts',
        'return Math.sqrt(perBin * (power.length - 1));',
        'return Math.sqrt(white.reduce((a, b) => a + b, 0) / white.length * (power.length - 1));',
      ],
    ],
    owns: ['prepare/noise.ts#function withoutLines', 'prepare/noise.ts#function levelOver'],
  },
  {
    name: 'weak modes looked for anew',
    off: [['agree/joint-fit.ts', 'plainModes(search, chooseModes(search, ', '(chooseModes(search, ']],
    owns: ['search/order.ts#export function plainModes'],
  },
  {
    name: 'modes added from what is left',
    off: [['search/order.ts', 'const THOROUGH: Effort = { rounds: 8,', 'const THOROUGH: Effort = { rounds: 0,']],
    owns: ['search/standing.ts#export function standing', 'search/standing.ts#function levelAround'],
  },
  {
    name: 'bar raised where more than noise is left',
    off: [['search/standing.ts', 'needed.overAnswer * (around(k) - 1)', '0 * (around(k) - 1)']],
    owns: ['search/standing.ts#function levelAround'],
  },
  {
    name: 'shadow of a louder mode in the search',
    off: [['search/order.ts', 'const SHADOW = 2e-3;', 'const SHADOW = 0;']],
    owns: ['search/order.ts#function shadows'],
  },
  {
    name: 'couples made one in the search',
    off: [['search/order.ts', 'const ONE_MODE = 0.35;', 'const ONE_MODE = 0;']],
    owns: ['search/order.ts#export function withoutCouples'],
  },
  {
    name: 'earliest start',
    off: [['search/start.ts', 'for (const offsetS of OFFSETS_S)', 'for (const offsetS of [] as number[])']],
    owns: ['search/start.ts#export function earliestFit', 'search/start.ts#function agrees'],
  },
  {
    name: 'heard in a third of the taps',
    off: [['tell/report.ts', 'inBand && heard[mode]! && rings', 'inBand && rings']],
    owns: ['tell/report.ts#function heardEnough'],
  },
  {
    name: 'faint modes and shadows in the report',
    off: [
      ['tell/report.ts', '(ringing(one) > faint || overSkirts(one, candidates))', 'true'],
      ['tell/report.ts', '!plausible.some((other) => shadows(other, one))', 'true'],
    ],
    owns: ['tell/report.ts#function overSkirts', 'tell/report.ts#function shadows'],
  },
  {
    name: 'couples told as one entry',
    off: [['tell/report.ts', 'last === undefined || tellsApart(last, one, trusted)', 'true']],
    owns: [
      'tell/report.ts#function believed',
      'tell/report.ts#function joinedCouple',
      'tell/report.ts#function centreSigmas',
      'tell/report.ts#const tellsApart',
    ],
  },
  {
    name: 'recorder looked at',
    off: [['round.ts', 'const recorder = recorderFault(', 'const recorder = ((_: unknown) => undefined)(']],
    owns: ['prepare/recorder.ts'],
  },
  {
    name: 'sums expanded about a pole (speed)',
    off: [['search/tap-transform.ts', 'const REACH = 0.05;', 'const REACH = 0;']],
    owns: ['search/tap-transform.ts#function transformAt', 'search/tap-transform.ts#function expansionAt'],
  },
];

/** Rounds of one kind, and how what is told of them is scored. */
interface Sounds {
  readonly name: string;
  readonly rounds: () => Generator<Sound>;
}
interface Sound {
  readonly holds: Parameters<Fit>[0];
  readonly score: (told: Told) => RoundScore;
}

/** Everything that rings of a plate of six modes, none left out. */
const SIX = { modes: SIX_MODES, denseFromHz: 1250, askedDownToDb: -100 };
const FIRST_SEED = 790_000_000;
/** Frequencies of a piece whose taps do not ring alike scatter so much from tap to tap, and from hold to hold. */
const FROM_TAP_TO_TAP = 0.002;
const FROM_HOLD_TO_HOLD = 0.001;
const ODD_TAP = 0.02;
/** Held badly: every mode shifts by itself so much from tap to tap. */
const HELD_BADLY = 0.005;

const singles = ({ modes }: Told) => modes.filter(({ resolution }) => resolution === 'single');

const together = (shift: number): readonly number[] => SIX_MODES.map(() => shift);

/** Six modes at 40 dB, the modes of every tap shifted as it is held. */
function* shifted(
  rounds: number,
  holds: number,
  taps: number,
  shiftsOf: (random: Random) => () => readonly number[],
): Generator<Sound> {
  for (let i = 0; i < rounds; i++) {
    const random = seeded(FIRST_SEED + 900_000 + 100 * holds + i);
    const shift = shiftsOf(random);
    const made = Array.from({ length: holds }, () =>
      Array.from({ length: taps }, () => {
        return trueTap(SIX_MODES, 40, random, { spreadDb: 4, shifts: shift() }).tap;
      }),
    );
    yield { holds: made, score: (told) => scoreOf(SIX, singles(told)) };
  }
}

function* furnished(perCell: number): Generator<Sound> {
  for (const [c, cell] of CELLS.entries())
    for (let i = 0; i < perCell; i++) {
      const round = furnishedRound(cell, FIRST_SEED + 1000 * c + i, 1 + ((c + i) % 3));
      yield { holds: [round.taps], score: (told) => scoreOf(round, singles(told)) };
    }
}

/** Rounds of random-plates.ts, by its own verdict. */
function* plates(around: string, rounds: number): Generator<Sound> {
  const surroundings = SURROUNDINGS.find(({ name }) => name.startsWith(around))!;
  for (let i = 0; i < rounds; i++) {
    const round = randomRound(surroundings, 90_000 + i);
    yield {
      holds: [round.taps.map(({ tap }) => tap)],
      score: ({ modes }) => {
        const { fates, spurious } = verdictOn(round, modes);
        const tellable = fates.filter((fate) => fate.tellable);
        const found = tellable.filter(({ told }) => told !== undefined);
        return {
          truths: tellable.length,
          found: found.length,
          spurious: spurious.length,
          heldF: found.filter(({ frequencyHeld }) => frequencyHeld).length,
          heldQ: found.filter(({ qHeld }) => qHeld).length,
          errorsF: [],
          errorsLnQ: [],
        };
      },
    };
  }
}

/** Cells of the table of modes. */
function* cases(name: string, snrsDb: readonly number[], rounds: number): Generator<Sound> {
  const one = CASES.find((other) => other.name === name)!;
  for (const snrDb of snrsDb) {
    const trial = trialsOf(one, snrDb);
    for (let i = 0; i < rounds; i++)
      yield {
        holds: trial(800_000 + i).taps.map((hold) => hold.map(({ tap }) => tap)),
        score: (told) => scoreOf({ ...SIX, modes: one.modes }, singles(told)),
      };
  }
}

/** @param size 1 for the table of the docs, less for a trial */
const soundsOf = (size: number): readonly Sounds[] => {
  const count = (rounds: number): number => Math.max(1, Math.round(size * rounds));
  return [
    { name: 'rooms', rounds: () => furnished(count(1)) },
    { name: 'plates, living room', rounds: () => plates('living room', count(30)) },
    { name: 'plates, hum', rounds: () => plates('room noise and hum', count(30)) },
    { name: 'six modes, 20 and 40 dB', rounds: () => cases('six-mode top', [20, 40], count(20)) },
    { name: 'six in hum, 20 and 40 dB', rounds: () => cases('six, 50.03 Hz hum', [20, 40], count(20)) },
    { name: 'pair 5 Hz apart, 20 and 30 dB', rounds: () => cases('pair 200 + 205 Hz, Q 50', [20, 30], count(20)) },
    {
      name: 'taps held differently',
      rounds: () => shifted(count(12), 1, 5, (random) => () => together(FROM_TAP_TO_TAP * normal(random))),
    },
    {
      name: 'taps held badly',
      rounds: () => shifted(count(12), 1, 5, (random) => () => SIX_MODES.map(() => HELD_BADLY * normal(random))),
    },
    {
      name: 'three holds',
      rounds: () =>
        shifted(count(8), 3, 3, (random) => {
          let [tap, ofHold] = [0, 0];
          return () => {
            if (tap++ % 3 === 0) ofHold = FROM_HOLD_TO_HOLD * normal(random);
            return together(ofHold + (FROM_HOLD_TO_HOLD / 4) * normal(random));
          };
        }),
    },
    {
      name: 'one odd tap',
      rounds: () =>
        shifted(count(8), 1, 6, () => {
          let tap = 0;
          return () => together(tap++ === 2 ? ODD_TAP : 0);
        }),
    },
    {
      name: 'half-tops, ring over ring',
      rounds: function* () {
        for (const { truth, taps } of heardHalfTops(count(1), FIRST_SEED))
          yield { holds: [taps], score: (told) => scoreOf(truth, singles(told)) };
      },
    },
  ];
};

/** What one program did with some sounds. */
interface Tally {
  readonly scores: RoundScore[];
  readonly told: string[];
  ms: number;
}

const fingerprint = ({ modes }: Told): string =>
  modes
    .map(({ frequencyHz, q }) => [frequencyHz.value, frequencyHz.sigma, q.value, q.sigma].map((x) => x.toPrecision(5)))
    .join(' ');

/**
 * Prints what each stage does to each kind of sounds, Markdown: found %, spurious a round; intervals that hold f and Q, %; rounds of
 * which something else is told. Then the errors.
 * @param only,kind parts of the name of a stage and of a kind of sounds, to run a few
 */
export async function ablationFigures(size = 1, only = '', kind = ''): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'ablation-'));
  try {
    const stages = STAGES.filter(({ name }) => name.includes(only));
    const whole = await program(folder, { name: 'all stages', off: [], owns: [] }, 0);
    const fits: Fit[] = [whole];
    for (const [i, stage] of stages.entries()) fits.push(await program(folder, stage, i + 1));
    const kinds = soundsOf(size).filter(({ name }) => name.includes(kind));
    const tallies = kinds.map(({ name, rounds }) => {
      const ofFits = fits.map((): Tally => ({ scores: [], told: [], ms: 0 }));
      for (const { holds, score } of rounds())
        fits.forEach((fit, i) => {
          const { result, ms } = timed(() => fit(holds));
          const tally = ofFits[i]!;
          tally.ms += ms;
          tally.scores.push(score(result));
          tally.told.push(fingerprint(result));
        });
      console.error(`${name}: ${ofFits.map(cell).join(' | ')}`);
      return ofFits;
    });
    console.log(`| stage off | lines | time | ${kinds.map(({ name }) => name).join(' | ')} |`);
    console.log(`| --- | --- | --- |${' --- |'.repeat(kinds.length)}`);
    const total = (i: number): number => tallies.reduce((sum, ofFits) => sum + ofFits[i]!.ms, 0);
    fits.forEach((_, i) => {
      const stage = stages[i - 1];
      const cells = tallies.map((ofFits) =>
        i > 0 && changed(ofFits[i]!, ofFits[0]!) === 0
          ? '='
          : `${cell(ofFits[i]!)}${i > 0 ? `; ${changed(ofFits[i]!, ofFits[0]!)}` : ''}`,
      );
      const lines = stage === undefined ? '' : stage.owns.reduce((sum, own) => sum + linesOf(own), 0);
      console.log(`| ${[stage?.name ?? 'none', lines, (total(i) / total(0)).toFixed(2), ...cells].join(' | ')} |`);
    });
    console.log(`\n| errors f, ln Q: stage off | ${kinds.map(({ name }) => name).join(' | ')} |`);
    console.log(`| --- |${' --- |'.repeat(kinds.length)}`);
    fits.forEach((_, i) => {
      const cells = tallies.map((ofFits) => errors(ofFits[i]!.scores));
      console.log(`| ${[stages[i - 1]?.name ?? 'none', ...cells].join(' | ')} |`);
    });
    console.log(`Rounds: ${tallies.map(([first], k) => `${kinds[k]!.name} ${first!.told.length}`).join(', ')}.`);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Found %, spurious a round; intervals that hold f and Q, %. */
const cell = ({ scores }: Tally): string => `${foundAndSpurious(scores)}; ${holds(scores)}`;

/** Rounds of which something else was told. */
const changed = (one: Tally, other: Tally): number => one.told.filter((told, i) => told !== other.told[i]).length;

const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** The estimator of a copy of src with a stage off. */
async function program(folder: string, { name, off }: Stage, number: number): Promise<Fit> {
  const copy = join(folder, String(number));
  for (const part of ['signal', 'quantity', 'algebra'])
    cpSync(join(ROOT, 'src', part), join(copy, 'src', part), { recursive: true });
  cpSync(join(ROOT, 'package.json'), join(copy, 'package.json'));
  symlinkSync(join(ROOT, 'node_modules'), join(copy, 'node_modules'));
  for (const [file, text, other] of off) {
    const path = join(copy, 'src/signal', file);
    const source = readFileSync(path, 'utf8');
    if (source.split(text).length !== 2) throw new Error(`${name}: "${text}" is not once in ${file}`);
    writeFileSync(
      path,
      source.replace(text, () => other),
    );
  }
  const loaded = (await import(pathToFileURL(join(copy, 'src/signal/round.ts')).href)) as { fitRound: Fit };
  return loaded.fitRound;
}

/** Lines of code, comments and blank ones left out. */
function linesOf(own: string): number {
  const [file, text] = own.split('#') as [string, string?];
  const lines = readFileSync(join(ROOT, 'src/signal', file), 'utf8').split('\n');
  const from = text === undefined ? 0 : lines.findIndex((line) => line.trimStart().startsWith(text));
  if (from < 0) throw new Error(`"${text}" begins no line of ${file}`);
  const indent = /^ */.exec(lines[from]!)![0];
  const isEnd = (line: string): boolean => (text?.startsWith('const ') ? line.endsWith(';') : line === `${indent}}`);
  const length = text === undefined ? lines.length : lines.slice(from).findIndex(isEnd) + 1;
  return lines.slice(from, from + length).filter((line) => !/^\s*($|\/\/|\/?\*)/.test(line)).length;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [size = '1', only, kind] = process.argv.slice(2);
  await ablationFigures(Number(size), only, kind);
}
