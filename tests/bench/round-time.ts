// How long it takes to hear taps and to read a round, in one process, warmed up.
import { randomFrom } from '../../src/demo/random.ts';
import { roomNoise } from '../../src/demo/room.ts';
import { addTap, quantised } from '../../src/demo/tap-synth.ts';
import { splitTaps } from '../../src/signal/hear/listener.ts';
import { fitRound, fitTap } from '../../src/signal/round.ts';
import { SIX_MODES } from './tap-signals.ts';

const rateHz = 48_000;
const modes = SIX_MODES.map((mode) => ({ ...mode, level: 0.12 * 10 ** (mode.levelDb / 20) }));

const median = (times: readonly number[]): number => times.toSorted((a, b) => a - b)[times.length >> 1]!;

/** Lines of text: throughput of the listener, milliseconds for one tap and for a round of 8 taps in 3 holds. */
export function roundTimes(): readonly string[] {
  const chance = randomFrom(1);
  const everyS = 2;
  const sound = roomNoise(24 * everyS * rateHz, rateHz, 0.001, chance);
  for (let tap = 0; tap < 24; tap++) {
    const shift = 1 + 0.0005 * Math.floor(tap / 8);
    const held = modes.map((mode) => ({ ...mode, frequencyHz: mode.frequencyHz * shift }));
    addTap(
      sound,
      rateHz,
      held,
      { onsetS: 0.7 + tap * everyS, contactS: 0.003, strength: 1, spot: [0.5, 0.5], rustle: 0.3 },
      chance,
    );
  }
  const samples = quantised(sound);
  let begin = performance.now();
  const verdicts = splitTaps(samples, rateHz);
  const heardMs = performance.now() - begin;
  const taps = verdicts.flatMap((verdict) => (verdict.kind === 'accepted' ? [verdict.tap] : []));
  const holds = [0, 1, 2].map((hold) => taps.slice(8 * hold, 8 * hold + 8));
  const timed = (work: () => void, times: number): number =>
    median(
      Array.from({ length: times }, () => {
        begin = performance.now();
        work();
        return performance.now() - begin;
      }),
    );
  timed(() => fitTap(taps[0]!), 5);
  const one = timed(() => fitTap(taps[0]!), 15);
  const round = timed(() => fitRound(holds), 7);
  return [
    `listening                     ${((24 * everyS * 1000) / heardMs).toFixed(0)} x real time at 48 kHz, ${taps.length} of 24 taps kept`,
    `one tap read in               ${one.toFixed(0)} ms (aim 100)`,
    `8 taps x 3 holds read in      ${round.toFixed(0)} ms (aim 300)`,
  ];
}
