import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { Exchange } from '../../src/app/exchange.ts';
import { Imports } from '../../src/app/imports.ts';
import { Rereading } from '../../src/app/rereading.ts';
import { type Bundle, readArchive, tapIds, writeArchive } from '../../src/record/archive.ts';
import { type InstrumentRecord, newRecord, type Round } from '../../src/record/record.ts';
import { recordToUff } from '../../src/record/uff-record.ts';
import { writeUff } from '../../src/record/uff-write.ts';
import type { Tap } from '../../src/signal/tap.ts';
import { StorageError } from '../../src/storage/database.ts';
import { recordOf, roundOf } from '../record/small-record.ts';
import { filing, plant, soundOf, storageMachine } from './storage-machine.ts';

const fitBy = (method: string): NonNullable<Round['fit']> => ({
  method,
  modes: [],
  used: [],
  setAside: [],
  scatterKnown: false,
});

function importsOn(prefix: string) {
  const machine = storageMachine(prefix);
  const asked: number[][] = [];
  const solver = {
    run: async (_kind: string, ask: { readonly holds: readonly (readonly unknown[])[] }) => {
      asked.push(ask.holds.map((hold) => hold.length));
      return fitBy('read again');
    },
  };
  const rereading = new Rereading(machine.ports.getTaps, solver as never, machine.shelf);
  const imports = new Imports(machine.ports, machine.shelf, rereading, filing, machine.notices);
  return { ...machine, asked, imports, exchange: new Exchange(machine.ports, machine.shelf, filing, machine.notices) };
}

const bundleOf = (record: InstrumentRecord, mark = 0.5): Bundle => ({
  record,
  taps: new Map(tapIds(record).map((id) => [id, soundOf(mark)])),
  photos: new Map(),
});
const fileOf = (bundles: readonly Bundle[], name = 'all.zip') =>
  new File([new Uint8Array(writeArchive(bundles))], name);

