// Small plates for tests.
import type { PlateCase, WoodConstants } from '../../src/plate/plate-case.ts';
import { type PlateMode, plateModes, preparePlate } from '../../src/plate/plate-modes.ts';

export const spruce: WoodConstants = {
  eL: 11000,
  eR: 900,
  eT: 473,
  gLR: 750,
  gLT: 671,
  gRT: 33,
  nuLR: 0.37,
  nuLT: 0.467,
  nuRT: 0.435,
  densityKgM3: 410,
};

export const isotropic = (eMpa: number, nu: number, densityKgM3: number): WoodConstants => {
  const g = eMpa / (2 * (1 + nu));
  return { eL: eMpa, eR: eMpa, eT: eMpa, gLR: g, gLT: g, gRT: g, nuLR: nu, nuLT: nu, nuRT: nu, densityKgM3 };
};

export const rectangle = (aMm: number, bMm: number): PlateCase['outline'] => [
  [0, 0],
  [aMm, 0],
  [aMm, bMm],
  [0, bMm],
];

/** A small asymmetric top with two braces, cheap enough to be solved many times. */
export const smallTop: PlateCase = {
  outline: rectangle(260, 200),
  thicknessMm: 2.8,
  material: spruce,
  braces: [
    {
      id: 'slanted',
      from: [40, 40],
      to: [210, 150],
      widthMm: 8,
      heightMm: [
        [0, 9],
        [202.5, 12],
      ],
      material: spruce,
    },
    {
      id: 'across',
      from: [130, 90],
      to: [60, 170],
      widthMm: 7,
      heightMm: [
        [0, 8],
        [106.3, 6],
      ],
      material: spruce,
    },
  ],
  edge: { kind: 'hinged', pinnedAt: 'mid-surface', rotationalStiffnessN: 10 },
};

/** Modes of a plate, or a failure of the test. */
export function modesOf(plate: PlateCase, sizeMm?: number, count?: number): readonly PlateMode[] {
  const answer = plateModes(preparePlate(plate, sizeMm), plate, count === undefined ? {} : { count });
  if (answer.kind !== 'modes') throw new Error(`no modes: ${answer.kind}`);
  return answer.modes;
}

export const frequenciesOf = (plate: PlateCase, sizeMm?: number, count?: number): number[] =>
  modesOf(plate, sizeMm, count).map(({ frequencyHz }) => frequencyHz);

/** Largest and median size of relative errors, %. */
export function errorsPercent(found: readonly number[], expected: readonly number[]) {
  const each = expected.map((f, i) => 100 * (found[i]! / f - 1));
  const sizes = each.map(Math.abs).sort((a, b) => a - b);
  const half = sizes.length >> 1;
  const median = sizes.length % 2 === 1 ? sizes[half]! : (sizes[half - 1]! + sizes[half]!) / 2;
  return { each, largest: sizes.at(-1)!, median };
}

/** What the mesh gives, its error not taken off: what laws of the equations hold for. */
export const solvedOf = (plate: PlateCase, sizeMm?: number, count?: number): number[] =>
  modesOf(plate, sizeMm, count).map(({ solvedHz }) => solvedHz);
