// One mode followed through the steps.
import type { InstrumentRecord, Pin, Step, Support } from '../record/record.ts';
import { centsBetween, matchModes } from './match.ts';
import { type Signature, type SignatureMode, signatureUnder } from './signature.ts';

/** Where a mode stood at one step. */
export interface TrackPoint {
  readonly step: Step;
  readonly signature: Signature;
  readonly mode: SignatureMode;
}

/** One mode through the steps in which it was heard. */
export interface Track {
  /** the maker's name for it, or undefined where it has none yet */
  readonly name: string | undefined;
  /** in the order of the steps; at least one */
  readonly points: readonly TrackPoint[];
}

/**
 * Follows every mode of a record through the steps of one stage under one support. A mode that a step did not hear
 * is looked for again later; a name given by the maker holds for the whole track.
 * @returns tracks in ascending order of their last frequency
 */
export function tracks(record: InstrumentRecord, stage: Step['stage'], support: Support): readonly Track[] {
  const open: TrackPoint[][] = [];
  for (const step of record.steps) {
    if (step.stage !== stage) continue;
    const signature = signatureUnder(step, support);
    if (signature === undefined) continue;
    const known = open.map((points) => points.at(-1)!.mode.frequencyHz.value);
    const heard = signature.modes.map((mode) => mode.frequencyHz.value);
    const partner = new Map(matchModes(known, heard).map(([i, j]) => [j, i]));
    signature.modes.forEach((mode, j) => {
      const point = { step, signature, mode };
      const track = partner.get(j);
      if (track === undefined) open.push([point]);
      else open[track]!.push(point);
    });
  }
  const names = new Map(record.pins.map((pin) => [pinned(open, pin), pin.mode]));
  return open
    .map((points) => ({ name: names.get(points), points }))
    .toSorted((a, b) => a.points.at(-1)!.mode.frequencyHz.value - b.points.at(-1)!.mode.frequencyHz.value);
}

/** A pin belongs to the mode it was set on: re-reading the taps may shift it by less than this, cents. Our choice. */
const pinCents = 20;

/** The track that a pin was set on: of its step's modes within its reach the nearest, where there is one. */
function pinned(open: readonly TrackPoint[][], pin: Pin): readonly TrackPoint[] | undefined {
  const away = (points: readonly TrackPoint[]) => {
    const point = points.find(({ step }) => step.id === pin.stepId);
    return point === undefined ? Infinity : Math.abs(centsBetween(point.mode.frequencyHz.value, pin.frequencyHz));
  };
  const [nearest] = open.toSorted((a, b) => away(a) - away(b));
  return nearest !== undefined && away(nearest) < pinCents ? nearest : undefined;
}