describe('taking archives in', () => {
  test('looking stores nothing; agreeing stores the record and its sounds; undo puts it into the bin and redo takes it out', async () => {
    const { imports, ports, shelf } = importsOn('new');
    const bundle = bundleOf(recordOf('new-1', [roundOf('r', ['new-a', 'new-b'])]));
    await imports.look([fileOf([bundle])]);
    expect(imports.state.value).toMatchObject({
      kind: 'asking',
      files: [{ records: [{ name: 'One', newSounds: 2, plan: { fate: 'new' } }] }],
    });
    expect(await ports.loadRecord('new-1')).toBeUndefined();
    expect(await ports.getTaps(['new-a'])).toEqual([undefined]);
    await imports.agree();
    expect(await ports.loadRecord('new-1')).toEqual({ kind: 'record', record: bundle.record });
    expect(await ports.getTaps(['new-a', 'new-b'])).toEqual([soundOf(0.5), soundOf(0.5)]);
    await shelf.undo();
    await shelf.flush();
    expect(await ports.loadRecord('new-1')).toMatchObject({ record: { deletedAtIso: ports.nowIso() } });
    await shelf.redo();
    await shelf.flush();
    expect(await ports.loadRecord('new-1')).toEqual({ kind: 'record', record: bundle.record });
  });

  test('the same archive again adds nothing, doubles nothing and leaves the sound that is here', async () => {
    const { imports, ports, shelf } = importsOn('twice');
    const record = recordOf('twice-1', [roundOf('r', ['twice-a'])]);
    for (const mark of [0.5, 0.25]) {
      await imports.look([fileOf([bundleOf(record, mark)])]);
      await imports.agree();
    }
    expect(await ports.loadRecord('twice-1')).toEqual({ kind: 'record', record });
    expect(await ports.getTaps(['twice-a'])).toEqual([soundOf(0.5)]);
    expect(shelf.summaries.value.filter(({ id }) => id === 'twice-1')).toHaveLength(1);
  });

  test('both sides went on: steps and taps come together, the joined round is read again, and undo goes back to before', async () => {
    const { imports, ports, shelf, asked } = importsOn('join');
    const mine = recordOf('join-1', [roundOf('r', ['join-a', 'join-b'], { state: 'closed', fit: fitBy('mine') })]);
    const theirs = recordOf('join-1', [roundOf('r', ['join-b', 'join-c'], { state: 'closed', fit: fitBy('theirs') })]);
    await ports.putTaps([...bundleOf(mine).taps]);
    await shelf.put(mine);
    await imports.look([fileOf([bundleOf(theirs)])]);
    await imports.agree();
    expect(asked).toEqual([[3]]);
    const joined = await ports.loadRecord('join-1');
    expect(joined?.kind === 'record' && tapIds(joined.record).toSorted()).toEqual(['join-a', 'join-b', 'join-c']);
    expect(joined).toMatchObject({ record: { steps: [{ rounds: [{ fit: { method: 'read again' } }] }] } });
    await shelf.undo();
    await shelf.flush();
    expect(await ports.loadRecord('join-1')).toEqual({ kind: 'record', record: mine });
  });

  test('what only brings a step is one edit too, without anything read again', async () => {
    const { imports, ports, shelf, asked } = importsOn('step');
    const mine = recordOf('step-1', []);
    await shelf.put(mine);
    const theirs = { ...mine, steps: [...mine.steps, { ...mine.steps[0]!, id: 'later' }] };
    await imports.look([fileOf([bundleOf(theirs)])]);
    await imports.agree();
    expect(asked).toEqual([]);
    expect(shelf.record.value?.steps.map(({ id }) => id)).toEqual(['s', 'later']);
    await shelf.undo();
    await shelf.flush();
    expect(await ports.loadRecord('step-1')).toEqual({ kind: 'record', record: mine });
  });

  test('no file is nothing to look into; what was looked into can be left alone, and agreed to only once', async () => {
    const { imports, ports, notices } = importsOn('leave');
    await imports.look([]);
    expect(imports.state.value).toEqual({ kind: 'none' });
    await imports.agree();
    expect(notices.current.value).toBeUndefined();
    const file = fileOf([bundleOf(recordOf('leave-1', [roundOf('r', ['leave-a'])]))], 'mine.zip');
    const states: unknown[] = [];
    const unwatch = imports.state.subscribe((state) => states.push(state));
    await imports.look([file]);
    unwatch();
    expect(states.slice(0, -1)).toEqual([{ kind: 'none' }, { kind: 'reading', name: 'mine.zip' }]);
    expect(imports.state.value.kind).toBe('asking');
    imports.cancel();
    expect(imports.state.value).toEqual({ kind: 'none' });
    await imports.agree();
    expect(await ports.loadRecord('leave-1')).toBeUndefined();
    await imports.look([file]);
    const agreed = imports.agree();
    expect(imports.state.value).toEqual({ kind: 'taking', done: 0, of: 1 });
    // While it is taken in, nothing else is looked into.
    await imports.look([fileOf([bundleOf(recordOf('leave-2', []))])]);
    await agreed;
    expect(imports.state.value).toEqual({ kind: 'none' });
    expect(notices.current.value).toEqual({ kind: 'imported', records: 1, taps: 1, lost: 0 });
    expect(await ports.loadRecord('leave-2')).toBeUndefined();
  });

  test('a storage that refuses to say what is here is told; a fault of ours comes out', async () => {
    const machine = storageMachine('say');
    let thrown: unknown = new StorageError('refused', undefined);
    const ports = {
      ...machine.ports,
      soundIds: async () => {
        throw thrown;
      },
    };
    const rereading = new Rereading(ports.getTaps, { run: async () => undefined as never }, machine.shelf);
    const imports = new Imports(ports, machine.shelf, rereading, filing, machine.notices);
    const file = fileOf([bundleOf(recordOf('say-1', []))]);
    await imports.look([file]);
    expect(machine.notices.current.value).toEqual({ kind: 'storage', reason: 'refused' });
    expect(imports.state.value).toEqual({ kind: 'none' });
    thrown = new TypeError('ours');
    await expect(imports.look([file])).rejects.toBe(thrown);
    expect(imports.state.value).toEqual({ kind: 'none' });
  });

  test('pictures come with their record; one that is here stays', async () => {
    const { imports, ports } = importsOn('photo');
    const record = recordOf('photo-1', []);
    const [step] = record.steps;
    const withPhotos = {
      ...record,
      steps: [
        { ...step!, photoId: 'photo-here' },
        { ...step!, id: 't', photoId: 'photo-new' },
        // The archive lost this one: an empty picture is not put in its place.
        { ...step!, id: 'u', photoId: 'photo-lost' },
      ],
    };
    await ports.putPhoto('photo-here', new Blob(['mine']));
    const put: string[] = [];
    const { putPhoto } = ports;
    ports.putPhoto = async (id, photo) => {
      put.push(`${id} ${photo.type} ${await photo.text()}`);
      await putPhoto(id, photo);
    };
    const photos = new Map(['photo-here', 'photo-new'].map((id) => [id, new TextEncoder().encode('theirs')]));
    await imports.look([fileOf([{ ...bundleOf(withPhotos), photos }])]);
    await imports.agree();
    expect(put).toEqual(['photo-new image/jpeg theirs']);
    expect(await ports.getPhoto('photo-lost')).toBeUndefined();
  });

  test('hundreds of sounds are stored fifty at a time, each once', async () => {
    const { imports, ports } = importsOn('fifty');
    const ids = Array.from({ length: 101 }, (_, i) => `fifty-${i}`);
    const record = recordOf('fifty-1', [roundOf('r', ids), roundOf('q', ids.slice(0, 3))]);
    const stored: number[] = [];
    const { putTaps } = ports;
    ports.putTaps = async (taps) => {
      stored.push(taps.length);
      await putTaps(taps);
    };
    await imports.look([fileOf([bundleOf(record)])]);
    await imports.agree();
    expect(stored).toEqual([50, 50, 1]);
    expect((await ports.getTaps(ids)).every((tap) => tap !== undefined)).toBe(true);
  });

  test('an outline too long to be one is refused before it is read; else it is read by its name', async () => {
    const machine = storageMachine('outline');
    const asked: unknown[] = [];
    const drawing = {
      run: async (kind: string, ask: unknown) => {
        asked.push([kind, ask]);
        return 'an outline';
      },
    };
    const imports = new Imports(machine.ports, machine.shelf, undefined as never, drawing as never, machine.notices);
    expect(await imports.outline(new File(['a drawing'], 'top.svg'))).toBe('an outline');
    expect(asked).toEqual([['read-outline', { name: 'top.svg', text: 'a drawing' }]]);
    // Two million characters are taken, one more is not.
    expect(await imports.outline(new File(['x'.repeat(2_000_000)], 'long.svg'))).toBe('an outline');
    const tooLong = await imports.outline(new File(['x'.repeat(2_000_001)], 'longer.svg'));
    expect(tooLong).toEqual({ kind: 'refused', because: 'too-large' });
    expect(asked).toHaveLength(2);
  });

  test('several records are one edit', async () => {
    const { imports, ports, shelf } = importsOn('many');
    const records = ['many-1', 'many-2', 'many-3'].map((id) => recordOf(id, []));
    await imports.look([fileOf(records.map((record) => bundleOf(record)))]);
    await imports.agree();
    expect(shelf.toUndo.value).toBe('import');
    await shelf.undo();
    await shelf.flush();
    for (const { id } of records)
      expect(await ports.loadRecord(id)).toMatchObject({ record: { deletedAtIso: ports.nowIso() } });
    expect(shelf.toUndo.value).toBeUndefined();
  });

  test('two parts that hold two states of one record are joined, and the second says so before', async () => {
    const { imports, ports } = importsOn('parts');
    const first = recordOf('parts-1', [roundOf('r1', ['parts-a'])]);
    const second = recordOf('parts-1', [roundOf('r2', ['parts-b'])]);
    await imports.look([fileOf([bundleOf(first)], 'a.zip'), fileOf([bundleOf(second)], 'b.zip')]);
    expect(imports.state.value).toMatchObject({
      files: [{ records: [{ plan: { fate: 'new' } }] }, { records: [{ plan: { fate: 'adds', brings: { taps: 1 } } }] }],
    });
    await imports.agree();
    const joined = await ports.loadRecord('parts-1');
    expect(joined?.kind === 'record' && tapIds(joined.record).toSorted()).toEqual(['parts-a', 'parts-b']);
  });

  test('a record here that a newer version wrote is left as it is, and the other comes beside it', async () => {
    const { imports, ports } = importsOn('newer');
    const newer = { ...recordOf('newer-1', []), schema: 'platewright-record/99' as never };
    await plant(newer, ports.nowIso());
    await imports.look([fileOf([bundleOf(recordOf('newer-1', []))])]);
    await imports.agree();
    expect(await ports.loadRecord('newer-1')).toMatchObject({ kind: 'refused', because: 'newer-version' });
    const summaries = await ports.listSummaries();
    expect(summaries.find(({ name }) => name === 'One (imported)')?.id).not.toBe('newer-1');
  });

  test('the disk fills in the middle: what was here stays, the page says how far it came, and a second try brings the rest', async () => {
    const { imports, ports, shelf, disk, notices } = importsOn('full');
    const kept = { ...recordOf('full-0', []), name: 'Kept' };
    await shelf.put(kept);
    const bundles = ['full-1', 'full-2'].map((id) => bundleOf(recordOf(id, [roundOf('r', [`${id}-tap`])])));
    await imports.look([fileOf(bundles)]);
    disk.putsLeft = 3;
    await imports.agree();
    expect(notices.current.value).toEqual({ kind: 'import-stopped', done: 1, of: 2, reason: 'full' });
    expect(await ports.loadRecord('full-0')).toEqual({ kind: 'record', record: kept });
    expect(await ports.loadRecord('full-2')).toBeUndefined();
    disk.putsLeft = Number.POSITIVE_INFINITY;
    await imports.look([fileOf(bundles)]);
    await imports.agree();
    for (const { record } of bundles) expect(await ports.loadRecord(record.id)).toEqual({ kind: 'record', record });
  });

  test('what was changed here a moment ago is stored before it is looked what would come in', async () => {
    const { imports, ports, shelf } = importsOn('moment');
    const bundle = bundleOf(recordOf('moment-1', [roundOf('r', ['moment-a'])]));
    await shelf.put(bundle.record);
    const { saveChanges } = ports;
    ports.saveChanges = async (...given) => {
      await new Promise((resolve) => setTimeout(resolve, 50));
      return saveChanges(...given);
    };
    // Not waited for: the hand goes from the field to the file.
    void shelf.edit('moment-1', 'notes', (record) => ({ ...record, notes: 'just now' }));
    await imports.look([fileOf([bundleOf({ ...bundle.record, notes: 'just now' })])]);
    expect(imports.state.value).toMatchObject({ files: [{ records: [{ plan: { fate: 'nothing-new' } }] }] });
    await imports.look([fileOf([bundleOf({ ...bundle.record, notes: 'just now', model: 'theirs' })])]);
    void shelf.edit('moment-1', 'notes', (record) => ({ ...record, notes: 'and once more' }));
    await imports.agree();
    await shelf.flush();
    expect(await ports.loadRecord('moment-1')).toMatchObject({ record: { notes: expect.stringMatching('once more') } });
  });

  test('a damaged file says what is lost and gives the rest; one that is nothing at all changes nothing', async () => {
    const { imports, ports, notices } = importsOn('harm');
    const record = recordOf('harm-1', [roundOf('r', ['harm-a', 'harm-b'])]);
    const whole = writeArchive([bundleOf(record)]);
    const cut = new File([whole.slice(0, Math.round(whole.length * 0.55))], 'cut.zip');
    await imports.look([cut, new File(['no archive'], 'no.zip')]);
    const state = imports.state.value;
    if (state.kind !== 'asking') throw new Error(state.kind);
    expect(state.files[0]!.lost.length).toBeGreaterThan(0);
    expect(state.files[1]).toMatchObject({ refused: 'not-an-archive', records: [] });
    await imports.agree();
    expect(await ports.loadRecord('harm-1')).toEqual({ kind: 'record', record });
    expect(notices.current.value).toMatchObject({ kind: 'imported', records: 1, lost: state.files[0]!.lost.length });
  });
});

