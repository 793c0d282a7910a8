// The parts glued on a plate, made ready for the elements: their stiffness, and their height at any place.

import { lineHeightMm } from '../brace/profile.ts';
import { unitSection } from '../brace/section.ts';
import { carryingHeight } from './brace-ends.ts';
import { type BraceFoot, braceFoot } from './brace-foot.ts';
import { distanceAlongMm, type Footprint } from './footprint.ts';
import type { Point } from './outline.ts';
import { type PlaneStiffness, planeStiffness } from './plane-stiffness.ts';
import type { PlateCase, WoodConstants } from './plate-case.ts';

/** Integrals of 1, z and z^2 over a section. */
type SectionMoments = Pick<ReturnType<typeof unitSection>, 'area' | 'first' | 'second'>;

/** One part, ready for the elements. */
export interface GluedPart {
  readonly footprint: Footprint;
  readonly material: WoodConstants;
  readonly stiffness: PlaneStiffness;
  /** moments of its cross-section of width 1 and height 1 about the glue line */
  readonly section: SectionMoments;
  readonly isOutside: boolean;
  /** Of a brace: how it meets the plate. */
  readonly foot?: BraceFoot;
  /** Height or thickness at a place of its footprint, m. */
  readonly heightM: (point: Point) => number;
  /** How much of a height carries load at a place, m: less near the ends of a brace, see brace-ends.ts. */
  readonly carriesM: (point: Point, heightM: number) => number;
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
      const carrying = carryingHeight(brace, plate.outline);
      const along = Math.atan2(brace.to[1] - brace.from[1], brace.to[0] - brace.from[0]);
      const stiffness = planeStiffness(brace.material, brace.upright ?? 'R', along + radians(brace.grainDeg));
      return {
        footprint,
        material: brace.material,
        stiffness,
        foot: braceFoot(top, stiffness, brace.material, along, brace.widthMm / 1000),
        section: unitSection(brace.crossSection ?? 'rectangle'),
        isOutside: false,
        heightM: (point) => lineHeightMm(brace.heightMm, distanceAlongMm(brace, point)) / 1000,
        carriesM: (point, heightM) => carrying(distanceAlongMm(brace, point), 1000 * heightM) / 1000,
      };
    }
    const patch = plate.patches![footprint.index]!;
    return {
      footprint,
      material: patch.material,
      stiffness: planeStiffness(patch.material, 'T', radians(patch.grainDeg)),
      section: unitSection('rectangle'),
      isOutside: patch.face === 'outside',
      heightM: () => patch.thicknessMm / 1000,
      carriesM: (_, heightM) => heightM,
    };
  });
}

const radians = (degrees = 0): number => (degrees * Math.PI) / 180;
