// Brace sticks: what a bar of brace stock is by its taps, and which bar may stand in for which.
import { type Estimate, propagated } from '../quantity/estimate.ts';
import { needPositive } from '../quantity/positive.ts';
import { WOOD_LIMITS } from './entry-check.ts';
import { BAR_FACTOR } from './simple-formula.ts';

/** A rectangular bar as ruler, caliper and scale give it; bent in the direction of its thickness. */
export interface MeasuredStick {
  readonly lengthMm: Estimate;
  readonly widthMm: Estimate;
  /** the side along which it moves when it bends: the height of the brace to be, if tapped so */
  readonly thicknessMm: Estimate;
  readonly massG: Estimate;
}

/** What the inputs of a stick are called where their shares are shown. */
export type StickInput = 'length' | 'width' | 'thickness' | 'mass' | 'bending-tap' | 'twist-tap' | 'shear-ratio';

/** An estimate and what each input adds to its sigma, largest first. */
interface StickEstimate extends Estimate {
  readonly contributions: readonly { readonly input: StickInput; readonly sigma: number }[];
}

/**
 * What a wooden bar's first bending mode reads low in E, as a factor to multiply by.
 * @param lengthOverThickness L/t, > 0
 * @param eOverG              E along the bar over its shear modulus in the plane of bending, about 16 for spruce
 * @returns 1 + (r/L)^2 (49.48 + 12.30 E / (kappa G)), r = t / sqrt 12, kappa = 5/6; within 0.1 % of the exact Timoshenko
 *          bar for L/t >= 20 at E/G 16, 0.5 % at L/t 10
 * Source: Goens, Ann. Phys. 403 (1931) 649 (form from memory; checked against a converged Timoshenko bar). The isotropic
 * T1 of ASTM E1876 is a third of this at E/G 16.
 */
export function timoshenkoFactor(lengthOverThickness: number, eOverG: number): number {
  needPositive('timoshenkoFactor', { lengthOverThickness, eOverG });
  return 1 + (49.48 + (12.3 * eOverG) / (5 / 6)) / (12 * lengthOverThickness ** 2);
}

/**
 * Young's modulus of a bar from its first bending mode before any shear correction, Pa.
 * Source: ASTM E1876 with its constant taken exactly: E = 0.94641 (m f^2 / b) (L/t)^3 (printed 0.9465).
 */
export function barModulusPa(bar: {
  readonly massKg: number;
  readonly frequencyHz: number;
  readonly lengthM: number;
  readonly widthM: number;
  readonly thicknessM: number;
}): number {
  needPositive('barModulusPa', bar);
  return ((BAR_FACTOR * bar.massKg * bar.frequencyHz ** 2) / bar.widthM) * (bar.lengthM / bar.thicknessM) ** 3;
}

/**
 * E1876's shape factor R for the torsion of a rectangular bar; width and thickness in any order.
 * Source: ASTM E1876, torsional mode.
 */
export function torsionShape(lengthM: number, widthM: number, thicknessM: number): number {
  needPositive('torsionShape', { lengthM, widthM, thicknessM });
  const b = Math.max(widthM, thicknessM);
  const t = Math.min(widthM, thicknessM);
  const flat = (1 + (b / t) ** 2) / (4 - 2.521 * (t / b) * (1 - 1.991 / (Math.exp((Math.PI * b) / t) + 1)));
  return flat * (1 + 0.00851 * (b / lengthM) ** 2) - 0.06 * (b / lengthM) ** 1.5 * (b / t - 1) ** 2;
}

/**
 * Shear modulus of a bar from its first twisting mode, Pa.
 * Source: ASTM E1876: G = 4 L m f^2 R / (b t).
 */
export function barShearPa(bar: {
  readonly massKg: number;
  readonly frequencyHz: number;
  readonly lengthM: number;
  readonly widthM: number;
  readonly thicknessM: number;
}): number {
  needPositive('barShearPa', bar);
  const { massKg, frequencyHz, lengthM, widthM, thicknessM } = bar;
  return (
    ((4 * lengthM * massKg * frequencyHz ** 2) / (widthM * thicknessM)) * torsionShape(lengthM, widthM, thicknessM)
  );
}

/** What a stick is. */
export interface StickConstants {
  readonly densityKgM3: StickEstimate;
  readonly eGpa: StickEstimate;
  /** undefined where it was not twisted */
  readonly gGpa: StickEstimate | undefined;
  readonly speedMS: StickEstimate;
  /** E / rho, 10^6 m^2/s^2: stiffness for weight at equal shape */
  readonly specificModulus: StickEstimate;
  /** what shear was taken to cost, as a factor on E */
  readonly shearFactor: number;
}

/** E / G of a stick that was not twisted. Source: 1 / 0.064 for Sitka spruce, FPL-GTR-282 Table 5-1, and its scatter. */
const USUAL_E_OVER_G: Estimate = { value: 15.6, sigma: 4.7 };

/**
 * E, G, density and speed of sound of a brace stick.
 * @param stick     mm and g with one sigma
 * @param bendingHz first bending mode, free at both ends (held at 0.224 of the length)
 * @param twistHz   first twisting mode, undefined if not tapped: E / G is then taken from the handbook, and counted in sigma
 * @returns estimates with the share of each input
 * Source: ASTM E1876 with the Timoshenko correction (see timoshenkoFactor) instead of the isotropic T1.
 */
