// Taps of known modes, and their joint fit up to 1200 Hz.
import { type JointFit, jointFit } from '../../../src/signal/agree/joint-fit.ts';
import { decimator } from '../../../src/signal/filter/decimate.ts';
import type { Tap } from '../../../src/signal/tap.ts';
import { seeded, type TrueMode, trueTap } from '../../bench/tap-signals.ts';

export const tapsOf = (modes: readonly TrueMode[], snrDb: number, seed: number, count = 1): Tap[] => {
  const random = seeded(seed);
  return Array.from({ length: count }, () => trueTap(modes, snrDb, random).tap);
};

export const jointOf = (taps: readonly Tap[]): JointFit =>
  jointFit(
    taps,
    taps.map(() => 0),
    decimator(taps[0]!.sampleRateHz, 1200),
    1200,
  )!;
