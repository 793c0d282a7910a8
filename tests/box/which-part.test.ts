import { expect, test } from 'vitest';
import type { Box, Part } from '../../src/box/pistons.ts';
import { boxModes } from '../../src/box/pistons.ts';
import type { BoxRound } from '../../src/box/rounds.ts';
import { type Doing, type PartPeak, whichPart } from '../../src/box/which-part.ts';
import { estimate } from '../../src/quantity/estimate.ts';
import { measuredRound, randomBox, seeded } from './synthetic.ts';
import { piston, THREE } from './workshop-box.ts';

const LUMP = estimate(0.025, 1e-4);

function peaksIn(box: Box, state: Pick<BoxRound, 'hole' | 'back' | 'addedAtBridgeKg'>, seed: number): PartPeak[] {
  return Object.values(measuredRound(box, state, 0.3, seeded(seed)).peaksHz).map((frequencyHz) => ({ frequencyHz }));
}

const labelled = (peaks: readonly PartPeak[], labels: readonly Part[]) =>
  [...peaks]
    .sort((a, b) => a.frequencyHz.value - b.frequencyHz.value)
    .map((peak, k) => ({ ...peak, label: labels[k]! }));

const doings = (box: Box, seed: number): { doing: Doing; peaks: PartPeak[] }[] => [
  { doing: 'hole-blocked', peaks: peaksIn(box, { hole: 'blocked', back: 'free' }, seed + 1) },
  { doing: 'back-damped', peaks: peaksIn(box, { hole: 'open', back: 'held' }, seed + 2) },
  { doing: 'mass-at-bridge', peaks: peaksIn(box, { hole: 'open', back: 'free', addedAtBridgeKg: LUMP }, seed + 3) },
];

test('each peak of the worked box behaves like its part, and right labels stand', () => {
  const base = labelled(peaksIn(THREE, { hole: 'open', back: 'free' }, 1), ['air', 'top', 'back']);
  const { verdicts, unused } = whichPart({ base, done: doings(THREE, 1) });
  expect(unused).toEqual([]);
  expect(verdicts.map((v) => v.behavesLike)).toEqual(['air', 'top', 'back']);
  expect(verdicts.some((v) => v.labelDenied)).toBe(false);
  verdicts.forEach((v, k) => {
    const truth = boxModes(THREE)[k]!.energyShare;
    for (const part of ['air', 'top', 'back'] as const)
      expect(Math.abs(v.shares[part]!.value - truth[part]!)).toBeLessThan(4 * v.shares[part]!.sigma);
  });
});

test('a top peak that belongs to the back is found, and its label denied', () => {
  const base = labelled(peaksIn(THREE, { hole: 'open', back: 'free' }, 1), ['air', 'back', 'top']);
  const { verdicts } = whichPart({ base, done: doings(THREE, 1) });
  expect(verdicts[2]).toMatchObject({ behavesLike: 'back', labelDenied: true });
  expect(verdicts[1]).toMatchObject({ behavesLike: 'top', labelDenied: true });
  expect(verdicts[0]).toMatchObject({ behavesLike: 'air', labelDenied: false });
});

test('the mass alone already denies a top that does not move', () => {
  const base = labelled(peaksIn(THREE, { hole: 'open', back: 'free' }, 1), ['air', 'back', 'top']);
  const { verdicts } = whichPart({ base, done: doings(THREE, 1).slice(2) });
  expect(verdicts[1]!.behavesLike).toBe('top');
  expect(verdicts[2]).toMatchObject({ behavesLike: 'undecided', labelDenied: true });
});

test('with two doings the third part takes what is left', () => {
  const base = peaksIn(THREE, { hole: 'open', back: 'free' }, 1);
  const { verdicts } = whichPart({ base, done: [doings(THREE, 1)[0]!, doings(THREE, 1)[2]!] });
  expect(verdicts.map((v) => v.behavesLike)).toEqual(['air', 'top', 'back']);
});

test('a dipole among the peaks is none of the three', () => {
  const dipole = { frequencyHz: estimate(271, 0.3) };
  const base = [...peaksIn(THREE, { hole: 'open', back: 'free' }, 1), dipole];
  const done = doings(THREE, 1).map(({ doing, peaks }) => ({ doing, peaks: [...peaks, dipole] }));
  const { verdicts } = whichPart({ base, done });
  expect(verdicts.map((v) => v.behavesLike)).toEqual(['air', 'top', 'back', 'none']);
});

test('with a fourth peak what two doings leave over is nobody’s', () => {
  const dipole = { frequencyHz: estimate(271, 0.3) };
  const base = [...peaksIn(THREE, { hole: 'open', back: 'free' }, 1), dipole];
  const [blocked, , heavy] = doings(THREE, 1).map(({ doing, peaks }) => ({ doing, peaks: [...peaks, dipole] }));
  for (const { shares } of whichPart({ base, done: [blocked!, heavy!] }).verdicts) expect(shares.back).toBeUndefined();
});

