import { describe, expect, test } from 'vitest';
import { randomFrom } from '../../../src/demo/random.ts';
import { UNIT_WHITENER, whiten, whitenerFrom } from '../../../src/signal/filter/whiten.ts';
import type { Grid, Pole } from '../../../src/signal/pole.ts';
import { columnsFor, termsOf, writeColumns } from '../../../src/signal/search/atoms.ts';
import { gram } from '../../../src/signal/search/gram.ts';
import { columnProducts } from '../../../src/signal/search/tap-transform.ts';

const POLES: readonly Pole[] = [
  { frequencyHz: 98, decayPerS: 40 },
  { frequencyHz: 101, decayPerS: 45 },
  { frequencyHz: 400, decayPerS: 80 },
  { frequencyHz: 100, decayPerS: 0 },
];
/** Noise of an AR(2) process with poles at 0.6 exp(+-0.5 i), sigma 1: covariances by its Yule-Walker equations. */
const coloured = whitenerFrom(Float64Array.of(3.4, 2.63, 1.54, 0.68));
const grids: Record<string, Grid> = {
  white: { rows: 1500, sampleRateHz: 4000, whitener: UNIT_WHITENER },
  coloured: { rows: 1500, sampleRateHz: 4000, whitener: coloured },
};

describe.each(Object.entries(grids))('columns of the fit, %s noise', (_, grid) => {
  test('the Gram matrix in closed form is the one of the columns added row by row', () => {
    const closed = gram(
      POLES.map((pole) => termsOf(pole, grid)),
      3,
      grid,
    );
    const columns: Float64Array[] = [];
    const derivatives: Float64Array[] = [];
    POLES.forEach((pole, i) => {
      const out = columnsFor(grid.rows);
      writeColumns(pole, grid, out);
      columns.push(out.fRe, out.fIm);
      if (i < 3) derivatives.push(out.dRe, out.dIm);
    });
    const all = [...columns, ...derivatives];
    const n = all.length;
    expect(closed).toHaveLength(n * n);
    const size = (i: number): number => Math.sqrt(closed[i * n + i]!);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        const added = all[i]!.reduce((sum, x, row) => sum + x * all[j]![row]!, 0);
        // Columns are cut where they have decayed by 9 neper: 1.2e-4 of the amplitude is missing against a steady tone, nine
        // times that where time multiplies it.
        expect(Math.abs(closed[i * n + j]! - added)).toBeLessThan(1.1e-3 * size(i) * size(j));
      }
    }
  });

  test('the columns are the whitened damped sinusoid and its derivative by the logarithm of z', () => {
    const pole = POLES[0]!;
    const out = columnsFor(grid.rows);
    writeColumns(pole, grid, out);
    const wave = (shift: number): Float64Array =>
      Float64Array.from(
        { length: 200 },
        (_, n) => Math.exp(n * (shift - pole.decayPerS / 4000)) * Math.cos((2 * Math.PI * pole.frequencyHz * n) / 4000),
      );
    const plain = whiten(grid.whitener, wave(0), 0, 200, 1);
    // ln z grows by the step along the real axis; central difference, step 1e-5, error 1e-10 n^3 / 6.
    const up = whiten(grid.whitener, wave(1e-5), 0, 200, 1);
    const down = whiten(grid.whitener, wave(-1e-5), 0, 200, 1);
    for (let n = 0; n < 200; n++) {
      expect(out.fRe[n]).toBeCloseTo(plain[n]!, 10);
      expect(out.dRe[n]).toBeCloseTo((up[n]! - down[n]!) / 2e-5, 3);
    }
  });

  test('inner products of a tap with the columns are those added row by row, on the way to a pole and about it', () => {
    const random = randomFrom(5);
    const tap = Float64Array.from(
      { length: grid.rows },
      (_, n) => random.normal() + 50 * Math.exp(-n / 90) * Math.sin(n / 6),
    );
    const columns = columnsFor(grid.rows);
    const out = new Float64Array(4);
    // The second visit to a place makes an expansion; the later ones are read from it, up to 0.05 decay rates away.
    for (const away of [0, 0, 0.01, -0.03, 0.049, 0.3, 0.31]) {
      const pole = { frequencyHz: 98 + (away * 40) / (2 * Math.PI) / 2, decayPerS: 40 * (1 + away / 2) };
      const rows = writeColumns(pole, grid, columns);
      columnProducts(termsOf(pole, grid), grid.sampleRateHz, [tap], (_, ...products) => out.set(products));
      const added = [columns.fRe, columns.fIm, columns.dRe, columns.dIm].map((column) =>
        column.subarray(0, rows).reduce((sum, x, n) => sum + x * tap[n]!, 0),
      );
      // Rows one pole cuts and its neighbour does not are below 1.3e-4 of the tap's amplitude, of which few are left.
      const size = [1, 1, 100, 100].map((unit) => unit * Math.hypot(added[0]!, added[1]!));
      added.forEach((sum, i) => {
        expect(Math.abs(out[i]! - sum)).toBeLessThan(1e-5 * size[i]!);
      });
    }
  });
});
