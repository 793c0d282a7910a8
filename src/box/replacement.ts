// A new top for an old box: as stiff as the old one first, as heavy second, and the old readings turned into aims for the
// new wood. Numbers in, numbers out; which reading belongs to which instrument is the record's business.
import { type Estimate, estimate, propagated } from '../quantity/estimate.ts';
import { densityAtMoisture, modulusAfter } from '../wood/moisture.ts';

/** Wood of a top, at one moisture content. */
export interface TopWood {
  readonly densityKgM3: Estimate;
  readonly eLongGpa: Estimate;
  readonly eCrossGpa: Estimate;
}

/** Moisture about which a change is laid where only the change is known, %: a workshop's. */
const USUAL_MOISTURE_PERCENT = 9;

/**
 * The wood as it would read after its moisture changed, so that there and back is no change of value.
 * @param byPercent moisture after minus before, %
 * Source: wood/moisture.ts, the laws of every board.
 */
export function atOtherMoisture(wood: TopWood, byPercent: number): TopWood {
  const [from, to] = [USUAL_MOISTURE_PERCENT - byPercent / 2, USUAL_MOISTURE_PERCENT + byPercent / 2];
  const { value, sigma } = wood.densityKgM3;
  const density = densityAtMoisture(value, from, to);
  return {
    densityKgM3: estimate(density, (sigma * density) / value),
    eLongGpa: modulusAfter(wood.eLongGpa, 'long', byPercent),
    eCrossGpa: modulusAfter(wood.eCrossGpa, 'cross', byPercent),
  };
}

/** What the new top is to equal: stiffness along, across, the mean of both (geometric), or mass. */
export type MatchBy = 'along' | 'across' | 'both' | 'mass';

/**
 * Thickness at which the new wood equals the old top, mm.
 * E h³ equal: h' = h (E / E')^(1/3); both: the geometric mean of the two; rho h equal: h' = h rho / rho'.
 * @param old            old wood, with its thickness, mm, at the moisture of the new
 * @throws RangeError if a value is not > 0
 * Source: plate stiffness D ~ E h³; match stiffness first: common practice in restoration, no source.
 */
export function matchedThickness(old: TopWood, oldThicknessMm: Estimate, fresh: TopWood, by: MatchBy): Estimate {
  const inputs = [oldThicknessMm, ...properties(old), ...properties(fresh)];
  for (const { value } of inputs) if (!(value > 0)) throw new RangeError(`matchedThickness: ${value}, need > 0`);
  const f = ([h, rho, eL, eR, rho2, eL2, eR2]: readonly number[]): number => {
    switch (by) {
      case 'along':
        return h! * Math.cbrt(eL! / eL2!);
      case 'across':
        return h! * Math.cbrt(eR! / eR2!);
      case 'both':
        return h! * ((eL! * eR!) / (eL2! * eR2!)) ** (1 / 6);
      case 'mass':
        return (h! * rho!) / rho2!;
    }
  };
  return propagated(f, inputs).result;
}

/** New over old: how the new top differs at a thickness, 1 for equal. */
export interface TopRatios {
  /** E_L h³ */
  readonly along: Estimate;
  /** E_R h³ */
  readonly across: Estimate;
  /** rho h */
  readonly arealMass: Estimate;
}

/** How a new top of a chosen thickness compares with the old one: both stiffness errors and the mass error at once. */
export function topRatios(
  old: TopWood,
  oldThicknessMm: Estimate,
  fresh: TopWood,
  freshThicknessMm: Estimate,
): TopRatios {
  const ratio = (a: Estimate, b: Estimate, power: number): Estimate =>
    propagated(([fromE, toE, h, h2]) => (toE! / fromE!) * (h2! / h!) ** power, [a, b, oldThicknessMm, freshThicknessMm])
      .result;
  return {
    along: ratio(old.eLongGpa, fresh.eLongGpa, 3),
    across: ratio(old.eCrossGpa, fresh.eCrossGpa, 3),
    arealMass: ratio(old.densityKgM3, fresh.densityKgM3, 1),
  };
}

/** How a mode draws on the plate: what the translation must assume, each with its doubt, 0 to 1. */
export interface ModeSharing {
  /** of the plate's stiffness in this mode, the part along the grain */
  readonly alongShare: Estimate;
  /** of the whole stiffness, the part that is braces and rims, taken as rebuilt alike */
  readonly braceShare: Estimate;
  /** of the moving mass, the part that is plate and not braces, bridge, air */
  readonly plateMassShare: Estimate;
}

