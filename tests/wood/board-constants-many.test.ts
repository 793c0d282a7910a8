// How often stated intervals hold, over boards drawn at random: more fits than a mutation run can wait for.
import { expect, test } from 'vitest';
import { HALF_WIDTH_95 } from '../../src/quantity/estimate.ts';
import { drawBoard } from './board-draw.ts';
import { normals } from './seeded.ts';

test('stated 95 % intervals cover the truth of drawn boards', () => {
  // 30 draws x 4 quantities: expected 114 inside; fewer than 107 would happen once in 200 with honest sigmas (binomial;
  // the four share their errors, so the bench counts hundreds). A coarse plate on both sides: errors are what is tested
  const normal = normals(20);
  let inside = 0;
  for (let k = 0; k < 30; k++) {
    const { truth, reading } = drawBoard(normal, { lengthMm: 550, widthMm: 205 }, { functions: 4, perParity: 4 });
    if (reading.kind !== 'read') throw new Error(reading.kind);
    const { constants } = reading;
    for (const key of ['eLongGpa', 'eCrossGpa', 'gGpa', 'densityKgM3'] as const) {
      if (Math.abs(constants[key].value - truth[key]) < HALF_WIDTH_95 * constants[key].sigma) inside++;
    }
  }
  expect(inside).toBeGreaterThanOrEqual(107);
  expect(inside).toBeLessThan(120);
});
