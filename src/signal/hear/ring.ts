// The shape of what follows a strike. A struck thing left to itself can only decay: the energy of a sum of decaying
// modes, in dB over time, falls and flattens (a sum of exponentials is log-convex) but for beats. A voice or a blade
// feeds energy in, so its level swells, holds and then drops.
import { decibels } from './room.ts';

/** How the low-band level goes after a strike; dB. */
export interface Ring {
  /** mean power of 5 to 40 ms after the strike, full scale = 1 */
  readonly power: number;
  /** the same over the room's level */
  readonly aboveRoomDb: number;
  /** how far the level later swells over its first 40 ms */
  readonly swellDb: number;
  /** how far the level bulges over the straight line from the strike to any later point */
  readonly bulgeDb: number;
  /** time of that point, s: where a level that was held up until then gives way */
  readonly bulgeAtS: number;
  /** how far the level has fallen by the end of the take */
  readonly fallDb: number;
  /** level where the take ends, over the room */
  readonly endAboveRoomDb: number;
  /** time at which a ring well over the room stops dead, s, if it does */
  readonly cutAtS: number | undefined;
  /** high band against low band, 10 to 60 ms after the strike */
  readonly brightnessDb: number;
}

const STEP = 20; // hops: the level is read every 20 ms

/**
 * @param low  low-band energy by hop of 1 ms from the strike on, (m,)
 * @param high high-band energy likewise, (m,)
 * @param roomPower mean low-band energy of the room
 */
export function ringShape(low: Float64Array, high: Float64Array, roomPower: number): Ring {
  const power = mean(low, 5, 40);
  const levels: number[] = [];
  for (let hop = 0; hop + STEP <= low.length; hop += STEP) {
    // the level of the ring without the room's share; never below half the room, where it says nothing any more
    levels.push(decibels(Math.max(mean(low, hop, hop + 2 * STEP) - roomPower, 0.5 * roomPower)));
  }
  const first = Math.max(levels[0] ?? -200, decibels(power));
  const highest = Math.max(...levels, -200);
  // what is still to come: it bridges the nulls of beating modes
  for (let i = levels.length - 2; i >= 0; i--) levels[i] = Math.max(levels[i]!, levels[i + 1]!);
  const last = levels.at(-1) ?? first;
  return {
    power,
    aboveRoomDb: decibels(power) - decibels(roomPower),
    swellDb: highest - first,
    ...bulge(levels, first),
    fallDb: first - last,
    endAboveRoomDb: last - decibels(roomPower),
    cutAtS: cut(low, roomPower),
    brightnessDb: decibels(mean(high, 10, 60)) - decibels(mean(low, 10, 60)),
  };
}

function mean(x: Float64Array, from: number, to: number): number {
  const end = Math.min(to, x.length);
  let sum = 0;
  for (let i = from; i < end; i++) sum += x[i]!;
  return sum / Math.max(1, end - from);
}

/** The most by which the levels rise above a chord from the first to a later one, and where. */
function bulge(levels: readonly number[], first: number): Pick<Ring, 'bulgeDb' | 'bulgeAtS'> {
  let most = 0;
  let at = 0;
  for (let end = 2; end < levels.length; end++) {
    if (levels[end]! < first - 40) break; // the far tail says nothing of what drove the sound
    const slope = (levels[end]! - first) / end;
    for (let i = 1; i < end; i++) {
      const over = levels[i]! - (first + slope * i);
      if (over <= most) continue;
      most = over;
      at = i;
    }
  }
  return { bulgeDb: most, bulgeAtS: (at * STEP) / 1000 };
}

/**
 * Where the level falls at once by 15 dB more than its own decay foretells and stays down, although it stood 20 dB over
 * the room: a gate of the sound driver, a hand laid on the plate, or the end of the recording's sound.
 */
function cut(low: Float64Array, roomPower: number): number | undefined {
  for (let hop = 40; hop + 120 <= low.length; hop += 5) {
    const earlier = mean(low, hop - 40, hop - 20);
    const before = mean(low, hop - 20, hop);
    if (before < 100 * roomPower) continue;
    const kept = Math.min(1, before / earlier); // in 20 hops
    let isDown = true;
    for (let later = hop + 15; isDown && later < hop + 115; later += 20) {
      const foretold = before * kept ** ((later + 20 - hop) / 20);
      isDown = mean(low, later, later + 20) < foretold / 30;
    }
    if (isDown) return hop / 1000;
  }
  return undefined;
}
