// The listener over every invented piece and more sounds that are none than listener.test.ts asks.
import { expect, test } from 'vitest';
import { OTHER_SOUNDS, otherSound } from '../../../src/demo/other-sounds.ts';
import { randomFrom } from '../../../src/demo/random.ts';
import { quantised } from '../../../src/demo/tap-synth.ts';
import { splitTaps } from '../../../src/signal/hear/listener.ts';
import { PIECES } from '../../bench/listener-sounds.ts';
import { made, RATE, said } from './made-sounds.ts';

test('a tap is accepted from every piece at 20 dB over the room, close pairs and heavy damping too', () => {
  for (const piece of Object.values(PIECES)) {
    for (const seed of [2, 3, 4]) expect(said(splitTaps(made({ piece, snrDb: 20, seed }), RATE))).toEqual(['accepted']);
  }
});

test('a refusal is given for a second touch of the finger, with the time after the first', () => {
  for (const gapS of [0.06, 0.12, 0.25]) {
    for (const piece of Object.values(PIECES)) {
      const taps = [
        [1, 1],
        [1 + gapS, 0.6],
      ] as const;
      const verdicts = splitTaps(made({ piece, taps }), RATE);
      // the second is seen when it is 4 to 6 ms old, the first likewise
      expect(verdicts).toHaveLength(1);
      expect(verdicts[0]).toMatchObject({ refusal: { because: 'struck-twice', afterS: expect.closeTo(gapS, 1.5) } });
    }
  }
});

test('none of noise, hum, speech, claps, scrapes, doors, typing or radio is let in', () => {
  for (const kind of OTHER_SOUNDS) {
    for (let seed = 1; seed < 4; seed++) {
      const sound = quantised(otherSound(kind, RATE, 4, randomFrom(70_000 + seed)));
      expect([kind, seed, said(splitTaps(sound, RATE)).includes('accepted')]).toEqual([kind, seed, false]);
    }
  }
});
