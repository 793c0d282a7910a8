import { expect, test } from 'vitest';
import { shareByDamping, shareByMass, shareByStopping } from '../../src/box/energy-share.ts';
import { type Box, boxModes, type Part } from '../../src/box/pistons.ts';
import { randomBox, seeded } from './synthetic.ts';

const hz = (box: Box) => boxModes(box).map(({ frequencyHz }) => frequencyHz);
const trueShares = (box: Box, part: Part) => boxModes(box).map(({ energyShare }) => energyShare[part]!);

test('shares read from frequencies are those of the eigenvectors, in every random box', () => {
  const random = seeded(2);
  for (let i = 0; i < 50; i++) {
    const box = randomBox(random);
    const close = (shares: readonly number[], part: Part) =>
      shares.forEach((share, k) => {
        expect(share).toBeCloseTo(trueShares(box, part)[k]!, 8); // rounding only: the identities are exact
      });
    close(shareByStopping(hz(box), hz({ ...box, hole: 'blocked' })), 'air');
    close(shareByStopping(hz(box), hz({ ...box, back: 'held' })), 'back');
    const heavier = { ...box.top, massKg: box.top.massKg + 0.03 };
    close(shareByMass(hz(box), hz({ ...box, top: heavier })), 'top');
  }
});

test('a mode that the part has nothing to do with gets no share of it', () => {
  const shares = shareByStopping([98, 181, 226, 271], [176.8, 224.9, 271]); // 271 Hz: a dipole, unmoved
  expect(shares[3]).toBeCloseTo(0, 12);
  expect(shares.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
});

test('a hand on the back shows its share in the added losses', () => {
  const box = randomBox(seeded(4));
  const damped = { ...box, back: { ...box.back, q: box.back.q / 3 } };
  const loss = (b: Box) => boxModes(b).map(({ frequencyHz, q }) => frequencyHz / q);
  shareByDamping(loss(box), loss(damped)).forEach((share, k) => {
    expect(share).toBeCloseTo(trueShares(box, 'back')[k]!, 8);
  });
});

test('lists that do not fit are the caller’s mistake', () => {
  expect(() => shareByStopping([98, 181, 226], [177])).toThrow('1 stopped modes, need 2');
  expect(() => shareByMass([98, 181], [95])).toThrow('1 modes with the mass, need 2');
});
