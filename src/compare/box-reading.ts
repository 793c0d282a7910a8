// Everything the rounds of one step say of the closed box, put together once.
import { foundBox } from '../box/found-box.ts';
import { type BoxFound, solveBox } from '../box/inverse.ts';
import type { Box } from '../box/pistons.ts';
import { soundhole } from '../box/soundhole.ts';
import { type WhichPart, whichPart } from '../box/which-part.ts';
import { isMeasured } from '../quantity/estimate.ts';
import type { InstrumentRecord, Step } from '../record/record.ts';
import { type CavityResult, cavityOf } from './box-cavity.ts';
import { type BoxDoubt, isRefuted, lumpDoubts, roundDoubts } from './box-doubts.ts';
import { boxRounds, partRounds, type StateRound, stateRounds } from './box-evidence.ts';

export interface BoxReading {
  readonly rounds: readonly StateRound[];
  /** those the solution rests on, in the order its codes count them: taken as noted, and a back that still answers is not held */
  readonly solvedRounds: readonly StateRound[];
  readonly cavity: CavityResult;
  /** undefined where there is nothing to solve yet: no round, or no volume */
  readonly found: BoxFound | undefined;
  /** undefined where the box as it is was not tapped, or shows a single peak */
  readonly which: WhichPart | undefined;
  /** what the rounds themselves show to have been done otherwise than noted */
  readonly doubts: readonly BoxDoubt[];
  /** the box as a model; undefined where masses are not known, or its modes are not those that were read */
  readonly model: Box | undefined;
}

/** What a step says of the box; the same record and step give the same answer. */
export function readBox(record: InstrumentRecord, step: Step): BoxReading {
  const cavity = cavityOf(record.box?.cavity, step.climate);
  const rounds = stateRounds(record, step, cavity.kind === 'cavity' ? cavity.ownHz : undefined);
  const doubts = roundDoubts(rounds, cavity);
  const sound = rounds.filter((round) => !isRefuted(doubts, round));
  const evidence = partRounds(sound);
  const solvedRounds = sound.filter(
    ({ state, peaks }) => state !== 'back-damped' || !peaks.some(({ label }) => label === 'back'),
  );
  const found = cavity.kind === 'cavity' && solvedRounds.length > 0 ? solved(solvedRounds, cavity) : undefined;
  return {
    rounds,
    solvedRounds,
    cavity,
    found,
    doubts: [...doubts, ...lumpDoubts(cavity, found)],
    which: evidence === undefined ? undefined : whichPart(evidence),
    model: cavity.kind === 'cavity' && found?.kind === 'solved' ? modelOf(found, rounds, cavity) : undefined,
  };
}

type Known = CavityResult & { readonly kind: 'cavity' };

function solved(rounds: readonly StateRound[], { air, volumeM3, ownHz }: Known): BoxFound {
  return solveBox(boxRounds(rounds), { air, volumeM3, holeFromSizesHz: ownHz });
}

/** The model with the losses of the open round; without one peak for each of its modes there are no losses to give it. */
function modelOf(
  found: BoxFound & { readonly kind: 'solved' },
  rounds: readonly StateRound[],
  { air, volumeM3, holeRadiusM, holeEdgeM }: Known,
): Box | undefined {
  const open = rounds.find(({ state }) => state === 'open');
  const qs = (open?.peaks ?? []).flatMap(({ label, q }) => (label === 'other' || !isMeasured(q) ? [] : [q.value]));
  if (qs.length !== (found.back === 'held' ? 2 : 3)) return undefined;
  return foundBox(found, { air, volumeM3 }, soundhole(holeRadiusM, holeEdgeM, 'flanged', 1), qs);
}
