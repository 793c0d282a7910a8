// Which peak is which mode, on boards of which it is known.
import { describe, expect, test } from 'vitest';
import { boardModes } from '../../src/wood/board-modes.ts';
import { elasticStart, withShear } from '../../src/wood/elastic-start.ts';
import { isUnlikeWood } from '../../src/wood/peak-alignment.ts';
import { assignPeaks } from '../../src/wood/peak-assignment.ts';
import { speciesById } from '../../src/wood/species.ts';
import { once } from '../once.ts';

const start = once(() => elasticStart(speciesById('sitka-spruce')));
const peak = (value: number, q?: number, qSigma = 0) => ({
  frequencyHz: { value, sigma: 0.1 },
  ...(q !== undefined && { q: { value: q, sigma: qSigma } }),
});

test('a Q that no wood has is told, unless the Q itself is hardly known', () => {
  // loss factors 0.025 to 0.004 are Q 40 to 250; a factor of 2.5 beyond: 16 and 625
  for (const q of [4, 15, 640, 3000]) expect([q, isUnlikeWood(peak(100, q))]).toEqual([q, true]);
  for (const q of [17, 40, 100, 250, 600]) expect([q, isUnlikeWood(peak(100, q))]).toEqual([q, false]);
  expect(isUnlikeWood(peak(100, 12, 4))).toBe(false);
  expect(isUnlikeWood(peak(100))).toBe(false);
});

