// From the rounds of a step on the closed box to labelled peaks: what the maker said of a peak wins, the rest is proposed.
import type { Part } from '../box/pistons.ts';
import type { BoxRound } from '../box/rounds.ts';
import type { PartPeak, PartRounds } from '../box/which-part.ts';
import { type Estimate, estimate } from '../quantity/estimate.ts';
import type { InstrumentRecord, Round, Step } from '../record/record.ts';
import { knownModes } from '../signal/tap.ts';
import { type BoxState, stateOfRound } from './box-state.ts';
import { soundRounds } from './signature.ts';

export type PeakLabel = Part | 'other';

/** A peak of a round among those that may be air, top or back. */
interface BoxPeak {
  readonly frequencyHz: Estimate;
  readonly q: Estimate;
  readonly levelDb: number;
  readonly label: PeakLabel;
  /** said by the maker, not proposed */
  readonly isConfirmed: boolean;
}

/** A round of the closed box, its peaks ascending. */
export interface StateRound {
  readonly state: BoxState;
  readonly round: Round;
  readonly peaks: readonly BoxPeak[];
}

/** Where the three lowest modes of a closed guitar lie, Hz. Common practice, no source. */
const LOWEST_HZ = 60;
const HIGHEST_HZ = 380;

/**
 * What taps in one go leave out: how far a peak moves when the box is laid down anew, one standard deviation, as a share.
 * 0.1 % is the lower end of what makers see. Common practice, no source.
 */
const HOLD_SCATTER = 0.001;

/**
 * Where the ruler has the air's peak. Walls that give way bring it below the air's own resonance, and by no more than this
 * share in any guitar: common practice, no source. What moves with it then lies above that resonance.
 * Source: interlacing of coupled resonances, Rayleigh 1894, Theory of Sound section 92a.
 */
const LEAST_OF_OWN = 0.55;
/** The ruler itself errs by more than the spread of the volume: the end correction of a hole with a rosette, braces beside it. */
const RULER_SHARE = 0.03;

export const isAirByRuler = (hz: number, { value, sigma }: Estimate): boolean =>
  hz >= LEAST_OF_OWN * value && hz <= (1 + RULER_SHARE) * value + 3 * sigma;
const isPlateByRuler = (hz: number, { value, sigma }: Estimate): boolean => hz >= (1 - RULER_SHARE) * value - 3 * sigma;

/**
 * Rounds of a step on the closed box, one for each state, the newest of it, in the order taken.
 * @param ownHz the air's own resonance by ruler, where the sizes are known: it speaks before the levels do
 */
export function stateRounds(record: InstrumentRecord, step: Step, ownHz?: Estimate): readonly StateRound[] {
  const newest = new Map<string, { state: BoxState; round: Round }>();
  for (const round of soundRounds(step)) {
    const state = stateOfRound(round);
    if (state === undefined) continue;
    newest.delete(state);
    newest.set(state, { state, round });
  }
  const backAnswers = record.box?.backAnswers ?? true;
  const open = newest.get('open');
  const order =
    open === undefined
      ? usualOrder
      : orderIn(labelled(record, open.round, partsIn('open', backAnswers, usualOrder), ownHz));
  return [...newest.values()].map(({ state, round }) => ({
    state,
    round,
    // With the hole closed the ruler says nothing of where the plates lie.
    peaks: labelled(record, round, partsIn(state, backAnswers, order), state === 'blocked' ? undefined : ownHz),
  }));
}

/** The air lies lowest; of the plates the top usually lies below the back. Common practice, no source. */
const usualOrder: readonly Part[] = ['air', 'top', 'back'];

/** The order of the parts in the open box, which the other states keep. */
function orderIn(peaks: readonly BoxPeak[]): readonly Part[] {
  const found = peaks.flatMap(({ label }) => (label === 'other' ? [] : [label]));
  return [...found, ...usualOrder.filter((part) => !found.includes(part))];
}

/** Parts that show a peak in a state, in their order. */
function partsIn(state: BoxState, backAnswers: boolean, order: readonly Part[]): readonly Part[] {
  return order.filter((part) => {
    if (part === 'air') return state !== 'blocked';
    if (part === 'back') return backAnswers && state !== 'back-damped';
    return true;
  });
}

/**
 * The candidates of a round with their labels: the maker's, and for the parts not named yet the strongest peaks left, in the
 * order the parts have. Where the ruler has the air, no peak elsewhere is proposed for it, however loud.
 */
