// Which of the two plates' peaks is the top's: the box is fitted from either labelling, and the mass at the bridge decides.

import { stateOf } from './round-observations.ts';
import type { BoxRound } from './rounds.ts';
import type { SpectralFit } from './spectral-fit.ts';
import { at, spectralModes } from './spectral-model.ts';

/** `swapped`: the peak labelled top belongs to the back; `undecided`: no mass, or both plates share both peaks. */
export type LabelVerdict = 'confirmed' | 'swapped' | 'undecided';

/** Chi squared by which one labelling must lose against the other to be told: two sigma. */
const DECIDED_CHI_SQUARED = 4;
/** With the top's energy split more evenly than this between the two peaks, neither is the top's. */
const DECIDED_SHARE = 0.2;

/**
 * Of the fits from either labelling the better one, and what that says of the labels as given.
 * @param fits    fits from the labels as given and from the exchanged ones, (2,); one for a box without back
 * @param hasLump whether any round had a mass on a plate; without it both labellings fit alike and the given one stands
 * Source: our derivation; how often it errs is counted in tests/bench/box.ts.
 */
export function judgedLabels(
  fits: readonly SpectralFit[],
  rounds: readonly BoxRound[],
  hasLump: boolean,
): { readonly fit: SpectralFit; readonly labels: LabelVerdict } {
  if (fits.length === 1) return { fit: fits[0]!, labels: 'undecided' };
  const leads = fits.map((fit) => labelledLead(fit, rounds));
  const best = (given: boolean) =>
    fits.filter((_, i) => leads[i]! >= 0 === given).sort((a, b) => a.chiSquared - b.chiSquared)[0];
  const given = best(true);
  const exchanged = best(false);
  if (!hasLump) return { fit: given ?? withPlatesExchanged(exchanged!), labels: 'undecided' };
  const lead = (exchanged?.chiSquared ?? Infinity) - (given?.chiSquared ?? Infinity);
  const fit = lead >= 0 || (given && -lead < DECIDED_CHI_SQUARED) ? given! : exchanged!;
  const isDecided = Math.abs(lead) > DECIDED_CHI_SQUARED && Math.abs(labelledLead(fit, rounds)) > DECIDED_SHARE;
  return { fit, labels: isDecided ? (fit === given ? 'confirmed' : 'swapped') : 'undecided' };
}

/** By how much more of the fitted top's energy lies in the peak labelled top than in the one labelled back, -1 to 1. */
function labelledLead(fit: SpectralFit, rounds: readonly BoxRound[]): number {
  const round = rounds.find(({ peaksHz }) => peaksHz.top !== undefined && peaksHz.back !== undefined);
  if (!round) return 1;
  const state = { ...stateOf(round, true), bridgeLumpKg: 0, backLumpKg: 0 };
  const [lower, upper] = spectralModes(fit.log, state).topShare.slice(-2) as [number, number];
  return round.peaksHz.top!.value < round.peaksHz.back!.value ? lower - upper : upper - lower;
}

/** Without a mass the two plates are told apart by nothing but their labels. */
function withPlatesExchanged(fit: SpectralFit): SpectralFit {
  const log = fit.log.slice();
  const partner = [at('backVacuoHz'), at('backGripHz'), at('topVacuoHz'), at('topGripHz')];
  partner.forEach((other, parameter) => {
    log[parameter] = fit.log[other]!;
  });
  const rank = fit.free.map((parameter) => fit.free.indexOf(partner[parameter] ?? parameter));
  return { ...fit, log, covariance: rank.map((i) => rank.map((j) => fit.covariance[i]![j]!)) };
}
