// A small top whose woods and rim are known only as a plan states them.
import type { Parameter } from '../../src/forecast/properties.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { type PlateMode, plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { smallTop } from '../plate/plates.ts';

/** About as handbooks and a maker's guess of the rim leave them. */
export const open: readonly Parameter[] = [
  { property: 'plate eL', relativeSigma: 0.1 },
  { property: 'plate eR', relativeSigma: 0.2 },
  { property: 'plate gLR', relativeSigma: 0.15 },
  { property: 'plate density', relativeSigma: 0.08 },
  { property: 'brace eL', relativeSigma: 0.1 },
  { property: 'brace gLR', relativeSigma: 0.15 },
  { property: 'brace density', relativeSigma: 0.08 },
  { property: 'rim stiffness', relativeSigma: 0.5 },
];
// The coarsest mesh serves: spread and draws are both of it.
export const prepared = preparePlate(smallTop, 120);
export const SHOWN = 4;

export const solved = (plate: PlateCase, count: number, near?: readonly PlateMode[]) => {
  const answer = plateModes(prepared, plate, { count, near });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  return answer;
};
