// What goes out, seen by a packer that notes what it was given; what the packed bytes hold is in tests/record.
import { describe, expect, test } from 'vitest';
import { Exchange, fileName } from '../../src/app/exchange.ts';
import type { Bundle, KeptAsIs } from '../../src/record/archive.ts';
import type { InstrumentRecord } from '../../src/record/record.ts';
import { records as stored } from '../../src/storage/shelf.ts';
import { recordOf, roundOf, stepOf } from '../record/small-record.ts';
import { plant, soundOf, storageMachine } from './storage-machine.ts';

async function exchangeOn(prefix: string, more: Record<string, unknown> = {}) {
  for (const id of await stored.recordIds()) await stored.removeRecord(id);
  const machine = storageMachine(prefix);
  const packed: { readonly bundles: readonly Bundle[]; readonly kept: readonly KeptAsIs[] }[] = [];
  const filing = {
    run: async (kind: string, ask: never) => {
      if (kind === 'write-archive') packed.push(ask);
      return Uint8Array.of(packed.length);
    },
  };
  const exchange = new Exchange({ ...machine.ports, ...more }, machine.shelf, filing as never, machine.notices);
  const idsIn = () =>
    packed.map(({ bundles, kept }) => [bundles.map(({ record }) => record.id), kept.map(({ id }) => id)]);
  return { ...machine, packed, exchange, idsIn };
}

const withPhoto = (record: InstrumentRecord, photoId: string): InstrumentRecord => ({
  ...record,
  steps: [...record.steps, stepOf('t', { photoId })],
});

describe('the name of a file', () => {
  test.each([
    ['Concert, cedar & rosewood', 'concert-cedar-rosewood'],
    ['Épicéa, très dur', 'epicea-tres-dur'],
    ['  --  ', 'record'],
    ['', 'record'],
    ['../../etc/passwd', 'etc-passwd'],
    ['木', 'record'],
    ['No. 12', 'no-12'],
  ])('every file system takes: %j becomes %j', (name, file) => {
    expect(fileName(name)).toBe(file);
  });

  test('is not too long for one either', () => {
    expect(fileName('x'.repeat(500))).toBe('x'.repeat(80));
  });
});

