// Whether a hold disagrees with the others: the piece was not held as before, leaned on, or its tape had come loose.
import type { Estimate } from '../../quantity/estimate.ts';
import type { HoldDisagreement } from '../tap.ts';
import { USUAL_FREQUENCY_SCATTER } from './hold-scatter.ts';

/** What one hold by itself says of the modes. */
export interface HoldReading {
  /** from 0, as in the round */
  readonly hold: number;
  readonly modes: readonly HoldMode[];
}

interface HoldMode {
  readonly frequencyHz: Estimate;
  readonly levelDb: number;
}

/** Six standard deviations of the difference of two careful holds: so far apart they were not held alike. Own choice. */
const APART = 6 * Math.SQRT2 * USUAL_FREQUENCY_SCATTER;
/** So many times farther off than the farthest two of the others: then it is the odd one, and not one of many. Own choice. */
const ODD = 4;
/** Modes within so many dB of a hold's strongest are compared. */
const COMPARED_DB = 20;
/** Farther apart than this, two peaks are not one mode held otherwise. */
const SAME_MODE = 0.06;

/** From this relative sigma of a mode on, its holds are looked at one by one. Four times what careful holds leave. */
export const LOOKED_AT = 4 * USUAL_FREQUENCY_SCATTER;

/**
 * @returns undefined where they agree, where there is one alone, or where too little was heard to tell
 */
export function holdDisagreement(holds: readonly HoldReading[]): HoldDisagreement | undefined {
  if (holds.length < 2) return undefined;
  const distance = holds.map((a) => holds.map((b) => (a === b ? 0 : apart(a, b))));
  const farthest = (among: readonly number[]): number =>
    Math.max(...among.flatMap((i) => among.map((j) => distance[i]![j]!)));
  const all = [...holds.keys()];
  if (!(farthest(all) > APART)) return undefined;
  if (holds.length > 2)
    for (const odd of all) {
      const others = all.filter((i) => i !== odd);
      const off = Math.min(...others.map((i) => distance[odd]![i]!));
      if (off > Math.max(APART, ODD * farthest(others))) return { apart: off, hold: holds[odd]!.hold };
    }
  return { apart: farthest(all) };
}

/**
 * How far the strong modes of two holds lie apart beyond what their own noise allows; 0 where they share none. Two modes are the
 * same where each is the nearest to the other of all that was heard: tapped at another spot, a hold may be deaf to one of them.
 */
function apart(a: HoldReading, b: HoldReading): number {
  if (b.modes.length === 0) return 0;
  const heardWell = strong(b);
  const squares = strong(a).flatMap((mode) => {
    const other = nearest(b, mode);
    if (off(other, mode) > SAME_MODE || nearest(a, other) !== mode || !heardWell.includes(other)) return [];
    const noise = relative(mode.frequencyHz) ** 2 + relative(other.frequencyHz) ** 2;
    return [Math.max(0, off(other, mode) ** 2 - noise)];
  });
  return squares.length === 0 ? 0 : Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length);
}

const nearest = ({ modes }: HoldReading, to: HoldMode): HoldMode =>
  modes.reduce((best, one) => (off(one, to) < off(best, to) ? one : best));

const strong = ({ modes }: HoldReading): readonly HoldMode[] => {
  const loudest = Math.max(...modes.map(({ levelDb }) => levelDb));
  return modes.filter(({ levelDb }) => levelDb > loudest - COMPARED_DB);
};

const off = (a: HoldMode, b: HoldMode): number => Math.abs(Math.log(a.frequencyHz.value / b.frequencyHz.value));

const relative = ({ value, sigma }: Estimate): number => sigma / value;
