// Constants that a solid may have but no wood of an instrument has: a unit mistaken, a comma misplaced. One sentence each.
import type { WoodConstants } from '../plate/plate-case.ts';

const MODULI = ['eL', 'eR', 'eT', 'gLR', 'gLT', 'gRT'] as const;
const POISSON = ['nuLR', 'nuLT', 'nuRT'] as const;

/** Along the grain nothing that is glued to a top is so soft or so stiff, MPa: balsa has 3000, steel 210,000. A limp bridge held by tape passes. */
const SOFTEST_MPA = 100;
const STIFFEST_MPA = 1.3e6;
/**
 * How many times stiffer along the grain than in another way wood may be. Source: Wood Handbook, FPL-GTR-190 (2010), table 5-1:
 * E_T of balsa is E_L / 67, G_RT of spruce E_L / 330; several times more is no wood.
 */
const MOST_TIMES = 300;
const MOST_TIMES_ROLLING = 3000;
/** Lightest and heaviest, kg/m^3: hard foam, and metals that are inlaid. */
const LIGHTEST = 30;
const HEAVIEST = 23_000;

/** The first thing about some wood that cannot be meant, as a sentence; undefined if all can be. */
export function woodNonsense(wood: WoodConstants): string | undefined {
  for (const name of MODULI) {
    const mpa = wood[name];
    if (mpa <= 0) return `${name} is ${mpa} MPa; a modulus must be above 0`;
    if (mpa > STIFFEST_MPA)
      return `${name} is ${mpa} MPa, stiffer than diamond; moduli are in MPa (1 GPa = 1000 MPa), not Pa`;
  }
  if (wood.eL < SOFTEST_MPA)
    return `eL is ${wood.eL} MPa, far too soft along the grain; moduli are in MPa (1 GPa = 1000 MPa): is ${1000 * wood.eL} MPa meant?`;
  for (const name of MODULI) {
    const most = name === 'gRT' ? MOST_TIMES_ROLLING : MOST_TIMES;
    if (wood.eL / wood[name] > most)
      return `${name} is ${wood[name]} MPa, ${Math.round(wood.eL / wood[name])} times less than eL, which no wood is; moduli are in MPa (1 GPa = 1000 MPa)`;
  }
  const { densityKgM3 } = wood;
  if (densityKgM3 <= 0) return `densityKgM3 is ${densityKgM3}; a density must be above 0`;
  if (densityKgM3 < LIGHTEST)
    return `densityKgM3 is ${densityKgM3} kg/m^3, lighter than hard foam; spruce has about 400 kg/m^3 (0.4 g/cm^3 = 400 kg/m^3)`;
  if (densityKgM3 > HEAVIEST) return `densityKgM3 is ${densityKgM3} kg/m^3, heavier than any metal`;
  const nu = POISSON.find((name) => Math.abs(wood[name]) >= 1);
  if (nu !== undefined) return `${nu} is ${wood[nu]}; the Poisson’s ratios of wood lie below 1 (spruce: about 0.4)`;
  return undefined;
}
