// Whether the machine itself spoils the taps, by what the listener said of them.
import type { TapVerdict } from '../signal/tap.ts';

/** So many of the last so many sounds must have stretches missing: one may be a gate's mistake, three are the machine. */
const SEVERAL = 3;
const OF_LAST = 8;

/** Whether with the newest sound there are several of late in which some is missing. */
export function isLosingSound(heard: readonly TapVerdict[]): boolean {
  const newest = heard.at(-1);
  return newest !== undefined && isMissing(newest) && heard.slice(-OF_LAST).filter(isMissing).length >= SEVERAL;
}

const isMissing = (verdict: TapVerdict): boolean =>
  verdict.kind === 'refused' && (verdict.refusal.because === 'spliced' || verdict.refusal.because === 'drop-out');
