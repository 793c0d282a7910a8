// Hum is found where lines of a grid stand in the room, and nowhere else: lines of known size in noise of known power.
import { describe, expect, test } from 'vitest';
import { findHum } from '../../../src/signal/prepare/hum.ts';
import { normal, seeded } from '../../bench/tap-signals.ts';

const RATE_HZ = 4000;
const SECONDS = 0.5;

/** Noise of unit power with lines; `overDb`: power of the line in the whole stretch over the noise in one of its bins. */
function room(
  lines: readonly { readonly hz: number; readonly overDb: number; readonly decayPerS?: number }[],
  seed = 1,
): Float64Array {
  const random = seeded(seed);
  const count = SECONDS * RATE_HZ;
  return Float64Array.from({ length: count }, (_, n) => {
    let x = normal(random);
    for (const { hz, overDb, decayPerS = 0 } of lines) {
      const size = 2 * Math.sqrt(10 ** (overDb / 10) / count);
      x += size * Math.exp((-decayPerS * n) / RATE_HZ) * Math.cos((2 * Math.PI * hz * n) / RATE_HZ + hz);
    }
    return x;
  });
}

describe.each([
  [50, 50.1],
  [60, 59.8],
])('a grid of %i Hz', (_, mainsHz) => {
  test('is found by its first lines, at its frequency', () => {
    const found = findHum(room([1, 2, 3].map((k) => ({ hz: k * mainsHz, overDb: 25 }))), RATE_HZ, 900);
    expect(found!.harmonics).toEqual(expect.arrayContaining([1, 2, 3]));
    // Looked for in steps of 0.05 Hz; the third line tells it to a twentieth of a bin.
    expect(Math.abs(found!.mainsHz - mainsHz)).toBeLessThan(0.11);
  });
});

test('one line 14 dB over the floor is enough among the first four, above them it is not', () => {
  expect(findHum(room([{ hz: 150, overDb: 22 }]), RATE_HZ, 900)?.harmonics).toContain(3);
  expect(findHum(room([{ hz: 250, overDb: 22 }]), RATE_HZ, 900)).toBeUndefined();
});

test('higher lines are modelled only where they stand out, the ten lowest in any case', () => {
  const lines = [1, 2, 14].map((k) => ({ hz: 50 * k, overDb: 25 }));
  const { harmonics } = findHum(room(lines), RATE_HZ, 900)!;
  expect(harmonics).toContain(14);
  expect(harmonics.filter((k) => k > 10)).toEqual([14]);
  expect(harmonics.filter((k) => k <= 10).length).toBeGreaterThan(6);
  expect(Math.max(...findHum(room(lines), RATE_HZ, 600)!.harmonics)).toBeLessThan(12);
});

test('noise alone has no hum, nor has a line between the harmonics, nor too short a stretch', () => {
  for (let seed = 10; seed < 20; seed++) expect(findHum(room([], seed), RATE_HZ, 900)).toBeUndefined();
  expect(findHum(room([{ hz: 77, overDb: 30 }]), RATE_HZ, 900)).toBeUndefined();
  const long = room([{ hz: 50, overDb: 30 }]);
  expect(findHum(long.subarray(0, 0.14 * RATE_HZ), RATE_HZ, 900)).toBeUndefined();
});

test('a line that dies is the ring of the tap before', () => {
  // 0.5 neper from one half to the other, far over the chance of a line 40 dB over its floor
  expect(findHum(room([{ hz: 100, overDb: 40, decayPerS: 2 }]), RATE_HZ, 900)).toBeUndefined();
  expect(findHum(room([{ hz: 100, overDb: 40 }]), RATE_HZ, 900)).toBeDefined();
});
