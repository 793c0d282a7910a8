// What each pole sounds with where a tap begins, sign and all: of two taps on one spot alike, across a node reversed.
import { median } from '../../quantity/median.ts';
import { gainAt } from '../filter/decimate.ts';
import { GONE_NEPER } from '../search/start.ts';
import type { JointFit } from './joint-fit.ts';

/**
 * Cosine and sine amplitude of each pole at the onset of each tap: y(t) = exp(-a t) (C cos(2 pi f t) + S sin(2 pi f t)), t
 * from the onset, full scale = 1, interleaved C, S; (M, 2 K) in the order of the taps. The filter's gain and the late start
 * are undone; a pole that was all but gone at the start is not blown up further, and where taps have poles of their own the
 * start is made up for by the middle of their decays: a tap that hardly has a mode may give it any.
 */
export function onsetWaves({ hearing, partition, fit, startRow }: JointFit): Float64Array[] {
  const startS = startRow / hearing.series[0]!.sampleRateHz;
  return fit[0]!.poles.map((_, m) => {
    const decayPerS = median(fit.map(({ poles }) => poles[m]!.decayPerS))!;
    const lost = Math.exp(Math.min(GONE_NEPER, decayPerS * startS));
    const out = new Float64Array(2 * hearing.series.length);
    partition.forEach((group, g) => {
      const { frequencyHz } = fit[g]!.poles[m]!;
      const grown = lost / gainAt(hearing.filter, frequencyHz);
      const [cos, sin] = [Math.cos(2 * Math.PI * frequencyHz * startS), Math.sin(2 * Math.PI * frequencyHz * startS)];
      group.forEach((k, i) => {
        const size = grown * hearing.noise.levels[k]!;
        const [c, s] = [fit[g]!.amplitudes[i]![2 * m]!, fit[g]!.amplitudes[i]![2 * m + 1]!];
        // counted from the start row: C cos w(t - t0) + S sin w(t - t0), taken apart
        out[2 * k] = size * (c * cos - s * sin);
        out[2 * k + 1] = size * (c * sin + s * cos);
      });
    });
    return out;
  });
}
