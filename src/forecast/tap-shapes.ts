// Shapes of the modes from a roving round: at the spots from the taps alone; over the whole plate with the computed shapes of
// the drawing as a basis; and which computed mode each is like.
import { withMeshSpread } from '../plate/mesh-error.ts';
import { distinctModeNames } from '../plate/mode-name.ts';
import { assurance, deflection, sampled } from '../plate/mode-shape.ts';
import type { Point } from '../plate/outline.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { type PlateMode, type PreparedPlate, plateModes, preparePlate } from '../plate/plate-modes.ts';
import type { Prepare } from '../plate/prepared-plates.ts';
import type { Estimate } from '../quantity/estimate.ts';
import { amplitudesAt, type TapWaves } from '../shapes/amplitudes.ts';
import { measuredShapes, type RovingTaps } from '../shapes/measured-shapes.ts';
import { namesByShape } from '../shapes/names-by-shape.ts';
import { plateBasis, wholeShapeAndSpread } from '../shapes/plate-basis.ts';
import type { Tap } from '../signal/tap.ts';
import { computedFrequencies, type Parameter, withFactors } from './properties.ts';
import { type ShapeBand, shapeBands } from './shape-bands.ts';
import { type DrawnShape, drawnShape } from './top-modes.ts';

/** A plate as drawn, and where the spots lie on it. */
interface SpottedDrawing {
  readonly plate: PlateCase;
  /** properties that are known only within a spread */
  readonly parameters: readonly Parameter[];
  /** mm, (spots,) */
  readonly at: readonly Point[];
}

export interface TapShapesQuestion {
  readonly taps: readonly Tap[];
  /** spot of each tap, counted from 0, (taps,) */
  readonly spotOf: readonly number[];
  readonly spots: number;
  /** modes of an ordinary round of the same piece, ascending */
  readonly modes: readonly { readonly frequencyHz: Estimate; readonly q: number }[];
  readonly drawing?: SpottedDrawing | undefined;
}

/** A measured shape. */
export interface TapShape {
  readonly frequencyHz: Estimate;
  readonly q: number;
  /** from the taps alone, the largest 1; undefined at a spot not tapped, (spots,) */
  readonly atSpots: readonly (Estimate | undefined)[];
  /** probability that the sign at the spot is the one told, 0.5 to 1, (spots,) */
  readonly signOdds: readonly (number | undefined)[];
  /** over the whole plate; absent without a drawing, and where no computed mode is like it */
  readonly whole?: DrawnShape & {
    /** which computed mode it is */
    readonly computed: number;
    /** likeness of the whole shape to that mode's, 0 to 1 */
    readonly likeness: number;
    /** where the node line may lie: the deflection is not told from nought there, 95 % */
    readonly doubtful: ShapeBand;
    /** the shape at the spots, the largest on the plate 1, (spots,); undefined at a spot off the plate */
    readonly atSpots: readonly (number | undefined)[];
  };
}

/** A computed mode that measured shapes are held against. */
export interface ShapeOfDrawing extends DrawnShape {
  readonly name: string;
  readonly frequencyHz: Estimate;
}

export interface TapShapes {
  readonly kind: 'shapes';
  readonly shapes: readonly TapShape[];
  /** empty without a drawing */
  readonly computed: readonly ShapeOfDrawing[];
  /** of the shapes at the spots, taps alone, to the computed ones there, 0 to 1, (shapes, computed) */
  readonly likeness: readonly (readonly number[])[];
  /** taps that do not go with the others, by their place in the question */
  readonly oddTaps: readonly number[];
  readonly missingSpots: readonly number[];
  /** the drawing could not be computed, or too few spots lie on it */
  readonly isDrawingOfNoUse?: true;
}

/** Signs and strengths hang together over modes and spots: with fewer of either nothing holds them. */
export type TapShapesAnswer = TapShapes | { readonly kind: 'too-few'; readonly of: 'modes' | 'spots' };

