import { describe, expect, test } from 'vitest';
import { Rereading } from '../../src/app/rereading.ts';
import { recordOf, roundOf } from '../record/small-record.ts';
import { soundOf, storageMachine } from './storage-machine.ts';

const fit = { method: 'read again', modes: [], used: [], setAside: [], scatterKnown: false };

function rereadingOn(prefix: string) {
  const machine = storageMachine(prefix);
  const asked: unknown[] = [];
  const worker = { answer: async (): Promise<unknown> => fit };
  const solver = {
    run: async (kind: string, ask: unknown) => {
      asked.push([kind, ask]);
      return worker.answer();
    },
  };
  return { ...machine, asked, worker, rereading: new Rereading(machine.ports.getTaps, solver as never, machine.shelf) };
}
const placeOf = (roundId: string) => ({ stepId: 's', roundId });

describe('reading rounds again', () => {
  test('takes the taps that are here, by hold, with what was known of the room, and closes the round', async () => {
    const { asked, ports, rereading, shelf } = rereadingOn('again');
    const poles = [{ frequencyHz: { value: 61, sigma: 1 }, q: { value: 15, sigma: 1 } }] as never;
    const round = roundOf('r', ['again-a', 'again-lost', 'again-b', 'again-c'], { roomPoles: poles });
    const inHolds = { ...round, taps: round.taps.map((tap, i) => ({ ...tap, hold: [0, 1, 2, 2][i]! })) };
    await ports.putTaps(['a', 'b', 'c'].map((id, i) => [`again-${id}`, soundOf(0.1 * (i + 1))]));
    await shelf.put(recordOf('again-1', [inHolds, roundOf('q', ['again-a'])]));
    const changes = await rereading.read('again-1', [placeOf('r'), placeOf('q')]);
    // The second hold has no sound left.
    expect(asked).toEqual([
      ['fit-round', { holds: [[soundOf(0.1)], [], [soundOf(0.2), soundOf(0.1 * 3)]], roomPoles: poles }],
      ['fit-round', { holds: [[soundOf(0.1)]], roomPoles: [] }],
    ]);
    expect(new Set(changes.map(({ path }) => path[3]))).toEqual(new Set(['#r', '#q']));
    expect(await ports.loadRecord('again-1')).toMatchObject({
      record: {
        steps: [
          {
            rounds: [
              { id: 'r', state: 'closed', fit },
              { id: 'q', state: 'closed', fit },
            ],
          },
        ],
      },
    });
  });

  test('leaves a round as it is that has no sound, cannot be read or is not there; the next one is read all the same', async () => {
    const { asked, ports, rereading, shelf, worker } = rereadingOn('left');
    await ports.putTaps([['left-a', soundOf(0.5)]]);
    const record = recordOf('left-1', [
      roundOf('silent', ['left-lost']),
      roundOf('hard', ['left-a']),
      roundOf('good', ['left-a']),
    ]);
    await shelf.put(record);
    let times = 0;
    worker.answer = async () => {
      if (times++ === 0) throw new Error('cannot be read');
      return fit;
    };
    const changes = await rereading.read('left-1', ['nowhere', 'silent', 'hard', 'good'].map(placeOf));
    expect(asked).toHaveLength(2);
    expect(new Set(changes.map(({ path }) => path[3]))).toEqual(new Set(['#good']));
    const read = await ports.loadRecord('left-1');
    const rounds = read?.kind === 'record' ? read.record.steps[0]!.rounds : [];
    expect(rounds.slice(0, 2)).toEqual(record.steps[0]!.rounds.slice(0, 2));
    expect(rounds[2]).toMatchObject({ state: 'closed', fit });
    expect(await rereading.read('nowhere', [placeOf('r')])).toEqual([]);
  });
});
