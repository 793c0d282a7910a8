// The drawing: outline, layout, sections, faults, names, contours.
import { expect, test } from 'vitest';
import { unitSection } from '../../src/brace/section.ts';
import { BODY_STATIONS, outlineThroughStations } from '../../src/plate/body-outline.ts';
import { contours } from '../../src/plate/contours.ts';
import { bridgePolygon, fretFromNutMm, saddleLine } from '../../src/plate/layout.ts';
import { plateMesh } from '../../src/plate/mesh.ts';
import { distinctModeNames, modeName } from '../../src/plate/mode-name.ts';
import { assurance, deflection, holdAndTap, sampled, steepness } from '../../src/plate/mode-shape.ts';
import { boundingBox, selfCrossings, signedArea } from '../../src/plate/outline.ts';
import { checkPlate } from '../../src/plate/plate-check.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { stringDeflection } from '../../src/plate/static-load.ts';
import { modesOf, rectangle, smallTop, spruce } from './plates.ts';

test('sections have the areas and moments of the published table, base 6 mm and height 12 mm', () => {
  // Areas bh, bh/2, 2bh/3; moments about the base bh^3/3, bh^3/12, 16bh^3/105 (elementary, Roark's Formulas table A.1).
  const [b, h] = [6, 12];
  expect(b * h * unitSection('rectangle').area).toBeCloseTo(72, 9);
  expect(b * h * unitSection('triangle').area).toBeCloseTo(36, 9);
  expect(b * h * unitSection('parabola').area).toBeCloseTo(48, 9);
  expect(b * h ** 3 * unitSection('triangle').second).toBeCloseTo((6 * 12 ** 3) / 12, 9);
  expect(b * h ** 3 * unitSection('parabola').second).toBeCloseTo((16 * 6 * 12 ** 3) / 105, 9);
});

test.each([
  ['rectangle', () => 1],
  ['triangle', (s: number) => 1 - s],
  ['parabola', (s: number) => Math.sqrt(1 - s)],
  ['rounded', (s: number) => (s < 0.5 ? 1 : Math.sqrt(1 - (2 * s - 1) ** 2))],
] as const)('the moments of the %s are the integrals of its width', (section, width) => {
  const steps = 200_000;
  const integral = (k: number) =>
    Array.from({ length: steps }, (_, i) => (i + 0.5) / steps).reduce((sum, s) => sum + (s ** k * width(s)) / steps, 0);
  const { area, first, second } = unitSection(section);
  [area, first, second].forEach((moment, k) => {
    expect(moment).toBeCloseTo(integral(k), 6);
  });
});

test('frets of a 645.16 mm scale stand where the published table puts them', () => {
  // Fret 1 36.210, 5 161.836, 7 214.567, 12 322.580, 19 429.864 mm (equal temperament).
  for (const [fret, mm] of [
    [1, 36.21],
    [5, 161.836],
    [7, 214.567],
    [12, 322.58],
    [19, 429.864],
  ] as const)
    expect(fretFromNutMm(645.16, fret)).toBeCloseTo(mm, 2);
  expect(() => fretFromNutMm(0, 5)).toThrow('fretFromNutMm: scale length 0 mm');
});

test('the saddle lies half the scale behind a twelfth-fret join, further back on the bass side', () => {
  const layout = {
    scaleLengthMm: 640,
    joinFret: 12,
    joinXMm: 490,
    compensationTrebleMm: 2,
    compensationBassMm: 5,
    stringSpreadMm: 55,
  };
  expect(saddleLine(layout)).toEqual([
    [168, 27.5],
    [165, -27.5],
  ]);
  expect(boundingBox(bridgePolygon(layout, 12, 28, 160))).toEqual([150.5, -80, 178.5, 80]);
});

test.each(Object.entries(BODY_STATIONS))(
  'the %s outline keeps its widths, is smooth and does not cross itself',
  (_, stations) => {
    const outline = outlineThroughStations(stations, 200);
    const [x0, y0, x1, y1] = boundingBox(outline);
    expect([x0, x1]).toEqual([0, stations.lengthMm]);
    expect(y1 - y0).toBeCloseTo(stations.lowerBout.widthMm, 0);
    expect(signedArea(outline)).toBeGreaterThan(0);
    expect(selfCrossings(outline)).toEqual([]);
    const nearWaist = outline.filter(([x]) => Math.abs(x - stations.waist.atMm) < 8).map(([, y]) => 2 * Math.abs(y));
    for (const width of nearWaist) expect(Math.abs(width - stations.waist.widthMm)).toBeLessThan(2);
  },
);

test('stations out of order are a RangeError', () => {
  const stations = { ...BODY_STATIONS.concert, waist: { atMm: 100, widthMm: 240 } };
  expect(() => outlineThroughStations(stations)).toThrow(
    'outlineThroughStations: stations 0, 136, 100, 404, 487 mm, need them in order',
  );
});

