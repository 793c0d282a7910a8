// Small records for tests, every field as it begins, and an outline that can be reckoned by hand.
import {
  type InstrumentRecord,
  newRecord,
  type Plan,
  type Round,
  type Step,
  type TapNote,
} from '../../src/record/record.ts';

export const atIso = '2026-11-25T08:00:00.000Z';

const noteOf = (id: string): TapNote => ({ id, atIso, sampleRateHz: 48_000, aboveRoomDb: 40, hold: 0 });

/** An open round of the taps named. */
export const roundOf = (id: string, taps: readonly string[], more: Partial<Round> = {}): Round => ({
  id,
  atIso,
  support: { hold: 'at-node', bridge: 'off', strung: false },
  spot: 'centre',
  source: '',
  state: 'open',
  taps: taps.map(noteOf),
  ...more,
});

/** A step without anything done. */
export const stepOf = (id: string, more: Partial<Step> = {}): Step => ({
  id,
  atIso,
  stage: 'braced',
  done: '',
  cuts: [],
  climate: {},
  heard: '',
  rounds: [],
  ...more,
});

/** A record of one step with the rounds given. */
export const recordOf = (id: string, rounds: readonly Round[]): InstrumentRecord => ({
  ...newRecord({ id, createdAtIso: atIso, name: 'One' }),
  steps: [stepOf('s', { rounds })],
});

/** A rectangular top, places from its tail end and its middle line. */
export const rectangular = (lengthMm: number, widthMm: number): Plan['outline'] => ({
  kind: 'points',
  source: '',
  points: [
    { xMm: 0, yMm: -widthMm / 2 },
    { xMm: lengthMm, yMm: -widthMm / 2 },
    { xMm: lengthMm, yMm: widthMm / 2 },
    { xMm: 0, yMm: widthMm / 2 },
  ],
});