export function stickConstants(
  stick: MeasuredStick,
  bendingHz: Estimate,
  twistHz: Estimate | undefined,
): StickConstants {
  const names: StickInput[] = [
    'length',
    'width',
    'thickness',
    'mass',
    'bending-tap',
    twistHz === undefined ? 'shear-ratio' : 'twist-tap',
  ];
  const inputs = [stick.lengthMm, stick.widthMm, stick.thicknessMm, stick.massG, bendingHz, twistHz ?? USUAL_E_OVER_G];
  const solve = (values: readonly number[]) => {
    const [lengthMm, widthMm, thicknessMm, massG, frequencyHz, last] = values as [
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    const bar = {
      massKg: massG / 1000,
      lengthM: lengthMm / 1000,
      widthM: widthMm / 1000,
      thicknessM: thicknessMm / 1000,
    };
    const density = bar.massKg / (bar.lengthM * bar.widthM * bar.thicknessM);
    const bare = barModulusPa({ ...bar, frequencyHz });
    const shear = twistHz === undefined ? undefined : barShearPa({ ...bar, frequencyHz: last });
    const slenderness = bar.lengthM / bar.thicknessM;
    // The correction asks for the corrected E over G: E = E0 (1 + a + b E) is linear in E.
    const fixed = timoshenkoFactor(slenderness, last);
    const perRatio = timoshenkoFactor(slenderness, 2) - timoshenkoFactor(slenderness, 1);
    const rotary = timoshenkoFactor(slenderness, 1) - perRatio;
    const modulus = shear === undefined ? bare * fixed : (bare * rotary) / (1 - (bare * perRatio) / shear);
    return { density, modulus, shear, factor: modulus / bare };
  };
  const trace = (of: (solved: ReturnType<typeof solve>) => number): StickEstimate => {
    const { result, contributions } = propagated((values) => of(solve(values)), inputs);
    const shares = names.map((input, k) => ({ input, sigma: contributions[k]! })).filter(({ sigma }) => sigma > 0);
    return { ...result, contributions: shares.sort((p, q) => q.sigma - p.sigma) };
  };
  return {
    densityKgM3: trace(({ density }) => density),
    eGpa: trace(({ modulus }) => modulus / 1e9),
    gGpa: twistHz === undefined ? undefined : trace(({ shear }) => shear! / 1e9),
    speedMS: trace(({ modulus, density }) => Math.sqrt(modulus / density)),
    specificModulus: trace(({ modulus, density }) => modulus / density / 1e6),
    shearFactor: solve(inputs.map(({ value }) => value)).factor,
  };
}

/** A doubt about a stick's reading, as a code. */
export type StickDoubt =
  /** no wood is so light or heavy: mass, or one of the three sizes */
  | 'density-not-wood'
  /** no wood is so soft or stiff: the wrong mode, or length (it enters cubed) or thickness */
  | 'modulus-not-wood'
  /** the twist tap gives a shear modulus no wood has: probably a bending mode */
  | 'shear-not-wood'
  /** so short that shear takes more than a tenth: tap a longer stick */
  | 'too-short';

/** What to doubt in a stick's reading; empty where all is as wood can be. Source: WOOD_LIMITS. */
export function stickDoubts({ densityKgM3, eGpa, gGpa, shearFactor }: StickConstants): readonly StickDoubt[] {
  const isOutside = ({ value }: Estimate, [low, high]: readonly [number, number]) => value < low || value > high;
  const doubts: StickDoubt[] = [];
  if (isOutside(densityKgM3, WOOD_LIMITS.density)) doubts.push('density-not-wood');
  if (isOutside(eGpa, WOOD_LIMITS['e-long'])) doubts.push('modulus-not-wood');
  if (gGpa !== undefined && isOutside(gGpa, WOOD_LIMITS.shear)) doubts.push('shear-not-wood');
  if (shearFactor > 1.1) doubts.push('too-short');
  return doubts;
}

/**
 * Sticks from stiffest for their weight to least.
 * @param exponent 1: same section (E / rho); 1/3: same stiffness at free height (E^(1/3) / rho, least brace mass)
 * Source: M. F. Ashby, Materials Selection in Mechanical Design: beam indices at fixed section and at free height.
 */
export function rankSticks<T extends { readonly eGpa: Estimate; readonly densityKgM3: Estimate }>(
  sticks: readonly T[],
  exponent: 1 | 'free-height',
): readonly T[] {
  const power = exponent === 1 ? 1 : 1 / 3;
  const index = ({ eGpa, densityKgM3 }: T) => eGpa.value ** power / densityKgM3.value;
  return [...sticks].sort((p, q) => index(q) - index(p));
}

/**
 * Height at which another stick is as stiff, width kept.
 * @param heightMm height of the present stick
 * @param eGpa     its modulus
 * @param otherGpa modulus of the other stick
 * @returns height of the other, mm
 * Source: E b h^3 kept; for a brace alone. Glued to a plate the power is nearer 2.3: use bracedStripStiffness there.
 */
export function equalStiffnessHeight(heightMm: Estimate, eGpa: Estimate, otherGpa: Estimate): Estimate {
  return propagated(([h, e, o]) => h! * Math.cbrt(e! / o!), [heightMm, eGpa, otherGpa]).result;
}
