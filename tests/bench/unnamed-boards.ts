// Boards of which only a list of peaks is known: how often the naming is right, by how far it leads.
import { boardModes } from '../../src/wood/board-modes.ts';
import { elasticStart, withShear } from '../../src/wood/elastic-start.ts';
import type { MeasuredBoard, TappedMode } from '../../src/wood/measured-board.ts';
import type { Pattern } from '../../src/wood/pattern-names.ts';
import { assignPeaks, type PeakReading } from '../../src/wood/peak-assignment.ts';
import { speciesById } from '../../src/wood/species.ts';
import { byRatio, evenly } from './struck.ts';
import { normal, type Random } from './tap-signals.ts';

/** A board, what was heard of it, and which mode each peak truly is: undefined for what is none of the board's. */
export interface UnnamedBoard {
  readonly board: MeasuredBoard;
  readonly heard: readonly (TappedMode & { readonly truth: Pattern | undefined })[];
}

const start = elasticStart(speciesById('sitka-spruce'));
const within = (value: number, sigma: number) => ({ value, sigma });

/**
 * A half or a joined top of any thickness, its modes uneven by 0.4 to 1.2 %, some unheard, one to three strays among them.
 * @param strayQ the Q of the strays
 */
export function drawUnnamed(random: Random, strayQ: (random: Random) => number): UnnamedBoard {
  const isHalf = random() < 0.6;
  const [lengthMm, widthMm] = [evenly(random, 500, 570), isHalf ? evenly(random, 195, 230) : evenly(random, 380, 430)];
  const thicknessMm = evenly(random, 2.6, 4.4);
  const densityKgM3 = 420 * Math.exp(0.08 * normal(random));
  const eLongPa = 11.5e9 * Math.exp(0.14 * normal(random));
  const elastic = {
    eLongPa,
    eCrossPa: 0.085 * eLongPa * Math.exp(0.22 * normal(random)),
    gPa: 0.067 * eLongPa * Math.exp(0.18 * normal(random)),
    nuLR: 0.37 + 0.05 * normal(random),
  };
  const size = { lengthM: lengthMm / 1000, widthM: widthMm / 1000, thicknessM: thicknessMm / 1000 };
  const uneven = evenly(random, 0.004, 0.012);
  const modes = boardModes(size, withShear(elastic, start.shearRatios), densityKgM3).slice(0, 9);
  const q = (loss: number) => {
    const value = Math.exp(0.3 * normal(random)) / loss;
    return within(value, 0.1 * value);
  };
  const peaks = modes
    .filter((_, rank) => random() > (rank < 3 ? 0.05 : 0.2))
    .map(({ frequencyHz, pattern, energy }) => ({
      frequencyHz: within(frequencyHz * Math.exp(uneven * normal(random)), 0.001 * frequencyHz),
      // spruce loses 0.006 to 0.009 along and 0.018 to 0.025 across the grain; between them in twist
      q: q(0.0075 * energy.long + 0.021 * (energy.cross + energy.coupling) + 0.013 * energy.twist),
      truth: pattern,
    }));
  const [lowest, highest] = [modes[0]!.frequencyHz, modes.at(-1)!.frequencyHz];
  const strays = Array.from({ length: 1 + Math.floor(3 * random()) }, () => {
    const value = strayQ(random);
    return {
      frequencyHz: within(byRatio(random, 0.7 * lowest, 0.9 * highest), 0.2),
      q: within(value, 0.1 * value),
      truth: undefined,
    };
  });
  const board = {
    lengthMm: within(lengthMm, 0.3),
    widthMm: within(widthMm, 0.3),
    thicknessMm: within(thicknessMm, 0.02),
    massG: within(lengthMm * widthMm * thicknessMm * densityKgM3 * 1e-6, 0.2),
  };
  return { board, heard: [...peaks, ...strays].sort((a, b) => a.frequencyHz.value - b.frequencyHz.value) };
}

/** Strays as a room's or another piece's lines have them: of a Q that wood has too. */
export const likeWood = (random: Random): number => byRatio(random, 25, 200);
/** Strays of a hum or of a thing that is hardly one: of a Q that no wood has. */
export const unlikeWood = (random: Random): number =>
  random() < 0.5 ? byRatio(random, 4, 12) : byRatio(random, 900, 3000);

/** How a list of peaks was named. */
export interface NamingScore {
  readonly lead: number;
  readonly isSure: boolean;
  /** one of the peaks that the constants are read from is not the mode it is taken for */
  readonly isWrong: boolean;
  /** strays taken for modes, and true peaks called strays */
  readonly taken: number;
  readonly lost: number;
}

/** Names the peaks; undefined where the program finds no board that fits. */
export function scoreNaming({ board, heard }: UnnamedBoard): NamingScore | undefined {
  const reading: PeakReading = assignPeaks(board, heard, start);
  if (reading.kind !== 'assigned') return undefined;
  const isSame = (a: Pattern | undefined, b: Pattern | undefined) => a?.m === b?.m && a?.n === b?.n;
  return {
    lead: reading.lead,
    isSure: reading.isSure,
    isWrong: reading.peaks.some(({ pattern, isUsed }, k) => isUsed && !isSame(pattern, heard[k]!.truth)),
    taken: reading.peaks.filter(({ pattern }, k) => pattern !== undefined && heard[k]!.truth === undefined).length,
    lost: reading.peaks.filter(({ pattern }, k) => pattern === undefined && heard[k]!.truth !== undefined).length,
  };
}
