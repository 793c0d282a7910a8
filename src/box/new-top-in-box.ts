// The solved box with a new top in it: where air, top and back then lie. Its peaks are mixtures of all three parts, so no one of them
// is carried by itself.
import { type Estimate, estimate, propagated } from '../quantity/estimate.ts';
import { derivedFrom, type JointConstants } from './inverse.ts';
import type { Part } from './pistons.ts';
import { type Damage, soundFactors, type TopRatios, translatedMode, USUAL_SHARING } from './replacement.ts';
import { at, type LogParameters, spectralModes } from './spectral-model.ts';

/** What the new top does in the old box. */
export interface NewTopInBox {
  /** the new top without the air on it, at the rims of this box */
  readonly topAloneHz: Estimate;
  /** peaks of the open box, ascending, each by the part that names it: air, top, back in the order they had */
  readonly peaks: readonly { readonly part: Part; readonly frequencyHz: Estimate }[];
}

/**
 * Predicts the open box after its top is replaced. The top's own frequency goes as that of a top at the rims; its moving mass as
 * plate and parts go, and with the mass its grip on the air, A sqrt(B / m): the area it pushes stays, as shapes do.
 * @param joint  of the box with its old top (`solveBox`)
 * @param order  the parts in the order of the old box's peaks, lowest first
 * @param damage of the old top while the box was tapped
 * @returns Hz, with the doubt of the box's constants and of the new top, taken as independent
 * Source: the piston box of pistons.ts; our derivation, tests/box/new-top-in-box.test.ts.
 */
export function newTopInBox(
  joint: JointConstants,
  order: readonly Part[],
  ratios: TopRatios,
  damage: readonly Damage[] | 'unasked',
): NewTopInBox {
  const sharing = USUAL_SHARING['on the rims'];
  const unit = propagated((factors) => factors.reduce((product, x) => product * x, 1), soundFactors(damage)).result;
  const topFactor = translatedMode(unit, ratios, sharing).aimHz;
  const massFactor = propagated(
    ([mass, share]) => share! * mass! + 1 - share!,
    [ratios.arealMass, sharing.plateMassShare],
  ).result;
  const state = { backMoves: order.includes('back'), airMoves: true, bridgeLumpKg: 0, backLumpKg: 0 };
  const withNew = (log: LogParameters, top: number, mass: number): readonly number[] => {
    const changed = log.slice();
    changed[at('topVacuoHz')]! += Math.log(top);
    changed[at('topGripHz')]! -= Math.log(mass) / 2;
    return spectralModes(changed, state).frequenciesHz;
  };
  const both = (f: (log: LogParameters, top: number, mass: number) => number): Estimate => {
    const ofBox = derivedFrom(joint, (log) => f(log, topFactor.value, massFactor.value));
    const ofTop = propagated(([top, mass]) => f(joint.log, top!, mass!), [topFactor, massFactor]).result;
    return estimate(ofBox.value, Math.hypot(ofBox.sigma, ofTop.sigma));
  };
  return {
    topAloneHz: both((log, top) => top * Math.exp(log[at('topVacuoHz')]!)),
    peaks: order.map((part, i) => ({ part, frequencyHz: both((log, top, mass) => withNew(log, top, mass)[i]!) })),
  };
}
