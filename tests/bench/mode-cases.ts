// The cases of the estimator's table: what is tapped, how loud over the room, and what disturbs it.
import { type RoomPole, roomPoles } from '../../src/signal/tell/room-poles.ts';
import { type Bound, jointBoundFor } from './bound.ts';
import {
  type Disturbance,
  NOISE_COLOURS,
  pairAt,
  SIX_MODES,
  seeded,
  type TrueMode,
  type TrueTap,
  trueTap,
} from './tap-signals.ts';

/** One case of the table. */
export interface Case {
  readonly name: string;
  readonly modes: readonly TrueMode[];
  readonly snrsDb: readonly number[];
  /** taps in each hold */
  readonly holds: readonly number[];
  readonly how: Disturbance;
  /** the bound counts from the end of the contact */
  readonly boundFromS: number;
  /** whether the other methods are run beside */
  readonly others: boolean;
  /** a clap in the same room is given as well */
  readonly clap?: readonly TrueMode[];
}

const ONE: readonly TrueMode[] = [{ frequencyHz: 180, q: 50, levelDb: 0 }];
const ABOVE: readonly TrueMode[] = [1650, 2300, 3900].map((frequencyHz) => ({ frequencyHz, q: 50, levelDb: -6 }));
/** Reverberant poles of a small room: Q 15 to 40. */
const ROOM: readonly TrueMode[] = [
  { frequencyHz: 61, q: 15, levelDb: -14 },
  { frequencyHz: 134, q: 24, levelDb: -12 },
  { frequencyHz: 271, q: 40, levelDb: -14 },
];

const quiet = (name: string, modes: readonly TrueMode[], snrsDb: readonly number[], holds = [1]): Case => ({
  name,
  modes,
  snrsDb,
  holds,
  how: holds[0]! > 1 ? { spreadDb: 4 } : {},
  boundFromS: 0,
  others: holds[0] === 1,
});
const disturbed = (name: string, how: Disturbance, snrsDb = [40], boundFromS = 0): Case => ({
  ...quiet(name, SIX_MODES, snrsDb),
  how,
  boundFromS,
  others: false,
});

/** All cases of the table. */
export const CASES: readonly Case[] = [
  quiet('one mode, 180 Hz Q 50', ONE, [10, 20, 30, 40, 50]),
  quiet('pair 200 + 205 Hz, Q 50', pairAt(200), [10, 20, 30, 40, 50]),
  quiet('pair 400 + 405 Hz, Q 50', pairAt(400), [20, 30, 40, 50]),
  quiet('six-mode top', SIX_MODES, [10, 20, 30, 40, 50]),
  quiet('pair 200 + 205 Hz, 8 taps', pairAt(200), [20], [8]),
  quiet('pair 400 + 405 Hz, 8 taps', pairAt(400), [20], [8]),
  quiet('six-mode top, 3 holds of 8', SIX_MODES, [30], [8, 8, 8]),
  disturbed('six, contact of 3 ms', { hitMs: 3 }, [20, 40], 0.003),
  disturbed('six, 50.03 Hz hum', { humDb: -20 }, [20, 40]),
  disturbed('six, room noise', { noise: 'room' }, [20, 40]),
  disturbed('six, pink noise', { noise: 'pink' }, [20, 40]),
  disturbed('six, modes at 1650, 2300, 3900 Hz', { others: ABOVE }, [20, 40]),
  disturbed(
    'six, contact + hum + room noise + modes above',
    { hitMs: 3, humDb: -20, noise: 'room', others: ABOVE },
    [20, 30, 40],
    0.003,
  ),
  { ...disturbed('six, room poles and a clap', { others: ROOM }), clap: ROOM },
];

/** One round of a case: its taps by hold, what a clap told of the room, and the bound of its modes. */
export interface Trial {
  readonly taps: readonly (readonly TrueTap[])[];
  readonly clap: readonly RoomPole[];
  readonly bounds: readonly Bound[];
}

/** Seeds from here on: no constant of the estimator was chosen on them. */
const FIRST_SEED = 500_000_000;

/** Makes the trials of a case at one signal-to-noise ratio, by number; the same number gives the same trial. */
export function trialsOf(one: Case, snrDb: number): (number: number) => Trial {
  const boundOf = jointBoundFor(one.modes, NOISE_COLOURS[one.how.noise ?? 'white'], one.boundFromS);
  return (number) => {
    const random = seeded(FIRST_SEED + 7919 * number + Math.round(snrDb));
    const taps = one.holds.map((count) =>
      Array.from({ length: count }, () => trueTap(one.modes, snrDb, random, one.how)),
    );
    const clap = one.clap === undefined ? [] : roomPoles(trueTap(one.clap, snrDb + 10, random).tap);
    return { taps, clap, bounds: boundOf(taps.flat()) };
  };
}
