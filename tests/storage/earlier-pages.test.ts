// The names under which earlier pages stored things: they lie on the makers' machines.
import 'fake-indexeddb/auto';
import { promisifyRequest } from 'idb-keyval';
import { expect, test } from 'vitest';
import { newRecord, summarise } from '../../src/record/record.ts';
import { Database } from '../../src/storage/database.ts';
import { loadCards } from '../../src/storage/library-cards.ts';
import { RecordStore, records } from '../../src/storage/shelf.ts';

const at = '2026-11-25T08:00:00.000Z';
const fresh = (id: string) => newRecord({ id, createdAtIso: at, name: `Instrument ${id}` });
const plant = (database: Database, id: string) =>
  database.run('readwrite', (store) => {
    store.put(fresh(id), `record:${id}`);
    store.put(summarise(fresh(id), at), `summary:${id}`);
    return promisifyRequest(store.transaction);
  });

test('records that pages stored which know of no versions are on the shelf', async () => {
  await plant(new Database('platewright-records'), 'old');
  expect(await records.loadRecord('old')).toEqual({ kind: 'record', record: fresh('old') });
  expect((await records.listSummaries()).map(({ id }) => id)).toEqual(['old']);
  expect(await records.recordIds()).toEqual(['old']);
});

test('cards that were kept are found', async () => {
  const card = { id: 'a', changedAtIso: at, card: {} };
  await new Database('platewright-library').run('readwrite', (store) => promisifyRequest(store.put(card, 'a')));
  expect(await loadCards()).toEqual([card]);
});

test('a tab that is slow to take over takes nothing over what another has stored by then', async () => {
  await plant(new Database('slow-older'), 'kept');
  const older = new Database('slow-older');
  let goOn: () => void = () => undefined;
  const read = new Promise<void>((resolve) => {
    const { run } = older;
    older.run = async (...given) => {
      const answer = await run.apply(older, given);
      resolve();
      await new Promise<void>((open) => {
        goOn = open;
      });
      return answer as never;
    };
  });
  const slow = new RecordStore(new Database('slow', 'strict'), older).listSummaries();
  await read;
  const quick = new RecordStore(new Database('slow', 'strict'), new Database('slow-older'));
  await quick.putRecord({ ...fresh('kept'), name: 'Changed meanwhile' }, at);
  goOn();
  await slow;
  expect(await quick.loadRecord('kept')).toMatchObject({ record: { name: 'Changed meanwhile' } });
});
