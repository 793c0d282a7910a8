// The worked box of tests/published/box-checks.json, built by our own functions.
import type { Air } from '../../src/box/air.ts';
import type { Box, Piston } from '../../src/box/pistons.ts';
import { soundhole } from '../../src/box/soundhole.ts';

export const AIR: Air = { soundSpeedMPerS: 343.2, densityKgM3: 1.2041 };

/** A plate mode from its frequency without the air cushion. */
export function piston(massKg: number, vacuoHz: number, areaM2: number, q: number): Piston {
  return { massKg, stiffnessNPerM: massKg * (2 * Math.PI * vacuoHz) ** 2, areaM2, q };
}

export const THREE: Box = {
  air: AIR,
  volumeM3: 0.016,
  hole: soundhole(0.05, 0.003, 'flanged', 25),
  top: piston(0.08, 170, 0.04, 30),
  back: piston(0.15, 220, 0.035, 35),
};

export const TWO: Box = { ...THREE, back: 'held' };
