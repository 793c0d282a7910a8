// A board as it lies on the bench: sizes, mass, and what was heard from it.
import type { Estimate } from '../quantity/estimate.ts';
import type { BoardSize } from './board-energy.ts';

/** A board as ruler, caliper and scale give it. */
export interface MeasuredBoard {
  /** along the grain */
  readonly lengthMm: Estimate;
  readonly widthMm: Estimate;
  readonly thicknessMm: Estimate;
  readonly massG: Estimate;
}

/** One tapped mode: its frequency, and its Q where the decay was long enough. */
export interface TappedMode {
  readonly frequencyHz: Estimate;
  readonly q?: Estimate;
}

/** The board in SI with its density. */
export function boardOf(board: MeasuredBoard): { readonly size: BoardSize; readonly densityKgM3: number } {
  const size = {
    lengthM: board.lengthMm.value / 1000,
    widthM: board.widthMm.value / 1000,
    thicknessM: board.thicknessMm.value / 1000,
  };
  return { size, densityKgM3: board.massG.value / 1000 / (size.lengthM * size.widthM * size.thicknessM) };
}
