// Which files become a round, by a bench that notes what it is given; that their taps are read is in workshop.test.ts.
import { describe, expect, test, vi } from 'vitest';
import { Notices } from '../../src/app/notices.ts';
import { Recordings } from '../../src/app/recordings.ts';
import { writeWav } from '../../src/files/wav-write.ts';
import { blocks, rateHz } from './taps-heard.ts';

const soundWith = (taps: number) =>
  writeWav(
    [Float32Array.from((taps === 0 ? [new Float32Array(rateHz)] : blocks(taps, 61)).flatMap((block) => [...block]))],
    rateHz,
  );
const oneTap = soundWith(1);
const file = (name: string, bytes: Uint8Array) => new File([new Uint8Array(bytes)], name);

function recordingsOn() {
  const given: unknown[][] = [];
  const bench = {
    heard: { value: [] as readonly { readonly number: number; readonly kind: string }[] },
    takeRecordings: async (...all: unknown[]) => void given.push(all),
  };
  const notices = new Notices();
  const shown: unknown[] = [];
  notices.current.subscribe((notice) => notice !== undefined && shown.push(notice));
  const recordings = new Recordings(bench as never, notices, async (blob) => new Uint8Array(await blob.arrayBuffer()));
  return { bench, given, recordings, shown };
}
const home = { recordId: 'r', stepId: 's' };

describe('files dropped on the bench', () => {
  test('those with taps are the holds of one round, named by all of them; what was heard in all is shown', async () => {
    const { bench, given, recordings, shown } = recordingsOn();
    const setting = { support: { hold: 'in-mould', bridge: 'off', strung: false }, spot: 'centre' } as const;
    const files = [file('one.wav', oneTap), file('silent.wav', soundWith(0)), file('two.wav', oneTap)];
    await recordings.take(() => home, files, setting);
    expect(given).toHaveLength(1);
    const [place, name, holds, how] = given[0]!;
    expect([place, name, how]).toEqual([home, 'one.wav, silent.wav, two.wav', setting]);
    expect((holds as unknown[][]).map((taps) => taps.length)).toEqual([1, 1]);
    expect((holds as unknown[][])[0]![0]).toMatchObject({ tap: { sampleRateHz: rateHz } });
    expect(bench.heard.value.map(({ number, kind }) => [number, kind])).toEqual([
      [0, 'accepted'],
      [1, 'accepted'],
    ]);
    expect(shown).toEqual([{ kind: 'file-refused', name: 'silent.wav', because: 'no-tap' }]);
  });

  test('without a step to go to nothing is taken, and what was heard is shown all the same', async () => {
    const { bench, given, recordings } = recordingsOn();
    await recordings.take(() => undefined, [file('one.wav', oneTap)]);
    expect([given, bench.heard.value.length]).toEqual([[], 1]);
  });

  test('many with long names have a name that a record takes', async () => {
    const { given, recordings } = recordingsOn();
    await recordings.take(() => home, [file(`${'x'.repeat(300)}.wav`, oneTap), file(`${'y'.repeat(300)}.wav`, oneTap)]);
    expect(given[0]![1]).toHaveLength(400);
  });

  test('a file that cannot be read is named with the reason and does not stop the others', async () => {
    const { given, recordings, shown } = recordingsOn();
    const ask = vi.fn(() => home);
    await recordings.take(ask, [file('none.wav', new Uint8Array(0)), file('one.wav', oneTap)]);
    expect(shown).toEqual([{ kind: 'file-refused', name: 'none.wav', because: 'empty' }]);
    expect(given).toHaveLength(1);
    expect(ask).toHaveBeenCalledTimes(1);
  });
});
