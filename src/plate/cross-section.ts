// Cross-sections of braces: how much of the full width is wood at each height, as moments about the glue line.
import type { CrossSection } from './plate-case.ts';

/** Area, first and second moment about the base of a section of width 1 and height 1: integrals of 1, z, z^2 over it. */
export interface SectionMoments {
  readonly area: number;
  readonly first: number;
  readonly second: number;
}

// A section's width at height z is b f(z / h); moments are b h I0, b h^2 I1, b h^3 I2 with I_k the integral of s^k f(s).
// rectangle f = 1; triangle f = 1 - s; parabola f = sqrt(1 - s); rounded: straight sides to half height, then half an
// ellipse, f = sqrt(1 - (2s - 1)^2). Source: elementary integrals (see tests/plate/cross-section.test.ts).
const UNIT_MOMENTS: Readonly<Record<CrossSection, SectionMoments>> = {
  rectangle: { area: 1, first: 1 / 2, second: 1 / 3 },
  triangle: { area: 1 / 2, first: 1 / 6, second: 1 / 12 },
  parabola: { area: 2 / 3, first: 4 / 15, second: 16 / 105 },
  rounded: {
    area: 1 / 2 + Math.PI / 8,
    first: 1 / 8 + Math.PI / 16 + 1 / 12,
    second: 1 / 24 + (5 * Math.PI) / 128 + 1 / 12,
  },
};

/** Moments of a cross-section of unit width and height. */
export const unitMoments = (section: CrossSection): SectionMoments => UNIT_MOMENTS[section];
