// A tap as it is played back to the maker: from the strike on, all taps equally loud, or one mode of it alone.
import type { Tap } from '../tap.ts';
import { Biquad } from './band.ts';

/** Sound to be played, full scale = 1. */
export interface Sound {
  readonly samples: Float32Array;
  readonly sampleRateHz: number;
}

/** Played before the strike, so that its beginning is not clipped, s. */
const LEAD_S = 0.02;
/** Longest that is played, s: a plate has rung down by then. */
const LONGEST_S = 2;
/** So long after the strike loudness is judged, s: about the time over which the ear adds up. From memory, Moore 2012. */
const LOUDNESS_S = 0.2;
/** Root mean square that all are brought to, full scale = 1, and the peak that none exceeds. */
const LEVEL = 0.1;
const PEAK = 0.9;
/** Fade at the end, s, so that it does not click. */
const FADE_S = 0.02;
/** Centre over width of the band about a mode: its neighbours lie further off, and the mode's own decay is not made longer. */
const BAND_Q = 12;

/**
 * A tap for the ear.
 * @param aboutHz the mode that is to be heard alone, Hz; everything where not given
 * @returns equally loud for all taps: the same root mean square over the first 0.2 s, unless the peak forbids it
 */
export function forTheEar({ samples, sampleRateHz, onsetIndex }: Tap, aboutHz?: number): Sound {
  const from = Math.max(0, onsetIndex - Math.round(LEAD_S * sampleRateHz));
  const to = Math.min(samples.length, onsetIndex + Math.round(LONGEST_S * sampleRateHz));
  const played = samples.slice(from, Math.max(from, to));
  if (aboutHz !== undefined)
    for (let pass = 0; pass < 2; pass++) {
      const band = new Biquad('band-pass', aboutHz, BAND_Q, sampleRateHz);
      for (let i = 0; i < played.length; i++) played[i] = band.step(played[i]!);
    }
  const judged = played.subarray(onsetIndex - from, onsetIndex - from + Math.round(LOUDNESS_S * sampleRateHz));
  const square = judged.reduce((sum, x) => sum + x * x, 0) / Math.max(1, judged.length);
  const peak = played.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
  const gain = square > 0 ? Math.min(LEVEL / Math.sqrt(square), PEAK / peak) : 0;
  const fade = Math.round(FADE_S * sampleRateHz);
  for (let i = 0; i < played.length; i++) played[i]! *= gain * Math.min(1, (played.length - i) / fade);
  return { samples: played, sampleRateHz };
}
