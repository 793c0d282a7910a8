// A new top for an old box: as stiff as the old one first, as heavy second, and the old readings turned into aims for the
// new wood. Numbers in, numbers out; which reading belongs to which instrument is the record's business.
import { type Estimate, estimate, propagated } from '../quantity/estimate.ts';
import { densityAtMoisture, modulusAfter } from '../wood/moisture.ts';

/** Wood of a top, at one moisture content. */
export interface TopWood {
  readonly densityKgM3: Estimate;
  readonly eLongGpa: Estimate;
  readonly eCrossGpa: Estimate;
  /** shear in the plane of the plate, where it was read */
  readonly gGpa?: Estimate;
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
    ...(wood.gGpa && { gGpa: modulusAfter(wood.gGpa, 'plate', byPercent) }),
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
  /** G h³ */
  readonly shear: Estimate;
  /** rho h */
  readonly arealMass: Estimate;
}

/**
 * Shear of one wood over that of another where one of them was not read: as the mean of the moduli (geometric) goes, within
 * this, one sigma. Source: ours; two boards, in each of which shear, E along and E across scatter by themselves (by 19, 15 and 22 %).
 */
const UNREAD_SHEAR_SHARE = 0.32;

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
  const along = ratio(old.eLongGpa, fresh.eLongGpa, 3);
  const across = ratio(old.eCrossGpa, fresh.eCrossGpa, 3);
  const bending = propagated(([l, r]) => Math.sqrt(l! * r!), [along, across]).result;
  return {
    along,
    across,
    shear:
      old.gGpa && fresh.gGpa
        ? ratio(old.gGpa, fresh.gGpa, 3)
        : estimate(bending.value, Math.hypot(bending.sigma, UNREAD_SHEAR_SHARE * bending.value)),
    arealMass: ratio(old.densityKgM3, fresh.densityKgM3, 1),
  };
}

/** How a mode draws on the plate: what the translation must assume, each with its doubt, 0 to 1. */
export interface ModeSharing {
  /** of what the plate's stiffness in this mode is bending, the part along the grain */
  readonly alongShare: Estimate;
  /** of the plate's stiffness in this mode, the part that is shear */
  readonly shearShare: Estimate;
  /** of the whole stiffness, the part that is braces and rims, taken as rebuilt alike */
  readonly braceShare: Estimate;
  /** of the moving mass, the part that is plate and not braces, bridge, air */
  readonly plateMassShare: Estimate;
  /** what braces, rims and glue built again differ by, as a share of the frequency, one sigma; there at ratios of 1 too */
  readonly rebuiltShare: number;
}

/**
 * Sharing to begin with, by stage and mode. Bare plates follow from which stiffness the mode bends; a twist is mostly shear. Braced:
 * means and spreads over the lowest four modes of 60 tops of ours by lot in the plate solver, hinged and clamped rims together
 * (`npm run bench -- aim-shares`, seed 2101; judged on another, docs/forecast-figures.md). Closed: the lowest mode on the rims, its bridge
 * on (common practice, no source), where the air's spring adds to what does not change: 14 % of a top's stiffness in the worked box
 * of tests/published (170 Hz without the air, 182.7 Hz on it), a third of that again from box to box (ours).
 */
export const USUAL_SHARING = {
  'bare plate, long': bare(estimate(1, 0.02), estimate(0, 0)),
  'bare plate, cross': bare(estimate(0, 0.02), estimate(0, 0)),
  'bare plate, twist': bare(estimate(0.5, 0.3), estimate(0.9, 0.1)),
  'braced, free': {
    alongShare: estimate(0.8, 0.2),
    shearShare: estimate(0.31, 0.25),
    braceShare: estimate(0.3, 0.16),
    plateMassShare: estimate(0.81, 0.07),
    rebuiltShare: 0.025,
  },
  'on the rims': {
    alongShare: estimate(0.7, 0.12),
    shearShare: estimate(0.22, 0.05),
    braceShare: estimate(0.46, 0.11),
    plateMassShare: estimate(0.73, 0.13),
    rebuiltShare: 0.025,
  },
  'in the closed box': {
    alongShare: estimate(0.64, 0.08),
    shearShare: estimate(0.22, 0.05),
    braceShare: estimate(0.63, 0.1),
    plateMassShare: estimate(0.52, 0.1),
    rebuiltShare: 0.025,
  },
} as const satisfies Record<string, ModeSharing>;

function bare(alongShare: Estimate, shearShare: Estimate): ModeSharing {
  return { alongShare, shearShare, braceShare: estimate(0, 0), plateMassShare: estimate(1, 0), rebuiltShare: 0 };
}

export type SignatureStage = keyof typeof USUAL_SHARING;

/**
 * How much stiffer the new top is in a mode, or under a load that bends it alike, with the same braces and rims.
 * @returns new over old, what is not rebuilt alike in its sigma
 * Source: the numerator of `translatedMode`.
 */
export function translatedStiffness(ratios: TopRatios, sharing: ModeSharing): Estimate {
  const { along, across, shear } = ratios;
  const { alongShare, shearShare, braceShare, rebuiltShare } = sharing;
  return propagated(
    ([l, r, g, w, s, b, rebuilt]) => stiffnessOf(l!, r!, g!, w!, s!, b!) * rebuilt! ** 2,
    [along, across, shear, alongShare, shearShare, braceShare, estimate(1, rebuiltShare)],
  ).result;
}

