// What air does to wood, worked out apart from src: moisture at rest, and how mass, stiffness and tones follow.
import type { Estimate } from '../../src/quantity/estimate.ts';

/** Moisture at rest, %, of a relative humidity, %, and a temperature, C. Source: Hailwood-Horrobin, FPL-GTR-282 eq. 4-5. */
export function atRest(percent: number, t: number): number {
  const [w, k] = [349 + 1.29 * t + 0.0135 * t ** 2, 0.805 + 0.000736 * t - 0.00000273 * t ** 2];
  const [k1, k2] = [6.27 - 0.00938 * t - 0.000303 * t ** 2, 1.91 + 0.0407 * t - 0.000293 * t ** 2];
  const x = (k * percent) / 100;
  return (1800 / w) * (x / (1 - x) + (k1 * x + 2 * k1 * k2 * x ** 2) / (1 + k1 * x + k1 * k2 * x ** 2));
}

/** Change of that for 1 %RH. */
export const moisturePerPercent = (percent: number, t: number): number =>
  (atRest(percent + 0.01, t) - atRest(percent - 0.01, t)) / 0.02;

/**
 * Stiffness per % of moisture and per degree, each with its spread, and what growing sides do to a tone, per %.
 * Sources: FPL-GTR-282 eq. 5-3, Tables 5-15 and 13-5, as the docstrings of src/wood/moisture.ts and climate.ts quote them.
 */
const laws = {
  long: [-0.015, 0.004, -0.0024, 0.0006, (3 * 0.0026 - 3 * 0.00005 + 0.0015) / 2],
  cross: [-0.025, 0.01, -0.0117, 0.004, (3 * 0.0026 - 3 * 0.0015 + 0.00005) / 2],
  plate: [-0.02, 0.008, -0.005, 0.003, (3 * 0.0026 - 0.00005 - 0.0015) / 2],
} as const;

/** Relative changes, each with its sigma, on the way from an air to 50 %RH and 20 C. */
export function toReference(percent: number, t: number, hygrometerSigma: number) {
  const [before, after] = [atRest(percent, t), atRest(50, 20)];
  const [change, degrees] = [after - before, 20 - t];
  // A tenth of a change is the doubt of the formula's slope.
  const changeSigma = Math.hypot(moisturePerPercent(percent, t) * hygrometerSigma, 0.1 * change);
  const massPer = 0.01 / (1 + (before + after) / 200);
  const mass: Estimate = { value: massPer * change, sigma: massPer * changeSigma };
  const along = (direction: keyof typeof laws): { readonly stiffness: Estimate; readonly tone: Estimate } => {
    const [e, eSigma, warm, warmSigma, growth] = laws[direction];
    const doubt = Math.hypot(eSigma * change, warmSigma * degrees);
    const per = (e - massPer) / 2 + growth;
    return {
      stiffness: { value: e * change + warm * degrees, sigma: Math.hypot(doubt, e * changeSigma) },
      tone: { value: per * change + (warm * degrees) / 2, sigma: Math.hypot(doubt / 2, per * changeSigma) },
    };
  };
  return { mass, along };
}