describe('one record as a file', () => {
  test('has its taps and pictures that are here, under its own name; what is missing is counted once', async () => {
    const { exchange, idsIn, notices, packed, ports, saved, shelf } = await exchangeOn('one');
    await ports.putTaps([
      ['one-a', soundOf(0.5)],
      ['one-b', soundOf(0.25)],
    ]);
    await ports.putPhoto('one-photo', new Blob(['pic']));
    // The same taps are in two rounds of it.
    const rounds = [roundOf('r', ['one-a', 'one-b', 'one-lost']), roundOf('q', ['one-a', 'one-lost'])];
    const record = withPhoto(withPhoto(recordOf('one-1', rounds), 'one-photo'), 'one-gone');
    await shelf.put({ ...record, name: 'Käte’s first' });
    await exchange.exportOne('one-1');
    expect(idsIn()).toEqual([[['one-1'], []]]);
    const [{ taps, photos }] = packed[0]!.bundles as [Bundle];
    expect([...taps]).toEqual([
      ['one-a', soundOf(0.5)],
      ['one-b', soundOf(0.25)],
    ]);
    expect([...photos].map(([id, bytes]) => [id, new TextDecoder().decode(bytes)])).toEqual([['one-photo', 'pic']]);
    expect(saved).toEqual([{ name: 'kate-s-first.zip', bytes: Uint8Array.of(1) }]);
    expect(notices.current.value).toEqual({
      kind: 'exported',
      files: 1,
      records: 1,
      taps: 2,
      missing: 1,
      unreadable: 0,
    });
  });

  test('is as it stands on screen where it is open, else as it is stored; one that is not there makes no file', async () => {
    const { disk, exchange, notices, packed, ports, saved, shelf } = await exchangeOn('now');
    await shelf.put(recordOf('now-1', []));
    disk.putsLeft = 0;
    void shelf.edit('now-1', 'notes', (record) => ({ ...record, notes: 'not stored yet' }));
    await exchange.exportOne('now-1');
    expect(packed[0]!.bundles[0]!.record.notes).toBe('not stored yet');
    disk.putsLeft = 9;
    await ports.putRecord({ ...recordOf('now-2', []), notes: 'stored' }, ports.nowIso());
    await exchange.exportOne('now-2');
    expect(packed[1]!.bundles[0]!.record.notes).toBe('stored');
    // The list does not know it: it is named by its id.
    expect(saved[1]!.name).toBe('now-2.zip');
    await exchange.exportOne('nowhere');
    expect(saved).toHaveLength(2);
    expect(notices.current.value).toMatchObject({ kind: 'exported', files: 0, records: 0 });
  });

  test('a copy of one holds the record as it stands on screen, with the sounds and pictures that are here', async () => {
    const { disk, exchange, packed, ports, shelf } = await exchangeOn('whole');
    await ports.putTaps([['whole-a', soundOf(0.5)]]);
    await ports.putPhoto('whole-photo', new Blob(['pic']));
    await shelf.put(withPhoto(recordOf('whole-1', [roundOf('r', ['whole-a', 'whole-lost'])]), 'whole-photo'));
    disk.putsLeft = 0;
    void shelf.edit('whole-1', 'notes', (record) => ({ ...record, notes: 'not stored yet' }));
    const written: unknown[] = [];
    await exchange.copyOne('whole-1', (name, type, bytes) => void written.push([name, type, bytes]));
    expect(written).toEqual([['one-whole-1.zip', 'application/zip', Uint8Array.of(1)]]);
    expect(packed).toHaveLength(1);
    const [{ bundles, kept }] = packed as [(typeof packed)[0]];
    expect(kept).toEqual([]);
    expect(bundles.map(({ record }) => [record.id, record.notes])).toEqual([['whole-1', 'not stored yet']]);
    expect([...bundles[0]!.taps]).toEqual([['whole-a', soundOf(0.5)]]);
    expect([...bundles[0]!.photos].map(([id, bytes]) => [id, new TextDecoder().decode(bytes)])).toEqual([
      ['whole-photo', 'pic'],
    ]);
  });

  test('a copy waits until its file is written, and one that cannot be read makes none', async () => {
    const { exchange, ports } = await exchangeOn('slow');
    await ports.putRecord(recordOf('slow-1', []), ports.nowIso());
    await plant({ ...recordOf('slow-2', []), schema: 'platewright-record/99' as never }, ports.nowIso());
    const order: string[] = [];
    await exchange.copyOne('slow-1', async () => {
      await Promise.resolve();
      order.push('written');
    });
    order.push('done');
    await exchange.copyOne('slow-2', () => void order.push('never'));
    expect(order).toEqual(['written', 'done']);
    await expect(
      exchange.copyOne('slow-1', async () => {
        throw new Error('folder gone');
      }),
    ).rejects.toThrow('folder gone');
  });

  test('a copy of one says nothing, and two of one name have different files', async () => {
    const { exchange, notices, ports, saved } = await exchangeOn('copy');
    for (const id of ['0123456789abcdef-first', '0123456789abcdef-other'])
      await ports.putRecord({ ...recordOf(id, []), name: 'Same' }, ports.nowIso());
    for (const id of ['0123456789abcdef-first', '0123456789abcdef-other', 'nowhere'])
      await exchange.copyOne(id, ports.saveFile);
    const names = saved.map(({ name }) => name);
    expect(names).toHaveLength(2);
    expect(new Set(names).size).toBe(2);
    for (const name of names) expect(name).toMatch(/^same-[a-z0-9-]{1,12}\.zip$/);
    expect(names[0]).toContain('first');
    expect(notices.current.value).toBeUndefined();
  });
});

