import { expect, test } from 'vitest';
import { type Box, boxModes } from '../../src/box/pistons.ts';
import { boxResponse } from '../../src/box/response.ts';
import { soundhole } from '../../src/box/soundhole.ts';
import { uncoupledFrequencies } from './uncoupled.ts';
import { piston, THREE, TWO } from './workshop-box.ts';

const grid = (fromHz: number, toHz: number, stepHz: number) =>
  Float64Array.from({ length: Math.round((toHz - fromHz) / stepHz) + 1 }, (_, i) => fromHz + i * stepHz);

test('mobility is that of a lone oscillator when the top pushes no air', () => {
  const box = { ...TWO, top: piston(0.08, 170, 0, 30) };
  const { massKg: m, stiffnessNPerM: k } = box.top;
  const r = Math.sqrt(m * k) / 30;
  const { mobilityMPerNs, mobilityPhaseRad } = boxResponse(box, [120, 170, 240], 1);
  [120, 170, 240].forEach((hz, i) => {
    const omega = 2 * Math.PI * hz; // Y = 1 / (r + i (omega m - k / omega)): textbook
    expect(mobilityMPerNs[i]!).toBeCloseTo(1 / Math.hypot(r, omega * m - k / omega), 10);
    expect(mobilityPhaseRad[i]!).toBeCloseTo(-Math.atan2(omega * m - k / omega, r), 10);
  });
});

test('mobility equals the solution of the full complex equations', () => {
  // computed with numpy.linalg.solve on (K + B a a^T + i w R - w² M) x = F for the worked three-piston box
  const { mobilityMPerNs, soundLevelDb } = boxResponse(THREE, [100, 112, 150, 188.5, 228, 300], 1);
  const numpy = {
    mobility: [
      0.016840371804503325, 0.05241957546053087, 0.014970815156579578, 0.2832590691536771, 0.02961580559180327,
      0.01079176416243326,
    ],
    levelDb: [
      70.31803150815475, 88.0515569242232, 78.1888994510528, 99.5929442144085, 88.6215796476807, 74.0745724422676,
    ],
  };
  numpy.mobility.forEach((y, i) => {
    expect(mobilityMPerNs[i]! / y).toBeCloseTo(1, 9);
    expect(soundLevelDb[i]!).toBeCloseTo(numpy.levelDb[i]!, 7);
  });
});

/** The same box with every part's losses divided by a hundred. */
const sharp: Box = {
  ...THREE,
  hole: { ...soundhole(0.05, 0.003, 'flanged', 1), q: 2500 },
  top: piston(0.08, 170, 0.04, 3000),
  back: piston(0.15, 220, 0.035, 3500),
};

test('the mobility peaks stand at the coupled modes and are as wide as their Q says', () => {
  const stepHz = 0.0002;
  for (const mode of boxModes(sharp)) {
    const hz = grid(mode.frequencyHz - 0.3, mode.frequencyHz + 0.3, stepHz);
    const y = [...boxResponse(sharp, hz, 1).mobilityMPerNs];
    const most = Math.max(...y);
    // pulled by its own losses, f / (8 Q²), and by the neighbours' skirts: both far below 0.01 Hz here
    expect(Math.abs(hz[y.indexOf(most)]! - mode.frequencyHz)).toBeLessThan(0.01);
    const widthHz = y.filter((value) => value > most / Math.SQRT2).length * stepHz;
    // the neighbours' skirts change the width by their share of the peak, 0.3 % at these losses; the grid by 0.3 %
    expect(Math.abs(mode.frequencyHz / widthHz / mode.q - 1)).toBeLessThan(0.007);
  }
});

test('the dip between the two lowest peaks of the two-piston box stands at the Helmholtz frequency', () => {
  // Woodhouse, Euphonics 4.2.2: the hole's air absorbs the top; with losses the dip moves by the order f / Q² = 0.2 Hz
  const hz = grid(115, 160, 0.01);
  const y = [...boxResponse(TWO, hz, 1).mobilityMPerNs];
  const dipHz = hz[y.indexOf(Math.min(...y))]!;
  expect(Math.abs(dipHz - uncoupledFrequencies(TWO).airHz!)).toBeLessThan(0.3);
});

test('far below the air mode the hole undoes the plates, and the sound falls by 24 dB an octave', () => {
  const { soundLevelDb } = boxResponse(sharp, [5, 10], 1); // losses would turn it to 18 dB below f / Q
  // omega^4: 80 log10 2 = 24.08 dB; the air mode at 112 Hz already lifts 10 Hz by (10 / 112)², 0.07 dB
  expect(Math.abs(soundLevelDb[1]! - soundLevelDb[0]! - 24.08)).toBeLessThan(0.1);
});

test('twice the distance is 6 dB less', () => {
  const near = boxResponse(THREE, [150], 1).soundLevelDb[0]!;
  const far = boxResponse(THREE, [150], 2).soundLevelDb[0]!;
  expect(near - far).toBeCloseTo(20 * Math.log10(2), 9);
});
