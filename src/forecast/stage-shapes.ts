// Which mode of a top is which after the next stage: by shape, on the drawn top as it is held before and after. A plate
// on foam floats and a glued one cannot, so shapes are held together only as far as they are no rigid motion.
import { solveLinear } from '../algebra/small-matrix.ts';
import { withMeshSpread } from '../plate/mesh-error.ts';
import { distinctModeNames } from '../plate/mode-name.ts';
import { airPushed, assurance, deflection, sampled } from '../plate/mode-shape.ts';
import { boundingBox, type Point } from '../plate/outline.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { type PlateModes, type PreparedPlate, plateModes, preparePlate } from '../plate/plate-modes.ts';
import type { Prepare } from '../plate/prepared-plates.ts';
import type { Estimate } from '../quantity/estimate.ts';
import type { Calibration } from './calibration.ts';
import { computedFrequencies, type Parameter, withFactors } from './properties.ts';
import { fittedTo, type TappedTopMode } from './top-agreement.ts';

/** A mode of the stage before and what becomes of it. */
export interface CarriedMode {
  readonly name: string;
  readonly frequencyHz: Estimate;
  /** the mode after the stage whose shape is most like it */
  readonly after: NamedMode;
  /** modal assurance criterion of the two shapes, 0 to 1 */
  readonly likeness: number;
  /** `clear`: one mode and no other; `ask`: no mode after the stage has more than half of the shape, or another lays claim to it */
  readonly verdict: 'clear' | 'ask';
}

export interface StageShapes {
  readonly kind: 'carried';
  /** modes of the stage before, ascending in frequency */
  readonly modes: readonly CarriedMode[];
  /** whether any two clear modes change their order at the stage */
  readonly orderChanges: boolean;
  /** the mode after the stage that moves most air, and how like a piston it is; it becomes the box's top */
  readonly pumping: NamedMode & { readonly share: number };
  /** every mode after the stage, ascending, with the air it pushes: `airPushed`, m² kg^(-1/2) */
  readonly after: readonly PushingMode[];
  /** how many tapped modes the woods after the stage were put to; 0 where they are the drawing's */
  readonly fittedTo: number;
}

/** A mode of a held top without the air behind it. */
interface PushingMode {
  readonly name: string;
  readonly frequencyHz: Estimate;
  readonly pushedM2PerSqrtKg: number;
}

export type StageShapesAnswer = StageShapes | { readonly kind: 'unsolvable' };

/** The top before the stage and after it, on one outline, with what is known of both only within a spread. */
export interface StagePlates {
  readonly before: PlateCase;
  readonly after: PlateCase;
  readonly parameters: readonly Parameter[];
  /** what was tapped of the top before the stage: its woods are put where that says, else they are those of the drawing */
  readonly tapped?: readonly TappedTopMode[];
}

/**
 * Share of a shape above which no other mode can have as much: the shapes of one even plate stand square on one another, so
 * that the shares one mode has in all of them add up to no more than one (Bessel's inequality).
 */
export const CLEAR_LIKENESS = 0.5;

/** Modes computed of each stage: two more after it, since a held top has other modes in between. */
const BEFORE_MODES = 6;
const AFTER_MODES = 10;

const GRID_MM = 15;

/**
 * Carries the modes of a top over a stage.
 * @param plates cases that `checkPlate` calls sound
 * Source: modal assurance criterion, Allemang and Brown 1982; the rigid part left out and the threshold: ours.
 */
export function stageShapes(
  { before, after, parameters, tapped = [] }: StagePlates,
  onProgress: (share: number) => void = () => undefined,
  prepare: Prepare = preparePlate,
): StageShapesAnswer {
  const grid = gridOver(before.outline);
  const was = shapesOn(grid, before, parameters, BEFORE_MODES, prepare, (share) => onProgress(0.5 * share));
  if (was === undefined) return { kind: 'unsolvable' };
  const fit = tapped.length === 0 ? undefined : fittedTo(was.prepared, before, was.computed, tapped, parameters);
  onProgress(0.6);
  const woods = fit && rimAnew(fit);
  const then = shapesOn(grid, after, parameters, AFTER_MODES, prepare, (share) => onProgress(0.6 + 0.4 * share), woods);
  if (then === undefined) return { kind: 'unsolvable' };
  // A soundhole or a patch may be there at one stage only: places that both have.
  const both = grid.flatMap((_, i) => (was.shapes[0]![i] === undefined || then.shapes[0]![i] === undefined ? [] : [i]));
  const places = both.map((i) => grid[i]!);
  const read = (shapes: readonly (readonly (number | undefined)[])[]) =>
    shapes.map((shape) => both.map((i) => shape[i]!));
  const afterShapes = read(then.shapes);
  const likeness = likenessOf(
    read(was.shapes).map((shape) => withoutRigid(places, shape)),
    afterShapes.map((shape) => withoutRigid(places, shape)),
  );
  const modes = carried(was.modes, then.modes, likeness);
  const clear = modes.filter(({ verdict }) => verdict === 'clear');
  const flat = places.map(() => 1);
  const shares = afterShapes.map((shape) => assurance(shape, flat));
  const most = shares.reduce((best, share, i) => (share > shares[best]! ? i : best), 0);
  return {
    kind: 'carried',
    modes,
    orderChanges: clear.some(
      (mode, i) => i > 0 && mode.after.frequencyHz.value < clear[i - 1]!.after.frequencyHz.value,
    ),
    pumping: { ...then.modes[most]!, share: shares[most]! },
    after: then.modes.map((mode, i) => ({
      ...mode,
      pushedM2PerSqrtKg: airPushed(then.prepared, then.computed.modes[i]!),
    })),
    fittedTo: fit?.fits.length ?? 0,
  };
}

