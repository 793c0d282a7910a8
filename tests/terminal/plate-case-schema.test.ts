import { expect, test } from 'vitest';
import { readPlateCase } from '../../src/terminal/plate-case-schema.ts';
import { rectangle, spruce } from '../plate/plates.ts';

const plate = { outline: rectangle(200, 150), thicknessMm: 3, material: spruce };
const brace = {
  id: 'tone',
  from: [20, 20],
  to: [120, 80],
  widthMm: 6,
  heightMm: [
    [0, 12],
    [100, 8],
  ],
  material: spruce,
};
const patch = { id: 'bridge', polygon: rectangle(30, 20), thicknessMm: 2, material: spruce };

test('a plate with everything is read as it is written', () => {
  const whole = {
    ...plate,
    soundhole: { xMm: 100, yMm: 75, radiusMm: 20 },
    thicknessPointsMm: [[10, 10, 2.9]],
    grainDeg: 2,
    braces: [{ ...brace, crossSection: 'parabola', upright: 'T', grainDeg: 3 }],
    patches: [{ ...patch, face: 'outside', grainDeg: 90 }],
    edge: { kind: 'hinged', pinnedAt: 'mid-surface', rotationalStiffnessN: 100 },
  };
  expect(readPlateCase(whole)).toEqual(whole);
  for (const edge of ['free', 'hinged', 'clamped'])
    expect(readPlateCase({ ...plate, edge })).toEqual({ ...plate, edge });
});

const { thicknessMm: _, ...noThickness } = plate;
const { material: __, ...noMaterial } = plate;
const { eL: ___, ...noStiffness } = spruce;
const points = 'must be a list of [x, y] points in mm';
test.each([
  ['thin', 'not a plate: need an object with an outline'],
  [null, 'not a plate: need an object with an outline'],
  [{ ...plate, outline: 'round' }, `outline ${points}`],
  [{ ...plate, outline: [[1]] }, `outline ${points}`],
  [{ ...plate, outline: [[1, Number.POSITIVE_INFINITY]] }, `outline ${points}`],
  [noThickness, 'thicknessMm must be a number'],
  [noMaterial, 'needs a material'],
  [{ ...plate, material: 'spruce' }, 'needs a material'],
  [{ ...plate, material: noStiffness }, 'material needs a number eL'],
  [{ ...plate, material: { ...spruce, eL: '11 GPa' } }, 'material needs a number eL'],
  [{ ...plate, grainDeg: '2' }, 'grainDeg must be a number'],
  [{ ...plate, soundhole: { xMm: 1, yMm: 2 } }, 'soundhole needs xMm, yMm and radiusMm'],
  [{ ...plate, thicknessPointsMm: [[1, 2]] }, 'thicknessPointsMm must be a list of [x, y, thickness] in mm'],
  [{ ...plate, thicknessPointsMm: [[1, 2, 3, 4]] }, 'thicknessPointsMm must be a list of [x, y, thickness] in mm'],
  [{ ...plate, edge: 'glued' }, 'edge is not free, hinged or clamped'],
  [{ ...plate, edge: { kind: 'clamped' } }, 'edge is not free, hinged or clamped'],
  [{ ...plate, edge: { kind: 'hinged', rotationalStiffnessN: -1 } }, 'edge is not free, hinged or clamped'],
  [{ ...plate, braces: {} }, 'braces must be a list of objects'],
  [{ ...plate, braces: [7] }, 'braces must be a list of objects'],
  [{ ...plate, patches: [null] }, 'patches must be a list of objects'],
])('%j: %s', (value, sentence) => {
  expect(readPlateCase(value)).toBe(sentence);
});

test.each([
  [{ id: undefined }, 'brace 1: id must be a text'],
  [{ from: [1, 'x'] }, 'brace tone: from must be [x, y] in mm'],
  [{ to: undefined }, 'brace tone: to must be [x, y] in mm'],
  [{ widthMm: null }, 'brace tone: widthMm must be a number'],
  [{ heightMm: [12, 8] }, 'brace tone: heightMm must be a list of [distance, height] pairs in mm'],
  [{ material: noStiffness }, 'brace tone: material needs a number eL'],
  [{ crossSection: 'oval' }, 'brace tone: crossSection is not one of rectangle'],
  [{ upright: 'L' }, 'brace tone: upright is not R or T'],
  [{ grainDeg: true }, 'brace tone: grainDeg must be a number'],
])('a brace with %j: %s', (wrong, sentence) => {
  expect(readPlateCase({ ...plate, braces: [{ ...brace, ...wrong }] })).toContain(sentence);
});

test.each([
  [{ polygon: 'round' }, `patch bridge: polygon ${points}`],
  [{ thicknessMm: '2' }, 'patch bridge: thicknessMm must be a number'],
  [{ material: undefined }, 'patch bridge: needs a material'],
  [{ grainDeg: null }, 'patch bridge: grainDeg must be a number'],
  [{ face: 'top' }, 'patch bridge: face is not inside or outside'],
])('a patch with %j: %s', (wrong, sentence) => {
  expect(readPlateCase({ ...plate, patches: [patch, { ...patch, ...wrong }] })).toBe(sentence);
});
