import { expect, test } from 'vitest';
import { estimate } from '../../src/quantity/estimate.ts';
import {
  bridgeLoad,
  bridgeTurnDeg,
  loadCautions,
  turningStiffness,
  USUAL_BRIDGE_LIMITS,
} from '../../src/strings/bridge.ts';
import { saddleSetbackMm } from '../../src/strings/frets.ts';
import { type SetTension, STRING_SETS, setTension } from '../../src/strings/tension.ts';
import { noteNumber, TUNINGS, tuning } from '../../src/strings/tuning.ts';
import { unitMassKgPerM } from '../../src/strings/unit-mass.ts';

const standard = TUNINGS[0]!;
const [extraLight, , light, medium] = STRING_SETS as [
  (typeof STRING_SETS)[0],
  (typeof STRING_SETS)[0],
  (typeof STRING_SETS)[0],
  (typeof STRING_SETS)[0],
];

test('notes are read with sharps, flats and octaves, and nothing else', () => {
  expect(['A4', 'C4', 'F#2', 'Bb3', 'c♯4', 'B♭3'].map(noteNumber)).toEqual([69, 60, 42, 58, 61, 58]);
  expect(['H2', 'A', '', 'A##4', '440'].map(noteNumber)).toEqual([
    undefined,
    undefined,
    undefined,
    undefined,
    undefined,
  ]);
  expect(() => tuning('odd', ['E4', 'X3'])).toThrow("'X3' is not a note");
});

test('every tuning in the list has six or twelve strings', () => {
  for (const { openNotes } of TUNINGS) expect([6, 12]).toContain(openNotes.length);
});

test('a wound string with next to no core weighs its wrap, with next to no wrap its core', () => {
  const build = (coreDiameterM: number) =>
    unitMassKgPerM({ kind: 'wound', diameterM: 1e-3, coreDiameterM, core: 'steel', wrap: 'phosphor bronze' }).value;
  const circle = Math.PI / 4 / 1e6;
  expect(build(1e-9) / (8860 * (Math.PI / 4) * circle)).toBeCloseTo(1, 9);
  expect(build(1e-3 - 1e-12) / (7850 * circle)).toBeCloseTo(1, 6);
  expect(() => build(1e-3)).toThrow('need a thinner core');
});

test('each set pulls more than the lighter one before it, and within what six steel strings do', () => {
  const steel = STRING_SETS.filter(({ name }) => !name.startsWith('nylon'));
  const totals = steel.map((set) => setTension(set, standard, 0.6477, 440).totalN.value);
  expect([...totals].sort((a, b) => a - b)).toEqual(totals);
  for (const total of totals) {
    expect(total).toBeGreaterThan(550); // range seen in published sets, 125 to 200 lb
    expect(total).toBeLessThan(900);
  }
});

test('tuning two semitones down takes a fifth of the pull', () => {
  const down = TUNINGS.find(({ name }) => name === 'whole step down')!;
  const ratio =
    setTension(light, down, 0.6477, 440).totalN.value / setTension(light, standard, 0.6477, 440).totalN.value;
  expect(ratio).toBeCloseTo(2 ** (-4 / 12), 9); // T ~ f²
});

test('a lighter set pulls less, each plain string by the square of its gauge', () => {
  const [before, after] = [medium, light].map((set) => setTension(set, standard, 0.6477, 440)) as [
    SetTension,
    SetTension,
  ];
  expect(after.eachN[0]!.value / before.eachN[0]!.value).toBeCloseTo((12 / 13) ** 2, 9);
  expect(after.totalN.value).toBeLessThan(before.totalN.value);
  expect(() => setTension(light, TUNINGS.at(-1)!, 0.6477, 440)).toThrow('6 strings, need 12');
});

test('published: 734 N at 13 mm turns the bridge with 9.54 N m', () => {
  // tests/published/strings-checks.json, str-torque; the invented day at the bench has 720 N x 12 mm = 8.6 N m
  const load = bridgeLoad(estimate(734, 20), { stringHeightM: 0.013, breakAngleRad: 0.4, neckAngleRad: 0 });
  expect(load.torqueNm.value).toBeCloseTo(9.542, 3);
  expect(load.torqueNm.sigma / load.torqueNm.value).toBeCloseTo(20 / 734, 9);
});

test('what presses the saddle and what lifts the pins leave only the neck’s slope on the top', () => {
  const geometry = { stringHeightM: 0.012, breakAngleRad: 0.5, neckAngleRad: 0.02 };
  const { saddleDownN, pinLiftN, netDownN } = bridgeLoad(estimate(700, 10), geometry);
  expect(saddleDownN.value - pinLiftN.value).toBeCloseTo(netDownN.value, 9);
  expect(netDownN.value).toBeCloseTo(-700 * Math.sin(0.02), 9);
  expect(pinLiftN.value).toBeCloseTo(700 * Math.sin(0.5), 9);
});

test('a turn measured under one set foretells the turn under another', () => {
  const stiffness = turningStiffness(estimate(8.6, 0.2), estimate(1.6, 0.1));
  expect(bridgeTurnDeg(estimate(8.6, 0), stiffness).value).toBeCloseTo(1.6, 9);
  expect(bridgeTurnDeg(estimate(9.9, 0), stiffness).value).toBeCloseTo((1.6 * 9.9) / 8.6, 9);
  expect(() => turningStiffness(estimate(8.6, 0.2), estimate(0, 0.1))).toThrow('turn 0°');
});

