// Scores of the rounds of one cell by one method, summed up: what every table beside another method shows.
import type { RoundScore } from './furnished-rounds.ts';

const sum = (scores: readonly RoundScore[], of: (score: RoundScore) => number): number =>
  scores.reduce((total, one) => total + of(one), 0);
const percent = (part: number, of: number): string => (of === 0 ? '-' : ((100 * part) / of).toFixed(1));
const rms = (values: readonly number[]): string =>
  values.length === 0 ? '-' : Math.sqrt(values.reduce((total, x) => total + x * x, 0) / values.length).toFixed(3);

/** Found of those asked for, %, and spurious a round. */
export function foundAndSpurious(scores: readonly RoundScore[]): string {
  const found = sum(scores, (s) => s.found);
  const truths = sum(scores, (s) => s.truths);
  return `${percent(found, truths)}, ${(sum(scores, (s) => s.spurious) / scores.length).toFixed(2)}`;
}

/** Modes asked for. */
export const asked = (scores: readonly RoundScore[]): number => sum(scores, (s) => s.truths);

/** Root mean square errors of the found: f in bandwidths, ln Q. */
export const errors = (scores: readonly RoundScore[]): string =>
  `${rms(scores.flatMap((s) => s.errorsF))}, ${rms(scores.flatMap((s) => s.errorsLnQ))}`;

/** Intervals that hold f and Q, % of the found. */
export function holds(scores: readonly RoundScore[]): string {
  const found = sum(scores, (s) => s.found);
  const held = [sum(scores, (s) => s.heldF), sum(scores, (s) => s.heldQ)];
  return held.map((one) => percent(one, found)).join(', ');
}

/** Processor time that a work takes, ms, and what it gives. */
export function timed<T>(work: () => T): { readonly result: T; readonly ms: number } {
  const before = process.cpuUsage();
  const result = work();
  const { user, system } = process.cpuUsage(before);
  return { result, ms: (user + system) / 1000 };
}