function labelled(
  record: InstrumentRecord,
  round: Round,
  parts: readonly Part[],
  ownHz: Estimate | undefined,
): readonly BoxPeak[] {
  const said = (record.box?.peaks ?? []).filter(({ roundId }) => roundId === round.id);
  const modes = knownModes(round.fit!)
    .filter(({ frequencyHz: { value } }) => value >= LOWEST_HZ && value <= HIGHEST_HZ)
    .toSorted((a, b) => a.frequencyHz.value - b.frequencyHz.value);
  const wordOn = (hz: number) => said.find(({ frequencyHz }) => Math.abs(frequencyHz / hz - 1) < 1e-3)?.part;
  const named = modes.map(({ frequencyHz }) => wordOn(frequencyHz.value));
  const missing = parts.filter((part) => !named.includes(part));
  const free = modes.filter((_, i) => named[i] === undefined);
  const byLevel = free.toSorted((a, b) => b.levelDb - a.levelDb);
  const isAir = missing.includes('air');
  const air =
    isAir && ownHz !== undefined ? byLevel.find((mode) => isAirByRuler(mode.frequencyHz.value, ownHz)) : undefined;
  const others = ownHz === undefined ? missing : missing.filter((part) => part !== 'air');
  const strongest = byLevel
    .filter((mode) => mode !== air && (ownHz === undefined || isPlateByRuler(mode.frequencyHz.value, ownHz)))
    .slice(0, others.length);
  const proposed = free.filter((mode) => strongest.includes(mode));
  return modes.map((mode, i) => {
    const rank = proposed.indexOf(mode);
    return {
      frequencyHz: withScatter(mode.frequencyHz, round.fit!.scatterKnown),
      q: mode.q,
      levelDb: mode.levelDb,
      label: named[i] ?? (mode === air ? 'air' : rank < 0 ? 'other' : others[rank]!),
      isConfirmed: named[i] !== undefined,
    };
  });
}

function withScatter({ value, sigma }: Estimate, scatterKnown: boolean): Estimate {
  // a peak said to be exact would carry infinite weight
  return estimate(value, scatterKnown ? Math.max(sigma, 1e-5 * value) : Math.hypot(sigma, HOLD_SCATTER * value));
}

/** How well a small lump is known from a kitchen scale, one standard deviation, kg. Common practice, no source. */
const SCALE_SIGMA_KG = 5e-5;

const weighed = (massG: number): Estimate => estimate(massG / 1000, SCALE_SIGMA_KG);

/** The rounds as the inverse wants them. */
export function boxRounds(rounds: readonly StateRound[]): readonly BoxRound[] {
  return rounds.map(({ state, round, peaks }) => ({
    hole: state === 'blocked' ? 'blocked' : 'open',
    back: state === 'back-damped' ? 'held' : 'free',
    ...(round.support.addedMassG === undefined ? {} : { addedAtBridgeKg: weighed(round.support.addedMassG) }),
    ...(round.support.addedMassOnBackG === undefined ? {} : { addedAtBackKg: weighed(round.support.addedMassOnBackG) }),
    peaksHz: Object.fromEntries(
      peaks.flatMap(({ label, frequencyHz }) => (label === 'other' ? [] : [[label, frequencyHz]])),
    ),
  }));
}

const doingOf = {
  blocked: 'hole-blocked',
  'back-damped': 'back-damped',
  mass: 'mass-at-bridge',
  'tap-on-back': 'tapped-on-back',
} as const;

/** The rounds as evidence for which peak is which, or undefined where the box as it is was not tapped or shows one peak. */
export function partRounds(rounds: readonly StateRound[]): PartRounds | undefined {
  const base = rounds.find(({ state }) => state === 'open');
  if (base === undefined) return undefined;
  const ours = ({ peaks }: StateRound) => peaks.filter(({ label }) => label !== 'other');
  const asPeak = ({ frequencyHz, q, levelDb }: BoxPeak): PartPeak => ({ frequencyHz, q, levelDb });
  const basePeaks = ours(base);
  if (basePeaks.length < 2) return undefined;
  return {
    base: basePeaks.map((peak) => ({
      ...asPeak(peak),
      ...(peak.isConfirmed && peak.label !== 'other' ? { label: peak.label } : {}),
    })),
    done: rounds.flatMap((done) =>
      // a mass on the back is for the back's own constants; damping and tapping tell which peak is the back's
      done.state === 'open' || done.state === 'mass-on-back'
        ? []
        : [{ doing: doingOf[done.state], peaks: ours(done).map(asPeak) }],
    ),
  };
}
