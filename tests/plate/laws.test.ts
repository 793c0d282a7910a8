// What must hold for any plate.
import fc from 'fast-check';
import { expect, test, vi } from 'vitest';
import { cutPlate } from '../../src/forecast/shaving.ts';
import { assemble } from '../../src/plate/assembly.ts';
import { plateMass } from '../../src/plate/mass.ts';
import { plateMesh } from '../../src/plate/mesh.ts';
import { mirrored } from '../../src/plate/mirror.ts';
import { signedArea } from '../../src/plate/outline.ts';
import { edgeSupportOf } from '../../src/plate/plate-case.ts';
import { type PlateMode, plateModes, preparePlate, woodOf } from '../../src/plate/plate-modes.ts';
import { braceSensitivity } from '../../src/plate/sensitivity.ts';
import { multiply } from '../algebra/multiply.ts';
import { solidCase, solidEntry, tetraCases } from '../reference/plate-cases.ts';
import { modesOf, rectangle, smallTop, solvedOf, spruce } from './plates.ts';

// Solving solids' worth of cases takes seconds on a busy machine; correctness is tested, not speed.
vi.setConfig({ testTimeout: 120_000 });

test('rigid motions cost no energy, with braces, a patch and a brace that bridges the soundhole', () => {
  const prepared = preparePlate(tetraCases.body_x_free_12!, 40);
  const { stiffness } = assemble(prepared, woodOf(prepared), edgeSupportOf(prepared.plate));
  const image = new Float64Array(prepared.rigid[0]!.length);
  const energyOf = (vector: Float64Array) => {
    multiply(prepared.freedoms.pattern, stiffness, vector, image);
    return image.reduce((sum, v, i) => sum + v * vector[i]!, 0);
  };
  expect(prepared.rigid).toHaveLength(6);
  const bending = energyOf(modesOf(tetraCases.body_x_free_12!, 40, 1)[0]!.vector);
  // A mode of unit modal mass holds (2 pi f)^2; a rigid motion of unit size nothing but rounding.
  for (const vector of prepared.rigid) expect(Math.abs(energyOf(vector)) / bending).toBeLessThan(1e-7);
});

test('a bare plate scales with thickness, the root of stiffness and the inverse root of density', () => {
  const plate = { outline: rectangle(300, 200), thicknessMm: 0.3, material: spruce };
  const base = solvedOf(plate, 40, 6);
  const ratio = (other: number[]) => other.map((f, i) => f / base[i]!);
  const stiffer = { ...spruce, eL: 44000, eR: 3600, eT: 1892, gLR: 3000, gLT: 2684, gRT: 132 };
  for (const r of ratio(solvedOf({ ...plate, material: stiffer }, 40, 6))) expect(r).toBeCloseTo(2, 6);
  const heavier = { ...spruce, densityKgM3: 4 * spruce.densityKgM3 };
  for (const r of ratio(solvedOf({ ...plate, material: heavier }, 40, 6))) expect(r).toBeCloseTo(0.5, 6);
  // Twice 0.3 mm is still thin: shear takes off less than 0.3 %.
  for (const r of ratio(solvedOf({ ...plate, thicknessMm: 0.6 }, 40, 6)))
    expect(Math.abs(r / 2 - 1)).toBeLessThan(3e-3);
});

test('the mirror image for the other hand has the same frequencies to 1e-6', () => {
  const plate = solidCase(solidEntry('c5', 'hinged'));
  const here = solvedOf(plate, 45, 6);
  solvedOf(mirrored(plate), 45, 6).forEach((f, i) => {
    expect(Math.abs(f / here[i]! - 1)).toBeLessThan(1e-6);
  });
});

test('mirroring twice gives the plate back, and its mesh is the mirror image point by point', () => {
  expect(mirrored(mirrored(smallTop))).toEqual({
    ...smallTop,
    outline: smallTop.outline.map(([x, y]) => [x, y === 0 ? 0 : y]),
  });
  const [a, b] = [plateMesh(smallTop, 40), plateMesh(mirrored(smallTop), 40)];
  expect(b.elementNodes.length).toBe(a.elementNodes.length);
  // Equal but for rounding of the turned corners of braces.
  a.xMm.forEach((x, node) => {
    expect(Math.hypot(b.xMm[node]! - x, b.yMm[node]! + a.yMm[node]!)).toBeLessThan(1e-9);
  });
});

test('the mesh covers the plate and every footprint to a thousandth, and is the same every time', () => {
  const plate = solidCase(solidEntry('c5', 'free'));
  const mesh = plateMesh(plate);
  const areaOf = (e: number) =>
    signedArea(
      [0, 1, 2].map((i) => [mesh.xMm[mesh.elementNodes[6 * e + i]!]!, mesh.yMm[mesh.elementNodes[6 * e + i]!]!]),
    );
  mesh.footprints.forEach((footprint, part) => {
    const covered = mesh.elementCover.reduce((sum, cover, e) => sum + (cover.includes(part) ? areaOf(e) : 0), 0);
    expect(covered / Math.abs(signedArea(footprint.polygon))).toBeCloseTo(1, 3);
  });
  expect(plateMesh(plate)).toEqual(mesh);
});

