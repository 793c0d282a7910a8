// Every signature of a record with the names its modes go by, each name carried along its mode's track.

import type { InstrumentRecord, Step } from '../record/record.ts';
import { type Series, seriesKey } from './series.ts';
import { type Signature, type SignatureMode, soundRounds } from './signature.ts';
import { tracks } from './tracks.ts';

/** A mode and the maker's name for it; undefined where it has none. */
export interface NamedMode {
  readonly mode: SignatureMode;
  readonly name: string | undefined;
}

/** What one step measured under one support, with names. */
export interface NamedSignature {
  readonly step: Step;
  readonly signature: Signature;
  /** ascending in frequency; at least one */
  readonly modes: readonly NamedMode[];
}

/** The signatures of a record that heard a mode, in the order of the steps. */
export function namedSignatures(record: InstrumentRecord): readonly NamedSignature[] {
  const series = new Map<string, Series>();
  for (const step of record.steps)
    for (const { support } of soundRounds(step)) {
      const measured = { stage: step.stage, support };
      series.set(seriesKey(measured), measured);
    }
  const found = new Map<Signature, { step: Step; modes: NamedMode[] }>();
  for (const { stage, support } of series.values())
    for (const { name, points } of tracks(record, stage, support))
      for (const { step, signature, mode } of points) {
        const entry = found.get(signature) ?? { step, modes: [] };
        entry.modes.push({ mode, name });
        found.set(signature, entry);
      }
  const place = new Map(record.steps.map((step, i) => [step, i]));
  return [...found]
    .map(([signature, { step, modes }]) => ({
      step,
      signature,
      modes: modes.toSorted((a, b) => a.mode.frequencyHz.value - b.mode.frequencyHz.value),
    }))
    .toSorted((a, b) => place.get(a.step)! - place.get(b.step)!);
}
