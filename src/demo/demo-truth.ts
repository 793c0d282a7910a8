// What the demo's top really is, hidden from its plan: woods of its own, no two braces alike, cuts that did not go quite as
// deep as told, and a top that is not quite a plate model. The forecast knows only the plan; how well it agrees with these
// sounds says something of the method, since nothing here was fitted to it.
import { withFactors } from '../forecast/properties.ts';
import { matched } from '../forecast/shape-match.ts';
import { tapPlaces } from '../forecast/tap-places.ts';
import { deflection, sampled } from '../plate/mode-shape.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { type PlateMode, plateModes, preparePlate } from '../plate/plate-modes.ts';
import { planCase } from '../record/plan-case.ts';
import { cutDemoPlan, type DemoCut, demoPlan } from './demo-plan.ts';
import { randomFrom } from './random.ts';

/** Factors of the true woods and rim on those of the plan: about one stated spread each. */
const woods = [
  ['plate eL', 0.95],
  ['plate eR', 0.9],
  ['plate gLR', 1.1],
  ['plate density', 1.02],
  ['brace gLR', 0.93],
  ['rim stiffness', 0.75],
] as const;

/** Stiffness along each brace, as a factor: from several sticks, which the plan takes for one. */
const braceSticks: readonly (readonly [id: string, factor: number])[] = [
  ['x-', 0.97],
  ['tone-', 0.92],
  ['finger-', 1.08],
];

/** Error of a plate model in a frequency, and in a move, one sigma: what solids of tests/reference showed. */
const MODE_ERROR = 0.01;
const MOVE_ERROR = 0.06;
/** How far a cut was off its told depth, one sigma, mm. Common practice, no source. */
const CUT_ERROR_MM = 0.06;
/** What the rain of the story does to every mode, and its spread from mode to mode. */
const RAIN = 0.994;
const RAIN_SPREAD = 0.0003;

/** No finger hits a node line quite: the least share of a mode's largest movement that a tap gives it. Our estimate, no source. */
export const LEAST_HIT = 0.12;

/** One state of the top in the mould: what was cut to come to it, and whether it rained meanwhile. */
export interface DemoState {
  readonly cut: DemoCut | undefined;
  readonly hasRained: boolean;
}

const support = { hold: 'in-mould', bridge: 'taped' } as const;

/** The plate with the woods, sticks and rim that it really has. */
function real(plate: PlateCase): PlateCase {
  const made = withFactors(
    plate,
    woods.map(([property]) => ({ property, relativeSigma: 1 })),
    woods.map(([, factor]) => factor),
  );
  const braces = (made.braces ?? []).map((brace) => {
    const stick = braceSticks.find(([id]) => brace.id.startsWith(id))?.[1] ?? 1;
    return { ...brace, material: { ...brace.material, eL: brace.material.eL * stick } };
  });
  return { ...made, braces };
}

/**
 * How far the lowest modes of the top as glued move at spots of the bench.
 * @returns share of each mode's largest deflection, rows by spot
 */
export function demoTopAt(spots: readonly string[], count: number): readonly (readonly number[])[] {
  const plan = demoPlan();
  const prepared = preparePlate(planCase(plan, support));
  const answer = plateModes(prepared, real(prepared.plate), { count });
  if (answer.kind !== 'modes') throw new RangeError(`demoTopAt: ${answer.kind}, need a top that can be solved`);
  const places = tapPlaces(plan, 'left');
  const shapes = answer.modes.map((mode) => deflection(prepared, mode));
  return spots.map((spot) => {
    const place = places.get(spot);
    if (place === undefined) throw new RangeError(`demoTopAt: spot ${spot}, need one that the drawing knows`);
    return shapes.map((shape) => sampled(prepared.mesh, shape, [place])[0] ?? 0);
  });
}

/**
 * Frequencies of the lowest modes at every state, Hz, in the order of the first state.
 * @param states in order, the first as glued
 * @param count  how many modes
 */
export function demoTopHz(states: readonly DemoState[], count: number): readonly (readonly number[])[] {
  const chance = randomFrom(2026);
  const prepared = preparePlate(planCase(demoPlan(), support));
  const modeErrors = Array.from({ length: count }, () => 1 + MODE_ERROR * chance.normal());
  let plan = demoPlan();
  let first: readonly PlateMode[] | undefined;
  let computed: readonly number[] = [];
  let hz: readonly number[] = [];
  return states.map(({ cut, hasRained }) => {
    const slipMm = CUT_ERROR_MM * chance.normal();
    if (cut !== undefined) plan = cutDemoPlan(plan, { ...cut, offMm: cut.offMm + slipMm });
    const answer = plateModes(prepared, real(planCase(plan, support)), { count: count + 2 });
    if (answer.kind !== 'modes') throw new RangeError(`demoTopHz: ${answer.kind}, need a top that can be solved`);
    first ??= answer.modes.slice(0, count);
    const now = matched(prepared, first, answer.modes).map(({ partner }) => answer.modes[partner]!.frequencyHz);
    const before = computed;
    const was = hz;
    hz = now.map((f, m) => {
      const error = 1 + MOVE_ERROR * chance.normal();
      const weather = hasRained ? RAIN + RAIN_SPREAD * chance.normal() : 1;
      const start = was[m];
      const dry = start === undefined ? f * modeErrors[m]! : start + error * modeErrors[m]! * (f - before[m]!);
      return dry * weather;
    });
    computed = now;
    return hz;
  });
}
