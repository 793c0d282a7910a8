// A room that answers pulls the poles of a fit, and the pull is taken off the right way: against the truth of the sounds.
import { expect, test } from 'vitest';
import { roomAnswer } from '../../../src/signal/tell/room-answer.ts';
import { trustedPoles } from '../../../src/signal/tell/scatter.ts';
import { normal, seeded } from '../../bench/tap-signals.ts';
import { jointOf, RATE_HZ } from '../plain-taps.ts';

const MODES = [100, 170, 240, 320, 410].map((hz) => ({ hz, q: 45 }));
const ONSET = 0.5 * RATE_HZ;
/** A diffuse answer, noise under an exponential (Polack 1993), 34 dB under the direct sound. */
const T60_S = 0.35;
const ANSWER = 4e-4;

/** Three taps, each mode sounding on in the room: exp(s t) (1 + sum of h(u) exp(-s u)), h alike in all taps. */
function tapsIn(seed: number) {
  const random = seeded(seed);
  const rows = 1.2 * RATE_HZ;
  const fall = Math.log(1000) / T60_S / RATE_HZ;
  // the energy of all of h over that of the direct sound
  const response = Float64Array.from(
    { length: rows },
    (_, n) => Math.sqrt(2 * fall * ANSWER) * normal(random) * Math.exp(-fall * n),
  );
  return [1, 2, 3].map(() => {
    const samples = new Float32Array(ONSET + rows).map(() => 1e-6 * normal(random));
    for (const { hz, q } of MODES) {
      const [decay, turn, phase] = [(Math.PI * hz) / q / RATE_HZ, (2 * Math.PI * hz) / RATE_HZ, 6 * random()];
      let [re, im] = [1, 0];
      for (let n = 0; n < rows; n++) {
        const grown = response[n]! * Math.exp(decay * n);
        re += grown * Math.cos(turn * n);
        im -= grown * Math.sin(turn * n);
        const angle = turn * n + phase;
        samples[ONSET + n]! += 0.1 * Math.exp(-decay * n) * (re * Math.cos(angle) - im * Math.sin(angle));
      }
    }
    return { samples, sampleRateHz: RATE_HZ, onsetIndex: ONSET };
  });
}

test('the pull of a room is taken off: what is told lies nearer to the truth than what was fitted', () => {
  const squares = { fitted: [0, 0], told: [0, 0] };
  for (const seed of [1, 2, 3, 4]) {
    const taps = tapsIn(7000 + seed);
    const joint = jointOf(taps);
    const told = trustedPoles(joint, [0, 0, 0], roomAnswer(joint));
    for (const { hz, q } of MODES) {
      const m = joint.fit[0]!.poles.findIndex((pole) => Math.abs(pole.frequencyHz - hz) < 0.02 * hz);
      const pole = joint.fit[0]!.poles[m]!;
      const errors = (frequencyHz: number, lnDecay: number) => [
        (frequencyHz / hz - 1) * q,
        lnDecay - Math.log((Math.PI * hz) / q),
      ];
      const { stated } = told[m]!;
      const both = {
        fitted: errors(pole.frequencyHz, Math.log(pole.decayPerS)),
        told: errors(stated.frequencyHz.value, stated.lnDecay.value),
      };
      for (const kind of ['fitted', 'told'] as const) for (const i of [0, 1]) squares[kind][i]! += both[kind][i]! ** 2;
    }
  }
  expect(squares.told[0]).toBeLessThan(0.7 * squares.fitted[0]!);
  expect(squares.told[1]).toBeLessThan(0.7 * squares.fitted[1]!);
});
