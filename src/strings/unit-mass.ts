// What a metre of string weighs, from its gauge and build.
import { type Estimate, estimate } from '../quantity/estimate.ts';

/** Densities, kg/m³. Handbook values from memory, unverified, but for steel: 7850 (published string data imply 7806). */
const STRING_DENSITY_KG_M3 = {
  steel: 7850,
  'phosphor bronze': 8860,
  'brass 80/20': 8670,
  'nickel-plated steel': 7850,
  'silvered copper': 8960,
  /** of strings, polyamide 6.12; general nylon 6.6 is 1140 */
  nylon: 1060,
  fluorocarbon: 1780,
  gut: 1300,
} as const;

type StringMaterial = keyof typeof STRING_DENSITY_KG_M3;

/** One string of a set, as sold. */
export type StringBuild =
  | { readonly kind: 'plain'; readonly diameterM: number; readonly material: StringMaterial }
  | {
      readonly kind: 'wound';
      readonly diameterM: number;
      readonly coreDiameterM: number;
      readonly core: StringMaterial;
      readonly wrap: StringMaterial;
    }
  /** from the maker's table or the scale */
  | { readonly kind: 'weighed'; readonly unitMassKgPerM: Estimate };

/** Part of the annulus that close-laid round wire fills: a circle in its square. Source: geometry. */
const ROUND_WIRE_FILL = Math.PI / 4;

/**
 * How well the formulas know a string: plain: gauge and density, 1 %; wound: the core is rarely told and cores differ by a
 * fifth, 4 %. Source: against a string maker's published unit weights, tests/published/strings.test.ts.
 */
const PLAIN_SIGMA = 0.01;
const WOUND_SIGMA = 0.04;
/** Plastic and gut: grades differ in density by a tenth, gauges are loose, and a floss core is not solid. Source: ours. */
const SOFT_PLAIN_SIGMA = 0.06;
const SOFT_WOUND_SIGMA = 0.08;
const isMetal = (material: StringMaterial): boolean => STRING_DENSITY_KG_M3[material] > 3000;

/**
 * Mass per metre, kg/m.
 * Plain: rho pi d² / 4. Wound: rho_core pi c² / 4 + rho_wrap (pi / 4) pi (d² - c²) / 4: one layer of round wire laid close,
 * wire diameter (d - c) / 2, its slant left out (below 1 %).
 * @throws RangeError if a diameter is not > 0 or the core is not thinner than the string
 * Source: plain: geometry; wound: our derivation from geometry, checked as above.
 */
export function unitMassKgPerM(build: StringBuild): Estimate {
  switch (build.kind) {
    case 'weighed':
      return build.unitMassKgPerM;
    case 'plain': {
      if (!(build.diameterM > 0)) throw new RangeError(`unitMassKgPerM: diameter ${build.diameterM} m, need > 0`);
      const mass = (STRING_DENSITY_KG_M3[build.material] * Math.PI * build.diameterM ** 2) / 4;
      return estimate(mass, (isMetal(build.material) ? PLAIN_SIGMA : SOFT_PLAIN_SIGMA) * mass);
    }
    case 'wound': {
      const { diameterM, coreDiameterM } = build;
      if (!(coreDiameterM > 0 && coreDiameterM < diameterM))
        throw new RangeError(`unitMassKgPerM: core ${coreDiameterM} m in string ${diameterM} m, need a thinner core`);
      const core = (STRING_DENSITY_KG_M3[build.core] * Math.PI * coreDiameterM ** 2) / 4;
      const annulus = (Math.PI * (diameterM ** 2 - coreDiameterM ** 2)) / 4;
      const mass = core + STRING_DENSITY_KG_M3[build.wrap] * ROUND_WIRE_FILL * annulus;
      return estimate(mass, (isMetal(build.core) ? WOUND_SIGMA : SOFT_WOUND_SIGMA) * mass);
    }
  }
}
