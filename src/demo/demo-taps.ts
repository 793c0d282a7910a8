// The taps of a demo file: as the listener hears them when the demo is made, and cut out again where they were heard.

import { splitTaps } from '../signal/hear/listener.ts';
import { type RoundFit, type Tap, tapsByHold } from '../signal/tap.ts';

/** When the taps of a file begin, as written beside it. */
export interface TapTimes {
  readonly taps: readonly { readonly hold: number; readonly onsetS: number }[];
}

/** Where a tap lies in the file of its round. */
export interface TapCut {
  readonly hold: number;
  /** the tap within its hold, from 0 */
  readonly number: number;
  readonly fromSample: number;
  readonly toSample: number;
  /** index of the first sample of contact, counted from `fromSample` */
  readonly onsetIndex: number;
  readonly aboveRoomDb: number;
}

/** What was heard in the file of a round when the demo was made. */
export interface HeardRound {
  readonly sampleRateHz: number;
  readonly taps: readonly TapCut[];
  readonly fit: RoundFit;
}

/** A tap is the one that was made when it begins this close to it, s. */
const closeS = 0.05;

/**
 * Where the listener finds the taps that were made. A tap it refuses is left out.
 * @param samples the whole file, (n,), full scale = 1
 */
export function hearTaps(samples: Float32Array, sampleRateHz: number, times: TapTimes): readonly TapCut[] {
  const heard = splitTaps(samples, sampleRateHz).filter((verdict) => verdict.kind === 'accepted');
  const counts = new Map<number, number>();
  return times.taps.flatMap(({ hold, onsetS }) =>
    heard
      .filter((verdict) => Math.abs(verdict.timeS - onsetS) < closeS)
      .map(({ tap, timeS, aboveRoomDb }): TapCut => {
        const number = counts.get(hold) ?? 0;
        counts.set(hold, number + 1);
        const fromSample = Math.round(timeS * sampleRateHz) - tap.onsetIndex;
        const toSample = fromSample + tap.samples.length;
        return { hold, number, fromSample, toSample, onsetIndex: tap.onsetIndex, aboveRoomDb };
      }),
  );
}

/** The sound of a tap. */
export const cutTap = (samples: Float32Array, sampleRateHz: number, cut: TapCut): Tap => ({
  samples: samples.slice(cut.fromSample, cut.toSample),
  sampleRateHz,
  onsetIndex: cut.onsetIndex,
});

/** The taps of a file by hold, as a round is read from them. */
export const holdsOf = (samples: Float32Array, sampleRateHz: number, cuts: readonly TapCut[]): readonly Tap[][] =>
  tapsByHold(cuts.map((cut) => [cut.hold, cutTap(samples, sampleRateHz, cut)]));
