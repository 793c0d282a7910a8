// What a top does when the box is closed, by the program's own models: the drawn top as the taps put its woods, and the air behind it.
import { closedBox } from '../box/closing.ts';
import type { CavityResult } from '../compare/box-cavity.ts';
import { type Estimate, estimate } from '../quantity/estimate.ts';
import type { StageShapes } from './stage-shapes.ts';

export type ClosedByModels =
  | { readonly kind: 'closed'; readonly topHz: Estimate; readonly airHz: Estimate; readonly aloneHz: Estimate }
  /** the box is not measured: only what the top does at the rims is known */
  | { readonly kind: 'sizes-missing'; readonly aloneHz: Estimate };

/** @param shapes of a top at the rims of the box, its bridge glued */
export function closedByModels({ pumping, after }: StageShapes, cavity: CavityResult): ClosedByModels {
  const aloneHz = pumping.frequencyHz;
  if (cavity.kind !== 'cavity') return { kind: 'sizes-missing', aloneHz };
  const modes = after.map(({ frequencyHz, pushedM2PerSqrtKg }) => ({
    frequencyHz: frequencyHz.value,
    pushedM2PerSqrtKg,
  }));
  return { kind: 'closed', aloneHz, ...closedBox(modes, estimate(1, aloneHz.sigma / aloneHz.value), cavity) };
}
