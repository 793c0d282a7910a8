// Names that follow the shape: for pages that have the answer and not the solver.
import type { ShapeOfDrawing, TapShapes } from './tap-shapes.ts';

/** Less alike at the spots, from the taps alone, a shape gives no name. Source: docs/shape-figures.md, where names are judged from it on. */
const NAMED_FROM = 0.6;

/** The computed mode that gives each shape its name; undefined where the taps alone do not bear it out, (shapes,). */
export const namesOfShapes = ({ shapes, computed, likeness }: TapShapes): readonly (ShapeOfDrawing | undefined)[] =>
  shapes.map(({ whole }, k) =>
    whole !== undefined && likeness[k]![whole.computed]! >= NAMED_FROM ? computed[whole.computed] : undefined,
  );
