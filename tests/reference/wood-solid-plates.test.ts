// The inverse check: plates solved by another program as three-dimensional solids. From three frequencies alone the
// constants that were put in must come back.
import { expect, test } from 'vitest';
import type { Estimate } from '../../src/quantity/estimate.ts';
import { readBoard } from '../../src/wood/board-constants.ts';
import { boardModes } from '../../src/wood/board-modes.ts';
import { elasticStart } from '../../src/wood/elastic-start.ts';
import { assignPeaks } from '../../src/wood/peak-assignment.ts';
import { speciesById } from '../../src/wood/species.ts';
import reference from './wood-solid-plates.json' with { type: 'json' };

const start = elasticStart(speciesById('sitka-spruce'));
const within = (value: number, relative: number): Estimate => ({ value, sigma: value * relative });
type Plate = (typeof reference.plates)['half_plate'];

function boardOf({ lengthMm, widthMm, thicknessMm, material }: Plate) {
  return {
    lengthMm: within(lengthMm, 0.001),
    widthMm: within(widthMm, 0.001),
    thicknessMm: within(thicknessMm, 0.01),
    massG: within(lengthMm * widthMm * thicknessMm * material.densityKgM3 * 1e-6, 0.002),
  };
}

test.each([
  ['half_plate', { long: 1, cross: 3, twist: 0 }],
  ['joined_plate', { long: 3, cross: 1, twist: 0 }],
] as const)('%s: E_L, E_R and G_LR come back from its solid within 1 %%, 2 %%, 2 %%', (name, rank) => {
  const plate = reference.plates[name];
  const heard = (k: number) => ({ frequencyHz: within(plate.extrapolatedHz[k]!, 0.001) });
  const reading = readBoard(
    {
      board: boardOf(plate),
      taps: {
        'long-grain-bending': heard(rank.long),
        'cross-grain-bending': heard(rank.cross),
        twist: heard(rank.twist),
      },
    },
    start,
  );
  if (reading.kind !== 'read') throw new Error(reading.kind);
  const { eLongGpa, eCrossGpa, gGpa } = reading.constants;
  expect(Math.abs(eLongGpa.value / (plate.material.eL / 1000) - 1)).toBeLessThan(0.01);
  expect(Math.abs(eCrossGpa.value / (plate.material.eR / 1000) - 1)).toBeLessThan(0.02);
  expect(Math.abs(gGpa.value / (plate.material.gLR / 1000) - 1)).toBeLessThan(0.02);
});

test.each(['half_plate', 'joined_plate'] as const)('%s: the first ten modes lie within 0.35 %% of the solid', (name) => {
  const { lengthMm, widthMm, thicknessMm, material, extrapolatedHz } = reference.plates[name];
  const modes = boardModes(
    { lengthM: lengthMm / 1000, widthM: widthMm / 1000, thicknessM: thicknessMm / 1000 },
    {
      eLongPa: material.eL * 1e6,
      eCrossPa: material.eR * 1e6,
      gPa: material.gLR * 1e6,
      nuLR: material.nuLR,
      shear: { longPa: material.gLT * 1e6, crossPa: material.gRT * 1e6 },
    },
    material.densityKgM3,
  );
  // The solid is good to 0.1 %; the plate theory is worth 0.1 % in the three modes used and 0.3 % in the tenth.
  for (let k = 0; k < 10; k++) expect(Math.abs(modes[k]!.frequencyHz / extrapolatedHz[k]! - 1)).toBeLessThan(0.0035);
});

test.each(['half_plate', 'joined_plate'] as const)('%s: twelve unlabelled peaks are named and give the constants', (name) => {
  const plate = reference.plates[name];
  const heard = plate.extrapolatedHz.slice(0, 12).map((hz) => ({ frequencyHz: within(hz, 0.001) }));
  const reading = assignPeaks(boardOf(plate), heard, start);
  if (reading.kind !== 'assigned') throw new Error(reading.because);
  expect(reading.unseen).toEqual([]);
  expect(Math.abs(reading.fit.elastic.eLongPa / (plate.material.eL * 1e6) - 1)).toBeLessThan(0.01);
  expect(Math.abs(reading.fit.elastic.eCrossPa / (plate.material.eR * 1e6) - 1)).toBeLessThan(0.02);
  expect(Math.abs(reading.fit.elastic.gPa / (plate.material.gLR * 1e6) - 1)).toBeLessThan(0.02);
});
