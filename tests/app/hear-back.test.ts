import { expect, test } from 'vitest';
import { HearBack } from '../../src/app/hear-back.ts';
import { Notices } from '../../src/app/notices.ts';
import type { Sound } from '../../src/signal/filter/for-the-ear.ts';
import type { Tap } from '../../src/signal/tap.ts';

const tap = (level: number): Tap => ({
  sampleRateHz: 8000,
  onsetIndex: 160,
  samples: Float32Array.from({ length: 8000 }, (_, i) => (i < 160 ? 0 : level * Math.sin(i / 5))),
});

test('taps are played in the order asked for; one whose sound is gone is passed over, and none at all is said', async () => {
  const notices = new Notices();
  const played: (readonly Sound[])[] = [];
  const stored = new Map([
    ['a', tap(0.1)],
    ['b', tap(0.5)],
  ]);
  const hearBack = new HearBack(
    { getTaps: async (ids) => ids.map((id) => stored.get(id)), play: (sounds) => played.push(sounds) },
    notices,
  );
  await hearBack.play([{ id: 'a' }, { id: 'gone' }, { id: 'b', aboutHz: 200 }]);
  expect(played.map((sounds) => sounds.length)).toEqual([2]);
  expect(notices.current.value).toBeUndefined();
  await hearBack.play([{ id: 'gone' }]);
  expect(played).toHaveLength(1);
  expect(notices.current.value).toEqual({ kind: 'no-sound-here' });
});
