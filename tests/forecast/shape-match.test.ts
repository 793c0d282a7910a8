// Which mode is which, on shapes that are written down instead of solved.
import { expect, test } from 'vitest';
import { matched } from '../../src/forecast/shape-match.ts';
import { MOTIONS, W } from '../../src/plate/freedoms.ts';
import { type PlateMode, preparePlate } from '../../src/plate/plate-modes.ts';
import { rectangle, spruce } from '../plate/plates.ts';

const prepared = preparePlate({ outline: rectangle(200, 200), thicknessMm: 3, material: spruce }, 60);
const { xMm, yMm } = prepared.mesh;

/** A mode that moves so at every place; x and y from -1 to 1. */
function moving(w: (x: number, y: number) => number): PlateMode {
  const vector = new Float64Array(prepared.freedoms.pattern.dofStart.at(-1)!);
  xMm.forEach((x, node) => {
    const unknown = prepared.freedoms.unknown[node * MOTIONS + W]!;
    if (unknown >= 0) vector[unknown] = w(x / 100 - 1, yMm[node]! / 100 - 1);
  });
  return { frequencyHz: 100, solvedHz: 100, vector };
}

// Square on one another over a square: what is odd in a direction has nothing of what is even in it.
const tiltX = moving((x) => x);
const tiltY = moving((_, y) => y);
const twist = moving((x, y) => x * y);
const even = moving(() => 1);

test('modes in another order, of other sign and strength, are found again wholly', () => {
  const others = [moving((x, y) => -5 * x * y), moving((_, y) => 0.01 * y), even, moving((x) => -x)];
  const found = matched(prepared, [tiltX, tiltY, twist, even], others);
  expect(found.map(({ partner }) => partner)).toEqual([3, 1, 0, 2]);
  for (const { likeness } of found) expect(likeness).toBeCloseTo(1, 9);
});

test('the strongest likeness is served first: a mode loses its likest to one that is liker still', () => {
  // Over a symmetric mesh the two parts stand square on one another, so both mixtures hold some of each.
  const mostlyX = moving((x, y) => x + 0.3 * y);
  expect(matched(prepared, [mostlyX, tiltX], [tiltX, tiltY]).map(({ partner }) => partner)).toEqual([1, 0]);
  expect(matched(prepared, [tiltX, mostlyX], [tiltX, tiltY]).map(({ partner }) => partner)).toEqual([0, 1]);
});

test('likeness is the assurance of the two shapes: equal parts of two share it half and half', () => {
  const [both] = matched(prepared, [moving((x, y) => x + y)], [tiltX]);
  expect(Math.abs(both!.likeness - 0.5)).toBeLessThan(0.05);
  const [none] = matched(prepared, [tiltX], [tiltY]);
  expect(none!.likeness).toBeLessThan(0.02);
});

test('a mode left over stands in for its own rank, or the last there is, and is like nothing', () => {
  expect(matched(prepared, [tiltX, tiltY, twist], [tiltY])).toEqual([
    { partner: 0, likeness: 0 },
    { partner: 0, likeness: expect.closeTo(1, 9) },
    { partner: 0, likeness: 0 },
  ]);
  // The first two find themselves; the third and fourth have nobody left.
  const rest = matched(prepared, [tiltX, twist, even, tiltY], [tiltX, twist]).slice(2);
  expect(rest).toEqual([
    { partner: 1, likeness: 0 },
    { partner: 1, likeness: 0 },
  ]);
});

test('no modes, no pairs', () => {
  expect(matched(prepared, [], [tiltX])).toEqual([]);
});
