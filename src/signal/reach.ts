// How high to listen. A plate's useful modes lie below 1200 Hz; a bar or a block may ring well above.
import type { Tap } from './tap.ts';

/** Band reported by default, Hz. */
export const BAND_HZ = [30, 1200] as const;

export function bandOf(_taps: readonly Tap[]): readonly [number, number] {
  return BAND_HZ;
}
