// Products of bent columns in closed form against the same columns multiplied row by row.
import { expect, test } from 'vitest';
import { UNIT_WHITENER, whitenerFrom } from '../../../src/signal/filter/whiten.ts';
import type { Grid } from '../../../src/signal/pole.ts';
import { columnsFor, termsOf, writeColumns } from '../../../src/signal/search/atoms.ts';
import { bentProducts } from '../../../src/signal/search/bent-products.ts';

const mode = { frequencyHz: 98, decayPerS: 40 };
const others = [
  mode,
  { frequencyHz: 101, decayPerS: 45 },
  { frequencyHz: 400, decayPerS: 80 },
  { frequencyHz: 60, decayPerS: 2 },
  { frequencyHz: 100, decayPerS: 0 },
];
const grids: Record<string, Grid> = {
  white: { rows: 1500, sampleRateHz: 4000, whitener: UNIT_WHITENER },
  // AR(2), poles at 0.6 exp(+-0.5 i)
  coloured: { rows: 1500, sampleRateHz: 4000, whitener: whitenerFrom(Float64Array.of(3.4, 2.63, 1.54, 0.68)) },
};

test.each(Object.entries(grids))('in %s noise', (_, grid) => {
  const step = (2 * mode.decayPerS) / grid.sampleRateHz;
  const own = columnsFor(grid.rows);
  const ownRows = writeColumns(mode, grid, own);
  others.forEach((other) => {
    const beside = columnsFor(grid.rows);
    const rows = Math.min(ownRows, writeColumns(other, grid, beside));
    let asked = 0;
    bentProducts(termsOf(mode, grid), termsOf(other, grid), grid, step, 4, (k, ofF, ofD) => {
      asked++;
      const products: readonly (readonly [Float64Array, readonly [Float64Array, Float64Array]])[] = [
        [ofF, [beside.fRe, beside.fIm]],
        [ofD, [beside.dRe, beside.dIm]],
      ];
      for (const [told, [re, im]] of products) {
        const added = [re, im].flatMap((column) =>
          [own.fRe, own.fIm].map((of) => {
            let sum = 0;
            for (let n = 0; n < rows; n++) sum += column[n]! * (step * n) ** k * of[n]!;
            return sum;
          }),
        );
        const size = Math.max(...added.map(Math.abs));
        added.forEach((sum, i) => {
          // rounding of a thousand rows
          expect(Math.abs(told[i]! - sum)).toBeLessThan(1e-9 * size);
        });
      }
    });
    expect(asked).toBe(3);
  });
});