interface NamedMode {
  readonly name: string;
  readonly frequencyHz: Estimate;
}

/** What is computed of a top at one stage. */
interface StageModes {
  readonly prepared: PreparedPlate;
  readonly modes: readonly NamedMode[];
  readonly computed: PlateModes;
  readonly shapes: readonly (readonly (number | undefined)[])[];
}

/** What a fit says of the logarithms of the properties. */
interface Fitted {
  readonly factors: readonly number[];
  readonly covariance: readonly (readonly number[])[];
}

/** What holds the rim after a stage is another thing than before: of it nothing is learnt. */
function rimAnew({ parameters, factors, covariance }: Calibration): Fitted {
  const isRim = parameters.map(({ property }) => property === 'rim stiffness');
  return {
    factors: factors.map(({ value }, p) => (isRim[p] ? 1 : value)),
    covariance: covariance.map((row, p) =>
      row.map((each, q) => {
        if (!isRim[p] && !isRim[q]) return each;
        return p === q ? parameters[p]!.relativeSigma ** 2 : 0;
      }),
    ),
  };
}

/**
 * Gives each mode before its likest after, and says where that is not clear.
 * @param likeness (before, after)
 */
export function carried(
  before: readonly NamedMode[],
  after: readonly NamedMode[],
  likeness: readonly (readonly number[])[],
): readonly CarriedMode[] {
  return before.map(({ name, frequencyHz }, i) => {
    const row = likeness[i]!;
    const best = row.reduce((to, each, j) => (each > row[to]! ? j : to), 0);
    const isWanted = likeness.some((other, k) => k !== i && other[best]! > CLEAR_LIKENESS);
    return {
      name,
      frequencyHz,
      after: after[best]!,
      likeness: row[best]!,
      verdict: row[best]! > CLEAR_LIKENESS && !isWanted ? 'clear' : 'ask',
    };
  });
}

const likenessOf = (before: readonly (readonly number[])[], after: readonly (readonly number[])[]) =>
  before.map((shape) => after.map((other) => assurance(shape, other)));

/** Names, frequencies and shapes of the lowest modes at the places; a shape is undefined off the plate. */
function shapesOn(
  places: readonly Point[],
  plate: PlateCase,
  parameters: readonly Parameter[],
  count: number,
  prepare: Prepare,
  onProgress: (share: number) => void,
  fit?: Fitted,
): StageModes | undefined {
  const fitted = fit === undefined ? plate : withFactors(plate, parameters, fit.factors);
  const prepared: PreparedPlate = prepare(plate);
  onProgress(0.4);
  const answer = plateModes(prepared, fitted, {
    count,
    onProgress: (share) => {
      onProgress(0.4 + 0.6 * share);
      return true;
    },
  });
  if (answer.kind !== 'modes') return undefined;
  const { mesh, support } = prepared;
  const shapes = answer.modes.map((mode) => deflection(prepared, mode));
  const names = distinctModeNames(mesh, shapes, support.kind === 'free');
  const frequencies = computedFrequencies(prepared, fitted, answer.modes, parameters, fit?.covariance);
  return {
    prepared,
    computed: answer,
    modes: withMeshSpread(frequencies, answer.modes).map((frequencyHz, i) => ({ name: names[i]!, frequencyHz })),
    shapes: shapes.map((shape) => sampled(mesh, shape, places)),
  };
}

function gridOver(outline: readonly Point[]): readonly Point[] {
  const [x0, y0, x1, y1] = boundingBox(outline);
  const along = (from: number, to: number) => {
    const count = Math.max(4, Math.round((to - from) / GRID_MM));
    return Array.from({ length: count }, (_, i) => from + ((i + 0.5) * (to - from)) / count);
  };
  const ys = along(y0, y1);
  return along(x0, x1).flatMap((x) => ys.map((y): Point => [x, y]));
}

/** What is left of a shape when its best lifting and tilting is taken off, by least squares. */
export function withoutRigid(places: readonly Point[], shape: readonly number[]): readonly number[] {
  const motions = places.map(([x, y]) => [1, x / 100, y / 100]);
  const sum = (f: (at: number) => number) => places.reduce((total, _, at) => total + f(at), 0);
  const square = [0, 1, 2].map((p) => [0, 1, 2].map((q) => sum((at) => motions[at]![p]! * motions[at]![q]!)));
  const right = [0, 1, 2].map((p) => sum((at) => motions[at]![p]! * shape[at]!));
  const share = solveLinear(square, right);
  return shape.map((w, at) => w - motions[at]!.reduce((rigid, motion, p) => rigid + motion * share[p]!, 0));
}
