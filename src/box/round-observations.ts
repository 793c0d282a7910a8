// Rounds as the spectral fit wants them: which mode of which state each peak is, and where to start.
import type { Part } from './pistons.ts';
import { type BoxRound, type RoundPeak, roundPeaks } from './rounds.ts';
import type { Observation } from './spectral-fit.ts';
import { at, type LogParameters, PARAMETERS, type SpectralState } from './spectral-model.ts';

/** The state of a round: what moves, and what lies on it. A box whose back never shows a peak has none that moves. */
export function stateOf(round: BoxRound, hasBack: boolean): SpectralState {
  return {
    backMoves: hasBack && round.back === 'free',
    airMoves: round.hole === 'open',
    bridgeLumpKg: round.addedAtBridgeKg?.value ?? 0,
    backLumpKg: round.addedAtBackKg?.value ?? 0,
  };
}

/** Peaks as modes of their state: by rank where all are there, else by the order the labels have in the fullest round. */
export function observed(rounds: readonly BoxRound[], hasBack: boolean) {
  const fullest = rounds.reduce(
    (best, _, i) => (roundPeaks(rounds, i).length > roundPeaks(rounds, best).length ? i : best),
    0,
  );
  const usual = roundPeaks(rounds, fullest).map(({ part }) => part);
  const observations: Observation[] = [];
  const peaks: RoundPeak[] = [];
  rounds.forEach((round, i) => {
    const state = stateOf(round, hasBack);
    const found = roundPeaks(rounds, i);
    const moving = usual.filter((part) => (part !== 'air' || state.airMoves) && (part !== 'back' || state.backMoves));
    found.forEach((peak, rank) => {
      if (!(peak.frequencyHz.sigma > 0))
        throw new RangeError(`solveBox: sigma of ${peak.part} in round ${i}, need > 0`);
      const mode = found.length === moving.length ? rank : moving.indexOf(peak.part);
      observations.push({ state, mode, frequencyHz: peak.frequencyHz.value, sigmaHz: peak.frequencyHz.sigma });
      peaks.push(peak);
    });
  });
  return { observations, peaks };
}

/** A rough box of the trade's usual proportions about the peaks as labelled, or with top and back exchanged. */
export function startFor(rounds: readonly BoxRound[], hasBack: boolean, swapped: boolean): LogParameters {
  const first = (part: Part): number | undefined =>
    rounds.find((round) => round.peaksHz[part] !== undefined)?.peaksHz[part]?.value;
  const airHz = 1.12 * (first('air') ?? 110);
  const topPeak = first('top') ?? 190;
  const backPeak = hasBack ? (first('back') ?? 1.2 * topPeak) : topPeak;
  const start = new Float64Array(PARAMETERS.length);
  start[at('topVacuoHz')] = Math.log(0.93 * (swapped ? backPeak : topPeak));
  start[at('backVacuoHz')] = Math.log(0.97 * (swapped ? topPeak : backPeak));
  start[at('airHz')] = Math.log(airHz);
  start[at('topGripHz')] = Math.log(0.5 * airHz);
  start[at('backGripHz')] = Math.log(0.35 * airHz);
  start[at('topMassKg')] = Math.log(0.09);
  start[at('backMassKg')] = Math.log(0.2);
  return start;
}