test('peaks without a label have none to deny, however sure their part', () => {
  const base = peaksIn(THREE, { hole: 'open', back: 'free' }, 1);
  const { verdicts } = whichPart({ base, done: doings(THREE, 1) });
  expect(verdicts.map(({ strength }) => strength > 0.95)).toEqual([true, true, true]);
  expect(verdicts.map(({ labelDenied }) => labelDenied)).toEqual([false, false, false]);
  const [, , heavy] = doings(THREE, 1);
  const alone = whichPart({ base, done: [heavy!] }).verdicts;
  expect(alone[2]).toMatchObject({ behavesLike: 'undecided', labelDenied: false });
});

test('nothing done, nothing told, and no label denied', () => {
  const base = labelled(peaksIn(THREE, { hole: 'open', back: 'free' }, 1), ['air', 'back', 'top']);
  for (const { behavesLike, strength, labelDenied } of whichPart({ base, done: [] }).verdicts)
    expect({ behavesLike, strength, labelDenied }).toEqual({
      behavesLike: 'undecided',
      strength: 0.5,
      labelDenied: false,
    });
});

test('two plates alike share their two peaks, and no label of theirs is denied', () => {
  const plate = piston(0.1, 190, 0.04, 30);
  const twins: Box = { ...THREE, top: plate, back: plate };
  // Each of the two motions has half of its energy in either plate, but for what the air takes of the one.
  const exact = (box: Box) => boxModes(box).map(({ frequencyHz }) => ({ frequencyHz: estimate(frequencyHz, 0.05) }));
  const heavy = { ...plate, massKg: plate.massKg + 0.001 };
  const base = labelled(exact(twins), ['air', 'top', 'back']);
  const done = [
    { doing: 'hole-blocked' as const, peaks: exact({ ...twins, hole: 'blocked' }) },
    { doing: 'back-damped' as const, peaks: exact({ ...twins, back: 'held' }) },
    { doing: 'mass-at-bridge' as const, peaks: exact({ ...twins, top: heavy }) },
  ];
  const { verdicts } = whichPart({ base, done });
  expect(verdicts.map(({ behavesLike }) => behavesLike)).toEqual(['air', 'shared', 'shared']);
  expect(verdicts.map(({ labelDenied }) => labelDenied)).toEqual([false, false, false]);
});

test('a tap on the back lifts the back’s peak most', () => {
  const modes = boxModes(THREE);
  const base = modes.map((m) => ({ frequencyHz: estimate(m.frequencyHz, 0.3), levelDb: -20 }));
  const level = (k: number) => 20 * Math.log10(Math.abs(modes[k]!.shape.back! / modes[k]!.shape.top!));
  const onBack = base.map((peak, k) => ({ ...peak, levelDb: -26 + level(k) })); // hit half as hard
  const { verdicts } = whichPart({
    base,
    done: [{ doing: 'tapped-on-back', peaks: onBack }, doings(THREE, 1)[2]!],
  });
  expect(verdicts[2]!.behavesLike).toBe('back');
  const back = verdicts.map((v) => v.evidence.find((e) => e.doing === 'tapped-on-back')!.share.value);
  expect(Math.max(...back)).toBe(back[2]);
});

test('rounds that do not fit are set aside with the reason', () => {
  const base = peaksIn(THREE, { hole: 'open', back: 'free' }, 1);
  const done = [
    { doing: 'hole-blocked' as const, peaks: base },
    { doing: 'mass-at-bridge' as const, peaks: base },
    { doing: 'back-damped' as const, peaks: base },
    { doing: 'tapped-on-back' as const, peaks: base },
  ];
  expect(whichPart({ base, done }).unused).toEqual([
    { doing: 'hole-blocked', because: 'peak-count', have: 3, need: 2 },
    { doing: 'mass-at-bridge', because: 'nothing-moved', have: 3, need: 3 },
    { doing: 'back-damped', because: 'q-wanting', have: 3, need: 3 },
    { doing: 'tapped-on-back', because: 'level-wanting', have: 3, need: 3 },
  ]);
});

test('over random boxes a verdict held with strength 0.95 is hardly ever wrong', () => {
  const random = seeded(9);
  let sure = 0;
  let wrong = 0;
  for (let i = 0; i < 60; i++) {
    const box = randomBox(random);
    const base = peaksIn(box, { hole: 'open', back: 'free' }, 1000 + 10 * i);
    whichPart({ base, done: doings(box, 1000 + 10 * i) }).verdicts.forEach((v, k) => {
      if (v.strength < 0.95 || v.behavesLike === 'shared') return;
      sure++;
      const energies = boxModes(box)[k]!.energyShare;
      if (energies[v.behavesLike as Part] !== Math.max(...Object.values(energies))) wrong++;
    });
  }
  expect(sure).toBeGreaterThan(120);
  expect(wrong / sure).toBeLessThan(0.02);
});
