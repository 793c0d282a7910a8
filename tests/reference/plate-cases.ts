// The reference plates as cases of ours, with the frequencies they were found to have.
import { readFileSync } from 'node:fs';
import type { Point } from '../../src/plate/outline.ts';
import type { PlateCase, WoodConstants } from '../../src/plate/plate-case.ts';

const read = (name: string): unknown => JSON.parse(readFileSync(new URL(name, import.meta.url), 'utf8'));

/** The first set: already in our format. */
export type TetraCase = PlateCase & {
  readonly extrapolatedHz: readonly number[];
  readonly results: readonly { readonly meshSizeMm: number; readonly freqsHz: readonly number[] }[];
};
export const tetraCases = read('plate-modes.json') as Readonly<Record<string, TetraCase>>;

/** Cases of both sets solved once more as they are described, see plate-solids.md. */
export const solvedAgain = read('plate-tetra.json') as Readonly<
  Record<string, { readonly meshSizeMm: number; readonly freqsHz: readonly number[] }>
>;

/** Grain error of braces straight across in the first set, degrees (see plate-solids.md). */
const ACROSS_GRAIN_ERROR_DEG = (Math.atan2(1, 0.6123233995736766) * 180) / Math.PI - 90;

/**
 * A case of the first set as CalculiX was really given it (see plate-solids.md): parts straight across have their grain
 * turned, and in the series with a bridge plate called "plate" its wood and grain went to the top of the same name too.
 */
export function asSolved(plate: TetraCase): TetraCase {
  const braces = (plate.braces ?? []).map((brace) =>
    brace.from[0] === brace.to[0] ? { ...brace, grainDeg: ACROSS_GRAIN_ERROR_DEG } : brace,
  );
  const namesake = braces.find(({ id }) => id === 'plate');
  if (namesake === undefined) return { ...plate, braces };
  return { ...plate, braces, material: namesake.material, grainDeg: 90 + ACROSS_GRAIN_ERROR_DEG };
}

interface SolidWood {
  readonly E_L_GPa: number;
  readonly E_R_GPa: number;
  readonly E_T_GPa: number;
  readonly nu_LR: number;
  readonly nu_LT: number;
  readonly nu_RT: number;
  readonly G_LR_GPa: number;
  readonly G_LT_GPa: number;
  readonly G_RT_GPa: number;
  readonly rho_kg_m3: number;
}

interface SolidEntry {
  readonly case: string;
  readonly bc: 'free' | 'hinged' | 'clamped';
  readonly geometry: { readonly outline: readonly Point[]; readonly holes: readonly (readonly Point[])[] };
  readonly thickness: number;
  readonly material: SolidWood;
  readonly braces: readonly {
    readonly name: string;
    readonly start: Point;
    readonly end: Point;
    readonly width: number;
    readonly height: readonly (readonly [number, number])[];
    readonly material: SolidWood;
  }[];
  readonly patches: readonly {
    readonly name: string;
    readonly polygon: readonly Point[];
    readonly thickness: number;
    readonly grain_deg: number;
    readonly material: SolidWood;
  }[];
  readonly sample_points: readonly Point[];
  readonly mode_shapes?: readonly (readonly number[])[];
  readonly freqs_hz: readonly number[];
  readonly best_estimate_hz?: readonly number[];
  readonly two_layer_correction_pct?: readonly number[];
  readonly runtime_s: number;
}

export const solidEntries = (read('plate-solids.json') as { readonly entries: readonly SolidEntry[] }).entries;

export const solidEntry = (name: string, bc: SolidEntry['bc']): SolidEntry => {
  const found = solidEntries.find((entry) => entry.case === name && entry.bc === bc);
  if (found === undefined) throw new RangeError(`solidEntry: no ${name} ${bc}`);
  return found;
};

const mpa = (wood: SolidWood): WoodConstants => ({
  eL: wood.E_L_GPa * 1000,
  eR: wood.E_R_GPa * 1000,
  eT: wood.E_T_GPa * 1000,
  gLR: wood.G_LR_GPa * 1000,
  gLT: wood.G_LT_GPa * 1000,
  gRT: wood.G_RT_GPa * 1000,
  nuLR: wood.nu_LR,
  nuLT: wood.nu_LT,
  nuRT: wood.nu_RT,
  densityKgM3: wood.rho_kg_m3,
});

/** An entry of the second set as a case of ours. All its soundholes are circles of 50 mm at x = 335. */
export function solidCase(entry: SolidEntry): PlateCase {
  return {
    outline: entry.geometry.outline,
    ...(entry.geometry.holes.length > 0 && { soundhole: { xMm: 335, yMm: 0, radiusMm: 50 } }),
    thicknessMm: entry.thickness,
    material: mpa(entry.material),
    braces: entry.braces.map(({ name, start, end, width, height, material }) => ({
      id: name,
      from: start,
      to: end,
      widthMm: width,
      heightMm: height,
      material: mpa(material),
      upright: 'T' as const,
    })),
    patches: entry.patches.map(({ name, polygon, thickness, grain_deg, material }) => ({
      id: name,
      polygon,
      thicknessMm: thickness,
      grainDeg: grain_deg,
      material: mpa(material),
    })),
    edge: entry.bc === 'hinged' ? { kind: 'hinged', pinnedAt: 'mid-surface' } : entry.bc,
  };
}

/** The best known frequencies of an entry: two layers through the plate, or corrected to them where the file says how. */
export const solidHz = (entry: SolidEntry): readonly number[] =>
  entry.best_estimate_hz ??
  entry.freqs_hz.map((f, i) => f * (1 + (entry.two_layer_correction_pct?.[i] ?? 0) / 100));
