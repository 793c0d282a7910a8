// What is said of the bridge under its strings, and how sure: against the laws that every elastic plate obeys.
import { describe, expect, test } from 'vitest';
import type { Parameter } from '../../src/forecast/properties.ts';
import { type StrungTop, strungAnswer } from '../../src/forecast/strung.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { preparePlate } from '../../src/plate/plate-modes.ts';
import { stringDeflection } from '../../src/plate/static-load.ts';
import { once } from '../once.ts';
import { rectangle, spruce } from '../plate/plates.ts';

const held: PlateCase = {
  outline: rectangle(260, 200),
  thicknessMm: 3,
  material: spruce,
  edge: { kind: 'hinged', pinnedAt: 'mid-surface', rotationalStiffnessN: 0 },
};
const prepared = preparePlate(held, 60);
const load = {
  tensionN: 300,
  stringHeightMm: 12,
  saddle: [
    [110, 70],
    [110, 130],
  ],
} as const;
const top: StrungTop = { plate: held, load, loadShare: 0, parameters: [] };
const answered = (more: Partial<StrungTop> = {}) => {
  const answer = strungAnswer(prepared, { ...top, ...more });
  if (answer === undefined) throw new Error('not solved');
  return answer;
};
const shareOf = ({ turnDeg: { value, sigma } }: ReturnType<typeof answered>) => sigma / Math.abs(value);
/** The share that the properties alone make, the model's two hundredths taken off. */
const ownShare = (parameters: readonly Parameter[]) => Math.sqrt(shareOf(answered({ parameters })) ** 2 - 0.02 ** 2);

describe('the bridge under its strings', () => {
  test('turns and rises as the loaded plate does', () => {
    const deflected = stringDeflection(prepared, held, load);
    if (deflected.kind !== 'deflected') throw new Error(deflected.kind);
    const { turnDeg, riseMm } = answered();
    expect(turnDeg.value).toBe(deflected.rotationDeg);
    expect(riseMm.value).toBe(deflected.saddleMm);
  });

  test('is known to two hundredths where all else is exact, and no better', () => {
    const { turnDeg, riseMm } = answered();
    expect(turnDeg.sigma / Math.abs(turnDeg.value)).toBeCloseTo(0.02, 9);
    expect(riseMm.sigma / Math.abs(riseMm.value)).toBeCloseTo(0.02, 9);
  });

  test('goes with the pull, so that a share of the pull is as much of the turn', () => {
    expect(shareOf(answered({ loadShare: 0.15 }))).toBeCloseTo(Math.hypot(0.02, 0.15), 9);
    const double = answered({ load: { ...load, tensionN: 600 }, loadShare: 0.15 });
    expect(double.turnDeg.value / answered().turnDeg.value).toBeCloseTo(2, 6);
    expect(shareOf(double)).toBeCloseTo(Math.hypot(0.02, 0.15), 9);
  });
});

describe('of woods known within a spread', () => {
  const moduli = ['plate eL', 'plate eR', 'plate gLR'] as const;
  const shares = once(() => moduli.map((property) => ownShare([{ property, relativeSigma: 0.1 }])));

  test('all moduli together count once: a plate twice as stiff turns half as far', () => {
    // Euler's theorem of homogeneous functions. What is left is shear through the thickness and the Poisson part.
    expect(shares().reduce((sum, share) => sum + share, 0) / 0.1).toBeCloseTo(1, 1);
    for (const share of shares()) expect(share).toBeGreaterThan(0);
  });

  test('each counts as its own spread, and independent ones as the root of their squares', () => {
    expect(ownShare([{ property: 'plate eL', relativeSigma: 0.2 }])).toBeCloseTo(2 * shares()[0]!, 6);
    expect(ownShare(moduli.map((property) => ({ property, relativeSigma: 0.1 })))).toBeCloseTo(
      Math.hypot(...shares()),
      6,
    );
  });

  test('its weight counts for nothing', () => {
    expect(ownShare([{ property: 'plate density', relativeSigma: 0.3 }])).toBeCloseTo(0, 6);
  });
});

test('a plate that nothing holds cannot carry strings', () => {
  const { edge: _, ...free } = held;
  expect(strungAnswer(preparePlate(free, 80), { ...top, plate: free })).toBeUndefined();
});