describe('universal files', () => {
  const rateHz = 48_000;
  /** A tap of a fifth of a second: 10 ms of nothing, then a ring. */
  const ringing = (hz: number): Tap => ({
    samples: Float32Array.from({ length: 9600 }, (_, i) =>
      i < 480 ? 0 : 0.4 * Math.exp(-(i - 480) / 2000) * Math.cos((2 * Math.PI * hz * (i - 480)) / rateHz),
    ),
    sampleRateHz: rateHz,
    onsetIndex: 480,
  });
  const written = recordOf('uff-own', [
    roundOf('r1', ['a', 'b'], { spot: 'bridge-centre', support: { hold: 'in-mould', bridge: 'taped', strung: false } }),
    roundOf('r2', ['c'], { spot: 'upper bout' }),
  ]);
  const sounds = new Map([
    ['a', ringing(180)],
    ['b', ringing(181)],
    ['c', ringing(182)],
  ]);
  const fileWith = (text: string) => new File([text], 'taps.uff', { lastModified: Date.parse('2026-11-25T09:00:00Z') });

  test('of our own writing, with taps whose sound is here, it brings nothing', async () => {
    const { imports, ports, shelf } = importsOn('uff-here');
    const here = recordOf('uff-here', [roundOf('r', ['uff-here-a', 'uff-here-b'])]);
    const heard = [
      ['uff-here-a', ringing(190)],
      ['uff-here-b', ringing(191)],
    ] as const;
    const file = fileWith(writeUff(recordToUff(here, new Map(heard))));
    await ports.putTaps(heard.slice(0, 1));
    await imports.look([file]);
    expect(imports.state.value).toMatchObject({ files: [{ records: [{ newSounds: 2 }] }] });
    await ports.putTaps(heard);
    await imports.look([file]);
    expect(imports.state.value).toMatchObject({ files: [{ refused: undefined, records: [], universal: { taps: 2 } }] });
    const before = shelf.summaries.value;
    await imports.agree();
    expect(shelf.summaries.value).toEqual(before);
  });

  test('what is in it is shown, comes in as rounds that are read from their taps, and the same file again adds nothing', async () => {
    const { imports, ports, shelf, asked } = importsOn('universal');
    const file = fileWith(writeUff(recordToUff(written, sounds)));
    await imports.look([file]);
    const state = imports.state.value;
    if (state.kind !== 'asking') throw new Error(state.kind);
    expect(state.files[0]).toMatchObject({
      refused: undefined,
      universal: { taps: 3, spectra: 0, shapes: 0, others: 0, skipped: [] },
      records: [{ name: 'One', newSounds: 3, plan: { fate: 'new', brings: { rounds: 2, taps: 3 } } }],
    });
    const { id } = state.files[0]!.records[0]!.plan.record;
    await imports.agree();
    expect(asked).toEqual([[2], [1]]);
    const read = await ports.loadRecord(id);
    if (read?.kind !== 'record') throw new Error('not stored');
    expect(read.record.steps.map(({ rounds }) => rounds)).toMatchObject([
      [
        { spot: 'bridge-centre', support: { hold: 'in-mould', bridge: 'taped' }, fit: { method: 'read again' } },
        { spot: 'upper bout', support: { hold: 'at-node' } },
      ],
    ]);
    const [tap] = await ports.getTaps(tapIds(read.record));
    expect(tap).toMatchObject({ sampleRateHz: rateHz, onsetIndex: 480 });
    // the format keeps six digits
    tap!.samples.forEach((sample, i) => {
      if (Math.abs(sample - sounds.get('a')!.samples[i]!) > 1e-6) throw new Error(`sample ${i}`);
    });
    await imports.look([file]);
    expect(imports.state.value).toMatchObject({
      files: [{ records: [{ newSounds: 0, plan: { fate: 'nothing-new' } }] }],
    });
    await imports.agree();
    expect(shelf.summaries.value.filter((summary) => summary.id === id)).toHaveLength(1);
    await shelf.undo();
    await shelf.flush();
    expect(await ports.loadRecord(id)).toMatchObject({ record: { deletedAtIso: ports.nowIso() } });
  });

  test('another program’s taps come without a contact marked; a second step of ours joins the first; damage is named by its line', async () => {
    const { imports } = importsOn('universal-2');
    const [first, second] = ['step 1', 'step 2'].map((step, i) => {
      const text = writeUff(recordToUff(written, new Map([[i === 0 ? 'a' : 'c', ringing(180 + i)]])));
      return fileWith(text.replaceAll(/step 1/g, step));
    });
    const foreign = writeUff(
      recordToUff({ ...written, name: 'theirs' }, new Map([['a', { ...ringing(200), onsetIndex: 0 }]])),
    ).replace('Platewright', 'Elsewhere  ');
    const cut = writeUff(recordToUff(written, sounds)).split('\n').slice(0, 4000).join('\n');
    await imports.look([first!, second!, fileWith(foreign), fileWith(cut)]);
    const state = imports.state.value;
    if (state.kind !== 'asking') throw new Error(state.kind);
    const [one, two, theirs, harmed] = state.files;
    expect(two!.records[0]!.plan).toMatchObject({ fate: 'adds', brings: { steps: 1, taps: 1 } });
    expect(two!.records[0]!.plan.record.id).toBe(one!.records[0]!.plan.record.id);
    expect(theirs!.records[0]).toMatchObject({ name: 'theirs', plan: { fate: 'new', brings: { rounds: 1, taps: 1 } } });
    expect(harmed!.universal!.skipped).toMatchObject([{ dataset: '58', because: 'damaged' }]);
    expect(harmed!.universal!.taps).toBe(2);
    imports.cancel();
  });

  test('a sound shorter than a tenth of a second is no tap; one as long is', async () => {
    const own = recordOf('uff-short', [roundOf('r', ['short', 'long'])]);
    const tapOf = (frames: number): Tap => ({ ...ringing(190), samples: ringing(190).samples.slice(0, frames) });
    const taps = new Map([
      ['short', tapOf(4799)],
      ['long', tapOf(4800)],
    ]);
    const { imports } = importsOn('short');
    await imports.look([fileWith(writeUff(recordToUff(own, taps, new Map(), undefined)))]);
    expect(imports.state.value).toMatchObject({ kind: 'asking', files: [{ universal: { taps: 1 } }] });
  });

  test('one without a tap is refused with what it holds, and nothing is changed', async () => {
    const { imports } = importsOn('universal-3');
    const golden = readFileSync(new URL('../reference/golden-sample.uff', import.meta.url), 'utf8');
    await imports.look([fileWith(golden)]);
    expect(imports.state.value).toMatchObject({ files: [{ refused: 'no-tap', universal: { taps: 0, shapes: 1 } }] });
  });
});

