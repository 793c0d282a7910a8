// How a piece may be held in each stage, and what is to be asked before its first taps there: two rounds are compared only
// where bridge, strings and hold are alike, so that a word that was taken over instead of asked parts what belongs together.
import type { InstrumentRecord, Stage, Support } from './record.ts';
import { isConcluded } from './round-edit.ts';

/** The ways to hold a piece in a stage, the usual one first. */
export function holdsAt(stage: Stage): readonly Support['hold'][] {
  if (stage === 'closed' || stage === 'strung') return ['box-open', 'box-hole-blocked', 'box-back-damped'];
  if (stage === 'on-rims') return ['in-mould', 'at-node', 'on-foam'];
  return ['at-node', 'on-foam', 'in-mould'];
}

/** Stages in which nothing but the wood itself can be there: no bridge is glued to a plate without braces. */
const bareStages: readonly Stage[] = ['board', 'joined', 'thicknessed'];

/** How a piece is held as far as the record tells. */
export interface KnownSupport {
  readonly support: Support;
  /** false where bridge and strings are a guess: the maker is asked once */
  readonly isKnown: boolean;
}

/**
 * How the piece is held in a stage: as for its last round there, else as is usual for the stage. Nothing is taken over from
 * another stage or another instrument.
 */
export function supportAt(record: InstrumentRecord, stage: Stage): KnownSupport {
  const last = record.steps
    .filter((step) => step.stage === stage)
    .flatMap((step) => step.rounds)
    .findLast(isConcluded)?.support;
  const hold = holdsAt(stage)[0]!;
  if (last !== undefined) {
    const { bridge, strung } = last;
    // The states of a closed box are chosen anew each time.
    return { support: { hold: hold === 'box-open' ? hold : last.hold, bridge, strung }, isKnown: true };
  }
  const isStrung = stage === 'strung';
  return {
    support: { hold, bridge: isStrung ? 'glued' : 'off', strung: isStrung },
    isKnown: bareStages.includes(stage),
  };
}
