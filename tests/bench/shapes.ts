// Shapes from taps, by lot: a drawing, a piece that is not quite the drawing, two taps at each spot of a spread grid, of unknown
// strength, contact and time, the finger beside the spot. Truth is the whole shape of the piece's own solution.
import { fileURLToPath } from 'node:url';
import { type Random, randomFrom } from '../../src/demo/random.ts';
import { type Parameter, withFactors } from '../../src/forecast/properties.ts';
import { assurance, deflection, sampled } from '../../src/plate/mode-shape.ts';
import type { Point } from '../../src/plate/outline.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import type { PlateMode } from '../../src/plate/plate-modes.ts';
import { measuredShapes, type RovingTaps, type ShapeBasis } from '../../src/shapes/measured-shapes.ts';
import { namesByShape } from '../../src/shapes/names-by-shape.ts';
import { plateBasis, wholeShape } from '../../src/shapes/plate-basis.ts';
import { spotGrid } from '../../src/shapes/spot-grid.ts';
import { type Drawing, drawing, partners, piece, pushAt, solved, type Truth } from './pairing.ts';

const MEASURED = 6;
const BASIS = 14;
const FINGER_MM = 5;
/** 30 dB below the mean size of a mode over the taps. */
const NOISE = 10 ** (-30 / 20);
const CLEAR = 0.6;

const PARAMETERS: readonly Parameter[] = [
  { property: 'plate eL', relativeSigma: 0.1 },
  { property: 'plate eR', relativeSigma: 0.15 },
  { property: 'plate gLR', relativeSigma: 0.15 },
  { property: 'brace eL', relativeSigma: 0.13 },
  { property: 'rim stiffness', relativeSigma: 0.4 },
];

function variantsOf(plate: PlateCase): readonly PlateCase[] {
  const held = PARAMETERS.filter(({ property }) => property !== 'rim stiffness' || typeof plate.edge === 'object');
  const woods = held.map((parameter) => withFactors(plate, [parameter], [1 + parameter.relativeSigma]));
  const heights = plate.braces!.map((brace) => ({
    ...plate,
    braces: plate.braces!.map((each) =>
      each === brace ? { ...each, heightMm: each.heightMm.map(([s, h]) => [s, 1.04 * h] as const) } : each,
    ),
  }));
  return [...woods, ...heights, { ...plate, thicknessMm: 1.03 * plate.thicknessMm }];
}

function roving(
  random: Random,
  { prepared }: Drawing,
  shapes: readonly Float64Array[],
  frequenciesHz: readonly number[],
  spots: readonly Point[],
): RovingTaps {
  const phases = shapes.map(() => random.between(-Math.PI, Math.PI));
  const radiates = shapes.map(() => 10 ** (0.3 * random.normal()));
  const spotOf = spots.flatMap((_, s) => [s, s]);
  const sizes = spotOf.map((s) => {
    const [x, y] = spots[s]!;
    const landed: Point = [
      x + (FINGER_MM / Math.SQRT2) * random.normal(),
      y + (FINGER_MM / Math.SQRT2) * random.normal(),
    ];
    const strength = Math.exp(0.3 * random.normal());
    const lastsS = random.between(0.0015, 0.004);
    return shapes.map((shape, k) => {
      const w = sampled(prepared.mesh, shape, [landed])[0] ?? sampled(prepared.mesh, shape, [[x, y]])[0] ?? 0;
      return w * strength * pushAt(frequenciesHz[k]!, lastsS) * radiates[k]!;
    });
  });
  const noise = shapes.map(
    (_, k) => NOISE * Math.sqrt(sizes.reduce((sum, tap) => sum + tap[k]! ** 2, 0) / sizes.length),
  );
  const taps = sizes.map((tap) => {
    const lateS = random.between(-0.0004, 0.0004);
    const variances = noise.flatMap((each) => [each ** 2 / 2, each ** 2 / 2]);
    return {
      waves: tap.map((size, k) => {
        const phase = phases[k]! - 2 * Math.PI * frequenciesHz[k]! * lateS;
        const beside = () => (noise[k]! / Math.SQRT2) * random.normal();
        return { cosine: size * Math.cos(phase) + beside(), sine: -size * Math.sin(phase) + beside() };
      }),
      covariance: variances.map((variance, a) => variances.map((_, b) => (a === b ? variance : 0))),
    };
  });
  return { taps, spotOf, spots: spots.length, frequenciesHz };
}

interface Tally {
  modes: number;
  drawn: number;
  measured: number;
  atSpots: number[];
  signs: number;
  signsRight: number;
  clear: number;
  named: number;
  taps: number;
  odd: number;
}

interface Sheet {
  readonly computed: readonly PlateMode[];
  readonly spots: readonly Point[];
  readonly basis: ShapeBasis;
}