/**
 * Sharing to begin with, by stage and mode. Bare plates follow from which stiffness the mode bends; a twist is taken
 * between the two for want of a shear modulus. Braces at 0.3 to 0.5 of a braced mode's stiffness: an assumption of the
 * trade's arithmetic, no source; masses: common practice, no source. Closed: the air's spring adds to what does not change,
 * 14 % of a top's stiffness in the worked box of tests/published (170 Hz without the air, 182.7 Hz on it); a third of that
 * again is its spread from box to box (ours).
 */
export const USUAL_SHARING = {
  'bare plate, long': { alongShare: estimate(1, 0.02), braceShare: estimate(0, 0), plateMassShare: estimate(1, 0) },
  'bare plate, cross': { alongShare: estimate(0, 0.02), braceShare: estimate(0, 0), plateMassShare: estimate(1, 0) },
  'bare plate, twist': { alongShare: estimate(0.5, 0.3), braceShare: estimate(0, 0), plateMassShare: estimate(1, 0) },
  'braced, free': {
    alongShare: estimate(0.5, 0.2),
    braceShare: estimate(0.4, 0.1),
    plateMassShare: estimate(0.75, 0.07),
  },
  'on the rims': {
    alongShare: estimate(0.5, 0.2),
    braceShare: estimate(0.4, 0.1),
    plateMassShare: estimate(0.6, 0.1),
  },
  'in the closed box': {
    alongShare: estimate(0.5, 0.2),
    braceShare: estimate(0.5, 0.12),
    plateMassShare: estimate(0.55, 0.12),
  },
} as const satisfies Record<string, ModeSharing>;

export type SignatureStage = keyof typeof USUAL_SHARING;

/**
 * The frequency at which the new top would do what the old one did, with the same braces and rims.
 * f' = f sqrt([(1 - b)(w r_along + (1 - w) r_across) + b] / [p r_mass + 1 - p]).
 * @param oldHz  the old mode, read at the moisture for which the ratios hold, Hz
 * @returns Hz, and what each input adds to its sigma: reading, along, across, mass, along share, brace share, mass share
 * Source: Rayleigh's quotient with unchanged shape (first order in the ratios); our derivation, tests/box/replacement.test.ts.
 */
export function translatedMode(
  oldHz: Estimate,
  ratios: TopRatios,
  sharing: ModeSharing,
): { readonly aimHz: Estimate; readonly contributionsHz: readonly number[] } {
  const { result, contributions } = propagated(
    ([f, along, across, mass, w, b, p]) =>
      f! * Math.sqrt(((1 - b!) * (w! * along! + (1 - w!) * across!) + b!) / (p! * mass! + 1 - p!)),
    [
      oldHz,
      ratios.along,
      ratios.across,
      ratios.arealMass,
      sharing.alongShare,
      sharing.braceShare,
      sharing.plateMassShare,
    ],
  );
  return { aimHz: result, contributionsHz: contributions };
}

/** A reading of the instrument before its repair. */
export interface OldReading {
  readonly part: 'top' | 'back' | 'air';
  readonly stage: SignatureStage;
  readonly mode: string;
  readonly frequencyHz: Estimate;
  /** what is wrong with that part when it was read */
  readonly damage: readonly ('cracked' | 'loose-brace' | 'sunken' | 'sanded-thin')[];
}

export type ReplacementAim = { readonly stage: SignatureStage; readonly mode: string } & (
  | { readonly kind: 'aim'; readonly aimHz: Estimate }
  /** the old reading is no target: the damage named made it what it was */
  | { readonly kind: 'untrusted'; readonly because: OldReading['damage'] }
  /** air and back stay as they are: read them again on the open body, do not aim the top at them */
  | { readonly kind: 'not-of-the-top'; readonly frequencyHz: Estimate }
);

/** Turns the old readings into aims for the new top, leaving out what damage has made worthless. */
export function replacementAims(readings: readonly OldReading[], ratios: TopRatios): readonly ReplacementAim[] {
  return readings.map(({ part, stage, mode, frequencyHz, damage }) => {
    if (damage.length > 0) return { stage, mode, kind: 'untrusted', because: damage };
    if (part !== 'top') return { stage, mode, kind: 'not-of-the-top', frequencyHz };
    return { stage, mode, kind: 'aim', aimHz: translatedMode(frequencyHz, ratios, USUAL_SHARING[stage]).aimHz };
  });
}

function properties(wood: TopWood): readonly Estimate[] {
  return [wood.densityKgM3, wood.eLongGpa, wood.eCrossGpa];
}