test('cautions come where they are due and not elsewhere', () => {
  const total = setTension(light, standard, 0.6477, 440).totalN;
  expect(loadCautions({ totalN: total }, USUAL_BRIDGE_LIMITS)).toEqual([]);
  expect(loadCautions({ totalN: estimate(950, 20) }, USUAL_BRIDGE_LIMITS)).toEqual(['pull-above-limit']);
  expect(loadCautions({ totalN: total, turnDeg: estimate(1.9, 0.1) }, USUAL_BRIDGE_LIMITS)).toEqual([
    'turn-near-limit',
  ]);
  expect(loadCautions({ totalN: total, turnDeg: estimate(2.2, 0.1) }, USUAL_BRIDGE_LIMITS)).toEqual([
    'turn-above-limit',
  ]);
  const heavy = setTension(medium, standard, 0.6477, 440).totalN;
  expect(
    loadCautions({ totalN: heavy, ageYears: 90, totalBeforeN: total, isWorkPlanned: true }, USUAL_BRIDGE_LIMITS),
  ).toEqual(['heavy-for-age', 'heavier-than-before', 'slacken-first']);
  const gentle = setTension(extraLight, standard, 0.63, 440).totalN;
  expect(loadCautions({ totalN: gentle, ageYears: 90 }, USUAL_BRIDGE_LIMITS)).toEqual([]);
});

test('the saddle stands back about 2 mm for the treble and 5 mm for the bass of a steel-string guitar', () => {
  // common practice, from memory; actions 1.8 and 2.4 mm; 2.5 mm allows for the maker's choices
  const treble = { scaleMm: 645, action12Mm: 1.8, tensionN: 104, coreDiameterMm: 0.305, eGpa: 200 };
  const bass = { scaleMm: 645, action12Mm: 2.4, tensionN: 115, coreDiameterMm: 0.48, eGpa: 200 };
  expect(Math.abs(saddleSetbackMm(treble).value - 2)).toBeLessThan(1);
  expect(Math.abs(saddleSetbackMm(bass).value - 5)).toBeLessThan(2.5);
});

test('the setback makes the octave true in a string solved numerically', () => {
  // the octave with tension rise and clamped ends, both to all orders: f(l, T) = sqrt(T/mu) / (2 (l - 2 k)), k = sqrt(EI/T)
  const s = { scaleMm: 645, action12Mm: 1.8, tensionN: 104, coreDiameterMm: 0.305, eGpa: 200 };
  const ea = 2e5 * (Math.PI / 4) * s.coreDiameterMm ** 2;
  const ei = 2e5 * (Math.PI / 64) * s.coreDiameterMm ** 4;
  const f = (lengthMm: number, t: number) => Math.sqrt(t) / (2 * (lengthMm - 2 * Math.sqrt(ei / t)));
  const back = saddleSetbackMm(s).value;
  const half = s.scaleMm / 2;
  const path = Math.hypot(half, s.action12Mm) + Math.hypot(half + back, s.action12Mm);
  const raised = s.tensionN + (ea * (path - s.scaleMm - back)) / (s.scaleMm + back);
  const cents = 1200 * Math.log2(f(half + back, raised) / (2 * f(s.scaleMm + back, s.tensionN)));
  expect(Math.abs(cents)).toBeLessThan(0.2); // left by the first order: (setback / length)², 0.1 cent
  const without = 1200 * Math.log2(f(half, raised) / (2 * f(s.scaleMm, s.tensionN)));
  expect(without).toBeGreaterThan(5);
});

test('three sets for a classical guitar: lighter than steel, each heavier than the one before', () => {
  const nylon = STRING_SETS.filter(({ name }) => name.startsWith('nylon'));
  const pulls = nylon.map((set) => setTension(set, standard, 0.65, 440).totalN);
  expect(pulls).toHaveLength(3);
  expect(pulls[1]!.value).toBeGreaterThan(pulls[0]!.value);
  expect(pulls[2]!.value).toBeGreaterThan(pulls[1]!.value);
  // sets for 650 mm are sold with about 37 to 42 kg (from memory, no source)
  for (const { value, sigma } of pulls) {
    expect(value + sigma).toBeGreaterThan(37 * 9.81);
    expect(value - sigma).toBeLessThan(42 * 9.81);
  }
  expect(pulls[2]!.value).toBeLessThan(setTension(extraLight, standard, 0.65, 440).totalN.value);
});

test('plastic is known less well than steel, and weighs by its own density', () => {
  const plain = (material: 'steel' | 'nylon') => unitMassKgPerM({ kind: 'plain', diameterM: 0.71e-3, material });
  // 1060 kg/m^3 x pi d^2 / 4 (polyamide 6.12, from memory)
  expect(plain('nylon').value).toBeCloseTo((1060 * Math.PI * 0.71e-3 ** 2) / 4, 12);
  expect(plain('nylon').sigma / plain('nylon').value).toBeGreaterThan(plain('steel').sigma / plain('steel').value);
});