const fault = (change: object) => checkPlate({ ...smallTop, ...change });
const brace = smallTop.braces![0]!;

test('a sound drawing has no faults', () => {
  expect(checkPlate(smallTop)).toEqual({ faults: [], solvable: smallTop });
});

test.each([
  [
    {
      outline: [
        [0, 0],
        [10, 0],
      ],
    },
    'outline',
    'too-few-points',
  ],
  [
    {
      outline: [
        [0, 0],
        [100, 100],
        [100, 0],
        [0, 120],
      ],
    },
    'outline',
    'crosses-itself',
  ],
  [
    {
      outline: [
        [0, 0],
        [100, 0],
        [50, 0],
      ],
    },
    'outline',
    'no-area',
  ],
  [
    {
      outline: [
        [0, 0],
        [Number.NaN, 0],
        [50, 50],
      ],
    },
    'outline',
    'not-a-number',
  ],
  [{ outline: rectangle(2e6, 1e6) }, 'outline', 'absurd-size'],
  [{ thicknessMm: 0 }, 'plate', 'thickness-not-positive'],
  [{ thicknessMm: 2800 }, 'plate', 'absurd-thickness'],
  [{ material: { ...spruce, gRT: -1 } }, 'plate', 'absurd-material'],
  [{ material: { ...spruce, nuLR: 6 } }, 'plate', 'absurd-material'],
  [{ material: { ...spruce, densityKgM3: 1e30 } }, 'plate', 'absurd-material'],
] as const)('%o leaves nothing to solve and says why', (change, part, because) => {
  const { faults, solvable } = fault(change);
  expect(solvable).toBeUndefined();
  expect(faults).toContainEqual({ part, because });
});

test.each([
  [{ from: [900, 0], to: [950, 0] }, 'outside-outline'],
  [
    {
      heightMm: [
        [0, 5],
        [100, -1],
      ],
    },
    'height-not-positive',
  ],
  [
    {
      heightMm: [
        [50, 5],
        [10, 6],
      ],
    },
    'heights-out-of-order',
  ],
  [{ heightMm: [] }, 'no-heights'],
  [{ widthMm: 0 }, 'width-not-positive'],
  [{ widthMm: 0.001 }, 'absurd-size'],
  [{ to: brace.from }, 'no-length'],
  [{ material: { ...spruce, eL: 0 } }, 'absurd-material'],
] as const)('a brace with %o is named and the rest is still solved', (change, because) => {
  const { faults, solvable } = fault({ braces: [{ ...brace, ...change }, smallTop.braces![1]!] });
  expect(faults).toEqual([{ part: 'brace', id: 'slanted', because }]);
  expect(solvable?.braces).toEqual([smallTop.braces![1]!]);
  expect(plateModes(preparePlate(solvable!, 60), solvable!, { count: 2 }).kind).toBe('modes');
});

test('a brace over the rim and one across the soundhole are named but still solved', () => {
  const over = { ...brace, to: [300, 150] as const };
  const { faults, solvable } = fault({ braces: [over], soundhole: { xMm: 130, yMm: 100, radiusMm: 25 } });
  expect(faults.map(({ because }) => because)).toEqual(['reaches-over-rim', 'crosses-soundhole']);
  expect(plateModes(preparePlate(solvable!, 60), solvable!, { count: 2 }).kind).toBe('modes');
});

test('the modes of a free half-top carry their trade names', () => {
  const plate = { outline: rectangle(550, 210), thicknessMm: 4, material: spruce };
  const prepared = preparePlate(plate, 40);
  const shapes = modesOf(plate, 40, 5).map((mode) => deflection(prepared, mode));
  expect(distinctModeNames(prepared.mesh, shapes, true)).toEqual([
    'twist',
    'long-grain bending',
    'long-grain bending with twist',
    'cross-grain bending',
    'cross-grain bending with twist',
  ]);
  // No two modes of a plate go by one name.
  expect(distinctModeNames(prepared.mesh, [shapes[0]!, shapes[1]!, shapes[0]!], true)).toEqual([
    'twist',
    'long-grain bending',
    'second twist',
  ]);
});

test('the first modes of a held plate are monopole and dipoles', () => {
  const plate = { outline: rectangle(400, 300), thicknessMm: 3, material: spruce, edge: 'clamped' as const };
  const prepared = preparePlate(plate, 40);
  const names = modesOf(plate, 40, 3).map((mode) => modeName(prepared.mesh, deflection(prepared, mode), false).name);
  expect(names).toEqual(['monopole', 'cross dipole', 'long dipole']);
});