describe('an even board, whose modes are solved', () => {
  const board = {
    lengthMm: { value: 550, sigma: 0.1 },
    widthMm: { value: 210, sigma: 0.1 },
    thicknessMm: { value: 3.5, sigma: 0.01 },
    massG: { value: 550 * 210 * 3.5 * 410e-6, sigma: 0.1 },
  };
  const modes = once(() => {
    const wood = withShear({ eLongPa: 11e9, eCrossPa: 0.85e9, gPa: 0.76e9, nuLR: 0.372 }, start().shearRatios);
    return boardModes({ lengthM: 0.55, widthM: 0.21, thicknessM: 0.0035 }, wood, 410).slice(0, 9);
  });
  const isLowest = (m: number, n: number) => (m === 2 && n === 0) || (m === 1 && n === 1) || (m === 0 && n === 2);
  /** What is heard of it, the highest first; those the constants are not read from so much too high. */
  const heard = (tooHigh = 1) =>
    modes()
      .map(({ frequencyHz, pattern: { m, n } }) => peak((isLowest(m, n) ? 1 : tooHigh) * frequencyHz, 100, 5))
      .toReversed();
  /** The handbook as if it knew the wood three times as well: fewer beginnings to search from. */
  const near = once(() => {
    const narrow = ({ value, sigma }: { value: number; sigma: number }) => ({ value, sigma: sigma / 3 });
    const { eLongPa, gPa } = start();
    return { ...start(), eLongPa: narrow(eLongPa), gPa: narrow(gPa) };
  });
  const assigned = (peaks: Parameters<typeof assignPeaks>[1]) => {
    const reading = assignPeaks(board, peaks, near());
    if (reading.kind !== 'assigned') throw new Error(reading.because);
    return reading;
  };
  const whole = once(() => assigned(heard()));
  const twist = once(() => modes().find(({ pattern: { m, n } }) => m === 1 && n === 1)!);

  test('every peak has its name, in order of frequency, and the board its constants', () => {
    const { peaks, constants, unseen, isSure } = whole();
    expect(peaks.map(({ pattern }) => pattern)).toEqual(modes().map(({ pattern }) => pattern));
    expect(peaks.map(({ frequencyHz }) => frequencyHz.value)).toEqual(modes().map(({ frequencyHz }) => frequencyHz));
    expect(peaks.filter(({ isUsed }) => isUsed).map(({ pattern }) => isLowest(pattern!.m, pattern!.n))).toEqual([
      true,
      true,
      true,
    ]);
    // The weak handbook pulls by less than a hundredth.
    expect(Math.abs(constants.eLongGpa.value / 11 - 1)).toBeLessThan(0.01);
    expect(Math.abs(constants.eCrossGpa.value / 0.85 - 1)).toBeLessThan(0.01);
    expect(Math.abs(constants.gGpa.value / 0.76 - 1)).toBeLessThan(0.01);
    expect(constants.densityKgM3.value).toBeCloseTo(410, 6);
    expect([unseen, isSure]).toEqual([[], true]);
    // Each modulus hangs on the tap of its own family.
    for (const [name, input] of [
      ['eLongGpa', 'long-tap'],
      ['eCrossGpa', 'cross-tap'],
      ['gGpa', 'twist-tap'],
    ] as const)
      expect(constants[name].contributions.map((one) => one.input)).toContain(input);
  });

  test('what the others are off by is told, in per cent of the fitted mode, and is what the board may be uneven by; losses need every Q', () => {
    // The lowest has no Q this time.
    const [lowest] = modes();
    expect(isLowest(lowest!.pattern.m, lowest!.pattern.n)).toBe(true);
    const { peaks, constants, fit, loss } = assigned([...heard(1.01).slice(0, -1), peak(lowest!.frequencyHz)]);
    expect(whole().loss).not.toBeUndefined();
    expect(loss).toBeUndefined();
    for (const { frequencyHz, modelHz, misfitPercent, isUsed } of peaks) {
      expect(misfitPercent).toBeCloseTo(100 * (frequencyHz.value / modelHz! - 1), 9);
      expect(Math.abs(misfitPercent! - (isUsed ? 0 : 1))).toBeLessThan(0.15);
    }
    // A modulus goes with the square of its mode: a hundredth of frequency is two of E. The fit is told of each used peak.
    const uneven = constants.eLongGpa.contributions.find(({ input }) => input === 'unevenness')!;
    expect(Math.abs(uneven.sigma / constants.eLongGpa.value / 0.02 - 1)).toBeLessThan(0.15);
    expect(fit.misfits).toHaveLength(3);
    const even = whole().constants.eLongGpa.contributions.find(({ input }) => input === 'unevenness');
    expect((even?.sigma ?? 0) / 11).toBeLessThan(0.003);
  });

  test('a mode that nobody heard is told, a peak that is none has no name, one of no wood’s Q is not looked at', () => {
    const gone = modes()[5]!;
    const stray = 0.5 * (modes()[7]!.frequencyHz + modes()[8]!.frequencyHz);
    const given = [
      ...heard().filter(({ frequencyHz }) => frequencyHz.value !== gone.frequencyHz),
      peak(stray, 60, 3),
      peak(1.01 * gone.frequencyHz, 4, 0.1),
    ];
    const { peaks, unseen } = assigned(given);
    expect(unseen.map(({ pattern }) => pattern)).toEqual([gone.pattern]);
    expect(peaks).toHaveLength(10);
    const without = peaks.filter(({ pattern }) => pattern === undefined);
    expect(without).toEqual(
      [1.01 * gone.frequencyHz, stray].map((value) => ({
        frequencyHz: { value, sigma: 0.1 },
        pattern: undefined,
        modelHz: undefined,
        misfitPercent: undefined,
        isUsed: false,
      })),
    );
  });

  test('where the twist was not heard the next mode that twists tells its stiffness', () => {
    const { peaks } = assigned(heard().filter((each) => each.frequencyHz.value !== twist().frequencyHz));
    const used = peaks.filter(({ isUsed }) => isUsed).map(({ pattern }) => pattern);
    const bent = modes().find(({ pattern: { m, n } }) => n === 1 && m > 1)!;
    expect(used).toContainEqual(bent.pattern);
    expect(used).toHaveLength(3);
  });

  test('a second peak that could be the same mode leaves the naming unsure', () => {
    const bend = modes().find(({ pattern: { m, n } }) => m === 2 && n === 0)!;
    const { lead, isSure } = assigned([...heard(), peak(1.02 * bend.frequencyHz, 100, 5)]);
    // By how much the next naming is dearer: sure from 8 on.
    expect(isSure).toBe(false);
    expect(lead).toBeGreaterThanOrEqual(0);
    expect(lead).toBeLessThan(8);
    expect(whole().lead).toBeGreaterThanOrEqual(8);
  });

  test('two peaks are too few, and what has no wood’s Q is not counted', () => {
    const tooFew = { kind: 'not-found', because: 'too-few-peaks' };
    expect(assignPeaks(board, [peak(60, 100), peak(100, 60)], start())).toEqual(tooFew);
    expect(assignPeaks(board, [peak(60, 100), peak(100, 60), peak(50, 2000)], start())).toEqual(tooFew);
  });

  test('peaks that no spruce of this size has make no board', () => {
    const high = [3000, 3001, 3002].map((hz) => peak(hz, 80));
    expect(assignPeaks(board, high, start())).toEqual({ kind: 'not-found', because: 'no-board-fits' });
  });

  test('each constant comes from the lowest of its family: a bend along that does not bend across, and so on', () => {
    // Without the lowest the next of its family tells it, and where no pure one across was heard the lowest that bends across.
    type Is = (m: number, n: number) => boolean;
    const usedWithout = (isGone: Is) => {
      const left = modes().filter(({ pattern }) => !isGone(pattern.m, pattern.n));
      const { peaks } = assigned(left.map(({ frequencyHz }) => peak(frequencyHz, 100, 5)));
      return peaks.flatMap(({ isUsed, pattern }) => (isUsed ? [[pattern!.m, pattern!.n]] : [])).toSorted();
    };
    const lowest = (isOne: Is) => {
      const { m, n } = modes().find(({ pattern }) => isOne(pattern.m, pattern.n))!.pattern;
      return [m, n];
    };
    const along = lowest((m, n) => m > 2 && n === 0);
    expect(usedWithout((m, n) => m === 2 && n === 0)).toEqual([[0, 2], [1, 1], along].toSorted());
    const across = lowest((m, n) => m === 0 && n > 2);
    expect(usedWithout((m, n) => m === 0 && n === 2)).toEqual([[1, 1], [2, 0], across].toSorted());
    const mixed = lowest((m, n) => m > 0 && n >= 2);
    expect(usedWithout((m, n) => m === 0 && n >= 2)).toEqual([[1, 1], [2, 0], mixed].toSorted());
  });

  test('a block so thick that shear takes a quarter off its highest mode is named all the same', () => {
    const shear = start().shearRatios;
    const wood = withShear({ eLongPa: 11e9, eCrossPa: 0.85e9, gPa: 0.76e9, nuLR: 0.372 }, shear);
    const sounds = boardModes({ lengthM: 0.3, widthM: 0.12, thicknessM: 0.01 }, wood, 410)
      .slice(0, 9)
      .toSorted((a, b) => a.frequencyHz - b.frequencyHz);
    const block = {
      lengthMm: { value: 300, sigma: 0.1 },
      widthMm: { value: 120, sigma: 0.1 },
      thicknessMm: { value: 10, sigma: 0.01 },
      massG: { value: 300 * 120 * 10 * 410e-6, sigma: 0.1 },
    };
    const reading = assignPeaks(
      block,
      sounds.map(({ frequencyHz }) => peak(frequencyHz, 100, 5)),
      near(),
    );
    if (reading.kind !== 'assigned') throw new Error(reading.because);
    expect(reading.peaks.map(({ pattern }) => pattern)).toEqual(sounds.map(({ pattern }) => pattern));
    expect(reading.isSure).toBe(true);
    expect(Math.abs(reading.constants.eLongGpa.value / 11 - 1)).toBeLessThan(0.01);
  });
});