function sheetOf({ prepared, plate }: Drawing, spotCount: number): Sheet {
  const computed = solved(prepared, plate, BASIS);
  const spots = spotGrid(plate, spotCount);
  return { computed, spots, basis: plateBasis(prepared, computed, variantsOf(plate), spots, []) };
}

function tryOne(random: Random, drawn: Drawing, { computed, spots, basis }: Sheet, truth: Truth, tally: Tally): void {
  const { prepared } = drawn;
  const computedShapes = computed.map((mode) => deflection(prepared, mode));
  const own = solved(prepared, piece(random, drawn, truth), MEASURED);
  const shapes = own.map((mode) => deflection(prepared, mode));
  const frequenciesHz = own.map(({ frequencyHz }) => frequencyHz);
  const round = roving(random, drawn, shapes, frequenciesHz, spots);
  const plain = measuredShapes(round);
  const atSpots = plain.shapes.map((shape) => shape.atSpots.map((each) => each!.value));
  const names = namesByShape(
    atSpots.map((each, k) => ({ frequencyHz: frequenciesHz[k]!, atSpots: each })),
    computed.map(({ frequencyHz }, j) => ({
      frequencyHz,
      atSpots: sampled(prepared.mesh, computedShapes[j]!, spots).map((w) => w!),
    })),
  );
  const computedOf = names.map((name, k) => name ?? k);
  const found = measuredShapes(round, { ...basis, computedOf });
  tally.taps += round.taps.length;
  tally.odd += found.oddTaps.length;
  const is = partners(shapes, computedShapes);
  shapes.forEach((shape, k) => {
    const whole = wholeShape(
      prepared,
      computed,
      found.shapes[k]!.shares!.map(({ value }) => value),
    );
    const there = sampled(prepared.mesh, shape, spots).map((w) => w!);
    tally.modes++;
    if (assurance(shape, computedShapes[is[k]!.computed]!) > 0.95) tally.drawn++;
    if (assurance(shape, whole) > 0.95) tally.measured++;
    tally.atSpots.push(assurance(there, atSpots[k]!));
    const overall = Math.sign(there.reduce((sum, w, s) => sum + w * atSpots[k]![s]!, 0));
    there.forEach((w, s) => {
      if (Math.abs(w) < 0.1) return;
      tally.signs++;
      if (Math.sign(atSpots[k]![s]!) * overall === Math.sign(w)) tally.signsRight++;
    });
    if (is[k]!.likeness < CLEAR) return;
    tally.clear++;
    if (names[k] === is[k]!.computed) tally.named++;
  });
}

const percent = (part: number, whole: number): string => ((100 * part) / whole).toFixed(1);

/**
 * Prints the table, Markdown.
 * @param count pieces of each drawing and kind of truth
 * @param seed  from 930 million on judges, on tops of its own; from 920 million on is for choosing by
 */
export function shapeFigures(count: number, seed = 930_000_000, held: readonly boolean[] = [true, false]): void {
  const tops = seed >= 930_000_000 ? (['large', 'small parlour'] as const) : (['concert'] as const);
  console.log(
    '| piece | spots | modes | drawing alone > 0.95 | with taps > 0.95 | median at spots, no drawing | signs | names | odd taps |',
  );
  console.log(`|${' --- |'.repeat(9)}`);
  for (const isHeld of held)
    for (const [t, truth] of (['other woods', 'a loose end'] as const).entries())
      for (const spots of [9, 12, 16]) {
        const tally: Tally = {
          modes: 0,
          drawn: 0,
          measured: 0,
          atSpots: [],
          signs: 0,
          signsRight: 0,
          clear: 0,
          named: 0,
          taps: 0,
          odd: 0,
        };
        tops.forEach((body, d) => {
          const drawn = drawing(body, 'x', isHeld);
          const sheet = sheetOf(drawn, spots);
          for (let i = 0; i < count; i++)
            tryOne(
              randomFrom(seed + 100_000 * t + 10_000 * d + i + (isHeld ? 0 : 1_000_000)),
              drawn,
              sheet,
              truth,
              tally,
            );
        });
        const median = tally.atSpots.toSorted((a, b) => a - b)[tally.atSpots.length >> 1]!;
        console.log(
          `| ${isHeld ? 'held' : 'free'}, ${truth} | ${spots} | ${tally.modes} | ${percent(tally.drawn, tally.modes)} % | ${percent(tally.measured, tally.modes)} % | ${median.toFixed(3)} | ${percent(tally.signsRight, tally.signs)} % | ${percent(tally.named, tally.clear)} % | ${percent(tally.odd, tally.taps)} % |`,
        );
      }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [count = '8', seed, held] = process.argv.slice(2);
  shapeFigures(Number(count), seed === undefined ? undefined : Number(seed), held === 'held' ? [true] : undefined);
}