describe('all records out and in', () => {
  test('what one machine exports another takes in whole, the archive and the bin too', async () => {
    const out = importsOn('out');
    await out.shelf.refresh();
    const before = await Promise.all(out.shelf.summaries.value.map(({ id }) => out.ports.loadRecord(id)));
    await out.exchange.exportAll();
    expect(out.notices.current.value).toMatchObject({ kind: 'exported', files: 1 });
    expect(out.saved.map(({ name }) => name)).toEqual(['all-records-2026-11-25.zip']);
    const archive = readArchive(out.saved[0]!.bytes);
    if (archive.kind !== 'read') throw new Error(archive.because);
    const readable = before.flatMap((read) => (read?.kind === 'record' ? [read.record] : []));
    expect(readable.length).toBeGreaterThan(5);
    expect(archive.bundles.map(({ record }) => record)).toEqual(readable);
    // The record of the newer version goes along as it is, and this is said.
    expect(out.notices.current.value).toMatchObject({ unreadable: 1 });
    expect(archive.unreadable).toEqual([{ folder: 'newer-1/', because: 'newer-version' }]);
  });

  test('a put that the browser refuses waits with what follows it, and is stored when there is room', async () => {
    const { shelf, ports, disk } = importsOn('wait');
    disk.putsLeft = 0;
    await shelf.put(newRecord({ id: 'wait-1', createdAtIso: ports.nowIso(), name: 'Waits' }));
    expect(shelf.saving.value).toBe('not-saved');
    disk.putsLeft = 9;
    void shelf.edit('wait-1', 'notes', (record) => ({ ...record, notes: 'later' }));
    await shelf.flush();
    expect(await ports.loadRecord('wait-1')).toMatchObject({ record: { name: 'Waits', notes: 'later' } });
  });
});
