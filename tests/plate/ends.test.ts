// Brace ends and the error of the mesh: what the plate model takes off, against plane theory, finer meshes and solids.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import { carryingHeight } from '../../src/plate/brace-ends.ts';
import type { BraceCase, PlateCase } from '../../src/plate/plate-case.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { planCase } from '../../src/record/plan-case.ts';
import { startPlan } from '../../src/record/plan-edit.ts';
import { patternBraces } from '../../src/record/plan-patterns.ts';
import { once } from '../once.ts';
import { errorsPercent, modesOf, rectangle, solvedOf, spruce } from './plates.ts';

vi.setConfig({ testTimeout: 120_000 });

const brace = (heightMm: BraceCase['heightMm'], to = 200): BraceCase => ({
  id: 'a',
  from: [0, 0],
  to: [to, 0],
  widthMm: 8,
  heightMm,
  material: spruce,
});
const wide = rectangle(600, 400).map(([x, y]) => [x - 200, y - 200] as const);
/** Root of G over E along and upright: what the slope goes with. */
const root = Math.sqrt(spruce.gLR / spruce.eL);

describe('the height that carries', () => {
  /**
   * Energy that a free end costs a layer whose glue line is stretched evenly, as a length of it over h sqrt(E / G): the layered theory,
   * E (h_a e^2 / 2 + e psi' h_a^2 / 2 + h_a^3 psi'^2 / 6) + kappa G h_a psi^2 / 2 integrated, with h_a = min(h, c x), solved by linear
   * elements; of a length with two ends, one of them as it was.
   */
  function missingLength(slope: number): number {
    const [n, length, kappa] = [4000, 12, 0.87];
    const dx = length / n;
    const [diagonal, beside, right] = [new Float64Array(n + 1), new Float64Array(n), new Float64Array(n + 1)];
    let straight = 0;
    for (let i = 0; i < n; i++) {
      const h = Math.min(1, slope * (i + 0.5) * dx);
      const [stretch, shear] = [h ** 3 / 3 / dx, kappa * h * dx];
      straight += (h * dx) / 2;
      diagonal[i]! += stretch + shear / 3;
      diagonal[i + 1]! += stretch + shear / 3;
      beside[i]! = -stretch + shear / 6;
      right[i]! += h ** 2 / 2;
      right[i + 1]! -= h ** 2 / 2;
    }
    // Thomas's elimination of a band of three.
    const [d, r] = [Float64Array.from(diagonal), Float64Array.from(right)];
    for (let i = 1; i <= n; i++) {
      const factor = beside[i - 1]! / d[i - 1]!;
      d[i]! -= factor * beside[i - 1]!;
      r[i]! -= factor * r[i - 1]!;
    }
    const psi = new Float64Array(n + 1);
    for (let i = n; i >= 0; i--) psi[i] = (r[i]! - (i < n ? beside[i]! * psi[i + 1]! : 0)) / d[i]!;
    const energy = straight - right.reduce((sum, f, i) => sum + f * psi[i]!, 0) / 2;
    return length - 2 * energy;
  }

  test('costs an end as much as plane theory says: 16 / pi^3 times the sum of (2n + 1)^-3', () => {
    let exact = 0;
    for (let n = 0; n < 1000; n++) exact += (16 / Math.PI ** 3) * (2 * n + 1) ** -3;
    // Lengths in h sqrt(E / G): a slope of 5.72 sqrt(G / E) is 5.72 there. The other end is as the layered theory has it.
    const asItWas = missingLength(1e9) / 2;
    expect(asItWas).toBeLessThan(0.9 * exact);
    expect(missingLength(5.72) - asItWas).toBeCloseTo(exact, 2);
  });

  test('rises from the end of a brace, whatever stands there, and is all of it farther in', () => {
    const carries = carryingHeight(
      brace([
        [0, 14],
        [200, 14],
      ]),
      wide,
    );
    expect(carries(0, 14)).toBeCloseTo(0.14, 9);
    expect(carries(4, 14)).toBeCloseTo(4 * 5.72 * root, 9);
    expect(carries(197, 14)).toBeCloseTo(3 * 5.72 * root, 9);
    expect(carries(100, 14)).toBe(14);
  });

  test('reaches over a step no faster than over an end, and a gentle scallop takes nothing', () => {
    const stepped = carryingHeight(
      brace([
        [0, 14],
        [100, 14],
        [100, 6],
        [200, 6],
      ]),
      wide,
    );
    expect(stepped(98, 14)).toBeCloseTo(6 + 2 * 5.72 * root, 9);
    expect(stepped(102, 6)).toBe(6);
    const scalloped = carryingHeight(
      brace([
        [0, 14],
        [100, 7],
        [200, 14],
      ]),
      wide,
    );
    expect(scalloped(110, 7.7)).toBe(7.7);
  });

  test('begins where the outline cuts a brace that runs over it', () => {
    const narrow = rectangle(150, 100).map(([x, y]) => [x + 20, y - 50] as const);
    const carries = carryingHeight(
      brace([
        [0, 14],
        [200, 14],
      ]),
      narrow,
    );
    // a hundredth: what stands in a corner beyond the cut is held to the plate, no more
    expect(carries(20, 14)).toBeCloseTo(0.14, 9);
    expect(carries(22, 14)).toBeCloseTo(2 * 5.72 * root, 9);
    expect(carries(170, 14)).toBeCloseTo(0.14, 9);
  });

  test('a corner of a brace that meets the rim aslant does not turn by itself: no mode at 0 Hz', () => {
    // One of our own drawings, a little smaller: one element of its tone bar lay wholly beyond the cut.
    const body = {
      lengthMm: 437,
      lowerBout: { atMm: 122, widthMm: 323 },
      waist: { atMm: 268, widthMm: 212 },
      upperBout: { atMm: 365, widthMm: 241 },
    };
    const plan = startPlan('right', body);
    const braces = patternBraces('x', plan).filter(({ id }) => id === 'tone-2');
    const plate = planCase({ ...plan, braces }, { hold: 'in-mould', bridge: 'off' });
    // the lowest mode of a top that is held all round, bare or with a brace on it
    const [lowest] = solvedOf(plate);
    const [bareHz] = solvedOf({ ...plate, braces: [] });
    expect(lowest! / bareHz!).toBeGreaterThan(0.9);
    expect(lowest! / bareHz!).toBeLessThan(1.5);
  });

  test('is stiffness alone: an end weighs what it weighs', () => {
    const plate: PlateCase = {
      outline: rectangle(240, 110),
      thicknessMm: 2.7,
      material: spruce,
      braces: [
        {
          ...brace([
            [0, 14],
            [150, 14],
          ]),
          from: [45, 55],
          to: [195, 55],
        },
      ],
    };
    const answer = plateModes(preparePlate(plate, 60), plate, { count: 1 });
    const grams = (240 * 110 * 2.7 + 150 * 8 * 14) * spruce.densityKgM3 * 1e-6;
    expect(answer.kind === 'modes' && answer.massG).toBeCloseTo(grams, 2);
  });
});