test('node lines of long-grain bending cross the plate at 0.224 of its length, where it is to be held', () => {
  // Nodes of the free-free beam: 0.2242 and 0.7758 (Rayleigh); a wide plate bends its node lines a little.
  const plate = { outline: rectangle(550, 120), thicknessMm: 4, material: spruce };
  const prepared = preparePlate(plate, 30);
  const shape = deflection(
    prepared,
    modesOf(plate, 30, 2).find(
      (mode) => modeName(prepared.mesh, deflection(prepared, mode), true).name === 'long-grain bending',
    )!,
  );
  const { lines } = contours(prepared.mesh, shape, [0])[0]!;
  expect(lines).toHaveLength(2);
  const xs = lines.map((line) => line.reduce((sum, [x]) => sum + x, 0) / line.length / 550).sort();
  expect(Math.abs(xs[0]! - 0.2242)).toBeLessThan(0.01);
  expect(Math.abs(xs[1]! - 0.7758)).toBeLessThan(0.01);
  const { hold, tap } = holdAndTap(prepared.mesh, shape);
  for (const w of sampled(prepared.mesh, shape, hold)) expect(Math.abs(w!)).toBeLessThan(0.07);
  expect(Math.abs(sampled(prepared.mesh, shape, tap)[0]!)).toBeCloseTo(1, 2);
});

test('contour lines read back as their level', () => {
  const mesh = plateMesh({ outline: rectangle(100, 80), thicknessMm: 3, material: spruce }, 25);
  const shape = Float64Array.from(mesh.xMm, (x, i) => (x + mesh.yMm[i]!) / 180);
  for (const { level, lines } of contours(mesh, shape, [0.25, 0.5]))
    for (const [x, y] of lines.flat()) expect((x + y) / 180).toBeCloseTo(level, 9);
});

test('how steep a shape is: a tilted plane everywhere as it is tilted, a bowl by its derivative, nothing beside the plate', () => {
  const { mesh } = preparePlate({ outline: rectangle(300, 200), thicknessMm: 3, material: spruce }, 30);
  const places = [
    [150, 100],
    [1, 1],
    [299, 120],
  ] as const;
  const plane = mesh.xMm.map((x, node) => 0.003 * x - 0.004 * mesh.yMm[node]!);
  for (const slope of steepness(mesh, plane, places)) expect(slope).toBeCloseTo(0.005, 9);
  // Quadratic shapes are held exactly by six-node triangles, and their slopes by differences to both sides.
  const bowl = mesh.xMm.map((x) => ((x - 150) / 150) ** 2);
  expect(steepness(mesh, bowl, [[210, 100]])[0]).toBeCloseTo((2 * 60) / 150 ** 2, 9);
  expect(steepness(mesh, plane, [[400, 100]])).toEqual([undefined]);
});

test('assurance is 1 for the same shape at any scale and 0 for shapes without overlap', () => {
  expect(assurance([1, 2, 3], [-2, -4, -6])).toBeCloseTo(1, 12);
  expect(assurance([1, 0], [0, 5])).toBe(0);
  expect(() => assurance([1], [1, 2])).toThrow('assurance: 1 and 2 places');
});

test('string load turns the bridge in proportion to tension, and less on a higher brace', () => {
  const prepared = preparePlate(smallTop, 40);
  const load = {
    tensionN: 300,
    stringHeightMm: 12,
    saddle: [
      [80, 70],
      [80, 130],
    ] as const,
  };
  const turn = (plate: typeof smallTop, tensionN: number) => {
    const answer = stringDeflection(prepared, plate, { ...load, tensionN });
    if (answer.kind !== 'deflected') throw new Error(answer.because);
    return answer.rotationDeg;
  };
  const once = turn(smallTop, 300);
  expect(once).toBeGreaterThan(0);
  expect(turn(smallTop, 600) / once).toBeCloseTo(2, 9);
  const higher = smallTop.braces!.map((b) => ({ ...b, heightMm: b.heightMm.map(([s, h]) => [s, h + 3] as const) }));
  expect(turn({ ...smallTop, braces: higher }, 300)).toBeLessThan(once);
});

test('a free plate cannot carry strings, and a saddle outside the plate is said', () => {
  const load = {
    tensionN: 300,
    stringHeightMm: 12,
    saddle: [
      [80, 70],
      [80, 130],
    ] as const,
  };
  const free = { ...smallTop, edge: 'free' as const };
  expect(stringDeflection(preparePlate(free, 60), free, load)).toEqual({ kind: 'unsolvable', because: 'free-rim' });
  const away = {
    ...load,
    saddle: [
      [900, 0],
      [900, 10],
    ] as const,
  };
  expect(stringDeflection(preparePlate(smallTop, 60), smallTop, away)).toEqual({
    kind: 'unsolvable',
    because: 'saddle-outside',
  });
});
