// The independent method of the table, run in Python: matrix_pencil.py.
import type { Tap } from '../../src/signal/tap.ts';
import type { PoleFound } from './mode-score.ts';
import { askPython, pythonWithScipy } from './scipy.ts';

/** The taps through the NumPy matrix pencil, each by itself; undefined where Python with SciPy is not at hand. */
export function matrixPencil(taps: readonly Tap[]): PoleFound[][] | undefined {
  if (!pythonWithScipy()) return undefined;
  const told = askPython('matrix_pencil.py', taps) as [number, number][][];
  return told.map((modes) => modes.map(([frequencyHz, q]) => ({ frequencyHz, q })));
}
