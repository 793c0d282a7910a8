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
  return open
    .map((points) => ({ name: nameOf(points, record.pins), points }))
    .toSorted((a, b) => a.points.at(-1)!.mode.frequencyHz.value - b.points.at(-1)!.mode.frequencyHz.value);
}

/** A pin belongs to the mode it was set on: re-reading the taps may shift it by less than this, cents. */
const pinCents = 20;

function nameOf(points: readonly TrackPoint[], pins: readonly Pin[]): string | undefined {
  const own = pins.filter((pin) =>
    points.some(
      (point) =>
        point.step.id === pin.stepId &&
        Math.abs(centsBetween(point.mode.frequencyHz.value, pin.frequencyHz)) < pinCents,
    ),
  );
  return own.at(-1)?.mode;
}
