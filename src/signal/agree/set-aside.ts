// Taps that cannot be used: sounds that grow instead of dying away, and taps that disagree with the others of their round.

import { median } from '../../quantity/median.ts';
import { humFilter } from '../hear/hum-follower.ts';
import { hear } from '../prepare/hearing.ts';
import { elasticFit } from '../search/elastic.ts';
import { noiseLevel } from '../search/order.ts';
import type { Tap } from '../tap.ts';
import type { JointFit } from './joint-fit.ts';
import { readingsOf } from './readings.ts';

/** Part of a round that may be set aside at most, and taps needed to tell who is the odd one. */
const MOST_SET_ASIDE = 1 / 3;
const FEWEST_TAPS = 3;
/** How far beyond the middle tap of the round a tap's reading (chi-square a degree) or leftover must lie. */
const ODD_READING = 12;
const ODD_LEFTOVER = 1.6;
/** A tap of which the others explain all but this part is not odd by what it leaves, however quiet the room: two modes of a hundred. */
const LEAST_ODD_PART = 0.02;

/**
 * Whether a sound dies away after its onset: more energy in the first half than in the second, with the hum or without it.
 * A played-backwards tap, or a swelling tone, does not.
 */
export function ringsDown(tap: Tap): boolean {
  if (diesAway(tap.samples, tap.onsetIndex)) return true;
  // a hum louder than the ring has its energy in either half, as its periods happen to fall
  const { samples, onset } = hear([tap], humFilter(tap.sampleRateHz)).series[0]!;
  return diesAway(samples, Math.max(0, onset));
}

function diesAway(samples: Float32Array | Float64Array, onsetIndex: number): boolean {
  const middle = (onsetIndex + samples.length) >> 1;
  const energy = (from: number, to: number): number => {
    let sum = 0;
    for (let n = from; n < to; n++) sum += samples[n]! * samples[n]!;
    return sum;
  };
  return energy(onsetIndex, middle) > energy(middle, samples.length);
}

/**
 * Positions (in the order of the fit's taps) of taps that disagree with the others, at most a third of them, the oddest first.
 * A tap is odd if, next to the middle tap of the round, its own reading of the modes lies elsewhere or it leaves far more
 * unexplained. Elsewhere: away from the median of its hold's taps (of all taps where a hold has fewer than three), squared,
 * in units of its variance.
 */
export function disagreeing(joint: JointFit, holdOf: readonly number[]): number[] {
  const { search, fit, partition } = joint;
  const count = holdOf.length;
  if (count < FEWEST_TAPS) return [];
  const noise = fit[0]!.poles.map(() => noiseLevel(search, fit));
  const { taps } = readingsOf(joint, holdOf, noise);
  const elsewhere = taps.map((tap, k) => {
    const hold = taps.filter((_, other) => holdOf[other] === holdOf[k]);
    const company = hold.length >= FEWEST_TAPS ? hold : taps;
    const chiSquare = tap.reduce(
      (sum, { value, variance }, i) => sum + (value - median(company.map((other) => other[i]!.value))!) ** 2 / variance,
      0,
    );
    return chiSquare / tap.length;
  });
  const left = new Array<number>(count).fill(0);
  const part = new Array<number>(count).fill(0);
  partition.forEach((group, g) => {
    const { grid, energies } = search.groups[g]!;
    const leftovers = (search.elastic ? elasticFit(fit[g]!) : fit[g]!).left;
    group.forEach((k, i) => {
      left[k] = leftovers[i]! / grid.rows;
      part[k] = (leftovers[i]! - grid.rows) / energies[i]!;
    });
  });
  const oddness = elsewhere.map((distance, k) =>
    Math.max(
      distance / (ODD_READING * Math.max(1, median(elsewhere)!)),
      part[k]! < LEAST_ODD_PART ? 0 : left[k]! / (ODD_LEFTOVER * median(left)!),
    ),
  );
  return [...oddness.keys()]
    .filter((k) => oddness[k]! > 1)
    .sort((a, b) => oddness[b]! - oddness[a]!)
    .slice(0, Math.floor(count * MOST_SET_ASIDE));
}
