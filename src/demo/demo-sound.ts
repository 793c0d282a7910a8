// The sound of a round of the demo, with the truth it was made from.

import type { Tap } from '../signal/tap.ts';
import type { DemoRound } from './demo-steps.ts';
import { cutTap, type TapCut } from './demo-taps.ts';
import { randomFrom } from './random.ts';
import { addHum, reverberated, roomNoise } from './room.ts';
import { addTap, quantised } from './tap-synth.ts';

/** Rate of the demo's files, Hz: enough for every mode of a plate and for telling a tap from a clap. */
export const demoRateHz = 16_000;

const leadS = 0.7;
const everyS = 1.65;
const holdPauseS = 0.8;

/** What a round sounds like, and when each tap of which hold begins. */
export interface DemoSound {
  readonly samples: Float32Array;
  readonly taps: readonly { readonly hold: number; readonly onsetS: number }[];
}

/** Synthesises a round: taps in a quiet workshop with a little hum and its own reverberation. The same seed gives the same bytes. */
export function demoSound(round: DemoRound): DemoSound {
  const chance = randomFrom(round.seed);
  const holdS = round.tapsPerHold * everyS + holdPauseS;
  const length = Math.round((leadS + round.holds * holdS) * demoRateHz);
  const dry = new Float64Array(length);
  const taps: { hold: number; onsetS: number }[] = [];
  for (let hold = 0; hold < round.holds; hold++) {
    const held = 1 + round.holdScatter * chance.normal();
    for (let tap = 0; tap < round.tapsPerHold; tap++) {
      const shift = held * (1 + round.tapScatter * chance.normal());
      const onsetS = leadS + hold * holdS + tap * everyS + 0.05 * chance.uniform();
      taps.push({ hold, onsetS });
      addTap(
        dry,
        demoRateHz,
        round.modes.map((mode) => ({
          ...mode,
          frequencyHz: mode.frequencyHz * shift,
          level: mode.level * chance.between(0.9, 1.1),
        })),
        { onsetS, contactS: 0.003, strength: chance.between(0.75, 1.1), spot: [0.5, 0.5], rustle: 0.25 },
        chance,
      );
    }
  }
  const sound = roomNoise(length, demoRateHz, 0.0006, chance);
  const wet = reverberated(dry, demoRateHz, { modes: [], t60S: 0.35, tail: 0.02 }, chance);
  for (let n = 0; n < length; n++) sound[n] = sound[n]! + wet[n]!;
  addHum(sound, demoRateHz, 50.02, [0.0004, 0.0002, 0.0001], chance);
  return { samples: quantised(sound), taps };
}

/** The taps of a round as the listener took them. @param cuts where it heard them, n of them; returns (n,) */
export function demoTaps(round: DemoRound, cuts: readonly TapCut[]): readonly Tap[] {
  const { samples } = demoSound(round);
  return cuts.map((cut) => cutTap(samples, demoRateHz, cut));
}
