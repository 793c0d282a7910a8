// The signature: the set of modes that one step measured under one set of conditions, its rounds taken together.
import type { Estimate } from '../quantity/estimate.ts';
import type { Round, Step, StoredMode, Support } from '../record/record.ts';
import { isConcluded } from '../record/round-edit.ts';
import { holdDisagreement } from '../signal/agree/hold-disagreement.ts';
import { knownModes } from '../signal/tap.ts';
import { stateOfRound } from './box-state.ts';
import { matchModes, withinStep } from './match.ts';

/** A mode of a step, from every round that heard it. */
export interface SignatureMode {
  readonly frequencyHz: Estimate;
  readonly q: Estimate;
  readonly levelDb: number;
  readonly resolution: StoredMode['resolution'];
  /** rounds that heard it */
  readonly rounds: number;
}

/** Modes of a step under one support. */
export interface Signature {
  readonly stepId: string;
  readonly support: Support;
  readonly spots: readonly string[];
  /** ascending in frequency */
  readonly modes: readonly SignatureMode[];
  /** false where no round picked the piece up anew, so that sigma lacks the scatter of holding it */
  readonly scatterKnown: boolean;
  /** rounds that are labelled alike and do not ring alike; absent where they agree */
  readonly disagreement?: RoundDisagreement;
}

/** Rounds of a step under one support that lie apart by more than holding the piece anew explains. */
interface RoundDisagreement {
  /** relative in frequency, root mean square over the modes of both sides */
  readonly apart: number;
  /** the one that the others do not bear out; absent where nobody can tell which it is */
  readonly round?: Round;
}

/** Whether two measurements were taken under one support. */
export const sameSupport = (a: Support, b: Support): boolean =>
  a.hold === b.hold &&
  a.bridge === b.bridge &&
  a.strung === b.strung &&
  a.addedMassG === b.addedMassG &&
  a.addedMassOnBackG === b.addedMassOnBackG;

/** Rounds of a step that may be concluded from: closed, fitted, not set aside, and not taken again. */
export function soundRounds(step: Step): readonly Round[] {
  return step.rounds.filter((round) => isConcluded(round) && !isTakenAgain(step, round));
}

/** A guided round of the closed box gives way to a later one in its state at its spot: who takes it again does not trust the first. */
export function isTakenAgain({ rounds }: Step, round: Round): boolean {
  const state = stateOfRound(round);
  const { bridge, strung } = round.support;
  return (
    state !== undefined &&
    rounds
      .slice(rounds.indexOf(round) + 1)
      .some(
        (later) =>
          isConcluded(later) &&
          stateOfRound(later) === state &&
          later.spot === round.spot &&
          later.support.bridge === bridge &&
          later.support.strung === strung,
      )
  );
}

/** Rounds of a step that may be concluded from, under the given support and at one of the given spots. */
export function roundsAt(step: Step, support: Support, spots: readonly string[]): readonly Round[] {
  return soundRounds(step).filter((round) => sameSupport(round.support, support) && spots.includes(round.spot));
}

/** Spots that two signatures were both tapped at: elsewhere modes differ in strength though the wood has not changed. */
export const sharedSpots = (a: Signature, b: Signature): readonly string[] =>
  a.spots.filter((spot) => b.spots.includes(spot));

/** All signatures of a step, one for each support it was measured under, in the order they were taken. */
export function signatures(step: Step): readonly Signature[] {
  const groups: Round[][] = [];
  for (const round of soundRounds(step)) {
    const group = groups.find(([first]) => first !== undefined && sameSupport(first.support, round.support));
    if (group) group.push(round);
    else groups.push([round]);
  }
  return groups.map((rounds) => ({
    stepId: step.id,
    support: rounds[0]!.support,
    spots: [...new Set(rounds.map((round) => round.spot))],
    modes: rounds
      .map((round): readonly SignatureMode[] => knownModes(round.fit!).map(asSignatureMode))
      .reduce((all, modes) => mergeModes(all, modes))
      .toSorted((a, b) => a.frequencyHz.value - b.frequencyHz.value),
    scatterKnown: rounds.some((round) => round.fit!.scatterKnown),
    ...disagreementOf(rounds),
  }));
}

/** Rounds are to one another as holds are: each was held anew. */
function disagreementOf(rounds: readonly Round[]): Pick<Signature, 'disagreement'> {
  const found = holdDisagreement(rounds.map(({ fit }, hold) => ({ hold, modes: fit!.modes })));
  if (found === undefined) return {};
  const { apart, hold } = found;
  return { disagreement: hold === undefined ? { apart } : { apart, round: rounds[hold]! } };
}

/** The signature of a step under the given support, or undefined where it was not measured so. */
export function signatureUnder(step: Step, support: Support): Signature | undefined {
  return signatures(step).find((signature) => sameSupport(signature.support, support));
}

const asSignatureMode = (mode: StoredMode): SignatureMode => ({
  frequencyHz: mode.frequencyHz,
  q: mode.q,
  levelDb: mode.levelDb,
  resolution: mode.resolution,
  rounds: 1,
});

function mergeModes(a: readonly SignatureMode[], b: readonly SignatureMode[]): readonly SignatureMode[] {
  const frequencies = (modes: readonly SignatureMode[]) => modes.map((mode) => mode.frequencyHz.value);
  const pairs = matchModes(frequencies(a), frequencies(b), withinStep);
  const merged = pairs.map(([i, j]): SignatureMode => {
    const first = a[i]!;
    const second = b[j]!;
    return {
      frequencyHz: birgeMean(first.frequencyHz, second.frequencyHz),
      q: birgeMean(first.q, second.q),
      levelDb: Math.max(first.levelDb, second.levelDb),
      resolution: first.resolution === 'single' || second.resolution === 'single' ? 'single' : 'pair',
      rounds: first.rounds + second.rounds,
    };
  });
  const left = a.filter((_, i) => !pairs.some(([k]) => k === i));
  const right = b.filter((_, j) => !pairs.some(([, k]) => k === j));
  return [...merged, ...left, ...right];
}

/**
 * Two readings of one thing: inverse-variance mean, widened where they disagree more than they claim.
 * Source: Birge 1932 (Phys. Rev. 40, 207), ratio for two readings: (a - b)^2 / (sa^2 + sb^2).
 */
export function birgeMean(a: Estimate, b: Estimate): Estimate {
  if (a.sigma === 0) return a;
  if (b.sigma === 0) return b;
  const wa = 1 / a.sigma ** 2;
  const wb = 1 / b.sigma ** 2;
  const birge = Math.max(1, Math.abs(a.value - b.value) / Math.hypot(a.sigma, b.sigma));
  return { value: (wa * a.value + wb * b.value) / (wa + wb), sigma: birge / Math.sqrt(wa + wb) };
}
