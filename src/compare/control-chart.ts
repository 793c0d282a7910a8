// The trust check: a kept reference stick against its own history.

/** The stick's frequency against its history, and whether today's reading belongs to it. */
export interface ControlChart {
  /** mean of the earlier checks, Hz */
  readonly meanHz: number;
  /** standard deviation of one check, Hz, from the moving range */
  readonly sigmaHz: number;
  /** how far the latest check lies from the mean, in sigmas */
  readonly latestSigmas: number;
  /**
   * `go`: within 2 sigma, or between 2 and 3 once; `look-again`: beyond 3 sigma, or beyond 2 on the same side twice in
   * a row; `too-few`: the history is too short to judge
   */
  readonly verdict: 'go' | 'look-again' | 'too-few';
}

/** Fewest earlier checks from which a spread is worth stating. Common practice, no source. */
export const leastChecks = 4;

/** Mean moving range of two divided by the standard deviation, for normal data. Source: ISO 7870-2:2013, Table 2 (from memory). */
const d2 = 1.128;

/**
 * Judges the latest of a series of checks against those before it (chart for individual values).
 * @param checksHz frequencies in the order taken, Hz; the last one is judged
 * @param floorHz  the least spread to be believed, Hz: the uncertainty of one reading, >= 0
 * @throws RangeError if there is no check at all
 * Source: ISO 7870-2:2013 individuals chart; two-of-three rule Western Electric 1956 (from memory).
 */
export function controlChart(checksHz: readonly number[], floorHz: number): ControlChart {
  const latest = checksHz.at(-1);
  if (latest === undefined) throw new RangeError('controlChart: 0 checks, need at least 1');
  const history = checksHz.slice(0, -1);
  if (history.length === 0) return { meanHz: latest, sigmaHz: floorHz, latestSigmas: 0, verdict: 'too-few' };
  const meanHz = history.reduce((sum, hz) => sum + hz, 0) / history.length;
  const ranges = history.slice(1).map((hz, i) => Math.abs(hz - history[i]!));
  const meanRange = ranges.length === 0 ? 0 : ranges.reduce((sum, range) => sum + range, 0) / ranges.length;
  const sigmaHz = Math.max(meanRange / d2, floorHz);
  const sigmas = (hz: number): number => (sigmaHz === 0 ? (hz === meanHz ? 0 : Infinity) : (hz - meanHz) / sigmaHz);
  const latestSigmas = sigmas(latest);
  if (history.length < leastChecks) return { meanHz, sigmaHz, latestSigmas, verdict: 'too-few' };
  const twice = Math.abs(latestSigmas) > 2 && sigmas(history.at(-1)!) * Math.sign(latestSigmas) > 2;
  return { meanHz, sigmaHz, latestSigmas, verdict: Math.abs(latestSigmas) > 3 || twice ? 'look-again' : 'go' };
}
