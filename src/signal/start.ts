// Where the fit begins: as early as the sound already rings freely. Contact forces are no decaying sinusoids, so while
// the finger still touches, an earlier start either leaves too much over or moves the modes.
import type { Pole } from './atoms.ts';
import { decaysFrom, type Hearing } from './hearing.ts';
import { chooseModes, noiseLevel } from './order.ts';
import { type Decays, leftover, type Projection } from './project.ts';
import { uncertainties } from './uncertainty.ts';
import type { PoleLimits } from './varpro.ts';

/** Start offsets tried after the onset, s, latest first. The first must lie beyond any contact. */
const OFFSETS_S = [0.013, 0.009, 0.006, 0.004, 0.002] as const;
/** Standard deviations by which a mode may move, and the early rows' leftover exceed the noise, between two starts. */
const MOVED = 3.5;
const EXCESS = 4;

/** A fit and the row it starts from. */
export interface StartedFit {
  readonly startRow: number;
  readonly decays: Decays;
  readonly fit: Projection;
}

/** Row of an offset: the first grid row whose filter support begins after offset - half support. */
const rowOf = (offsetS: number, hearing: Hearing): number =>
  Math.ceil(offsetS * hearing.series[0]!.sampleRateHz - 1e-9);

/** Row of the latest start tried. */
export const latestStartRow = (hearing: Hearing): number => rowOf(OFFSETS_S[0], hearing);

/**
 * The fit from the earliest start that agrees with the later ones: with poles refitted, the rows gained hold no more
 * than noise (chi-square), and no mode moved by more than the difference of the two variances allows.
 * @param latest the fit at the latest start
 * @param rows   rows at the latest start; earlier starts gain those before
 * Source: the comparison of an efficient with a robust estimate: Hausman, Econometrica 46 (1978) 1251.
 */
export function earliestFit(hearing: Hearing, latest: StartedFit, rows: number, limits: PoleLimits): StartedFit {
  let best = latest;
  for (const offsetS of OFFSETS_S.slice(1)) {
    const startRow = rowOf(offsetS, hearing);
    if (startRow >= best.startRow) continue;
    const decays = decaysFrom(hearing, startRow, rows + latest.startRow - startRow);
    const fit = chooseModes(decays, shifted(best.fit.poles), limits);
    if (fit === undefined || !agrees(best, { startRow, decays, fit })) break;
    best = { startRow, decays, fit };
  }
  return best;
}

/** Poles do not depend on where the record starts. */
const shifted = (poles: readonly Pole[]): readonly Pole[] => poles;

function agrees(late: StartedFit, early: StartedFit): boolean {
  const noise = noiseLevel(late.decays, late.fit);
  const gained = (early.decays.grid.rows - late.decays.grid.rows) * early.decays.taps.length;
  const excess = (leftover(early.fit) - leftover(late.fit)) / noise - gained;
  if (excess > EXCESS * Math.sqrt(2 * gained)) return false;
  const lateModes = uncertainties(late.decays, late.fit);
  const earlyModes = uncertainties(early.decays, early.fit);
  return lateModes.every((mode) => {
    const same = earlyModes.reduce((a, b) =>
      Math.abs(b.frequencyHz.value - mode.frequencyHz.value) < Math.abs(a.frequencyHz.value - mode.frequencyHz.value)
        ? b
        : a,
    );
    const within = (a: { value: number; sigma: number }, b: { value: number; sigma: number }): boolean =>
      Math.abs(a.value - b.value) <= MOVED * Math.sqrt(Math.max(a.sigma ** 2 - b.sigma ** 2, 0.05 * a.sigma ** 2));
    return within(mode.frequencyHz, same.frequencyHz) && within(mode.lnDecay, same.lnDecay);
  });
}
