import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Box, boxModes } from '../../src/box/pistons.ts';
import { soundhole } from '../../src/box/soundhole.ts';
import { uncoupledFrequencies } from './uncoupled.ts';
import { AIR, piston, THREE, TWO } from './workshop-box.ts';

const sumOfSquares = (values: readonly number[]) => values.reduce((sum, x) => sum + x * x, 0);

/** Boxes across and beyond what is built. */
const boxes: fc.Arbitrary<Box> = fc
  .record({
    volume: fc.double({ min: 0.005, max: 0.03, noNaN: true }),
    radius: fc.double({ min: 0.03, max: 0.06, noNaN: true }),
    topKg: fc.double({ min: 0.04, max: 0.2, noNaN: true }),
    backKg: fc.double({ min: 0.08, max: 0.4, noNaN: true }),
    topHz: fc.double({ min: 120, max: 260, noNaN: true }),
    backHz: fc.double({ min: 150, max: 350, noNaN: true }),
    topM2: fc.double({ min: 0.02, max: 0.07, noNaN: true }),
    backM2: fc.double({ min: 0.0, max: 0.07, noNaN: true }),
  })
  .map((b) => ({
    air: AIR,
    volumeM3: b.volume,
    hole: soundhole(b.radius, 0.003, 'flanged', 25),
    top: piston(b.topKg, b.topHz, b.topM2, 30),
    back: piston(b.backKg, b.backHz, b.backM2, 35),
  }));

test('the squares of the coupled and of the uncoupled frequencies have the same sum in every box', () => {
  fc.assert(
    fc.property(boxes, (box) => {
      const { topHz, backHz, airHz } = uncoupledFrequencies(box);
      const alone = sumOfSquares([topHz, backHz!, airHz!]);
      const coupled = sumOfSquares(boxModes(box).map((mode) => mode.frequencyHz));
      expect(coupled / alone).toBeCloseTo(1, 10); // rounding of three eigenvalues
    }),
  );
});

test('blocking the hole puts the plates’ modes between those of the open box', () => {
  fc.assert(
    fc.property(boxes, (box) => {
      const open = boxModes(box).map((mode) => mode.frequencyHz);
      const blocked = boxModes({ ...box, hole: 'blocked' }).map((mode) => mode.frequencyHz);
      const slack = 1e-9; // rounding
      blocked.forEach((hz, k) => {
        expect(hz).toBeGreaterThan(open[k]! * (1 - slack));
        expect(hz).toBeLessThan(open[k + 1]! * (1 + slack));
      });
    }),
  );
});

test('energy shares sum to one over the parts of a mode and over the modes of a part', () => {
  fc.assert(
    fc.property(boxes, (box) => {
      const modes = boxModes(box);
      for (const { energyShare } of modes)
        expect(energyShare.top! + energyShare.back! + energyShare.air!).toBeCloseTo(1, 10);
      for (const part of ['top', 'back', 'air'] as const)
        expect(modes.reduce((sum, mode) => sum + mode.energyShare[part]!, 0)).toBeCloseTo(1, 10);
    }),
  );
});

test('a back too stiff to move leaves the two-piston box', () => {
  const stiff = boxModes({ ...THREE, back: piston(0.15, 20_000, 0.035, 35) });
  boxModes(TWO).forEach((mode, k) => {
    expect(stiff[k]!.frequencyHz / mode.frequencyHz).toBeCloseTo(1, 4); // (220 / 20000)² = 1e-4 of the cushion is left
  });
});

test('a back that pushes no air rings by itself and leaves the others alone', () => {
  const modes = boxModes({ ...THREE, back: piston(0.15, 220, 0, 35) });
  expect(modes.map((mode) => mode.frequencyHz)).toContainEqual(expect.closeTo(220, 9));
  for (const { frequencyHz } of boxModes(TWO))
    expect(modes.map((mode) => mode.frequencyHz)).toContainEqual(expect.closeTo(frequencyHz, 9));
});

test('top and back alike with the hole blocked: one mode squeezes the air, the other does not feel it', () => {
  const plate = piston(0.1, 200, 0.04, 30);
  const [sway, breath] = boxModes({ ...THREE, hole: 'blocked', top: plate, back: plate });
  expect(sway!.frequencyHz).toBeCloseTo(200, 9);
  expect(sway!.shape.top! / sway!.shape.back!).toBeCloseTo(-1, 9);
  // breathing: two areas on one cushion, omega² = (K + 2 B A²) / m
  const cushion = (AIR.densityKgM3 * AIR.soundSpeedMPerS ** 2) / 0.016;
  const breathHz = Math.sqrt((plate.stiffnessNPerM + 2 * cushion * 0.04 ** 2) / 0.1) / (2 * Math.PI);
  expect(breath!.frequencyHz).toBeCloseTo(breathHz, 9);
  expect(breath!.shape.top! / breath!.shape.back!).toBeCloseTo(1, 9);
});

test('in the air mode the air flows out of the hole while the top goes in; in the top mode they go together', () => {
  const [air, top] = boxModes(TWO);
  expect(air!.shape.air! * air!.shape.top!).toBeLessThan(0);
  expect(top!.shape.air! * top!.shape.top!).toBeGreaterThan(0);
});

test('parts of the same Q give modes that lose in proportion to frequency as a uniform rate would', () => {
  // with r_i = m_i / tau for every part, each mode decays with the same tau: Q = omega tau
  const tau = 0.05;
  const q = (hz: number) => 2 * Math.PI * hz * tau;
  const hole = { ...soundhole(0.05, 0.003, 'flanged', 1), q: q(uncoupledFrequencies(TWO).airHz!) };
  const box = { ...THREE, hole, top: piston(0.08, 170, 0.04, q(170)), back: piston(0.15, 220, 0.035, q(220)) };
  for (const mode of boxModes(box)) expect(mode.q).toBeCloseTo(q(mode.frequencyHz), 9);
});

test('a box without volume is the caller’s mistake', () => {
  expect(() => boxModes({ ...TWO, volumeM3: -0.016 })).toThrow('volume -0.016 m³, need > 0');
});
