// What the maker's own earlier instruments did between two stages (loose plate, rims, closed, strung) says what the next
// one will do.
import { type Estimate, HALF_WIDTH_95 } from '../quantity/estimate.ts';
import { studentHalfWidth95 } from '../quantity/quantile.ts';

/** One mode of one earlier instrument, before and after the stage. */
export interface EarlierJump {
  readonly fromHz: number;
  readonly toHz: number;
}

export type StageForecast =
  | {
      readonly kind: 'expected';
      readonly frequencyHz: number;
      /** the next instrument lies between these in 95 of 100 cases, if it is built like the earlier ones */
      readonly low95Hz: number;
      readonly high95Hz: number;
      /** usual frequency after over before */
      readonly ratio: number;
      /** scatter of that ratio from instrument to instrument, one standard deviation, % */
      readonly spreadPercent: number;
      readonly instruments: number;
    }
  | { readonly kind: 'too-few'; readonly have: number; readonly need: number };

/**
 * What to expect of a mode after the next stage.
 * Logarithms of the ratios, mean m and spread s over n instruments: f exp(m), within exp(± sqrt(t² s² (1 + 1/n) + (1.96 u)²)),
 * t of n - 1 degrees of freedom, u the relative uncertainty of the reading now.
 * @param earlier the same mode on the maker's earlier instruments, at least 2, Hz, > 0
 * @param nowHz   the mode now, before the stage, Hz
 * @throws RangeError if a frequency is not > 0
 * Source: prediction interval of a normal sample: Hahn & Meeker 1991, Statistical Intervals, section 4.7; coverage in
 * tests/box/stage-jump.test.ts.
 */
export function expectAfterStage(earlier: readonly EarlierJump[], nowHz: Estimate): StageForecast {
  const bad = [nowHz.value, ...earlier.flatMap(({ fromHz, toHz }) => [fromHz, toHz])].find((hz) => !(hz > 0));
  if (bad !== undefined) throw new RangeError(`expectAfterStage: ${bad} Hz, need > 0`);
  const n = earlier.length;
  if (n < 2) return { kind: 'too-few', have: n, need: 2 };
  const logs = earlier.map(({ fromHz, toHz }) => Math.log(toHz / fromHz));
  const mean = logs.reduce((sum, x) => sum + x, 0) / n;
  const spread = Math.sqrt(logs.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (n - 1));
  const half = Math.hypot(
    studentHalfWidth95(n - 1) * spread * Math.sqrt(1 + 1 / n),
    (HALF_WIDTH_95 * nowHz.sigma) / nowHz.value,
  );
  const frequencyHz = nowHz.value * Math.exp(mean);
  return {
    kind: 'expected',
    frequencyHz,
    low95Hz: frequencyHz * Math.exp(-half),
    high95Hz: frequencyHz * Math.exp(half),
    ratio: Math.exp(mean),
    spreadPercent: 100 * spread,
    instruments: n,
  };
}
