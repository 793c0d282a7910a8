import { expect, test } from 'vitest';
import { shapeBands } from '../../src/forecast/shape-bands.ts';
import { plateMesh } from '../../src/plate/mesh.ts';
import { type Point, signedArea } from '../../src/plate/outline.ts';

test('bands of a tilted plane are strips of the right area', () => {
  const outline: Point[] = [
    [0, 0],
    [200, 0],
    [200, 100],
    [0, 100],
  ];
  const spruce = {
    eL: 11000,
    eR: 850,
    eT: 470,
    gLR: 760,
    gLT: 670,
    gRT: 33,
    nuLR: 0.37,
    nuLT: 0.47,
    nuRT: 0.43,
    densityKgM3: 410,
  };
  const mesh = plateMesh({ outline, thicknessMm: 3, material: spruce });
  const tilt = mesh.xMm.map((x) => x / 100 - 1);
  const areas = shapeBands(mesh, tilt, [
    [-1, -0.5],
    [0, 0.2],
  ]).map((band) => band.polygons.reduce((sum, polygon) => sum + Math.abs(signedArea(polygon)), 0));
  // Exact by plane geometry: 50 x 100 and 20 x 100 mm^2.
  expect(areas[0]).toBeCloseTo(5000, 3);
  expect(areas[1]).toBeCloseTo(2000, 3);
  const [none] = shapeBands(mesh, tilt, [[2, 3]]);
  expect(none).toEqual({ from: 2, to: 3, polygons: [] });
  const [some] = shapeBands(mesh, tilt, [[-1, -0.5]]);
  for (const polygon of some!.polygons) expect(polygon.length).toBeGreaterThan(2);
});
