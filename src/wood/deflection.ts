// A second opinion without a microphone: a known load in the middle of a span, and how far the plate gives.
import { type Estimate, propagated } from '../quantity/estimate.ts';

/** One deflection test; the plate lies on two dowels and bends along or across the grain. */
export interface DeflectionTest {
  readonly spanMm: Estimate;
  readonly loadN: Estimate;
  readonly deflectionMm: Estimate;
  /** side of the plate parallel to the dowels */
  readonly widthMm: Estimate;
  readonly thicknessMm: Estimate;
}

/** What the inputs are called where their shares are shown. */
export type DeflectionInput = 'span' | 'load' | 'deflection' | 'width' | 'thickness';

/** Stiffness by deflection. */
export interface DeflectionReading {
  /** EI of the whole width, N m^2 */
  readonly bendingNm2: Estimate;
  /** stiffness per width, N m: what a plate of any width is compared by */
  readonly perWidthNm: Estimate;
  readonly modulusGpa: Estimate;
  /** what each input adds to sigma of the modulus, GPa, largest first */
  readonly contributions: readonly { readonly input: DeflectionInput; readonly sigma: number }[];
}

/**
 * Stiffness and modulus from span, load and deflection.
 * @param test mm and N, each with one sigma, all > 0
 * @throws RangeError for values that are not > 0
 * Source: beam on two supports, load in the middle, any strength-of-materials text: EI = F S^3 / (48 d). The plate's
 * hindered side-ways curl makes it read up to 1.5 % high (1 / (1 - nu_LR nu_RL)), shear up to 0.5 % low.
 */
export function readDeflection(test: DeflectionTest): DeflectionReading {
  const inputs = [test.spanMm, test.loadN, test.deflectionMm, test.widthMm, test.thicknessMm];
  const names: DeflectionInput[] = ['span', 'load', 'deflection', 'width', 'thickness'];
  inputs.forEach(({ value }, k) => {
    if (!(value > 0)) throw new RangeError(`readDeflection: ${names[k]} ${value}, need > 0`);
  });
  const bending = (values: readonly number[]) => {
    const [span, load, deflection] = values as [number, number, number];
    return (load * (span / 1000) ** 3) / (48 * (deflection / 1000));
  };
  const perWidth = (values: readonly number[]) => bending(values) / (values[3]! / 1000);
  const modulus = (values: readonly number[]) => (12e-9 * perWidth(values)) / (values[4]! / 1000) ** 3;
  const { result: modulusGpa, contributions } = propagated(modulus, inputs);
  return {
    bendingNm2: propagated(bending, inputs).result,
    perWidthNm: propagated(perWidth, inputs).result,
    modulusGpa,
    contributions: names
      .map((input, k) => ({ input, sigma: contributions[k]! }))
      .filter(({ sigma }) => sigma > 0)
      .sort((p, q) => q.sigma - p.sigma),
  };
}

/** Two measurements of one thing beside each other. */
export interface Agreement {
  /** second over first */
  readonly ratio: Estimate;
  /** distance in joint standard deviations */
  readonly sigmas: number;
  readonly word: 'agree' | 'doubtful' | 'disagree';
}

/**
 * Whether two measurements agree.
 * @param first  for example tapped
 * @param second for example bent; independent of the first
 * @returns 'agree' within 2 joint sigma, 'doubtful' to 3, then 'disagree'
 * Source: JCGM 100:2008 (GUM) annex D, coverage of 95 and 99.7 %.
 */
export function agreementOf(first: Estimate, second: Estimate): Agreement {
  const joint = Math.hypot(first.sigma, second.sigma);
  const apart = Math.abs(second.value - first.value);
  const sigmas = apart === 0 ? 0 : apart / joint;
  const { result: ratio } = propagated(([p, q]) => q! / p!, [first, second]);
  return { ratio, sigmas, word: sigmas <= 2 ? 'agree' : sigmas <= 3 ? 'doubtful' : 'disagree' };
}
