import { expect, test } from 'vitest';
import { boxModes } from '../../src/box/pistons.ts';
import { boxResponse } from '../../src/box/response.ts';
import { boxCurves } from '../../src/compare/box-curves.ts';
import { trueBox } from './box-story.ts';

const distanceM = 0.5;
const range = Array.from({ length: 401 }, (_, i) => i);
const predicted = (hz: number) => boxResponse(trueBox, [hz], distanceM).soundLevelDb[0]!;
const [lowestHz, highestHz] = [boxModes(trueBox)[0]!.frequencyHz, boxModes(trueBox).at(-1)!.frequencyHz];

test('a measured spectrum that is the model so many dB lower lies under it, by so many dB', () => {
  const curves = boxCurves(
    trueBox,
    distanceM,
    range,
    range.map((hz) => (hz < 1 ? 0 : predicted(hz)) - 60),
  );
  expect(curves.shiftDb).toBeCloseTo(-60, 6);
  expect([curves.measured[0]!.x, curves.measured.at(-1)!.x]).toEqual([50, 320]);
  for (const { x, y } of curves.measured) {
    const laid = curves.level.find((point) => point.x === x)!;
    expect(Math.abs(laid.y - y)).toBeLessThan(1e-6);
  }
  expect([curves.level[0]!.x, curves.level.at(-1)!.x]).toEqual([50, 320]);
  expect(curves.level[1]!.x - curves.level[0]!.x).toBe(0.5);
});

test('only where the modes lie, and a tenth beyond, is one laid on the other', () => {
  const inside = (hz: number) => hz > 0.9 * lowestHz && hz < 1.1 * highestHz;
  const measured = range.map((hz) => (inside(hz) ? predicted(hz) - 40 : 0));
  expect(boxCurves(trueBox, distanceM, range, measured).shiftDb).toBeCloseTo(-40, 6);
  // The mean of what differs by twice as much over half of it is half as much.
  const middle = (lowestHz + highestHz) / 2;
  const half = range.map((hz) => (inside(hz) ? predicted(hz) - (hz < middle ? 80 : 0) : 0));
  const low = range.filter((hz) => inside(hz) && hz < middle).length / range.filter(inside).length;
  expect(boxCurves(trueBox, distanceM, range, half).shiftDb).toBeCloseTo(-80 * low, 6);
});

test('without a measured spectrum there is none to lie on, and the model stands where it is', () => {
  const curves = boxCurves(trueBox, distanceM, [], []);
  expect(curves).toMatchObject({ measured: [], shiftDb: undefined });
  expect(curves.level.find(({ x }) => x === 100)!.y).toBeCloseTo(predicted(100), 9);
  expect(boxCurves(trueBox, distanceM, [400, 500], [-3, -3])).toMatchObject({ measured: [], shiftDb: undefined });
});

test('mobility is in dB re 1 m/s per N', () => {
  const [point] = boxCurves(trueBox, distanceM, [], []).mobility.filter(({ x }) => x === 180);
  expect(10 ** (point!.y / 20) / boxResponse(trueBox, [180], distanceM).mobilityMPerNs[0]!).toBeCloseTo(1, 9);
});
