// Signs from one microphone: the amplitudes of a tap are real up to one time of contact, those of a mode up to one phase.
import type { Wave } from '../signal/tap.ts';

/** Amplitudes with their sign, one phase of each mode and one time of each tap taken off. */
export interface SignedAmplitudes {
  /** (taps, modes) */
  readonly amplitudes: readonly (readonly number[])[];
  /** what is left across the common phase, (taps, modes): zero but for noise and for what is not one mode */
  readonly across: readonly (readonly number[])[];
  /** how much later than its onset each tap was, s, (taps,) */
  readonly lateS: readonly number[];
}

/** The middle of a contact is this far off that of the usual one at most, s, and usually: half of what contacts differ by, and the onset's error. */
const WITHIN_S = 0.0008;
const USUALLY_S = 0.0003;
/** Phase by which a mode that is heard well is off all the same, rad: two modes that are close, the end of the contact. */
const PHASE_RAD = 0.3;
const STEP_S = 0.00001;
/** More rounds changed no sign in the prototype of the study this follows. */
const ROUNDS = 8;

/**
 * @param waves          of each mode at each tap, (taps, modes)
 * @param frequenciesHz (modes,)
 * Source of the alternation: ours.
 */
export function signedAmplitudes(
  waves: readonly (readonly Wave[])[],
  frequenciesHz: readonly number[],
): SignedAmplitudes {
  const modes = frequenciesHz.map((_, k) => k);
  const scale = modes.map((k) => Math.hypot(...waves.map((tap) => size(tap[k]!))) || 1);
  const phases = modes.map(() => 0);
  const lateS = waves.map(() => 0);
  const turnOf = (tap: number, k: number): number =>
    Math.atan2(-waves[tap]![k]!.sine, waves[tap]![k]!.cosine) + 2 * Math.PI * frequenciesHz[k]! * lateS[tap]!;
  for (let round = 0; round < ROUNDS; round++) {
    for (const k of modes) {
      let [re, im] = [0, 0];
      waves.forEach((tap, i) => {
        const power = size(tap[k]!) ** 2;
        re += power * Math.cos(2 * turnOf(i, k));
        im += power * Math.sin(2 * turnOf(i, k));
      });
      phases[k] = Math.atan2(im, re) / 2;
    }
    waves.forEach((tap, i) => {
      let best = Number.NEGATIVE_INFINITY;
      const turns = modes.map((k) => Math.atan2(-tap[k]!.sine, tap[k]!.cosine) - phases[k]!);
      const powers = modes.map((k) => (size(tap[k]!) / scale[k]!) ** 2);
      const all = powers.reduce((sum, power) => sum + power, 0) || 1;
      const weights = powers.map((power) => (modes.length * power) / (all * PHASE_RAD ** 2));
      for (let late = -WITHIN_S; late <= WITHIN_S; late += STEP_S) {
        let score = -((late / USUALLY_S) ** 2);
        for (const k of modes) score += weights[k]! * Math.cos(turns[k]! + 2 * Math.PI * frequenciesHz[k]! * late) ** 2;
        if (score <= best) continue;
        best = score;
        lateS[i] = late;
      }
    });
  }
  const part = (of: (turn: number) => number) =>
    waves.map((tap, i) => tap.map((wave, k) => size(wave) * of(turnOf(i, k) - phases[k]!)));
  return { amplitudes: part(Math.cos), across: part(Math.sin), lateS };
}

const size = ({ cosine, sine }: Wave): number => Math.hypot(cosine, sine);
