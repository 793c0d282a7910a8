import { describe, expect, test } from 'vitest';
import { BoxRounds } from '../../src/app/box-rounds.ts';

const home = { recordId: 'box', stepId: 's' };

/** A bench and the files dropped on it, each noting how the box is held and tapped while it measures. */
function boxOn(fails?: Error) {
  const bench = {
    support: { value: { hold: 'box-open', bridge: 'glued', strung: true } as unknown },
    spot: { value: 'elsewhere' },
    start: async (at: unknown) => measured('microphone', at),
  };
  const seen: unknown[] = [];
  const measured = async (by: string, at: unknown) => {
    await Promise.resolve();
    seen.push({ by, at, support: bench.support.value, spot: bench.spot.value });
    if (fails !== undefined) throw fails;
  };
  const recordings = {
    take: async (at: () => unknown, files: readonly File[]) => measured(files.map(({ name }) => name).join(), at()),
  };
  return { bench, seen, rounds: new BoxRounds(bench as never, recordings as never) };
}

describe('rounds in states of the closed box', () => {
  test('by microphone or from files are held and tapped as the state asks, and the bench is as before afterwards', async () => {
    const { bench, rounds, seen } = boxOn();
    await rounds.listen(home, 'blocked', 0);
    await rounds.take(home, 'blocked', 0, [new File([], 'one.wav'), new File([], 'two.wav')]);
    expect(seen).toMatchObject([
      { by: 'microphone', at: home, support: { hold: 'box-hole-blocked', bridge: 'glued', strung: true } },
      { by: 'one.wav,two.wav', at: home, support: { hold: 'box-hole-blocked', bridge: 'glued', strung: true } },
    ]);
    for (const { spot } of seen as { spot: string }[]) expect(spot).not.toBe('elsewhere');
    expect([bench.support.value, bench.spot.value]).toEqual([
      { hold: 'box-open', bridge: 'glued', strung: true },
      'elsewhere',
    ]);
  });

  test('that cannot be measured leave the bench as it was as well', async () => {
    const fault = new Error('no microphone');
    const { bench, rounds } = boxOn(fault);
    await expect(rounds.listen(home, 'blocked', 0)).rejects.toBe(fault);
    expect([bench.support.value, bench.spot.value]).toEqual([
      { hold: 'box-open', bridge: 'glued', strung: true },
      'elsewhere',
    ]);
  });

  test('with a lump have its mass in the note of how it was held', async () => {
    const { rounds, seen } = boxOn();
    await rounds.listen(home, 'mass', 12.5);
    await rounds.take(home, 'mass-on-back', 20, []);
    expect(seen).toMatchObject([{ support: { addedMassG: 12.5 } }, { support: { addedMassOnBackG: 20 } }]);
  });
});
