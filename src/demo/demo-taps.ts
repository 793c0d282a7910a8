// The taps of a demo file as the listener hears them, each in the hold it was made in.
import { splitTaps } from '../signal/listener.ts';
import type { Tap } from '../signal/tap.ts';

/** When the taps of a file begin, as written beside it. */
export interface TapTimes {
  readonly taps: readonly { readonly hold: number; readonly onsetS: number }[];
}

/** A tap is the one that was made when it begins this close to it, s. */
const closeS = 0.05;

/** Taps by hold. A tap the listener refused is left out. */
export function demoHolds(
  samples: Float32Array,
  sampleRateHz: number,
  times: TapTimes,
): readonly (readonly { readonly tap: Tap; readonly aboveRoomDb: number }[])[] {
  const heard = splitTaps(samples, sampleRateHz).filter((verdict) => verdict.kind === 'accepted');
  const holds = Math.max(...times.taps.map((tap) => tap.hold)) + 1;
  return Array.from({ length: holds }, (_, hold) =>
    times.taps
      .filter((made) => made.hold === hold)
      .flatMap((made) => heard.filter((verdict) => Math.abs(verdict.timeS - made.onsetS) < closeS)),
  );
}
