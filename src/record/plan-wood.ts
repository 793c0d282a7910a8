// Wood constants of a plan: typed or measured ones, and the handbook's ratios for what nobody measures at the bench.
import type { WoodConstants } from '../plate/plate-case.ts';
import { elasticStart } from '../wood/elastic-start.ts';
import { type Species, speciesById } from '../wood/species.ts';
import type { PlanWood } from './record.ts';

const STAND_IN = { softwood: 'sitka-spruce', hardwood: 'sugar-maple' } as const;

/** A wood with the handbook's means and the spread of a single board. @param speciesId of wood/species.ts */
export function handbookWood(speciesId: string): PlanWood {
  const species = speciesById(speciesId);
  const start = elasticStart(species);
  const rounded = (value: number, decimals: number) => Number(value.toFixed(decimals));
  const gpa = (estimate: { readonly value: number; readonly sigma: number }) => ({
    value: rounded(estimate.value / 1e9, 3),
    sigma: rounded(estimate.sigma / 1e9, 3),
  });
  return {
    name: species?.name ?? 'Softwood',
    speciesId,
    eLongGpa: gpa(start.eLongPa),
    eCrossGpa: gpa(start.eCrossPa),
    shearGpa: gpa(start.gPa),
    densityKgM3: { value: rounded(start.densityKgM3.value, 0), sigma: rounded(start.densityKgM3.sigma, 0) },
  };
}

/** Species whose ratios are used: the wood's own where the handbook has them, else its family's. */
function ratiosOf(speciesId: string): Species {
  const species = speciesById(speciesId);
  return species?.ratios !== undefined && species.poisson !== undefined
    ? species
    : speciesById(STAND_IN[species?.family ?? 'softwood'])!;
}

/**
 * All nine constants, MPa. E_T, G_LT and G_RT are the measured E_L, E_R and G_LR in the handbook's proportions.
 * Source: FPL-GTR-282 Tables 5-1 and 5-2; where G_RT is missing, 0.02 E_L for hardwoods (between the tabled ones).
 */
export function woodConstants(wood: PlanWood): WoodConstants {
  const { ratios, poisson } = ratiosOf(wood.speciesId);
  const { eT, eR, gLR, gLT, gRT } = ratios!;
  const [eL, eCross, shear] = [wood.eLongGpa.value, wood.eCrossGpa.value, wood.shearGpa.value].map(
    (gpa) => gpa * 1000,
  ) as [number, number, number];
  return {
    eL,
    eR: eCross,
    eT: (eCross * eT.value) / eR.value,
    gLR: shear,
    gLT: (shear * gLT.value) / gLR.value,
    gRT: eL * (gRT?.value ?? 0.02),
    nuLR: poisson!.lr.value,
    nuLT: poisson!.lt.value,
    nuRT: poisson!.rt.value,
    densityKgM3: wood.densityKgM3.value,
  };
}
