// Struck half-tops of spruce: the measured frequencies and Q of three real plates, sounds made from them as an accelerometer on
// the plate would hear them, each hit in the ring of the one before. Nothing of the demo's generator, no room.
import { fileURLToPath } from 'node:url';
import { splitTaps } from '../../src/signal/hear/listener.ts';
import { fitRound } from '../../src/signal/round.ts';
import type { Tap } from '../../src/signal/tap.ts';
import reference from '../reference/wood-half-tops.json' with { type: 'json' };
import { diagrams, STRICT, USUAL } from './diagram.ts';
import { type FurnishedMode, lowPassOf, type RoundScore, scoreOf, type Told, type Truth } from './furnished-rounds.ts';
import { pythonWithScipy } from './scipy.ts';
import { asked, errors, foundAndSpurious, holds, timed } from './side-by-side.ts';
import { normal, type Random, ring, seeded } from './tap-signals.ts';

const RATE_HZ = 48_000;
const HITS = 5;
const GAP_S = 2;
/** A recording of one hit begins so long before it. */
const BEFORE_S = 0.005;
const PADDING_S = 0.5;
const FAINTEST_DB = -30;
/** Levels of a mode scatter so much from hit to hit, one standard deviation. */
const SCATTER_DB = 3;
const CONTACT_S = [0.0005, 0.002] as const;
/** Power of the loudest mode over the noise in 0 to 1500 Hz. */
const SNR_DB = [60, 80] as const;
/** The contact itself over the loudest mode. */
const CONTACT_OVER_MODE = 2;
/** Modes above the last one that was measured, and where they begin over it. */
const FIELD = 40;
const FIELD_FROM = 1.1;
const FIELD_TO_HZ = 2500;
/** Faint ones fall under the loudest by their level, their scatter and the contact: all of them are asked for. */
const ASKED_DOWN_TO_DB = -100;
const DIAGRAM_DOWN_TO_DB = -40;

/** How the hits come into one recording. */
const MANNERS = [
  'one take, ring over ring',
  'joined end to end, no lead-in',
  'joined, digital silence before the first',
  'digital silence before every hit',
  'the first hit alone, digital silence before',
] as const;
type Manner = (typeof MANNERS)[number];

/** One recording and its truth. */
interface StruckRound extends Truth {
  readonly sound: Float32Array;
}

/** A recording of a plate, of this seed. */
function struckRound(plate: Plate, manner: Manner, seed: number): StruckRound {
  const random = seeded(seed);
  const between = (low: number, high: number): number => low + (high - low) * random();
  const last = plate.peaks.at(-1)!.remeasuredHz;
  const measured = plate.peaks.map(({ remeasuredHz, q }) => ({
    frequencyHz: remeasuredHz,
    q,
    levelDb: FAINTEST_DB * random(),
  }));
  const field = Array.from({ length: FIELD }, () => ({
    frequencyHz: FIELD_FROM * last * (FIELD_TO_HZ / (FIELD_FROM * last)) ** random(),
    q: between(30, 90),
    levelDb: between(-20, -8),
  }));
  const hits = manner === MANNERS[4] ? 1 : HITS;
  const piece = [...measured, ...field];
  const onTop = manner === MANNERS[0];
  const starts: number[] = [];
  const lead = Math.round((onTop ? 1 : PADDING_S) * RATE_HZ);
  const silent = Math.round(PADDING_S * RATE_HZ);
  let length = manner === MANNERS[1] ? 0 : lead;
  for (let k = 0; k < hits; k++) {
    if (k > 0 && manner === MANNERS[3]) length += silent;
    starts.push(length);
    length += Math.round(GAP_S * RATE_HZ);
  }
  const perSample = Math.sqrt((0.5 * RATE_HZ) / 10 ** (between(...SNR_DB) / 10) / 3000);
  const sound = new Float64Array(length);
  const noiseFrom = (from: number, to: number): void => {
    for (let n = from; n < to; n++) sound[n]! += perSample * normal(random);
  };
  if (onTop) noiseFrom(0, lead);
  const powers = measured.map(() => 0);
  starts.forEach((start) => {
    const own = onTop ? sound : new Float64Array(Math.round(GAP_S * RATE_HZ));
    const onset = (onTop ? start : 0) + Math.round(BEFORE_S * RATE_HZ);
    const contactS = between(...CONTACT_S);
    strike(own, onset, contactS, random);
    piece.forEach((mode, m) => {
      const sign = random() < 0.5 ? -1 : 1;
      const amplitude =
        sign * 10 ** ((mode.levelDb + SCATTER_DB * normal(random)) / 20) * lowPassOf(contactS, mode.frequencyHz);
      ring(own, onset + Math.round((contactS / 2) * RATE_HZ), RATE_HZ, mode, amplitude, -Math.PI / 2);
      if (m < measured.length) powers[m]! += amplitude ** 2;
    });
    if (!onTop) sound.set(own, start);
    noiseFrom(start, start + Math.round(GAP_S * RATE_HZ));
  });
  const loudest = Math.max(...powers);
  const peak = sound.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  const modes: FurnishedMode[] = measured.map(({ frequencyHz, q }, m) => ({
    frequencyHz,
    q,
    levelDb: 10 * Math.log10(powers[m]! / loudest),
  }));
  return {
    modes,
    sound: Float32Array.from(sound, (x) => (0.7 * x) / peak),
    denseFromHz: FIELD_FROM * last,
    askedDownToDb: ASKED_DOWN_TO_DB,
  };
}

