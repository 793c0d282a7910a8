// What the Wood Handbook says of the woods a guitar is made of: starting values until a board has been measured, and the
// mean to hold a maker's own boards against. Within one species properties differ by a factor of two.

/** A figure from a table; `verified` where the printed row was seen, false where it is from memory. */
interface Printed {
  readonly value: number;
  readonly verified: boolean;
}

/** One wood. Missing figures are absent, never filled from a relative; see `elasticStart` for what is then assumed. */
export interface Species {
  readonly id: string;
  readonly name: string;
  readonly family: 'softwood' | 'hardwood';
  /** specific gravity on ovendry mass and volume at 12 % moisture; Source: FPL-GTR-190/282 Table 5-3a (5-5a imported) */
  readonly gravity12?: Printed;
  /** bending modulus at 12 % moisture, GPa, with shear deflection in it; Source: as gravity12 */
  readonly moe12Gpa?: Printed;
  /** bending modulus green, GPa; Source: as gravity12 */
  readonly moeGreenGpa?: Printed;
  /** E_T, E_R, G_LR, G_LT, G_RT over E_L at about 12 %; Source: FPL-GTR-282 Table 5-1 */
  readonly ratios?: Readonly<Record<'eT' | 'eR' | 'gLR' | 'gLT', Printed>> & { readonly gRT?: Printed };
  /** Poisson's ratios at about 12 %; Source: FPL-GTR-282 Table 5-2. nu_RL follows from nu_LR E_R / E_L */
  readonly poisson?: Readonly<Record<'lr' | 'lt' | 'rt', Printed>>;
  /** green to ovendry shrinkage, %; Source: FPL-GTR-282 Table 4-3 (4-4 imported) */
  readonly shrinkage?: Readonly<Record<'radialPercent' | 'tangentialPercent', Printed>>;
  /** moisture at which drying begins to change strength, %; Source: FPL-GTR-282 Table 5-13, else 25 */
  readonly intersectionPercent: Printed;
}

const seen = (value: number): Printed => ({ value, verified: true });
const remembered = (value: number): Printed => ({ value, verified: false });
const usualIntersection = seen(25);
const density = (gravity: number, moe: number, green?: Printed) => ({
  gravity12: seen(gravity),
  moe12Gpa: seen(moe),
  ...(green === undefined ? {} : { moeGreenGpa: green }),
});
const shrinks = (mark: typeof seen, radial: number, tangential: number) => ({
  shrinkage: { radialPercent: mark(radial), tangentialPercent: mark(tangential) },
});

/** Columns as in Tables 5-1 and 5-2: E_T, E_R, G_LR, G_LT, G_RT (undefined where the table has none), nu_LR, nu_LT, nu_RT. */
function elastic(
  mark: typeof seen,
  row: readonly [number, number, number, number, number | undefined, number, number, number],
) {
  const [eT, eR, gLR, gLT, gRT, lr, lt, rt] = row;
  return {
    ratios: {
      eT: mark(eT),
      eR: mark(eR),
      gLR: mark(gLR),
      gLT: mark(gLT),
      ...(gRT === undefined ? {} : { gRT: mark(gRT) }),
    },
    poisson: { lr: mark(lr), lt: mark(lt), rt: mark(rt) },
  };
}