const FEWEST_MODES = 2;
const FEWEST_SPOTS = 4;
/** Shapes told: the higher ones change sign between spots. */
const MOST_SHAPES = 8;
/** Computed modes that measured shapes are made of, as the figures in docs/shape-figures.md were taken. */
const BASIS = 14;
/** Less alike at the spots, taps alone, a shape is not told over the plate. Chosen on seeds 7 to 11 of one parlour top. */
const LEAST_LIKENESS = 0.3;
/** How far off a brace's height and the plate's thickness may be, shares, for what mixes modes: common practice, no source. */
const HEIGHT_SHARE = 0.04;
const THICKNESS_SHARE = 0.03;
/** Half width of 95 % of a normal distribution, in standard deviations. */
const SURE = 1.96;

/** Reads a roving round. */
export function tapShapes(
  question: TapShapesQuestion,
  onProgress: (share: number) => void = () => undefined,
  prepare: Prepare = preparePlate,
): TapShapesAnswer {
  const { taps, spotOf, spots, modes, drawing } = question;
  if (modes.length < FEWEST_MODES) return { kind: 'too-few', of: 'modes' };
  if (new Set(spotOf).size < FEWEST_SPOTS) return { kind: 'too-few', of: 'spots' };
  const told = modes.slice(0, MOST_SHAPES);
  const poles = modes.map(({ frequencyHz, q }) => ({
    frequencyHz: frequencyHz.value,
    decayPerS: (Math.PI * frequencyHz.value) / q,
  }));
  // Every mode that sounds takes part in the fit; what is above those told would else be taken for them.
  const ranks = told.map((_, k) => k);
  const round: RovingTaps = {
    taps: amplitudesAt(taps, poles).map((waves) => ofModes(waves, ranks)),
    spotOf,
    spots,
    frequenciesHz: told.map(({ frequencyHz }) => frequencyHz.value),
  };
  onProgress(0.2);
  const alone = measuredShapes(round);
  onProgress(0.3);
  const shapes = told.map(({ frequencyHz, q }, k): TapShape => {
    const { atSpots, signOdds } = alone.shapes[k]!;
    return { frequencyHz, q, atSpots, signOdds };
  });
  const { oddTaps, missingSpots } = alone;
  const plain: TapShapes = { kind: 'shapes', shapes, computed: [], likeness: [], oddTaps, missingSpots };
  if (drawing === undefined) return plain;
  const drawn = onDrawing(round, shapes, drawing, prepare, onProgress);
  return drawn === undefined ? { ...plain, isDrawingOfNoUse: true } : { ...plain, ...drawn };
}

type OnDrawing = Pick<TapShapes, 'shapes' | 'computed' | 'likeness'> & Partial<Pick<TapShapes, 'oddTaps'>>;

function onDrawing(
  round: RovingTaps,
  shapes: readonly TapShape[],
  { plate, parameters, at }: SpottedDrawing,
  prepare: Prepare,
  onProgress: (share: number) => void,
): OnDrawing | undefined {
  const prepared = prepare(plate);
  const answer = plateModes(prepared, plate, { count: BASIS });
  if (answer.kind !== 'modes') return undefined;
  onProgress(0.6);
  const { modes } = answer;
  const { mesh } = prepared;
  const deflections = modes.map((mode) => deflection(prepared, mode));
  const there = deflections.map((shape) => sampled(mesh, shape, at));
  const known = at.flatMap((_, s) => (there[0]?.[s] !== undefined && shapes[0]?.atSpots[s] !== undefined ? [s] : []));
  if (known.length < FEWEST_SPOTS) return undefined;
  const measured = shapes.map((shape) => ({
    frequencyHz: shape.frequencyHz.value,
    atSpots: known.map((s) => shape.atSpots[s]!.value),
  }));
  const frequencies = withMeshSpread(computedFrequencies(prepared, plate, modes, parameters), modes);
  const drawnModes = modes.map((_, j) => ({
    frequencyHz: frequencies[j]!.value,
    atSpots: known.map((s) => there[j]![s]!),
  }));
  const names = namesByShape(measured, drawnModes);
  const likeness = measured.map((m) => drawnModes.map((c) => assurance(m.atSpots, c.atSpots)));
  // A mode that was hardly heard would spoil the others, which are made orthogonal to it.
  const like = names.flatMap((computed, k) =>
    computed === undefined || likeness[k]![computed]! < LEAST_LIKENESS ? [] : [{ k, computed }],
  );
  const wholes = wholeShapes(round, like, known, { prepared, modes, deflections, plate, parameters, at });
  onProgress(0.9);
  const titles = distinctModeNames(mesh, deflections, prepared.support.kind === 'free');
  return {
    shapes: shapes.map((shape, k) => {
      const whole = wholes?.at.get(k);
      return whole === undefined ? shape : { ...shape, whole };
    }),
    computed: modes.map((_, j) => ({
      ...drawnShape(mesh, deflections[j]!),
      name: titles[j]!,
      frequencyHz: frequencies[j]!,
    })),
    likeness,
    ...(wholes !== undefined && { oddTaps: wholes.oddTaps }),
  };
}