test('the mass is that of the drawn volumes', () => {
  const plate = { ...smallTop, braces: [smallTop.braces![0]!] };
  const prepared = preparePlate(plate, 40);
  const { totalG, plateG, partsG } = plateMass(prepared, woodOf(prepared));
  expect(plateG).toBeCloseTo(260 * 200 * 2.8 * 410e-6, 6);
  // Mean height 10.5 mm.
  expect(partsG[0]).toBeCloseTo(202.485 * 8 * 10.5 * 410e-6, 1);
  expect(totalG).toBeCloseTo(plateG + partsG[0]!, 9);
});

test('a stiffer brace of the same mass lowers no mode', () => {
  const stiff = smallTop.braces!.map((brace) => ({ ...brace, material: { ...brace.material, eL: 14000 } }));
  const before = solvedOf(smallTop, 45, 6);
  solvedOf({ ...smallTop, braces: stiff }, 45, 6).forEach((f, i) => {
    expect(f).toBeGreaterThan(before[i]! - 1e-6);
  });
});

test('slopes along braces agree with solving again within 1 % for random shavings', () => {
  const prepared = preparePlate(smallTop, 45);
  const modes = modesOf(smallTop, 45, 6);
  const slopes = braceSensitivity(prepared, smallTop, modes);
  const hz = (braces: typeof smallTop.braces) => {
    const answer = plateModes(prepared, { ...smallTop, ...(braces && { braces }) }, { count: 6 });
    if (answer.kind !== 'modes') throw new Error(answer.kind);
    return answer.modes.map(({ solvedHz }) => solvedHz);
  };
  fc.assert(
    fc.property(fc.nat({ max: 1 }), fc.double({ min: 0.01, max: 0.05, noNaN: true }), (which, depth) => {
      const shifted = (by: number) =>
        smallTop.braces!.map((brace, i) =>
          i === which ? { ...brace, heightMm: brace.heightMm.map(([s, h]) => [s, h + by] as const) } : brace,
        );
      const [up, down] = [hz(shifted(depth / 2)), hz(shifted(-depth / 2))];
      modes.forEach((_, m) => {
        const slope = slopes.filter(({ brace }) => brace === which).reduce((sum, { hzPerMm }) => sum + hzPerMm[m]!, 0);
        const solved = (down[m]! - up[m]!) / depth;
        // 1 % of the slope, or 0.002 Hz per mm where a mode hardly cares.
        expect(Math.abs(slope - solved)).toBeLessThan(Math.max(0.01 * Math.abs(solved), 0.002));
      });
    }),
    { seed: 3, numRuns: 6 },
  );
});

test('where the search starts changes no mode, not even where it starts from modes that lack one or are of another top', () => {
  // The tolerance of the search leaves 5e-9 of a frequency open on either side.
  const prepared = preparePlate(smallTop, 30);
  const solvedNear = (near: readonly PlateMode[], plate = smallTop) => {
    const answer = plateModes(prepared, plate, { count: 8, near });
    if (answer.kind !== 'modes') throw new Error(answer.kind);
    return answer.modes;
  };
  const low = cutPlate(smallTop, [{ braceId: 'slanted', fromMm: 0, toMm: 300, offMm: 6 }]);
  const [tall, lower] = [solvedNear([]), solvedNear([], low)];
  const starts = [tall, tall.slice(5), ...tall.map((missing) => tall.filter((mode) => mode !== missing))];
  for (const near of starts)
    for (const [plate, cold] of [
      [smallTop, tall],
      [low, lower],
    ] as const)
      solvedNear(near, plate).forEach(({ solvedHz }, k) => {
        expect(Math.abs(solvedHz / cold[k]!.solvedHz - 1)).toBeLessThan(1e-8);
      });
});

test('at a lap of like braces a plane along either does the same: they stand for the same wood', () => {
  const brace = (id: string, from: readonly [number, number], to: readonly [number, number]) => ({
    ...smallTop.braces![0]!,
    id,
    from,
    to,
    heightMm: [[0, 14] as const],
  });
  const crossed = {
    ...smallTop,
    braces: [brace('upper', [40, 40], [220, 160]), brace('lower', [40, 160], [220, 40])],
  };
  const prepared = preparePlate(crossed, 40);
  const modes = plateModes(prepared, crossed, { count: 1 });
  if (modes.kind !== 'modes') throw new Error(modes.kind);
  // Short stretches: beside the lap the braces differ, for one has its wood at the top of the lap and one at its foot.
  const stretches = braceSensitivity(prepared, crossed, modes.modes, 3);
  const middleMm = Math.hypot(180, 120) / 2;
  const atLap = (brace: number) =>
    stretches
      .filter((stretch) => stretch.brace === brace && Math.abs((stretch.fromMm + stretch.toMm) / 2 - middleMm) < 3)
      .reduce((sum, { hzPerMm }) => sum + hzPerMm[0]!, 0);
  expect(atLap(0)).toBeLessThan(-0.1);
  // A twentieth for points near the edge of the lap, where the height of one brace alone counts.
  expect(Math.abs(atLap(0) / atLap(1) - 1)).toBeLessThan(0.05);
});
