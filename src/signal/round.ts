// The mode estimator: damped sinusoids in coloured noise, one joint maximum-likelihood fit over all taps of a round.
import { estimate } from '../quantity/estimate.ts';
import { qOf } from './atoms.ts';
import { decimator, gainAt } from './decimate.ts';
import { decaysFrom, hear, rowsAfter, unwhitenedLeftovers, withHumAgain } from './hearing.ts';
import { noiseLeft } from './noise.ts';
import { chooseModes } from './order.ts';
import { bandEdges, seedPoles } from './seeds.ts';
import { earliestFit, latestStartRow } from './start.ts';
import type { Mode, RoundFit, Tap, TapPlace } from './tap.ts';
import { uncertainties } from './uncertainty.ts';

/** Name and version kept with every stored result. */
export const METHOD = 'joint-varpro 1';

/** What a caller may ask of a fit. */
export interface FitOptions {
  /** called with the part done, 0 to 1 */
  readonly onProgress?: (fraction: number) => void;
  /** band whose modes are reported, Hz; without it chosen from the sound */
  readonly bandHz?: readonly [number, number];
}

const BAND_HZ = [30, 1200] as const;

/** The modes of one tap. */
export const fitTap = (tap: Tap, options: FitOptions = {}): RoundFit => fitRound([[tap]], options);

/**
 * The modes of a piece from all taps of a round in one joint fit.
 * @param holds taps by hold (the piece picked up anew)
 */
export function fitRound(holds: readonly (readonly Tap[])[], options: FitOptions = {}): RoundFit {
  const places: TapPlace[] = holds.flatMap((taps, hold) => taps.map((_, tap) => ({ hold, tap })));
  const taps = holds.flat();
  const empty: RoundFit = { modes: [], used: places, setAside: [], scatterKnown: false, method: METHOD };
  if (taps.length === 0) return empty;
  const [lowHz, highHz] = options.bandHz ?? BAND_HZ;
  const filter = decimator(taps[0]!.sampleRateHz, highHz);
  let hearing = hear(taps, filter);
  const rateHz = hearing.series[0]!.sampleRateHz;
  const limits = { lowestHz: 15, highestHz: 0.4985 * rateHz, slowestPerS: 0.5, lowestQ: 4 };
  const startRow = latestStartRow(hearing);
  const rows = rowsAfter(hearing, startRow);
  if (rows < 200) return empty;
  let decays = decaysFrom(hearing, startRow, rows);
  const seeds = seedPoles(decays.taps, rateHz, bandEdges(limits.lowestHz, limits.highestHz));
  let fit = chooseModes(decays, seeds, limits);
  if (fit === undefined) return empty;
  options.onProgress?.(0.5);
  if (hearing.hum.some((h) => h !== undefined)) {
    hearing = withHumAgain(hearing, startRow, fit);
    decays = decaysFrom(hearing, startRow, rows);
    fit = chooseModes(decays, fit.poles, limits) ?? fit;
  }
  if (!hearing.noise.heard) {
    hearing = { ...hearing, noise: noiseLeft(unwhitenedLeftovers(hearing, startRow, fit)) };
    decays = decaysFrom(hearing, startRow, rows);
    fit = chooseModes(decays, fit.poles, limits) ?? fit;
  }
  const best = earliestFit(hearing, { startRow, decays, fit }, rows, limits);
  options.onProgress?.(0.9);
  const known = uncertainties(best.decays, best.fit);
  const startS = best.startRow / rateHz;
  const modes: Mode[] = [];
  best.fit.poles.forEach((pole, m) => {
    if (pole.frequencyHz < lowHz || pole.frequencyHz > highHz || pole.decayPerS < 0.6) return;
    const k = known[m]!;
    const q = qOf(pole);
    const gain = Math.exp(pole.decayPerS * startS) / gainAt(filter, pole.frequencyHz);
    const amplitudes = best.fit.amplitudes.map(
      (c, tap) => Math.hypot(c[2 * m]!, c[2 * m + 1]!) * hearing.noise.levels[tap]! * gain,
    );
    const meanSquare = amplitudes.reduce((sum, a) => sum + a * a, 0) / amplitudes.length;
    modes.push({
      frequencyHz: estimate(k.frequencyHz.value, k.frequencyHz.sigma),
      q: estimate(q, q * k.lnDecay.sigma),
      levelDb: 10 * Math.log10(meanSquare),
      amplitudes,
      resolution: 'single',
    });
  });
  modes.sort((a, b) => a.frequencyHz.value - b.frequencyHz.value);
  return { ...empty, modes };
}
