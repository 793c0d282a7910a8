// Shapes from the sound of taps, by lot: as tests/bench/shapes.ts, but everything is read from sound. The modes are those that
// an ordinary round of three holds tells; the taps of the spots are heard by one microphone, in white noise.
import { fileURLToPath } from 'node:url';
import { randomFrom } from '../../src/demo/random.ts';
import { tapShapes } from '../../src/forecast/tap-shapes.ts';
import { assurance, deflection, sampled } from '../../src/plate/mode-shape.ts';
import { preparePlate } from '../../src/plate/plate-modes.ts';
import { spotGrid } from '../../src/shapes/spot-grid.ts';
import { fitRound } from '../../src/signal/round.ts';
import { landed, recorded, ringingPiece, struck } from '../shapes/roving-sound.ts';
import { drawing, partners, piece, solved, type Truth } from './pairing.ts';

/** The finest thing that the figures are about: higher modes sound too, and are not judged. */
const JUDGED = 6;
const SOUNDING = 8;
const SIZE_MM = 36;
const NOISE_DB = 30;
const HOLDS = 3;
const TAPS = 3;
/** A mode of the round is the one of the piece that lies so near, share. */
const SAME = 0.005;
const CLEAR = 0.6;

interface Tally {
  modes: number;
  heard: number;
  told: number;
  good: number;
  drawn: number;
  atSpots: number[];
  signs: number;
  signsRight: number;
  offered: number;
  offeredRight: number;
}

function tryOne(
  seed: number,
  body: 'large' | 'small parlour' | 'concert',
  truth: Truth,
  spotCount: number,
  tally: Tally,
) {
  const random = randomFrom(seed);
  const drawn = drawing(body, 'x', true);
  const { prepared, plate } = drawn;
  const own = solved(prepared, piece(random, drawn, truth), SOUNDING);
  const shapes = own.map((mode) => deflection(prepared, mode));
  const rings = ringingPiece(
    random,
    own.map(({ frequencyHz }) => frequencyHz),
  );
  const at = spotGrid(plate, spotCount);
  const lively = landed(random, prepared, shapes, at[2]!).map((w) => (w < 0 ? -1 : 1) * (0.3 + 0.7 * Math.abs(w)));
  const ordinary = recorded(
    random,
    Array.from({ length: HOLDS * TAPS }, () => struck(random, rings, lively)),
    NOISE_DB,
  );
  const { modes } = fitRound(Array.from({ length: HOLDS }, (_, h) => ordinary.slice(TAPS * h, TAPS * (h + 1))));
  const spotOf = at.flatMap((_, s) => [s, s]);
  const taps = recorded(
    random,
    spotOf.map((s) => struck(random, rings, landed(random, prepared, shapes, at[s]!))),
    NOISE_DB,
  );
  const answer = tapShapes(
    {
      taps,
      spotOf,
      spots: at.length,
      modes: modes.map(({ frequencyHz, q }) => ({ frequencyHz, q: q.value })),
      drawing: { plate, parameters: [], at },
    },
    undefined,
    (given) => preparePlate(given, SIZE_MM),
  );
  if (answer.kind !== 'shapes') return;
  const is = partners(shapes, drawn.shapes);
  own.slice(0, JUDGED).forEach(({ frequencyHz }, k) => {
    tally.modes++;
    const m = answer.shapes.findIndex((shape) => Math.abs(shape.frequencyHz.value / frequencyHz - 1) < SAME);
    const shape = answer.shapes[m];
    if (shape === undefined) return;
    tally.heard++;
    const there = sampled(prepared.mesh, shapes[k]!, at).map((w) => w!);
    const plain = shape.atSpots.map((each) => each!.value);
    tally.atSpots.push(assurance(there, plain));
    const overall = Math.sign(there.reduce((sum, w, s) => sum + w * plain[s]!, 0));
    there.forEach((w, s) => {
      if (Math.abs(w) < 0.1) return;
      tally.signs++;
      if (Math.sign(plain[s]!) * overall === Math.sign(w)) tally.signsRight++;
    });
    if (shape.whole === undefined) return;
    tally.told++;
    const whole = shape.whole.atSpots.map((w) => w!);
    if (assurance(there, whole) > 0.95) tally.good++;
    const asDrawn = sampled(prepared.mesh, drawn.shapes[is[k]!.computed]!, at).map((w) => w!);
    if (assurance(there, asDrawn) > 0.95) tally.drawn++;
    if (answer.likeness[m]![shape.whole.computed]! < CLEAR || is[k]!.likeness < CLEAR) return;
    tally.offered++;
    if (shape.whole.computed === is[k]!.computed) tally.offeredRight++;
  });
}

const share = (part: number, of: number): string => (of === 0 ? '–' : `${((100 * part) / of).toFixed(0)} % of ${of}`);

/** Prints the table, Markdown. @param seed from 931 million on judges; else from 920 million, on another top */
export function shapeSoundFigures(count: number, seed = 931_000_000): void {
  const tops = seed >= 930_000_000 ? (['large', 'small parlour'] as const) : (['concert'] as const);
  console.log(
    '| piece | spots | modes | heard in the ordinary round | told over the plate | of them > 0.95 at the spots | the drawing alone | median from taps alone | signs, taps alone | names offered right |',
  );
  console.log(`|${' --- |'.repeat(10)}`);
  for (const [t, truth] of (['other woods', 'a loose end'] as const).entries())
    for (const spots of [9, 16]) {
      const tally: Tally = {
        ...{ modes: 0, heard: 0, told: 0, good: 0, drawn: 0, signs: 0, signsRight: 0, offered: 0, offeredRight: 0 },
        atSpots: [],
      };
      tops.forEach((body, d) => {
        for (let i = 0; i < count; i++) tryOne(seed + 100_000 * t + 10_000 * d + i, body, truth, spots, tally);
      });
      const median = tally.atSpots.toSorted((a, b) => a - b)[tally.atSpots.length >> 1] ?? Number.NaN;
      console.log(
        `| held, ${truth} | ${spots} | ${tally.modes} | ${share(tally.heard, tally.modes)} | ${share(tally.told, tally.heard)} | ${share(tally.good, tally.told)} | ${share(tally.drawn, tally.told)} | ${median.toFixed(2)} | ${share(tally.signsRight, tally.signs)} | ${share(tally.offeredRight, tally.offered)} |`,
      );
    }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [count = '3', seed] = process.argv.slice(2);
  shapeSoundFigures(Number(count), seed === undefined ? undefined : Number(seed));
}