interface Layers {
  readonly name: string;
  readonly frequenciesHz: readonly number[];
  readonly plate: PlateCase;
  readonly lowered?: {
    readonly braces: readonly string[];
    readonly mm: number;
    readonly frequenciesHz: readonly number[];
  };
}
const file = path.join(import.meta.dirname, '../reference/plate-layers.json');
const tops = (JSON.parse(readFileSync(file, 'utf8')) as { readonly cases: readonly Layers[] }).cases;
/** The finest mesh of each. */
const finest = tops.filter(({ name }) => !name.endsWith(' 12'));

describe('tops as solids of several layers, on which nothing was chosen', () => {
  const errors = once(() =>
    finest.flatMap(
      ({ plate, frequenciesHz }) =>
        errorsPercent(
          modesOf(plate).map(({ frequencyHz }) => frequencyHz),
          frequenciesHz.slice(0, 10),
        ).each,
    ),
  );

  test('lie within 1.2 % at every one of ten modes, half of them within 0.4 %, and 0.3 % in the mean', () => {
    const sizes = errors()
      .map(Math.abs)
      .toSorted((a, b) => a - b);
    expect(sizes).toHaveLength(60);
    expect(sizes.at(-1)).toBeLessThan(1.2);
    expect(sizes[30]).toBeLessThan(0.4);
    expect(Math.abs(errors().reduce((sum, error) => sum + error, 0) / 60)).toBeLessThan(0.3);
  });

  test('nine moves in ten lie within 0.15 Hz or 10 % when braces are lowered', () => {
    const near = finest.flatMap(({ plate, frequenciesHz, lowered }) => {
      if (lowered === undefined) return [];
      const braces = plate.braces!.map((one) => ({
        ...one,
        heightMm: one.heightMm.map(([at, height], i, all) => {
          const isEnd = i === 0 || i === all.length - 1;
          return [at, !isEnd && lowered.braces.includes(one.id) ? height - lowered.mm : height] as const;
        }),
      }));
      const prepared = preparePlate(plate);
      const [was, is] = [plate, { ...plate, braces }].map((one) => {
        const answer = plateModes(prepared, one);
        if (answer.kind !== 'modes') throw new Error(answer.kind);
        return answer.modes.map(({ solvedHz }) => solvedHz);
      });
      return Array.from({ length: 6 }, (_, m) => {
        const solid = lowered.frequenciesHz[m]! - frequenciesHz[m]!;
        return Math.abs(is![m]! - was![m]! - solid) < Math.max(0.15, 0.1 * Math.abs(solid));
      });
    });
    expect(near).toHaveLength(24);
    expect(near.filter(Boolean).length).toBeGreaterThanOrEqual(22);
  });
});
