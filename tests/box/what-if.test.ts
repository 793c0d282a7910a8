import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Box, boxModes } from '../../src/box/pistons.ts';
import { helmholtzHz, reamedTo, type Soundhole, soundhole, tunedTo } from '../../src/box/soundhole.ts';
import { type BoxChange, boxSensitivities, changedBox } from '../../src/box/what-if.ts';
import { AIR, piston, THREE, TWO } from './workshop-box.ts';

const PLAN_M2 = 0.15;
const hz = (box: Box) => boxModes(box).map(({ frequencyHz }) => frequencyHz);

/** Central difference of every mode for a change, Hz per unit of the change. */
function slope(box: Box, change: (step: number) => BoxChange, step: number): readonly number[] {
  const up = hz(changedBox(box, change(step)));
  const down = hz(changedBox(box, change(-step)));
  return up.map((f, k) => (f - down[k]!) / (2 * step));
}

test.each([
  ['three', THREE],
  ['two', TWO],
])('each analytic sensitivity of the %s-piston box is the slope of the re-solved box', (_, box) => {
  const radius = (box.hole as Soundhole).radiusM;
  const numeric = {
    hzPerMmHoleRadius: slope(box, (mm) => ({ holeRadiusM: radius + mm * 1e-3 }), 0.01),
    hzPerMmDepth: slope(box, (mm) => ({ depthChangeM: mm * 1e-3, planAreaM2: PLAN_M2 }), 0.01),
    hzPerGBridge: slope(box, (g) => ({ bridgeMassChangeKg: g * 1e-3 }), 0.01),
    hzPerPercentTopStiffness: slope(box, (p) => ({ topStiffnessRatio: 1 + p / 100 }), 0.01),
    hzPerPercentBackStiffness: slope(box, (p) => ({ backStiffnessRatio: 1 + p / 100 }), 0.01),
  };
  boxSensitivities(box, PLAN_M2).forEach((mode, k) => {
    for (const knob of Object.keys(numeric) as (keyof typeof numeric)[])
      expect(mode[knob], knob).toBeCloseTo(numeric[knob][k]!, 6); // the difference's own error, step² times curvature
  });
});

test('alone on its cushion the air follows the Helmholtz formula for radius and depth', () => {
  // plates too heavy to move: f ~ sqrt(r² / L), df/dr = f (1/r - 1.7 / 2L); f ~ V^(-1/2), df/dV = -f / 2V
  const still = { ...TWO, top: piston(1e6, 170, 0.04, 30) };
  const air = boxSensitivities(still, PLAN_M2)[0]!;
  const f = helmholtzHz(AIR, 0.016, TWO.hole as Soundhole);
  expect(air.hzPerMmHoleRadius).toBeCloseTo(1e-3 * f * (1 / 0.05 - 1.7 / (2 * 0.088)), 3);
  expect(air.hzPerMmDepth).toBeCloseTo((-1e-3 * f * PLAN_M2) / (2 * 0.016), 3);
});

test('with the hole shut its radius moves nothing, and everything else as much as the re-solved box', () => {
  const shut: Box = { ...THREE, hole: 'blocked' };
  const deeper = slope(shut, (mm) => ({ depthChangeM: mm * 1e-3, planAreaM2: PLAN_M2 }), 0.01);
  const found = boxSensitivities(shut, PLAN_M2);
  expect(found).toHaveLength(2);
  found.forEach((mode, k) => {
    expect(mode.hzPerMmHoleRadius).toBe(0);
    expect(mode.hzPerMmDepth).toBeCloseTo(deeper[k]!, 6);
  });
});

test('a top that pushes no air follows the lone oscillator for mass and stiffness', () => {
  const lone = { ...TWO, top: piston(0.08, 170, 0, 30) };
  const top = boxSensitivities(lone, PLAN_M2)[1]!; // f ~ sqrt(K / m)
  expect(top.hzPerGBridge).toBeCloseTo((-170 * 1e-3) / (2 * 0.08), 9);
  expect(top.hzPerPercentTopStiffness).toBeCloseTo(170 * 0.005, 9);
});

test('stiffness raises every mode, mass and depth lower every mode', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.5, max: 2, noNaN: true }), (ratio) => {
      for (const mode of boxSensitivities(changedBox(THREE, { topStiffnessRatio: ratio }), PLAN_M2)) {
        expect(mode.hzPerPercentTopStiffness).toBeGreaterThanOrEqual(0);
        expect(mode.hzPerPercentBackStiffness).toBeGreaterThanOrEqual(0);
        expect(mode.hzPerGBridge).toBeLessThanOrEqual(0);
        expect(mode.hzPerMmDepth).toBeLessThanOrEqual(0);
      }
    }),
  );
});

test('a bridge taped on that lowers the top by 20 Hz weighs what the added-mass formula says', () => {
  // common practice: 25 to 28 g at 180 to 200 Hz on a top of 105 to 115 g; here without air to keep the closed form
  const lone = { ...TWO, top: piston(0.11, 193, 0, 30) };
  const withBridge = hz(changedBox(lone, { bridgeMassChangeKg: 0.11 * ((193 / 173) ** 2 - 1) }));
  expect(withBridge[1]).toBeCloseTo(173, 9);
});

test('a hole tuned to a measured air resonance keeps it, and reaming back undoes reaming', () => {
  const hole = tunedTo(soundhole(0.05, 0.003, 'flanged', 25), 118, AIR, 0.016);
  expect(helmholtzHz(AIR, 0.016, hole)).toBeCloseTo(118, 9);
  expect(reamedTo(reamedTo(hole, 0.053), 0.05).effectiveLengthM).toBeCloseTo(hole.effectiveLengthM, 12);
});

test('a change that leaves nothing is the caller’s mistake', () => {
  expect(() => changedBox(TWO, { bridgeMassChangeKg: -0.1 })).toThrow('top -0.0');
  expect(() => changedBox(TWO, { depthChangeM: -0.2, planAreaM2: PLAN_M2 })).toThrow('volume -0.01');
  expect(() => changedBox(TWO, { topStiffnessRatio: 0 })).toThrow('stiffness ratio 0');
});

test.each([0, -0.1, Number.NaN])('a plan area of %d m² is refused', (areaM2) => {
  expect(() => boxSensitivities(THREE, areaM2)).toThrow(`boxSensitivities: plan area ${areaM2} m², need > 0`);
});
