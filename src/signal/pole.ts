// What all stages of the fit speak of: poles, and the rows on which they are heard.
import type { Whitener } from './filter/whiten.ts';

/** Where a mode lies in the complex plane: s = -decayPerS + 2 pi i frequencyHz. decayPerS 0 is a steady tone (hum). */
export interface Pole {
  readonly frequencyHz: number;
  readonly decayPerS: number;
}

/** The grid of rows every tap of a fit shares. */
export interface Grid {
  readonly rows: number;
  readonly sampleRateHz: number;
  readonly whitener: Whitener;
}
