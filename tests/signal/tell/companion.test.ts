// A mode that hides a companion is made two, where both poles lie; one that hides none is left alone.
import { expect, test } from 'vitest';
import { fitAt, refineAll } from '../../../src/signal/search/order.ts';
import { withCompanions } from '../../../src/signal/tell/companion.ts';
import { jointOf, plainTap } from '../plain-taps.ts';

/** A fit in which whatever rings near 300 Hz has one pole. */
function asOne(modes: Parameters<typeof plainTap>[0], seed: number) {
  const joint = jointOf([plainTap(modes, 2e-5, seed)]);
  const start = fitAt(joint.search, [[{ frequencyHz: 300, decayPerS: 20 }]]);
  return { ...joint, fit: refineAll(joint.search, start, 30) };
}

test.each([
  // nearly together in one and the other direction, and different decays
  [298.5, 50, 301.5, 50],
  [298, 35, 302, 60],
  [298, 60, 302, 35],
])('%f Hz of Q %i and %f Hz of Q %i', (lowHz, lowQ, highHz, highQ) => {
  const fit = asOne(
    [
      { hz: lowHz, q: lowQ, size: 0.1 },
      { hz: highHz, q: highQ, size: 0.08 },
    ],
    7,
  );
  const poles = withCompanions(fit).fit[0]!.poles.toSorted((a, b) => a.frequencyHz - b.frequencyHz);
  expect(poles).toHaveLength(2);
  // 70 dB: a hundredth of the distance.
  expect(Math.abs(poles[0]!.frequencyHz - lowHz)).toBeLessThan(0.1);
  expect(Math.abs(poles[1]!.frequencyHz - highHz)).toBeLessThan(0.1);
  expect((Math.PI * lowHz) / poles[0]!.decayPerS / lowQ).toBeCloseTo(1, 1);
  expect((Math.PI * highHz) / poles[1]!.decayPerS / highQ).toBeCloseTo(1, 1);
});

test('a mode by itself stays one', () => {
  const fit = asOne([{ hz: 300, q: 50, size: 0.1 }], 8);
  expect(withCompanions(fit)).toBe(fit);
});