describe('all records as files', () => {
  test('are those listed and those the list forgot, each once, with the day in the name', async () => {
    const { exchange, idsIn, ports, saved, shelf } = await exchangeOn('all');
    await shelf.put(recordOf('all-listed', []));
    await ports.putRecord(recordOf('all-forgotten', []), ports.nowIso());
    await exchange.exportAll();
    expect(idsIn()).toEqual([[['all-listed', 'all-forgotten'], []]]);
    expect(saved.map(({ name }) => name)).toEqual(['all-records-2026-11-25.zip']);
  });

  test('go where they are wanted, also where the browser does not say what is stored', async () => {
    const { exchange, idsIn, saved, shelf } = await exchangeOn('list', {
      recordIds: async () => {
        throw new Error('refused');
      },
    });
    await shelf.put(recordOf('list-1', []));
    const there: unknown[] = [];
    await exchange.exportAll((name, type) => void there.push([name, type]));
    expect(idsIn()).toEqual([[['list-1'], []]]);
    expect(there).toEqual([['all-records-2026-11-25.zip', 'application/zip']]);
    expect(saved).toEqual([]);
  });

  test('too much for one file are several: 300 MB each do not go together in half a gigabyte, 100 MB do', async () => {
    // Sounds of a size, of which nobody here reads a sample.
    const bytesOf: Record<string, number> = { a: 3e8, b: 3e8, c: 1e8, d: 1e8, e: 6e8 };
    const getTaps = async (ids: readonly string[]) =>
      ids.map((id) => ({ ...soundOf(0.5), samples: { byteLength: bytesOf[id.slice(-1)] } as Float32Array }));
    const { exchange, idsIn, notices, saved, ports, shelf } = await exchangeOn('parts', { getTaps });
    for (const each of 'abcde')
      await ports.putRecord(recordOf(`parts-${each}`, [roundOf('r', [`parts-tap-${each}`])]), ports.nowIso());
    await shelf.refresh();
    await exchange.exportAll();
    // One that is too large alone goes alone.
    expect(idsIn()).toEqual([
      [['parts-a'], []],
      [['parts-b', 'parts-c', 'parts-d'], []],
      [['parts-e'], []],
    ]);
    expect(saved.map(({ name }) => name)).toEqual([1, 2, 3].map((part) => `all-records-2026-11-25-part-${part}.zip`));
    expect(notices.current.value).toEqual({
      kind: 'exported',
      files: 3,
      records: 5,
      taps: 5,
      missing: 0,
      unreadable: 0,
    });
  });

  test('that cannot be read go along as they are, with every sound and picture they speak of', async () => {
    const { exchange, idsIn, notices, packed, ports, shelf } = await exchangeOn('kept');
    await ports.putTaps([
      ['kept-a', soundOf(0.5)],
      ['kept-other', soundOf(0.25)],
    ]);
    await ports.putPhoto('kept-photo', new Blob(['pic']));
    await ports.putPhoto('kept-else', new Blob(['pic']));
    const newer = {
      ...withPhoto(recordOf('kept-1', [roundOf('r', ['kept-a'])]), 'kept-photo'),
      schema: 'platewright-record/99' as never,
    };
    await plant(newer, ports.nowIso());
    await shelf.refresh();
    await exchange.exportAll();
    expect(idsIn()).toEqual([[[], ['kept-1']]]);
    const [{ text, taps, photos }] = packed[0]!.kept as [KeptAsIs];
    expect(JSON.parse(text)).toEqual(newer);
    expect(text.endsWith('}\n')).toBe(true);
    expect([[...taps.keys()], [...photos.keys()]]).toEqual([['kept-a'], ['kept-photo']]);
    expect(notices.current.value).toEqual({
      kind: 'exported',
      files: 1,
      records: 0,
      taps: 0,
      missing: 0,
      unreadable: 1,
    });
  });
});

test('a text goes out as UTF-8 under its name', async () => {
  const { exchange, saved } = await exchangeOn('text');
  exchange.saveText('note.txt', 'text/plain', 'Fichte ½');
  expect(saved).toEqual([{ name: 'note.txt', bytes: new TextEncoder().encode('Fichte ½') }]);
});
