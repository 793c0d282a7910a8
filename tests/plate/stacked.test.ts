// Parts on parts, parts over the hole, and modes that a search might pass over.
import { describe, expect, test } from 'vitest';
import { cutAway } from '../../src/plate/cut-away.ts';
import { plateMass } from '../../src/plate/mass.ts';
import { missedModes } from '../../src/plate/mode-count.ts';
import type { PatchCase, PlateCase } from '../../src/plate/plate-case.ts';
import { checkPlate } from '../../src/plate/plate-check.ts';
import { plateModes, preparePlate, woodOf } from '../../src/plate/plate-modes.ts';
import { modesOf, rectangle, smallTop, spruce } from './plates.ts';

const square = (x: number, y: number, side: number): PatchCase['polygon'] => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
];
const patch = (id: string, thicknessMm: number, face: 'inside' | 'outside' = 'inside'): PatchCase => ({
  id,
  polygon: square(80, 60, 60),
  thicknessMm,
  material: spruce,
  face,
});
const bare: PlateCase = { outline: rectangle(260, 200), thicknessMm: 2.8, material: spruce, edge: 'hinged' };
const solved = (patches: readonly PatchCase[]) => {
  const plate = { ...bare, patches };
  const prepared = preparePlate(plate, 40);
  const answer = plateModes(prepared, plate, { count: 6 });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  return { hz: answer.modes.map(({ solvedHz }) => solvedHz), mass: plateMass(prepared, woodOf(prepared)) };
};

describe('a patch on a patch', () => {
  test.each(['inside', 'outside'] as const)('%s of the same wood is one patch of both thicknesses', (face) => {
    const one = solved([patch('whole', 3, face)]);
    const two = solved([patch('first', 1, face), patch('second', 2, face)]);
    two.hz.forEach((f, k) => {
      expect(Math.abs(f / one.hz[k]! - 1)).toBeLessThan(1e-9);
    });
    const grams = 60 * 60 * 410e-6;
    expect(two.mass.totalG - two.mass.plateG).toBeCloseTo(3 * grams, 6);
    expect(two.mass.partsG[0]).toBeCloseTo(grams, 6);
    expect(two.mass.partsG[1]).toBeCloseTo(2 * grams, 6);
  });

  test('the later lies on the earlier: heavy wood further out weighs the same and shakes otherwise', () => {
    const stiff = { ...spruce, eL: 30000 };
    const wide = (id: string, material = spruce): PatchCase => ({
      ...patch(id, 2),
      polygon: rectangle(259, 199),
      material,
    });
    const under = solved([wide('first', stiff), wide('second')]);
    const over = solved([wide('first'), wide('second', stiff)]);
    expect(over.mass.totalG).toBeCloseTo(under.mass.totalG, 9);
    expect(over.hz[0]! / under.hz[0]!).toBeGreaterThan(1.001);
  });

  test('one inside and one outside each weigh their own', () => {
    const { mass } = solved([patch('in', 1), patch('out', 4, 'outside')]);
    expect(mass.partsG[1]! / mass.partsG[0]!).toBeCloseTo(4, 9);
  });
});

test('a brace over a patch has the patch cut away under it: told by name, and weighed so', () => {
  const plate: PlateCase = {
    ...bare,
    braces: [{ id: 'tall', from: [20, 90], to: [240, 90], widthMm: 8, heightMm: [[0, 14]], material: spruce }],
    patches: [patch('plate', 2), { ...patch('bridge', 3), face: 'outside' }],
  };
  const prepared = preparePlate(plate, 40);
  expect(cutAway(prepared.mesh, plate)).toEqual([{ patchId: 'plate', braceId: 'tall' }]);
  const { partsG } = plateMass(prepared, woodOf(prepared));
  // 8 mm of the patch's 60 lie under the brace, which keeps a sliver of the patch in its lap. The bridge on the other face is whole.
  expect(partsG[0]! / (220 * 8 * 14 * 410e-6)).toBeCloseTo(1, 2);
  expect(partsG[1]).toBeCloseTo(60 * 52 * 2 * 410e-6, 6);
  expect(partsG[2]).toBeCloseTo(60 * 60 * 3 * 410e-6, 6);
});

describe('parts within the soundhole', () => {
  const holed: PlateCase = { ...smallTop, edge: 'free', soundhole: { xMm: 130, yMm: 100, radiusMm: 30 } };
  const lost = { ...smallTop.braces![0]!, id: 'lost', from: [120, 95] as const, to: [140, 105] as const };
  test('a brace that touches no plate is named and left out, and no mode stands at 0 Hz', () => {
    const { faults, solvable } = checkPlate({
      ...holed,
      braces: [lost],
      patches: [{ ...patch('rosette', 1), polygon: square(120, 90, 15) }],
    });
    expect(faults).toEqual([
      { part: 'brace', id: 'lost', because: 'inside-soundhole' },
      { part: 'patch', id: 'rosette', because: 'inside-soundhole' },
    ]);
    expect([solvable?.braces, solvable?.patches]).toEqual([[], []]);
    expect(modesOf(solvable!, 40, 3)[0]!.frequencyHz).toBeGreaterThan(20);
  });
  test('one that bridges the hole is not', () => {
    const over = { ...lost, from: [80, 100] as const, to: [180, 100] as const };
    expect(checkPlate({ ...holed, braces: [over] }).faults.map(({ because }) => because)).toEqual([
      'crosses-soundhole',
    ]);
  });
});

describe.each(['free', 'hinged'] as const)('modes of a %s top are counted', (edge) => {
  const plate: PlateCase = { ...smallTop, edge };
  const prepared = preparePlate(plate, 40);
  const modes = modesOf(plate, 40, 8);
  test('none is missed, and one or two that are taken out are', () => {
    expect(missedModes(prepared, plate, modes)).toBe(0);
    expect(missedModes(prepared, plate, modes.toSpliced(3, 1))).toBe(1);
    expect(missedModes(prepared, plate, modes.toSpliced(0, 2))).toBe(2);
  });
  test('two modes in one place leave room for a count below them; nothing found, nothing counted', () => {
    expect(missedModes(prepared, plate, [...modes, modes.at(-1)!])).toBe(0);
    expect(missedModes(prepared, plate, [])).toBeUndefined();
  });
});