interface Basis {
  readonly prepared: PreparedPlate;
  readonly modes: readonly PlateMode[];
  readonly deflections: readonly Float64Array[];
  readonly plate: PlateCase;
  readonly parameters: readonly Parameter[];
  readonly at: readonly Point[];
}

/**
 * The measured modes that are like a computed one, over the whole plate.
 * @param known spots that were tapped and lie on the plate
 */
function wholeShapes(
  round: RovingTaps,
  like: readonly { readonly k: number; readonly computed: number }[],
  known: readonly number[],
  { prepared, modes, deflections, plate, parameters, at }: Basis,
) {
  if (like.length < FEWEST_MODES) return undefined;
  const kept = round.spotOf.flatMap((spot, i) => (known.includes(spot) ? [i] : []));
  const ranks = like.map(({ k }) => k);
  const places = known.map((s) => at[s]!);
  const basis = plateBasis(
    prepared,
    modes,
    variantsOf(plate, parameters),
    places,
    like.map(({ computed }) => computed),
  );
  const found = measuredShapes(
    {
      taps: kept.map((i) => ofModes(round.taps[i]!, ranks)),
      spotOf: kept.map((i) => known.indexOf(round.spotOf[i]!)),
      spots: known.length,
      frequenciesHz: ranks.map((k) => round.frequenciesHz[k]!),
    },
    basis,
  );
  const { mesh } = prepared;
  const wholes = new Map(
    like.map(({ k, computed }, i) => {
      const { shares, covariance } = found.shapes[i]!;
      const { shape, sigma } = wholeShapeAndSpread(
        prepared,
        modes,
        shares!.map(({ value }) => value),
        covariance,
      );
      const sureness = shape.map((w, node) => w / Math.max(sigma[node]!, 1e-9));
      const whole = {
        ...drawnShape(mesh, shape),
        computed,
        likeness: assurance(shape, deflections[computed]!),
        doubtful: shapeBands(mesh, sureness, [[-SURE, SURE]])[0]!,
        atSpots: sampled(mesh, shape, at),
      };
      return [k, whole] as const;
    }),
  );
  return { at: wholes, oddTaps: found.oddTaps.map((i) => kept[i]!) };
}

/** The plate with one thing at a time one standard deviation off. */
function variantsOf(plate: PlateCase, parameters: readonly Parameter[]): readonly PlateCase[] {
  const braces = plate.braces ?? [];
  return [
    ...parameters.map((parameter) => withFactors(plate, [parameter], [1 + parameter.relativeSigma])),
    ...braces.map((brace) => ({
      ...plate,
      braces: braces.map((each) =>
        each === brace
          ? { ...each, heightMm: each.heightMm.map(([s, h]) => [s, (1 + HEIGHT_SHARE) * h] as const) }
          : each,
      ),
    })),
    { ...plate, thicknessMm: (1 + THICKNESS_SHARE) * plate.thicknessMm },
  ];
}

/** What some of the modes sound with. */
function ofModes({ waves, covariance }: TapWaves, ranks: readonly number[]): TapWaves {
  const rows = ranks.flatMap((k) => [2 * k, 2 * k + 1]);
  return {
    waves: ranks.map((k) => waves[k]!),
    covariance: rows.map((a) => rows.map((b) => covariance[a]![b]!)),
  };
}
