// A box of three pistons is tapped, solved, and given another top; its peaks are those of the pistons with that top, worked out by
// the equations of motion and not by the fitted model.
import { expect, test } from 'vitest';
import { solveBox } from '../../src/box/inverse.ts';
import { newTopInBox } from '../../src/box/new-top-in-box.ts';
import { type Box, boxModes } from '../../src/box/pistons.ts';
import { type TopRatios, USUAL_SHARING } from '../../src/box/replacement.ts';
import { estimate } from '../../src/quantity/estimate.ts';
import { once } from '../once.ts';
import { measuredRound, seeded } from './synthetic.ts';
import { THREE } from './workshop-box.ts';

const ORDER = ['air', 'top', 'back'] as const;
const exact = (along: number, arealMass: number): TopRatios => ({
  along: estimate(along, 0),
  across: estimate(along, 0),
  shear: estimate(along, 0),
  arealMass: estimate(arealMass, 0),
});

const solved = once(() => {
  const random = seeded(7);
  const lump = estimate(0.02, 0.0001);
  const states = [
    { hole: 'open', back: 'free' },
    { hole: 'blocked', back: 'free' },
    { hole: 'open', back: 'free', addedAtBridgeKg: lump },
  ] as const;
  const found = solveBox(
    states.map((state) => measuredRound(THREE, state, 1e-3, random)),
    { volumeM3: estimate(0.016, 0.0003), air: THREE.air },
  );
  if (found.kind !== 'solved') throw new Error(found.kind);
  return found;
});

/** The same box with the top's stiffness and mass changed as the shares of plate and braces have it. */
function withTop(along: number, arealMass: number): Box {
  const { braceShare, plateMassShare } = USUAL_SHARING['on the rims'];
  const [b, p] = [braceShare.value, plateMassShare.value];
  const { top } = THREE;
  return {
    ...THREE,
    top: {
      ...top,
      stiffnessNPerM: top.stiffnessNPerM * ((1 - b) * along + b),
      massKg: top.massKg * (p * arealMass + 1 - p),
    },
  };
}

test.each([
  [1, 1],
  [1.2, 1],
  [0.8, 1],
  [1.1, 0.85],
])('air, top and back of a top %f times as stiff and %f times as heavy', (along, arealMass) => {
  const truth = boxModes(withTop(along, arealMass));
  const { peaks } = newTopInBox(solved().joint, ORDER, exact(along, arealMass), []);
  expect(peaks.map(({ part }) => part)).toEqual(ORDER);
  // The rounds were read to 0.001 Hz.
  peaks.forEach(({ frequencyHz }, i) => {
    expect(Math.abs(frequencyHz.value - truth[i]!.frequencyHz)).toBeLessThan(0.02);
  });
});

test('a stiffer top raises the air as well: it does not stay with the body', () => {
  const airHz = (along: number) => newTopInBox(solved().joint, ORDER, exact(along, 1), []).peaks[0]!.frequencyHz.value;
  expect(airHz(1.2)).toBeGreaterThan(airHz(1) + 0.5);
  expect(airHz(0.8)).toBeLessThan(airHz(1) - 0.5);
});

test('a box tapped with its old top cracked foretells a stiffer one, less surely', () => {
  const [sound, cracked] = [[], ['cracked'] as const].map((damage) =>
    newTopInBox(solved().joint, ORDER, exact(1, 1), damage),
  );
  expect(cracked!.topAloneHz.value).toBeGreaterThan(sound!.topAloneHz.value);
  expect(cracked!.topAloneHz.sigma).toBeGreaterThan(sound!.topAloneHz.sigma);
});
