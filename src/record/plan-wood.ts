// Wood constants of a plan: typed or measured ones, and the handbook's ratios for what nobody measures at the bench.
import type { WoodConstants } from '../plate/plate-case.ts';
import { elasticStart } from '../wood/elastic-start.ts';
import { type Species, speciesById } from '../wood/species.ts';
import type { InstrumentRecord, Piece, Plan, PlanBrace, PlanWood } from './record.ts';

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

/** Constants of a plan's wood, by the name the reading of a piece gives them. */
const MEASURED = [
  ['eLongGpa', 'eLongGpa'],
  ['eCrossGpa', 'eCrossGpa'],
  ['shearGpa', 'gGpa'],
  ['densityKgM3', 'densityKgM3'],
] as const;

/** Constants of a plan's wood that were measured on a piece. */
export const measuredOn = (piece: Piece): readonly (typeof MEASURED)[number][0][] =>
  MEASURED.filter(([, read]) => piece.reading?.[read] !== undefined).map(([key]) => key);

/** The wood of a measured piece: what was read, and the handbook's means for the rest. */
export function planWoodOf(piece: Piece): PlanWood {
  const measured = MEASURED.flatMap(([key, read]) => {
    const found = piece.reading?.[read];
    return found === undefined ? [] : [[key, { value: found.value, sigma: found.sigma }] as const];
  });
  return {
    ...handbookWood(piece.species),
    name: piece.name,
    pieceId: piece.id,
    ...Object.fromEntries(measured),
  };
}

/** The wood of one brace: that of its own stick, else that of all braces. */
export const braceWoodOf = ({ braceWood }: Pick<Plan, 'braceWood'>, { wood }: Pick<PlanBrace, 'wood'>): PlanWood =>
  wood ?? braceWood;

/**
 * The wood of a top joined from two measured halves: the mean of each figure; what the halves differ by is part of its spread.
 * Source: JCGM 100:2008 (GUM), sections 4.3.7 and 5.1.2: two values, uniform between them.
 */
export function planWoodOfHalves(one: Piece, other: Piece): PlanWood {
  const [a, b] = [planWoodOf(one), planWoodOf(other)];
  const mean = (key: (typeof MEASURED)[number][0]) => {
    const [p, q] = [a[key], b[key]];
    const sigma = Math.hypot(Math.hypot(p.sigma, q.sigma) / 2, Math.abs(p.value - q.value) / Math.sqrt(12));
    return { value: (p.value + q.value) / 2, sigma };
  };
  const means = Object.fromEntries(MEASURED.map(([key]) => [key, mean(key)]));
  return { ...a, ...means, name: `${one.name}, ${other.name}`, pieceId: one.id, otherPieceId: other.id };
}

/** Pieces of a record that were measured and may be in its top, the last one first. */
export const measuredPieces = (record: InstrumentRecord, kind: 'top' | 'brace-stock'): readonly Piece[] =>
  (record.pieces ?? []).filter((piece) => piece.kind === kind && measuredOn(piece).length > 0).toReversed();

/** A plan with the measured wood of its record, as far as there is any. */
export function withMeasuredWood(record: InstrumentRecord, plan: Plan): Plan {
  const [top] = measuredPieces(record, 'top');
  const [stock] = measuredPieces(record, 'brace-stock');
  return { ...plan, ...(top && { wood: planWoodOf(top) }), ...(stock && { braceWood: planWoodOf(stock) }) };
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
