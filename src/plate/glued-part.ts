// The parts glued on a plate, made ready for the elements: their stiffness, and their height at any place.

import { type BraceFoot, braceFoot } from './brace-foot.ts';
import { type SectionMoments, unitMoments } from './cross-section.ts';
import { distanceAlongMm, type Footprint } from './footprint.ts';
import type { Point } from './outline.ts';
import { type PlaneStiffness, planeStiffness } from './plane-stiffness.ts';
import type { BraceCase, PlateCase, WoodConstants } from './plate-case.ts';

/** One part, ready for the elements. */
export interface GluedPart {
  readonly footprint: Footprint;
  readonly material: WoodConstants;
  readonly stiffness: PlaneStiffness;
  readonly section: SectionMoments;
  readonly isOutside: boolean;
  /** Of a brace: how it meets the plate. */
  readonly foot?: BraceFoot;
  /** Height or thickness at a place of its footprint, m. */
  readonly heightM: (point: Point) => number;
}

/** The layer of the bare plate. */
export const topLayer = (plate: PlateCase): PlaneStiffness =>
  planeStiffness(plate.material, 'T', radians(plate.grainDeg));

/** The parts of a case, in the order of its footprints. */
export function gluedParts(plate: PlateCase, list: readonly Footprint[]): GluedPart[] {
  const top = topLayer(plate);
  return list.map((footprint) => {
    if (footprint.kind === 'brace') {
      const brace = plate.braces![footprint.index]!;
      const along = Math.atan2(brace.to[1] - brace.from[1], brace.to[0] - brace.from[0]);
      const stiffness = planeStiffness(brace.material, brace.upright ?? 'R', along + radians(brace.grainDeg));
      return {
        footprint,
        material: brace.material,
        stiffness,
        foot: braceFoot(top, stiffness, brace.material, along, brace.widthMm / 1000),
        section: unitMoments(brace.crossSection ?? 'rectangle'),
        isOutside: false,
        heightM: (point) => braceHeightMm(brace, distanceAlongMm(brace, point)) / 1000,
      };
    }
    const patch = plate.patches![footprint.index]!;
    return {
      footprint,
      material: patch.material,
      stiffness: planeStiffness(patch.material, 'T', radians(patch.grainDeg)),
      section: unitMoments('rectangle'),
      isOutside: patch.face === 'outside',
      heightM: () => patch.thicknessMm / 1000,
    };
  });
}

const radians = (degrees = 0): number => (degrees * Math.PI) / 180;

/** Height of a brace at a distance from its start, mm: straight between the given points, level beyond them. */
export function braceHeightMm(brace: Pick<BraceCase, 'heightMm'>, distanceMm: number): number {
  const profile = brace.heightMm;
  if (distanceMm <= profile[0]![0]) return profile[0]![1];
  for (let i = 1; i < profile.length; i++) {
    const [s1, h1] = profile[i]!;
    if (distanceMm > s1) continue;
    const [s0, h0] = profile[i - 1]!;
    return s1 === s0 ? h1 : h0 + ((h1 - h0) * (distanceMm - s0)) / (s1 - s0);
  }
  return profile.at(-1)![1];
}
