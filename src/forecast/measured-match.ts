// Which measured mode is which computed one: by the maker's names first, then by frequency.
import { matchModes } from '../compare/match.ts';

export interface NamedFrequency {
  readonly name: string | undefined;
  readonly frequencyHz: number;
}

export interface MeasuredPair {
  /** index of the computed mode */
  readonly computed: number;
  /** index of the measured mode */
  readonly measured: number;
  readonly by: 'name' | 'frequency';
}

/**
 * Pairs computed with measured modes. A name that stands once on both sides decides; the rest is paired by frequency
 * where it lies near enough.
 * @returns pairs in ascending order of the computed mode
 */
export function pairMeasured(
  computed: readonly NamedFrequency[],
  measured: readonly NamedFrequency[],
): readonly MeasuredPair[] {
  const pairs: MeasuredPair[] = [];
  measured.forEach(({ name }, m) => {
    if (name === undefined || measured.filter((other) => other.name === name).length > 1) return;
    const c = computed.findIndex((mode) => mode.name === name);
    if (c >= 0) pairs.push({ computed: c, measured: m, by: 'name' });
  });
  const left = (count: number, side: 'computed' | 'measured') =>
    Array.from({ length: count }, (_, i) => i).filter((i) => pairs.every((pair) => pair[side] !== i));
  const freeComputed = left(computed.length, 'computed');
  // A mode that the maker has named is not called something else for its frequency's sake.
  const freeMeasured = left(measured.length, 'measured').filter((m) => measured[m]!.name === undefined);
  const byFrequency = matchModes(
    freeComputed.map((c) => computed[c]!.frequencyHz),
    freeMeasured.map((m) => measured[m]!.frequencyHz),
  ).map(([c, m]): MeasuredPair => ({ computed: freeComputed[c]!, measured: freeMeasured[m]!, by: 'frequency' }));
  return [...pairs, ...byFrequency].toSorted((a, b) => a.computed - b.computed);
}