/** The taps that the listener keeps of a recording. */
const tapsOf = ({ sound }: StruckRound): readonly Tap[] =>
  splitTaps(sound, RATE_HZ).flatMap((verdict) => (verdict.kind === 'accepted' ? [verdict.tap] : []));

/** Rounds of each plate in one take, ring over ring. */
export function heardHalfTops(
  rounds: number,
  firstSeed: number,
): { readonly truth: Truth; readonly taps: readonly Tap[] }[] {
  return Object.values(reference.plates).flatMap((plate, p) =>
    Array.from({ length: rounds }, (_, i) => {
      const truth = struckRound(plate, MANNERS[0], firstSeed + 1000 * p + i);
      return { truth, taps: tapsOf(truth) };
    }),
  );
}

type Plate = (typeof reference.plates)['1R'];

/** The contact as the plate is pushed: a half-sine, a little rough. */
function strike(x: Float64Array, onset: number, contactS: number, random: Random): void {
  const length = Math.round(contactS * RATE_HZ);
  for (let n = 0; n < length; n++)
    x[onset + n]! += CONTACT_OVER_MODE * Math.sin((Math.PI * n) / length) * (1 + 0.1 * normal(random));
}

/** How many of the two lowest modes nothing was told within half a bandwidth of. */
const lowestLost = ({ modes }: Truth, told: readonly Told[]): number =>
  modes
    .slice(0, 2)
    .filter(({ frequencyHz, q }) =>
      told.every((one) => Math.abs(one.frequencyHz.value - frequencyHz) > (0.5 * frequencyHz) / q),
    ).length;

const HEAD = [
  'recording',
  'method',
  'taps kept',
  'modes',
  'found %, beside a round',
  'lowest two lost',
  'errors f, ln Q',
  'holds f, Q %',
];

/**
 * Prints the table, Markdown.
 * @param rounds of each plate and each way of recording
 * @param firstSeed seeds from 780 million on judge
 */
export function halfTopFigures(rounds: number, firstSeed = 780_000_000): void {
  const withDiagram = pythonWithScipy();
  if (!withDiagram) console.log('Without python3 and scipy the diagram is left out.');
  console.log(`| ${HEAD.join(' | ')} |`);
  console.log(`|${' --- |'.repeat(HEAD.length)}`);
  MANNERS.forEach((manner, kind) => {
    const made = Object.values(reference.plates).flatMap((plate, p) =>
      Array.from({ length: rounds }, (_, i) => struckRound(plate, manner, firstSeed + 10_000 * kind + 1000 * p + i)),
    );
    const taps = made.map(tapsOf);
    const kept = taps.reduce((sum, of) => sum + of.length, 0);
    const hits = made.length * (manner === MANNERS[4] ? 1 : HITS);
    const show = (method: string, told: readonly (readonly Told[])[], ms: number): void => {
      const scores: RoundScore[] = made.map((round, i) => scoreOf(round, told[i]!));
      const lost = made.reduce((sum, round, i) => sum + lowestLost(round, told[i]!), 0);
      const cells = [
        manner,
        `${method}, ${(ms / made.length).toFixed(0)} ms`,
        `${kept} of ${hits}`,
        asked(scores),
        foundAndSpurious(scores),
        lost,
        errors(scores),
        holds(scores),
      ];
      console.log(`| ${cells.join(' | ')} |`);
    };
    const fits = timed(() =>
      taps.map((of) => fitRound([of]).modes.filter(({ resolution }) => resolution === 'single')),
    );
    show('joint fit', fits.result, fits.ms);
    if (!withDiagram) return;
    const reads = diagrams(taps, DIAGRAM_DOWN_TO_DB);
    const ms = reads.reduce((sum, read) => sum + read.ms, 0);
    for (const [name, stable] of [
      ['diagram', USUAL],
      ['strict diagram', STRICT],
    ] as const)
      show(
        name,
        reads.map((read) => read.told(stable)),
        ms,
      );
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [rounds = '4', firstSeed] = process.argv.slice(2);
  halfTopFigures(Number(rounds), firstSeed === undefined ? undefined : Number(firstSeed));
}