/** The woods known by name, tops first. */
export const SPECIES: readonly Species[] = [
  {
    id: 'sitka-spruce',
    name: 'Sitka spruce',
    family: 'softwood',
    ...density(0.4, 10.8, remembered(8.5)),
    ...elastic(seen, [0.043, 0.078, 0.064, 0.061, 0.003, 0.372, 0.467, 0.435]),
    ...shrinks(remembered, 4.3, 7.5),
    intersectionPercent: seen(27),
  },
  {
    id: 'engelmann-spruce',
    name: 'Engelmann spruce',
    family: 'softwood',
    ...density(0.35, 8.9, seen(7.1)),
    ...elastic(remembered, [0.059, 0.128, 0.124, 0.12, 0.01, 0.422, 0.462, 0.53]),
    ...shrinks(seen, 3.8, 7.1),
    intersectionPercent: usualIntersection,
  },
  {
    id: 'white-spruce',
    name: 'white spruce',
    family: 'softwood',
    ...density(0.36, 9.6),
    intersectionPercent: usualIntersection,
  },
  {
    id: 'red-spruce',
    name: 'red (Adirondack) spruce',
    family: 'softwood',
    ...density(0.4, 11.4),
    intersectionPercent: seen(27),
  },
  {
    id: 'western-redcedar',
    name: 'western redcedar',
    family: 'softwood',
    ...density(0.32, 7.7, seen(6.5)),
    ...elastic(remembered, [0.055, 0.081, 0.087, 0.086, 0.005, 0.378, 0.296, 0.484]),
    ...shrinks(seen, 2.4, 5.0),
    intersectionPercent: usualIntersection,
  },
  {
    id: 'redwood',
    name: 'redwood, old growth',
    family: 'softwood',
    ...density(0.4, 9.2),
    ...elastic(remembered, [0.089, 0.087, 0.066, 0.077, 0.011, 0.36, 0.346, 0.373]),
    ...shrinks(remembered, 2.6, 4.4),
    intersectionPercent: seen(21),
  },
  {
    id: 'douglas-fir',
    name: 'Douglas-fir',
    family: 'softwood',
    ...elastic(remembered, [0.05, 0.068, 0.064, 0.078, 0.007, 0.292, 0.449, 0.39]),
    intersectionPercent: seen(24),
  },
  {
    id: 'sugar-maple',
    name: 'sugar maple',
    family: 'hardwood',
    ...density(0.63, 12.6, seen(10.7)),
    ...elastic(seen, [0.065, 0.132, 0.111, 0.063, undefined, 0.424, 0.476, 0.774]),
    ...shrinks(seen, 4.8, 9.9),
    intersectionPercent: usualIntersection,
  },
  {
    id: 'red-maple',
    name: 'red maple',
    family: 'hardwood',
    ...density(0.54, 11.3),
    // biome-ignore lint/suspicious/noApproximativeNumericConstant: a Poisson's ratio that happens to read like log10 e
    ...elastic(remembered, [0.067, 0.14, 0.133, 0.074, undefined, 0.434, 0.509, 0.762]),
    intersectionPercent: usualIntersection,
  },
  {
    id: 'bigleaf-maple',
    name: 'bigleaf maple',
    family: 'hardwood',
    ...density(0.48, 10.0),
    intersectionPercent: usualIntersection,
  },
  {
    id: 'black-walnut',
    name: 'black walnut',
    family: 'hardwood',
    ...density(0.55, 11.6),
    ...elastic(remembered, [0.056, 0.106, 0.085, 0.062, 0.021, 0.495, 0.632, 0.718]),
    ...shrinks(seen, 5.5, 7.8),
    intersectionPercent: usualIntersection,
  },
  {
    id: 'black-cherry',
    name: 'black cherry',
    family: 'hardwood',
    ...density(0.5, 10.3, seen(9.0)),
    ...elastic(remembered, [0.086, 0.197, 0.147, 0.097, undefined, 0.392, 0.428, 0.695]),
    ...shrinks(seen, 3.7, 7.1),
    intersectionPercent: usualIntersection,
  },
  {
    id: 'honduras-mahogany',
    name: 'Honduras mahogany',
    family: 'hardwood',
    moe12Gpa: seen(10.3),
    ...elastic(remembered, [0.064, 0.107, 0.066, 0.086, 0.028, 0.314, 0.533, 0.6]),
    ...shrinks(seen, 3.0, 4.1),
    intersectionPercent: usualIntersection,
  },
  {
    id: 'african-mahogany',
    name: 'African mahogany',
    family: 'hardwood',
    ...elastic(remembered, [0.05, 0.111, 0.088, 0.059, 0.021, 0.297, 0.641, 0.604]),
    intersectionPercent: usualIntersection,
  },
  {
    id: 'indian-rosewood',
    name: 'Indian rosewood',
    family: 'hardwood',
    moe12Gpa: seen(12.3),
    ...shrinks(seen, 2.7, 5.8),
    intersectionPercent: usualIntersection,
  },
];

/** The wood of that id, or undefined for a maker's own words. */
export function speciesById(id: string): Species | undefined {
  return SPECIES.find((species) => species.id === id);
}
