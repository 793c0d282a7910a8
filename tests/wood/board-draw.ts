// A board drawn at random and measured with known errors, for checking that stated uncertainties cover the truth.
import type { Estimate } from '../../src/quantity/estimate.ts';
import { type BoardReading, readBoard } from '../../src/wood/board-constants.ts';
import { boardModes, type RitzSize } from '../../src/wood/board-modes.ts';
import { elasticStart } from '../../src/wood/elastic-start.ts';
import { TAP_PATTERNS, type TapKind } from '../../src/wood/hold-guide.ts';
import { speciesById } from '../../src/wood/species.ts';

export interface Draw {
  readonly truth: {
    readonly eLongGpa: number;
    readonly eCrossGpa: number;
    readonly gGpa: number;
    readonly densityKgM3: number;
  };
  readonly reading: BoardReading;
}

/** Ruler 0.3 mm, caliper 0.03 mm, scale 0.2 g, taps 0.3 %: a careful bench. */
const SIGMA = { rulerMm: 0.3, caliperMm: 0.03, scaleG: 0.2, tapRatio: 0.003 };

/**
 * One true board and one measurement of it; what cannot be tapped (Poisson, thickness shear) is drawn from the handbook's
 * spread, as nature does.
 */
export function drawBoard(
  normal: () => number,
  aspect: { readonly lengthMm: number; readonly widthMm: number },
  ritz: RitzSize,
): Draw {
  const start = elasticStart(speciesById('sitka-spruce'));
  const drawn = ({ value, sigma }: Estimate) => value + sigma * normal();
  const positive = ({ value, sigma }: Estimate) => value * Math.exp((sigma / value) * normal());
  const eLongPa = 11e9 * Math.exp(0.1 * normal());
  const elastic = {
    eLongPa,
    eCrossPa: 0.85e9 * Math.exp(0.1 * normal()),
    gPa: 0.76e9 * Math.exp(0.1 * normal()),
    nuLR: drawn(start.nuLR),
    shear: {
      longPa: positive(start.shearRatios!.longRatio) * eLongPa,
      crossPa: positive(start.shearRatios!.crossRatio) * eLongPa,
    },
  };
  const densityKgM3 = 420 * Math.exp(0.05 * normal());
  const thicknessMm = 3.6;
  const { lengthMm, widthMm } = aspect;
  const size = { lengthM: lengthMm / 1000, widthM: widthMm / 1000, thicknessM: thicknessMm / 1000 };
  const modes = boardModes(size, elastic, densityKgM3, undefined, ritz);
  const measured = (value: number, sigma: number): Estimate => ({ value: value + sigma * normal(), sigma });
  const heard = (tap: TapKind) => {
    const { m, n } = TAP_PATTERNS[tap];
    const { frequencyHz } = modes.find(({ pattern }) => pattern.m === m && pattern.n === n)!;
    return { frequencyHz: measured(frequencyHz, SIGMA.tapRatio * frequencyHz) };
  };
  const reading = readBoard(
    {
      board: {
        lengthMm: measured(lengthMm, SIGMA.rulerMm),
        widthMm: measured(widthMm, SIGMA.rulerMm),
        thicknessMm: measured(thicknessMm, SIGMA.caliperMm),
        massG: measured(lengthMm * widthMm * thicknessMm * densityKgM3 * 1e-6, SIGMA.scaleG),
      },
      taps: {
        'long-grain-bending': heard('long-grain-bending'),
        'cross-grain-bending': heard('cross-grain-bending'),
        twist: heard('twist'),
      },
    },
    start,
    ritz,
  );
  return {
    truth: { eLongGpa: eLongPa / 1e9, eCrossGpa: elastic.eCrossPa / 1e9, gGpa: elastic.gPa / 1e9, densityKgM3 },
    reading,
  };
}
