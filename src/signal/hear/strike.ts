// A strike: sound that jumps up within milliseconds over what was just heard and over the room. Beats of close modes
// swell over tens of milliseconds and are not strikes; a second touch of the finger is.
import type { BandEnergy } from '../filter/band.ts';
import type { RoomLevel } from './room.ts';

/** Hops (1 ms) of energy kept; long enough for the longest take with room before it. */
const KEPT = 4096;

/** The last 4 s of band energies, by hop counted from the start of the stream. */
export class EnergyTrace {
  private readonly lows = new Float64Array(KEPT);
  private readonly highs = new Float64Array(KEPT);
  /** hops taken so far */
  length = 0;

  add(energy: BandEnergy): void {
    this.lows[this.length % KEPT] = energy.low;
    this.highs[this.length % KEPT] = energy.high;
    this.length++;
  }

  /** What the last hops were after all: the end of the memory, oldest first. */
  mend(energies: readonly BandEnergy[]): void {
    this.length = Math.max(0, this.length - energies.length);
    for (const energy of energies) this.add(energy);
  }

  /** The bands of hops [from, from + length), one value a hop. */
  bands(from: number, length: number): { low: Float64Array; high: Float64Array } {
    return {
      low: Float64Array.from({ length }, (_, i) => this.low(from + i, from + i + 1)),
      high: Float64Array.from({ length }, (_, i) => this.high(from + i, from + i + 1)),
    };
  }

  /** Mean of the low band over hops [from, to), what lies outside the memory counting as nothing. */
  low(from: number, to: number): number {
    return this.mean(this.lows, from, to);
  }

  /** Mean of the high band over hops [from, to). */
  high(from: number, to: number): number {
    return this.mean(this.highs, from, to);
  }

  private mean(band: Float64Array, from: number, to: number): number {
    let sum = 0;
    for (let hop = Math.max(0, from, this.length - KEPT); hop < Math.min(to, this.length); hop++) {
      sum += band[hop % KEPT]!;
    }
    return sum / Math.max(1, to - from);
  }
}

/** What has just begun, if anything: the band in which it jumped. */
export type Jump = 'low' | 'high' | undefined;

/**
 * Whether a strike is seen in the newest hops.
 * Thresholds: our own, set on the generated and recorded sounds of tests/bench/detection.ts.
 * @param hitHigh high-band energy of the strike that opened the take now running, 0 if none
 */
export function jumpAt(trace: EnergyTrace, low: RoomLevel, high: RoomLevel, hitHigh: number): Jump {
  const now = trace.length;
  const lowNow = trace.low(now - 4, now);
  if (lowNow > Math.max(16 * low.mean, 4 * low.busy)) {
    let before = 0;
    for (let lag = 8; lag <= 40; lag += 4) before = Math.max(before, trace.low(now - lag - 4, now - lag));
    if (lowNow > 4 * before) return 'low';
  }
  const highNow = trace.high(now - 2, now);
  if (highNow > Math.max(16 * high.mean, 4 * high.busy, hitHigh / 400)) {
    let before = 0;
    for (let lag = 6; lag <= 24; lag += 2) before = Math.max(before, trace.high(now - lag - 2, now - lag));
    if (highNow > 8 * before) return 'high';
  }
  return undefined;
}
