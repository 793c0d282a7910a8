// What is timed of a plate, in Node and in a worker of Chromium alike.
import { cutPlate } from '../../src/forecast/shaving.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { type PlateMode, type PreparedPlate, plateModes, preparePlate } from '../../src/plate/plate-modes.ts';

export interface PlateQuestion {
  readonly plate: PlateCase;
  /** everything from the drawing on, or the modes again after a brace was lowered or raised by 1 mm */
  readonly what: 'drawing' | 'height';
  /** side of the triangles, mm, where it is not the usual one */
  readonly sizeMm?: number;
}

export interface PlateRun {
  readonly ms: number;
  readonly unknowns: number;
}

/** Runs what is asked; plates made ready are kept, as the page's worker keeps them. */
export function plateRuns(): (question: PlateQuestion) => PlateRun {
  let prepared: PreparedPlate | undefined;
  let modes: readonly PlateMode[] = [];
  let isLow = false;
  return ({ plate, what, sizeMm }) => {
    const start = performance.now();
    const same = what === 'height' ? prepared : undefined;
    const ready = same ?? preparePlate(plate, sizeMm);
    prepared = ready;
    if (same !== undefined) isLow = !isLow;
    const cut = { braceId: plate.braces![0]!.id, fromMm: 0, toMm: 180, offMm: isLow ? 1 : 0 };
    const answer = plateModes(ready, cutPlate(plate, [cut]), same && { near: modes });
    if (answer.kind !== 'modes') throw new Error(answer.kind);
    modes = answer.modes;
    return { ms: performance.now() - start, unknowns: answer.degreesOfFreedom };
  };
}
