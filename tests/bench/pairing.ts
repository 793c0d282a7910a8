// Which tapped mode is which computed one, by lot: a drawing, a piece that is not quite the drawing, and taps at one to seven of
// the named spots, where the finger lands beside the spot and no two taps are alike. Truth is the likeness of the whole shapes,
// which the pairing does not see.
import { fileURLToPath } from 'node:url';
import { type Random, randomFrom } from '../../src/demo/random.ts';
import { type HeardAt, type HeardMode, pairMeasured } from '../../src/forecast/measured-match.ts';
import { tapPlaces } from '../../src/forecast/tap-places.ts';
import { namedModes } from '../../src/forecast/top-agreement.ts';
import { BODY_STATIONS } from '../../src/plate/body-outline.ts';
import { assurance, deflection, sampled } from '../../src/plate/mode-shape.ts';
import type { Point } from '../../src/plate/outline.ts';
import type { BraceCase, PlateCase, WoodConstants } from '../../src/plate/plate-case.ts';
import { checkPlate } from '../../src/plate/plate-check.ts';
import { type PlateMode, type PreparedPlate, plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { planCase } from '../../src/record/plan-case.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { type BracingPattern, patternBraces } from '../../src/record/plan-patterns.ts';

const SIZE_MM = 36;
const COMPUTED = 8;
const TAPPED = 6;
const SPOTS = [1, 3, 5, 7] as const;
/** A mode so far below the loudest of a spot is not read there, dB. */
const HEARD_DB = 32;
const TAPS = 4;

export interface Drawing {
  readonly name: string;
  readonly plate: PlateCase;
  readonly prepared: PreparedPlate;
  readonly modes: readonly PlateMode[];
  readonly shapes: readonly Float64Array[];
  readonly spots: readonly Point[];
}

export function drawing(body: keyof typeof BODY_STATIONS, pattern: BracingPattern, isHeld: boolean): Drawing {
  const start = startPlan('right', BODY_STATIONS[body]);
  const plan = { ...start, braces: [...patternBraces(pattern, start)] };
  const hold = isHeld ? 'in-mould' : 'on-foam';
  const plate = checkPlate(planCase(plan, { hold, bridge: 'taped' })).solvable;
  if (plate === undefined) throw new Error(`${body} ${pattern}: no plate`);
  const prepared = preparePlate(plate, SIZE_MM);
  const modes = solved(prepared, plate, COMPUTED);
  return {
    name: `${body} ${pattern}, ${isHeld ? 'held' : 'free'}`,
    plate,
    prepared,
    modes,
    shapes: modes.map((mode) => deflection(prepared, mode)),
    spots: [...tapPlaces(plan, 'right').values()],
  };
}

export function solved(prepared: PreparedPlate, plate: PlateCase, count: number): readonly PlateMode[] {
  const answer = plateModes(prepared, plate, { count });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  return answer.modes;
}

export type Truth = 'other woods' | 'a loose end' | 'shaved';
const TRUTHS: readonly Truth[] = ['other woods', 'a loose end', 'shaved'];

const factor = (random: Random, share: number): number => Math.exp(share * random.normal());

function otherWood(random: Random, wood: WoodConstants): WoodConstants {
  const shear = factor(random, 0.15);
  const across = factor(random, 0.15);
  return {
    ...wood,
    eL: wood.eL * factor(random, 0.1),
    eR: wood.eR * across,
    eT: wood.eT * across,
    gLR: wood.gLR * shear,
    gLT: wood.gLT * shear,
    densityKgM3: wood.densityKgM3 * factor(random, 0.05),
  };
}

/** Height that a loose end stands for, mm: it lies on the plate and carries nothing. */
const LOOSE_MM = 0.5;
const LOOSE_LENGTH_MM = 80;

function looseEnd(brace: BraceCase): BraceCase {
  const length = brace.heightMm.at(-1)![0];
  const from = Math.max(0.3 * length, length - LOOSE_LENGTH_MM);
  const kept = brace.heightMm.filter(([s]) => s < from - 1);
  const before = kept.at(-1)?.[1] ?? brace.heightMm[0]![1];
  return { ...brace, heightMm: [...kept, [from - 1, before], [from, LOOSE_MM], [length, LOOSE_MM]] };
}

/** The piece on the bench: woods and thickness by their spreads, and what else is not as drawn. */
export function piece(random: Random, { plate }: Drawing, truth: Truth): PlateCase {
  const stock = otherWood(random, plate.braces![0]!.material);
  const loose = Math.floor(random.uniform() * plate.braces!.length);
  const braces = plate.braces!.map((brace, b): BraceCase => {
    const stiffer = factor(random, 0.08);
    const lower = truth === 'shaved' ? 0.1 + 0.25 * random.uniform() : 0.02 * random.normal();
    const cut = {
      ...brace,
      material: { ...stock, eL: stock.eL * stiffer },
      heightMm: brace.heightMm.map(([s, h]) => [s, h * (1 - lower)] as const),
    };
    return truth === 'a loose end' && b === loose ? looseEnd(cut) : cut;
  });
  const { edge } = plate;
  return {
    ...plate,
    material: otherWood(random, plate.material),
    thicknessMm: plate.thicknessMm * factor(random, 0.03),
    braces,
    ...(typeof edge === 'object' && {
      edge: { ...edge, rotationalStiffnessN: (edge.rotationalStiffnessN ?? 0) * factor(random, 0.4) },
    }),
  };
}

/** Spectrum of a push that lasts so long, the first half of a sine; 1 at 0 Hz. */
export function pushAt(frequencyHz: number, lastsS: number): number {
  const x = 2 * frequencyHz * lastsS;
  return Math.abs(x - 1) < 1e-6 ? Math.PI / 4 : Math.abs(Math.cos((Math.PI * x) / 2) / (1 - x * x));
}

interface Tapped {
  readonly drawing: Drawing;
  /** modes of the piece that were tapped, with levels at all the spots in the order in which they were tapped */
  readonly heard: readonly (HeardMode & { readonly heardAt: readonly HeardAt[] })[];
  /** computed mode that each of them is, and how alike the two shapes are */
  readonly truth: readonly { readonly computed: number; readonly likeness: number }[];
}

function tapped(random: Random, drawn: Drawing, truth: Truth): Tapped {
  const { prepared } = drawn;
  const modes = solved(prepared, piece(random, drawn, truth), TAPPED);
  const shapes = modes.map((mode) => deflection(prepared, mode));
  const radiates = modes.map(() => 6 * random.normal());
  const order = drawn.spots.map((at) => ({ at, lot: random.uniform() })).toSorted((a, b) => a.lot - b.lot);
  const bySpot = order.map(({ at }) => {
    const beside: Point = [at[0] + 3 * random.normal(), at[1] + 3 * random.normal()];
    const power = modes.map(() => 0);
    for (let tap = 0; tap < TAPS; tap++) {
      const landed: Point = [beside[0] + 3 * random.normal(), beside[1] + 3 * random.normal()];
      const strength = factor(random, 0.3);
      const lastsS = random.between(0.0015, 0.004);
      modes.forEach(({ frequencyHz }, m) => {
        const w = sampled(prepared.mesh, shapes[m]!, [landed])[0] ?? sampled(prepared.mesh, shapes[m]!, [at])[0] ?? 0;
        power[m]! += (w * strength * pushAt(frequencyHz, lastsS)) ** 2 / TAPS;
      });
    }
    const levels = power.map((p, m) => 10 * Math.log10(p + 1e-9) + radiates[m]! + random.normal());
    const loudest = Math.max(...levels);
    const faintest = Math.min(...levels.filter((db) => db > loudest - HEARD_DB));
    return levels.map(
      (levelDb): HeardAt =>
        levelDb > loudest - HEARD_DB ? { at, levelDb } : { at, levelDb: faintest, isAtMost: true },
    );
  });
  return {
    drawing: drawn,
    heard: modes.map(({ frequencyHz }, m) => ({
      name: undefined,
      frequencyHz: frequencyHz + 0.3 * random.normal(),
      heardAt: bySpot.map((levels) => levels[m]!),
    })),
    truth: partners(shapes, drawn.shapes),
  };
}

/** The most alike pairs first, each shape once. */
export function partners(shapes: readonly Float64Array[], others: readonly Float64Array[]) {
  const all = shapes.flatMap((shape, m) => others.map((other, c) => ({ m, c, likeness: assurance(shape, other) })));
  const found = shapes.map(() => ({ computed: -1, likeness: 0 }));
  const taken = new Set<number>();
  for (const { m, c, likeness } of all.toSorted((a, b) => b.likeness - a.likeness)) {
    if (found[m]!.computed >= 0 || taken.has(c)) continue;
    found[m] = { computed: c, likeness };
    taken.add(c);
  }
  return found;
}

/** Likeness from which on two shapes are plainly one mode. */
const CLEAR = 0.8;

interface Score {
  right: number;
  wrong: number;
  of: number;
  clearRight: number;
  clearOf: number;
}

function score(pieces: readonly Tapped[], spots: number): Score {
  const total: Score = { right: 0, wrong: 0, of: 0, clearRight: 0, clearOf: 0 };
  for (const { drawing: drawn, heard, truth } of pieces) {
    const computed = namedModes(drawn.prepared, drawn.modes);
    const limited = heard.map(({ name, frequencyHz, heardAt }) =>
      spots === 0 ? { name, frequencyHz } : { name, frequencyHz, heardAt: heardAt.slice(0, spots) },
    );
    const pairs = new Map(pairMeasured(computed, limited).map((pair) => [pair.measured, pair.computed]));
    truth.forEach(({ computed: is, likeness }, m) => {
      const isRight = pairs.get(m) === is;
      total.of++;
      if (isRight) total.right++;
      else if (pairs.has(m)) total.wrong++;
      if (likeness < CLEAR) return;
      total.clearOf++;
      if (isRight) total.clearRight++;
    });
  }
  return total;
}

const percent = (part: number, whole: number): string => ((100 * part) / whole).toFixed(1);

type Top = readonly [keyof typeof BODY_STATIONS, BracingPattern];
const CHOOSING: readonly Top[] = [
  ['concert', 'x'],
  ['small parlour', 'fan'],
];
const JUDGING: readonly Top[] = [
  ['large', 'x'],
  ['small parlour', 'x'],
  ['concert', 'ladder'],
  ['concert', 'fan'],
];

/**
 * Prints the table, Markdown.
 * @param count pieces of each drawing and kind of truth
 * @param seed  from 910 million on judges, on tops of its own; from 900 million on is for choosing by
 */
export function pairingFigures(count: number, seed = 910_000_000): void {
  const tops = seed >= 910_000_000 ? JUDGING : CHOOSING;
  console.log(`| piece | modes | frequency alone | ${SPOTS.map((n) => `${n} spots`).join(' | ')} |`);
  console.log(`| --- | --- | --- | ${SPOTS.map(() => '---').join(' | ')} |`);
  for (const [h, isHeld] of [true, false].entries())
    for (const [t, truth] of TRUTHS.entries()) {
      const pieces = tops.flatMap(([body, pattern], d) => {
        const drawn = drawing(body, pattern, isHeld);
        return Array.from({ length: count }, (_, i) =>
          tapped(randomFrom(seed + 100_000 * (3 * h + t) + 1000 * d + i), drawn, truth),
        );
      });
      const cells = [0, ...SPOTS].map((spots) => {
        const { right, wrong, of, clearRight, clearOf } = score(pieces, spots);
        return `${percent(right, of)} (${percent(wrong, of)} wrong; clear ${percent(clearRight, clearOf)})`;
      });
      const modes = pieces.reduce((sum, { truth: each }) => sum + each.length, 0);
      console.log(`| ${isHeld ? 'held' : 'free'}, ${truth} | ${modes} | ${cells.join(' | ')} |`);
    }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [count = '16', seed] = process.argv.slice(2);
  pairingFigures(Number(count), seed === undefined ? undefined : Number(seed));
}
