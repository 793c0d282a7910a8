import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { plateCaseJsonSchema } from '../../src/terminal/plate-case-json-schema.ts';
import { passedOver, readPlateCase } from '../../src/terminal/plate-case-schema.ts';
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

const woodWithUnits = {
  eLMpa: spruce.eL,
  eRMpa: spruce.eR,
  eTMpa: spruce.eT,
  gLRMpa: spruce.gLR,
  gLTMpa: spruce.gLT,
  gRTMpa: spruce.gRT,
  nuLR: spruce.nuLR,
  nuLT: spruce.nuLT,
  nuRT: spruce.nuRT,
  densityKgM3: spruce.densityKgM3,
};
const withUnits = {
  outlineMm: plate.outline,
  thicknessMm: 3,
  material: woodWithUnits,
  braces: [{ id: 'tone', fromMm: [20, 20], toMm: [120, 80], widthMm: 6, heightMm: brace.heightMm, material: spruce }],
  patches: [{ id: 'bridge', polygonMm: patch.polygon, thicknessMm: 2, material: woodWithUnits }],
};

test('a case is the same with units in its names and without', () => {
  expect(readPlateCase(withUnits)).toEqual({ ...plate, braces: [brace], patches: [patch] });
  expect(passedOver(withUnits)).toEqual([]);
});

test.each([
  [{ ...withUnits, outlineMm: 'round' }, `outlineMm ${points}`],
  [{ ...withUnits, material: { ...woodWithUnits, gLRMpa: '700' } }, 'material needs a number gLRMpa'],
  [{ ...withUnits, outline: plate.outline }, 'outlineMm is given twice, with its unit in the name and without'],
  [{ ...noThickness, thicknesMm: 3 }, 'unknown field thicknesMm; is thicknessMm meant?'],
  [{ ...noThickness, thickness: 3 }, 'unknown field thickness; is thicknessMm meant?'],
  [{ ...plate, soundHole: 3 }, 'unknown field soundHole; is soundhole meant?'],
  [{ ...plate, egde: 'free' }, 'unknown field egde; is edge meant?'],
  [{ ...plate, material: { ...noStiffness, el: 11000 } }, 'material: unknown field el; is eLMpa meant?'],
  [{ ...plate, soundhole: { xMm: 1, yMm: 2, radius: 9 } }, 'soundhole: unknown field radius; is radiusMm meant?'],
  [
    { ...plate, braces: [{ ...brace, crossection: 'rounded' }] },
    'brace tone: unknown field crossection; is crossSection meant?',
  ],
  [
    { ...plate, patches: [{ ...patch, material: { ...spruce, densityKgM3: undefined, density: 4 } }] },
    'patch bridge: material: unknown field density; is densityKgM3 meant?',
  ],
])('a misspelt or doubled name in %o: %s', (value, sentence) => {
  expect(readPlateCase(JSON.parse(JSON.stringify(value)))).toBe(sentence);
});

test('notes of another program are passed over and told', () => {
  const noted = { ...plate, braces: [{ ...brace, colour: 'blue' }], comment: 'a trial', $schema: 'x' };
  expect(readPlateCase(noted)).toEqual({ ...plate, braces: [brace] });
  expect(passedOver(noted)).toEqual([
    'unknown field comment is passed over',
    'brace tone: unknown field colour is passed over',
  ]);
});

test.each([
  [{ eL: 11 }, /eL is 11 MPa, far too soft .*1 GPa = 1000 MPa.*is 11000 MPa meant/],
  [{ eR: 0.9 }, /eR is 0.9 MPa, 12222 times less than eL.*1 GPa = 1000 MPa/],
  [{ gRT: 0.033 }, /gRT is 0.033 MPa.*1 GPa = 1000 MPa/],
  [{ eL: 11e9 }, /stiffer than diamond.*not Pa/],
  [{ gLT: -5 }, /gLT is -5 MPa; a modulus must be above 0/],
  [{ densityKgM3: 4 }, /densityKgM3 is 4 kg\/m\^3, lighter than hard foam/],
  [{ densityKgM3: 0 }, /densityKgM3 is 0; a density must be above 0/],
  [{ densityKgM3: 410_000 }, /heavier than any metal/],
  [{ nuRT: 1.2 }, /nuRT is 1.2; the Poisson’s ratios of wood lie below 1/],
])('wood with %j is answered by name, whosever it is', (wrong, sentence) => {
  const wood = { ...spruce, ...wrong };
  expect(readPlateCase({ ...plate, material: wood })).toMatch(sentence);
  expect(readPlateCase({ ...plate, material: wood })).toMatch(/^the plate: /);
  expect(readPlateCase({ ...plate, braces: [{ ...brace, material: wood }] })).toMatch(/^brace tone: /);
  expect(readPlateCase({ ...plate, patches: [{ ...patch, material: wood }] })).toMatch(/^patch bridge: /);
});

test('the softest and the stiffest that is glued to tops passes: balsa, metal, a bridge held by tape', () => {
  // Balsa by the ratios of Wood Handbook, FPL-GTR-190 (2010), table 5-1; steel; rosewood at a fiftieth of its stiffness.
  const balsa = {
    eL: 3400,
    eR: 156,
    eT: 51,
    gLR: 184,
    gLT: 126,
    gRT: 17,
    nuLR: 0.23,
    nuLT: 0.49,
    nuRT: 0.66,
    densityKgM3: 120,
  };
  const g = 210_000 / 2.6;
  const steel = {
    eL: 210_000,
    eR: 210_000,
    eT: 210_000,
    gLR: g,
    gLT: g,
    gRT: g,
    nuLR: 0.3,
    nuLT: 0.3,
    nuRT: 0.3,
    densityKgM3: 7850,
  };
  const taped = { ...spruce, eL: 240, eR: 44, eT: 26, gLR: 30, gLT: 22, gRT: 6 };
  for (const wood of [balsa, steel, taped]) expect(readPlateCase({ ...plate, material: wood })).toBeTypeOf('object');
});

const published = readFileSync(new URL('../../src/static/plate-case.schema.json', import.meta.url), 'utf8');

test('the published schema is what the program reads by: npm run schema after a change', () => {
  expect(published).toBe(plateCaseJsonSchema());
});

test('the published schema knows each field with its unit and without, and asks for one of the two', () => {
  const schema = JSON.parse(published);
  expect(schema.$id).toBe('urn:platewright-plate-case:1');
  expect(schema.required).toEqual(['thicknessMm', 'material']);
  expect(schema.allOf).toEqual([{ oneOf: [{ required: ['outlineMm'] }, { required: ['outline'] }] }]);
  expect(schema.properties.outline.deprecated).toBe(true);
  const wood = schema.properties.material.properties;
  for (const name of Object.keys(woodWithUnits)) expect(wood[name].type).toBe('number');
  for (const name of Object.keys(spruce)) expect(wood[name].type).toBe('number');
});