/** (1 - b)((1 - s)(w along + (1 - w) across) + s shear) + b */
const stiffnessOf = (along: number, across: number, shear: number, w: number, s: number, b: number): number =>
  (1 - b) * ((1 - s) * (w * along + (1 - w) * across) + s * shear) + b;

/**
 * The frequency at which the new top would do what the old one did, with the same braces and rims.
 * f' = f sqrt([(1 - b)((1 - s)(w r_along + (1 - w) r_across) + s r_shear) + b] / [p r_mass + 1 - p]).
 * @param oldHz  the old mode, read at the moisture for which the ratios hold, Hz
 * @returns Hz, and what each input adds to its sigma: reading, along, across, shear, mass, along share, shear share, brace share,
 *          mass share, and what is not rebuilt alike
 * Source: Rayleigh's quotient with unchanged shape (first order in the ratios); our derivation, tests/box/replacement.test.ts.
 */
export function translatedMode(
  oldHz: Estimate,
  ratios: TopRatios,
  sharing: ModeSharing,
): { readonly aimHz: Estimate; readonly contributionsHz: readonly number[] } {
  const { result, contributions } = propagated(
    ([f, along, across, shear, mass, w, s, b, p, rebuilt]) =>
      f! * rebuilt! * Math.sqrt(stiffnessOf(along!, across!, shear!, w!, s!, b!) / (p! * mass! + 1 - p!)),
    [
      oldHz,
      ratios.along,
      ratios.across,
      ratios.shear,
      ratios.arealMass,
      sharing.alongShare,
      sharing.shearShare,
      sharing.braceShare,
      sharing.plateMassShare,
      estimate(1, sharing.rebuiltShare),
    ],
  );
  return { aimHz: result, contributionsHz: contributions };
}

export type Damage = 'cracked' | 'loose-brace' | 'sunken' | 'sanded-thin';

/**
 * The frequency of a sound part over that read of a damaged one, from nothing to twice the mean, taken as spread evenly (sigma = half
 * width / sqrt 3). Source: the plate solver's lowest mode on hinged rims, six tops of ours by lot: any brace but a main one away
 * altogether 0 to 16 %; half the stiffness across the grain 3.5 to 4.6 %, for cracks; a fifth of the thickness 5.7 to 7.1 %. Without a
 * main cross brace (24 to 140 %) the mode is another: no spread covers that. Sunken: the arch that is gone lowers, what is pulled
 * tight raises (ours, no source).
 */
const SOUND_OVER_DAMAGED: Readonly<Record<Damage, Estimate>> = {
  cracked: estimate(1.025, 0.025 / Math.sqrt(3)),
  'loose-brace': estimate(1.08, 0.08 / Math.sqrt(3)),
  sunken: estimate(1, 0.05),
  'sanded-thin': estimate(1.035, 0.035 / Math.sqrt(3)),
};

/** The same where nobody was asked what is wrong: it may be sound, cracked, or have a loose brace. Ours, no source. */
const UNASKED = estimate(1.02, 0.03);

/** Factors that turn what was read of a damaged part into what it was when sound. */
export const soundFactors = (damage: readonly Damage[] | 'unasked'): readonly Estimate[] =>
  damage === 'unasked' ? [UNASKED] : damage.map((one) => SOUND_OVER_DAMAGED[one]);

/** A reading of the instrument before its repair. */
export interface OldReading {
  readonly part: 'top' | 'back' | 'air';
  readonly stage: SignatureStage;
  readonly mode: string;
  /** as it was read */
  readonly frequencyHz: Estimate;
  /** carried to the air for which the ratios of the woods hold */
  readonly sameAirHz: Estimate;
  /** what is wrong with that part when it was read; 'unasked' where the maker has not said */
  readonly damage: readonly Damage[] | 'unasked';
}

export type ReplacementAim = { readonly stage: SignatureStage; readonly mode: string } & (
  | { readonly kind: 'aim'; readonly aimHz: Estimate }
  /** the back stays: read it again on the open body, do not aim the top at it */
  | { readonly kind: 'back-stays' }
  /** what the air does in the closed box follows from the box with the new top in it, not from its old peak alone */
  | { readonly kind: 'of-the-box' }
);

/** Turns the old readings into aims for the new top; what damage may have taken off shifts and widens them. */
export function replacementAims(readings: readonly OldReading[], ratios: TopRatios): readonly ReplacementAim[] {
  return readings.map(({ part, stage, mode, sameAirHz, damage }) => {
    if (part === 'back') return { stage, mode, kind: 'back-stays' };
    if (part === 'air') return { stage, mode, kind: 'of-the-box' };
    const soundHz = propagated(
      (factors) => factors.reduce((product, x) => product * x, 1),
      [sameAirHz, ...(damage === 'unasked' ? [UNASKED] : damage.map((one) => SOUND_OVER_DAMAGED[one]))],
    ).result;
    return { stage, mode, kind: 'aim', aimHz: translatedMode(soundHz, ratios, USUAL_SHARING[stage]).aimHz };
  });
}

function properties(wood: TopWood): readonly Estimate[] {
  return [wood.densityKgM3, wood.eLongGpa, wood.eCrossGpa];
}
