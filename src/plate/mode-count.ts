// Whether the search for modes has passed one over: the plate itself tells how many it has below a frequency.
import { negativePivots } from '../algebra/inertia.ts';
import { assemble } from './assembly.ts';
import { edgeSupportOf, type PlateCase } from './plate-case.ts';
import { type PlateMode, type PreparedPlate, woodOf } from './plate-modes.ts';

/** Closer than this, as a share of (2 pi f)^2, two modes leave no room between them for a count. */
const ROOM = 1e-5;

/**
 * How many modes below the highest of some modes are not among them. Costs about one factorisation more.
 * @param modes all that were found, ascending
 * @returns undefined where the modes lie too close together for a count between any two
 */
export function missedModes(
  prepared: PreparedPlate,
  plate: PlateCase,
  modes: readonly Pick<PlateMode, 'solvedHz'>[],
): number | undefined {
  const lambdas = [0, ...modes.map(({ solvedHz }) => (2 * Math.PI * solvedHz) ** 2)];
  for (let k = lambdas.length - 1; k > 0; k--) {
    const [below, above] = [lambdas[k - 1]!, lambdas[k]!];
    if (above - below < ROOM * above) continue;
    const { stiffness, mass } = assemble(prepared, woodOf(prepared, plate), edgeSupportOf(plate));
    const value = (below + above) / 2;
    for (let i = 0; i < stiffness.length; i++) stiffness[i]! -= value * mass[i]!;
    const negative = negativePivots(prepared.cholesky, stiffness);
    return negative === undefined ? undefined : negative - prepared.rigid.length - (k - 1);
  }
  return undefined;
}
