import { describe, expect, test } from 'vitest';
import { RateCheck } from '../../src/capture/rate-check.ts';
import { randomFrom } from '../../src/demo/random.ts';

const claimedHz = 48_000;
const frames = 2048;

/**
 * Messages of a device, each late by what the delays give.
 * @param trueHz rate at which the device really works
 * @returns what was told first, and after how many seconds
 */
function listened(trueHz: number, seconds: number, delayMs: (second: number) => number) {
  const check = new RateCheck(claimedHz);
  let latestMs = 0;
  for (let n = 1; (n * frames) / trueHz < seconds; n++) {
    const s = (n * frames) / trueHz;
    // Messages come in order: one that is late holds back those behind it.
    latestMs = Math.max(latestMs, 1000 * s + delayMs(s));
    const fault = check.faultAfter(frames, latestMs);
    if (fault !== undefined) return { told: fault, afterS: s };
  }
  return { told: undefined, afterS: seconds };
}

describe('the rate of the stream', () => {
  test('a device that keeps its rate is never told to be wrong in half an hour, on a quiet machine or a busy one', () => {
    const chance = randomFrom(4711);
    const busy = () => -120 * Math.log(1 - chance.uniform());
    expect(listened(claimedHz, 1800, () => 0).told).toBeUndefined();
    expect(listened(claimedHz, 1800, busy).told).toBeUndefined();
    // A page that was blocked for four seconds, at any moment of the check.
    for (let from = 0; from < 45; from += 0.7)
      expect(
        listened(claimedHz, 60, (s) => (s > from && s < from + 4 ? 1000 * (from + 4 - s) : 0)).told,
      ).toBeUndefined();
  });

  test.each([0.97, 1.03, 44_100 / 48_000, 2])('one that is off by a factor of %f is told within 40 s', (factor) => {
    const chance = randomFrom(4712);
    const { told, afterS } = listened(claimedHz * factor, 60, () => 50 * chance.uniform());
    expect(told).toBe('rate-wrong');
    expect(afterS).toBeLessThan(40 / Math.min(1, factor));
  });

  test.each([
    [0.01, 0.5],
    [0.02, 1],
    [0.1, 7],
  ])(
    '%f s of sound gone every %f s is told within 40 s as sound that is lost, on a busy machine too',
    (goneS, everyS) => {
      const chance = randomFrom(4713);
      // What is gone is gone before it is counted: the messages come at their pace and hold less.
      const { told, afterS } = listened(
        claimedHz * (1 - goneS / everyS),
        60,
        () => -60 * Math.log(1 - chance.uniform()),
      );
      expect(told).toBe('losing-sound');
      expect(afterS).toBeLessThan(41);
    },
  );

  test.each([0.9995, 1.0005, 1.02])('a device that is off by a factor of %f has lost nothing', (factor) => {
    const chance = randomFrom(4714);
    expect(listened(claimedHz * factor, 600, () => -60 * Math.log(1 - chance.uniform())).told).toBeUndefined();
  });

  test('it is told once', () => {
    const check = new RateCheck(claimedHz);
    let told = 0;
    for (let n = 1; n < 6000; n++) if (check.faultAfter(frames, (1000 * n * frames) / 44_100) !== undefined) told++;
    expect(told).toBe(1);
  });

  test('nothing is told before half a minute of sound, and again half a minute later what came since', () => {
    expect(listened(claimedHz * 1.1, 60, () => 0).afterS).toBeGreaterThan(30 / 1.1 - 0.1);
    const check = new RateCheck(claimedHz);
    const told: (readonly [string, number])[] = [];
    let nowMs = 0;
    // Right for 100 s; then losing a fiftieth of the sound; then at a rate that is wrong by a tenth; then losing again.
    for (const [share, seconds] of [
      [1, 100],
      [0.98, 100],
      [0.9, 100],
      [0.98, 200],
    ] as const)
      for (let n = 0; n < (seconds * claimedHz * share) / frames; n++) {
        nowMs += (1000 * frames) / (claimedHz * share);
        const fault = check.faultAfter(frames, nowMs);
        if (fault !== undefined) told.push([fault, nowMs / 1000]);
      }
    expect(told.map(([fault]) => fault)).toEqual(['losing-sound', 'rate-wrong']);
    // Stretches of half a minute share eight seconds: found in the first or second after the change, within 70 s.
    expect(told[0]![1]).toBeGreaterThan(110);
    expect(told[0]![1]).toBeLessThan(170);
    expect(told[1]![1]).toBeGreaterThan(203);
    expect(told[1]![1]).toBeLessThan(270);
  });

  test('once the rate is known to be wrong, nothing that it makes of the sound is told any more', () => {
    const check = new RateCheck(claimedHz);
    let nowMs = 0;
    const hear = (share: number, seconds: number) => {
      const told: unknown[] = [];
      for (let n = 0; n < (seconds * claimedHz * share) / frames; n++) {
        nowMs += (1000 * frames) / (claimedHz * share);
        told.push(check.faultAfter(frames, nowMs));
      }
      return told.filter(Boolean);
    };
    expect(hear(0.9, 60)).toEqual(['rate-wrong']);
    expect(hear(0.98, 200)).toEqual([]);
  });

  test('a pause that is nobody’s fault is not taken for a wrong rate', () => {
    const check = new RateCheck(claimedHz);
    const told: unknown[] = [];
    let nowMs = 0;
    for (let n = 1; n < 3000; n++) {
      nowMs += (1000 * frames) / claimedHz;
      if (n === 1000) {
        nowMs += 20_000;
        check.restart();
      }
      told.push(check.faultAfter(frames, nowMs));
    }
    expect(told.filter(Boolean)).toEqual([]);
  });
});
