import { describe, expect, test } from 'vitest';
import { UNIT_WHITENER } from '../../../src/signal/filter/whiten.ts';
import type { Grid, Pole } from '../../../src/signal/pole.ts';
import { type Decays, energyOf } from '../../../src/signal/prepare/hearing.ts';
import { elasticFit } from '../../../src/signal/search/elastic.ts';
import { leftover, project, residuals } from '../../../src/signal/search/project.ts';
import { information, refine } from '../../../src/signal/search/varpro.ts';
import { normal, seeded } from '../../bench/tap-signals.ts';

const grid: Grid = { rows: 1600, sampleRateHz: 4000, whitener: UNIT_WHITENER };
const TRUE: readonly Pole[] = [
  { frequencyHz: 200, decayPerS: 25 },
  { frequencyHz: 206, decayPerS: 30 },
];
const LIMITS = { lowestHz: 15, highestHz: 1990, slowestPerS: 0.5, lowestQ: 4 };

/** Two taps of two modes; each tap's frequencies moved by `shiftHz` times its sign. */
function decays(noise: number, shiftHz = 0): Decays {
  const random = seeded(5);
  const taps = [1, -1].map((sign) =>
    Float64Array.from({ length: grid.rows }, (_, n) => {
      const t = n / grid.sampleRateHz;
      const [a, b] = TRUE.map(
        ({ frequencyHz, decayPerS }, m) =>
          Math.exp(-decayPerS * t) * Math.cos(2 * Math.PI * (frequencyHz + sign * shiftHz) * t + sign + m),
      );
      return 30 * (a! + (sign > 0 ? 0.7 : -0.4) * b!) + noise * normal(random);
    }),
  );
  return { grid, taps, energies: taps.map(energyOf), hum: [], humInformation: [] };
}

const stepped = (poles: readonly Pole[], index: number, step: number): Pole[] =>
  poles.map((pole, m) => {
    if (m !== index >> 1) return pole;
    if (index % 2 === 1) return { ...pole, decayPerS: pole.decayPerS * Math.exp(step) };
    return { ...pole, frequencyHz: pole.frequencyHz + (step * pole.decayPerS) / (2 * Math.PI) };
  });

describe('variable projection', () => {
  const off = TRUE.map((p) => ({ frequencyHz: p.frequencyHz + 0.7, decayPerS: 1.1 * p.decayPerS }));

  test('the slope is half the derivative of the leftover, by central differences', () => {
    const data = decays(1);
    const { slope } = information(project(data, off)!, grid.sampleRateHz, [0, 1]);
    slope.forEach((value, i) => {
      const h = 1e-5;
      const up = leftover(project(data, stepped(off, i, h))!);
      const down = leftover(project(data, stepped(off, i, -h))!);
      // Leftovers of 1e5 known to 1e-11: the difference is good to 1e-5 of the slope and better.
      expect(-(up - down) / (4 * h) / value).toBeCloseTo(1, 4);
    });
  });

  test('at the solution of noiseless taps the matrix is half the second derivative of the leftover', () => {
    const data = decays(0);
    const p = project(data, TRUE)!;
    const { matrix } = information(p, grid.sampleRateHz, [0, 1]);
    for (let i = 0; i < 4; i++) {
      // Columns are cut at 78 dB, which leaves 1e-8 of the energy: the step must explain much more than that.
      const h = 0.02;
      const curve =
        (leftover(project(data, stepped(TRUE, i, h))!) + leftover(project(data, stepped(TRUE, i, -h))!)) / 2;
      expect(curve / (h * h) / matrix[5 * i]!).toBeCloseTo(1, 1);
    }
  });

  test('noiseless poles are found exactly from a start a fifth of a bandwidth away', () => {
    const data = decays(0);
    const found = refine(data, project(data, off)!, LIMITS, 30).poles;
    found.forEach((pole, m) => {
      expect(pole.frequencyHz).toBeCloseTo(TRUE[m]!.frequencyHz, 2);
      expect(pole.decayPerS).toBeCloseTo(TRUE[m]!.decayPerS, 1);
    });
  });

  test('two poles in one place are refused', () => {
    expect(project(decays(1), [TRUE[0]!, TRUE[0]!])).toBeUndefined();
  });
});

describe('taps that shift the poles a little', () => {
  test('are explained to first order, and what is said to be left is what subtracting the columns leaves', () => {
    const data = decays(1, 1.5);
    const p = project(data, TRUE)!;
    const elastic = elasticFit(p);
    const left = elastic.left[0]! + elastic.left[1]!;
    // 1.5 Hz is 0.37 half bandwidths. Rigid poles leave hundreds more than the noise's 3200; of the first order nothing is
    // left, of the second some tens. The noise's own spread is sqrt(2 x 3200) = 80.
    expect(leftover(p) - left).toBeGreaterThan(300);
    expect(Math.abs(left - 2 * grid.rows)).toBeLessThan(320);
    const direct = residuals(data, TRUE, elastic.amplitudes).map(energyOf);
    direct.forEach((energy, k) => {
      expect(energy / elastic.left[k]!).toBeCloseTo(1, 3);
    });
  });
});
