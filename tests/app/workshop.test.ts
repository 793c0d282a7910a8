// The workshop as the page has it: the real storage in memory, a worker that answers at once, a microphone on stage.
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { SaveFile } from '../../src/app/exchange.ts';
import { Updates } from '../../src/app/updates.ts';
import { createWorkshop, type Ports, type Workshop } from '../../src/app/workshop.ts';
import type { Cue } from '../../src/capture/feedback.ts';
import { writeWav } from '../../src/files/wav-write.ts';
import { appendStep } from '../../src/record/edit.ts';
import { type InstrumentRecord, newRecord, type Round } from '../../src/record/record.ts';
import { freshPiece } from '../../src/record/wood-edit.ts';
import { StorageError } from '../../src/storage/database.ts';
import { changeCopies, loadCopies } from '../../src/storage/keeping.ts';
import { loadCards, putCards } from '../../src/storage/library-cards.ts';
import { loadSettings, saveSettings } from '../../src/storage/settings.ts';
import { records } from '../../src/storage/shelf.ts';
import { removeSounds } from '../../src/storage/sounds.ts';
import { recordOf, roundOf, stepOf } from '../record/small-record.ts';
import { plant, storageMachine } from './storage-machine.ts';
import { blocks, rateHz, StagedMicrophone, settled } from './taps-heard.ts';

const fit: NonNullable<Round['fit']> = {
  method: 'test',
  modes: [
    {
      frequencyHz: { value: 98.2, sigma: 0.1 },
      q: { value: 35, sigma: 1 },
      levelDb: -20,
      amplitudes: [],
      resolution: 'single',
    },
  ],
  used: [],
  setAside: [],
  scatterKnown: true,
};
const answers: Readonly<Record<string, unknown>> = {
  'fit-round': fit,
  'write-archive': new Uint8Array([80, 75]),
  'average-spectrum': { levels: 'as asked' },
};

/** The worker of the page, that answers every request at once. */
class WorkerAtHand {
  static readonly asked: { kind: string; ask: unknown }[] = [];
  onmessage: ((event: { data: unknown }) => void) | undefined;
  terminate = () => undefined;
  postMessage(request: { kind: string; ask: unknown }): void {
    WorkerAtHand.asked.push(request);
    queueMicrotask(() => this.onmessage?.({ data: { kind: 'answer', answer: answers[request.kind] ?? null } }));
  }
}
/** A browser that decodes nothing: what is no WAV is no sound. */
class NoDecoder {
  decodeAudioData = async () => {
    throw new DOMException('Unable to decode audio data', 'EncodingError');
  };
}
Object.assign(globalThis, { Worker: WorkerAtHand, OfflineAudioContext: NoDecoder });

const opened: Workshop[] = [];
afterEach(async () => {
  await settled();
  for (const workshop of opened.splice(0)) await workshop.shelf.flush();
});

function workshopOn(prefix: string, more: Partial<Ports> = {}) {
  const machine = storageMachine(prefix);
  const microphone = new StagedMicrophone();
  const heard: (Cue | string)[] = [];
  const folder: string[] = [];
  const listeners: (() => void)[] = [];
  const toFolder: SaveFile = async (name) => void folder.push(name);
  const ports: Ports = {
    ...records,
    ...machine.ports,
    removeSounds,
    loadSettings,
    saveSettings,
    loadCards,
    putCards,
    loadCopies,
    changeCopies,
    isPersisted: async () => false,
    askToPersist: async () => true,
    usedBytes: async () => 5e6,
    canChooseFolder: () => true,
    chosenFolder: async () => 'Copies',
    chooseFolder: async () => 'Copies',
    forgetFolder: async () => undefined,
    openFolder: async () => toFolder,
    shrinkPhoto: async (file) => file.slice(0, 3),
    openMicrophone: microphone.open,
    listMicrophones: async () => [{ deviceId: `d${listeners.length}`, label: 'Test' }],
    onMicrophonesChanged: (changed) => {
      listeners.push(changed);
      return () => void listeners.splice(listeners.indexOf(changed), 1);
    },
    sentence: (spoken) => (spoken.kind === 'lowest-mode' ? `lowest ${spoken.frequencyHz}` : 'pick up'),
    keepAwake: () => () => undefined,
    playback: { play: () => undefined },
    feedback: {
      unlock: () => heard.push('unlocked'),
      play: (cue: Cue) => heard.push(cue) && 0.1,
      say: (sentence: string, language: string) => heard.push(`${language}: ${sentence}`) && 0.2,
      isSpeaking: () => false,
    } as never,
    hash: '#/steps/course',
    updates: new Updates(() => async () => undefined),
    ...more,
  };
  const workshop = createWorkshop(ports);
  opened.push(workshop);
  return { ...machine, microphone, heard, folder, listeners, ports, workshop };
}

const instrument = (id: string, more: Partial<InstrumentRecord> = {}): InstrumentRecord =>
  appendStep(
    { ...newRecord({ id, createdAtIso: '2026-11-01T08:00:00.000Z', name: `Instrument ${id}` }), ...more },
    stepOf('s'),
  );

const put = (record: InstrumentRecord) => records.putRecord(record, '2026-11-25T08:00:00.000Z');

beforeEach(async () => {
  for (const id of await records.recordIds()) await records.removeRecord(id);
  await saveSettings({
    ...(await loadSettings()),
    openRecordId: undefined,
    feedback: 'silent',
    tapsPerHold: 1,
    holdsPerRound: 1,
  });
  WorkerAtHand.asked.length = 0;
});

describe('the workshop opens', () => {
  test('with the demo where nothing is stored', async () => {
    const { workshop } = workshopOn('empty');
    await workshop.begin();
    expect(workshop.shelf.record.value?.name).toMatch(/demo/i);
    expect(workshop.shelf.summaries.value.map(({ kind }) => kind).toSorted()).toEqual([
      'instrument',
      'instrument',
      'reference-stick',
    ]);
    expect(workshop.preferences.settings.value.openRecordId).toBe(workshop.shelf.record.value?.id);
  });

  test('with the record that was open last, else with one that is neither in the bin nor put away', async () => {
    await put(instrument('a', { archived: true }));
    await put(instrument('b', { deletedAtIso: '2026-11-02T08:00:00.000Z' }));
    await put(instrument('c'));
    await put(instrument('d'));
    const first = workshopOn('last').workshop;
    await first.begin();
    expect(first.shelf.record.value?.id).toBe('c');
    await first.shelf.open('d');
    await settled();
    const second = workshopOn('last-2').workshop;
    await second.begin();
    expect(second.shelf.record.value?.id).toBe('d');
    expect((await second.peek('a'))?.name).toBe('Instrument a');
    expect(await second.peek('nowhere')).toBeUndefined();
  });

  test('where the address says', () => {
    const { place } = workshopOn('place').workshop;
    expect([place.view.value, place.part.value]).toEqual(['steps', 'course']);
    place.read('#/box');
    expect([place.view.value, place.part.value]).toEqual(['box', '']);
    place.read('#/nowhere/at-all');
    expect(place.view.value).toBe('bench');
  });

  test('where there is no room even for the demo, this is said', async () => {
    const { workshop, disk } = workshopOn('no-room');
    disk.putsLeft = 0;
    await workshop.begin();
    expect(workshop.notices.current.value).toEqual({ kind: 'storage', reason: 'full' });
    workshop.notices.dismiss();
    expect(workshop.notices.current.value).toBeUndefined();
  });
});

describe('a round from the press to the copy', () => {
  test('cues are those the maker chose; the lowest mode is spoken; the record goes into the folder', async () => {
    await put(instrument('tapped'));
    const { workshop, microphone, heard, folder } = workshopOn('round');
    await workshop.begin();
    await workshop.keeping.load();
    const home = { recordId: 'tapped', stepId: 's' };
    const tapped = async () => {
      await workshop.bench.start(home);
      await microphone.hear(1, 51);
      await expect.poll(() => workshop.bench.state.value.kind, { timeout: 20_000 }).toBe('answer');
      await settled();
    };
    await tapped();
    expect(heard).toEqual([]);
    expect(folder).toEqual(['instrument-tapped-tapped.zip']);
    workshop.preferences.change({ feedback: 'tones' });
    await tapped();
    expect(heard).toEqual(['unlocked', 'round-done']);
    heard.length = 0;
    workshop.preferences.change({ feedback: 'spoken' });
    await tapped();
    expect(heard).toEqual(['unlocked', `${workshop.preferences.settings.value.language}: lowest 98.2`]);
    expect(folder).toHaveLength(3);
  });

  test('a tap that the browser does not store can still be carried out of it', async () => {
    await put(instrument('kept'));
    const { workshop, microphone, disk } = workshopOn('carried');
    await workshop.begin();
    await workshop.bench.start({ recordId: 'kept', stepId: 's' });
    await workshop.shelf.flush();
    disk.putsLeft = 0;
    await microphone.hear(1, 52);
    await settled();
    await workshop.exchange.exportOne('kept');
    expect(workshop.notices.current.value).toMatchObject({ kind: 'exported', records: 1, taps: 1, missing: 0 });
  });
});

describe('the day’s trust check', () => {
  const stick = (atIso: string, name: string): InstrumentRecord => {
    const read = (value: number) => ({ ...fit, modes: [{ ...fit.modes[0]!, frequencyHz: { value, sigma: 0.1 } }] });
    const days = ['2026-11-01', '2026-11-02', '2026-11-03', '2026-11-04', '2026-11-05'];
    const checks = [...days.map((day) => `${day}T08:00:00.000Z`), atIso];
    return {
      ...newRecord({ id: name, createdAtIso: '2026-11-01T07:00:00.000Z', name, kind: 'reference-stick' }),
      steps: checks.map((at, i) => ({
        ...stepOf(`s${i}`, {
          rounds: [roundOf(`r${i}`, ['t'], { state: 'closed', fit: read(400 + 0.1 * (i % 2)), atIso: at })],
        }),
        atIso: at,
      })),
    };
  };

  test('goes with every step of that day on an instrument, whichever record is open, and with no other day', async () => {
    await put(stick('2026-11-25T07:00:00.000Z', 'stick'));
    await put(instrument('a'));
    const { workshop } = workshopOn('trust');
    await workshop.begin();
    await workshop.shelf.open('a');
    expect(workshop.beginStep()).toMatchObject({
      id: 'trust-made-1',
      atIso: '2026-11-25T08:00:00.000Z',
      trust: { recordId: 'stick', stepId: 's5', verdict: 'go' },
    });
    await workshop.shelf.open('stick');
    expect(workshop.beginStep()).toBeDefined();
    expect(workshop.beginStep()?.trust).toBeUndefined();
    const later = workshopOn('trust-2', { nowIso: () => '2026-11-26T08:00:00.000Z' }).workshop;
    await later.begin();
    await later.shelf.open('a');
    expect(later.beginStep()?.trust).toBeUndefined();
  });

  test('a stick in the bin says nothing', async () => {
    await put({ ...stick('2026-11-25T07:00:00.000Z', 'stick'), deletedAtIso: '2026-11-25T07:30:00.000Z' });
    await put(instrument('a'));
    const { workshop } = workshopOn('trust-bin');
    await workshop.begin();
    expect(workshop.beginStep()?.trust).toBeUndefined();
  });

  test('with no record open there is no step', () => {
    expect(workshopOn('no-record').workshop.beginStep()).toBeUndefined();
  });
});

describe('what the workshop holds', () => {
  test('a photograph is shrunk, stored and found again', async () => {
    const { workshop } = workshopOn('photo');
    const id = await workshop.photos.add(new Blob(['12345']));
    expect((await workshop.photos.get(id))?.size).toBe(3);
  });

  test('the microphones, read anew when they change and for as long as somebody looks', async () => {
    const { workshop, listeners } = workshopOn('microphones');
    const stop = workshop.microphones.follow();
    await settled();
    expect(workshop.microphones.list.value).toEqual([{ deviceId: 'd0', label: 'Test' }]);
    listeners.push(() => undefined);
    listeners[0]!();
    await settled();
    expect(workshop.microphones.list.value).toEqual([{ deviceId: 'd2', label: 'Test' }]);
    stop();
    expect(listeners).toHaveLength(1);
  });

  test('the maker’s other instruments, without the open one, the bin and what is no instrument', async () => {
    await put(instrument('a'));
    await put(instrument('b'));
    await put(instrument('c', { deletedAtIso: '2026-11-02T08:00:00.000Z' }));
    await put({ ...newRecord({ id: 'wood', createdAtIso: '2026-11-01T08:00:00.000Z', name: 'Wood', kind: 'stock' }) });
    const { workshop } = workshopOn('others');
    await workshop.begin();
    expect(workshop.earlier.records.value).toBeUndefined();
    await workshop.earlier.load();
    expect(workshop.earlier.records.value?.map(({ id }) => id)).toEqual(['b']);
  });

  test('a question to the worker is asked once, and a failure is told', async () => {
    const { workshop } = workshopOn('answers');
    const ask = { lengthMm: 400, widthMm: 20 } as never;
    const first = workshop.answers.of('hold-guides', ask);
    expect(first.value).toEqual({ kind: 'working' });
    await settled();
    expect(first.value).toEqual({ kind: 'answer', answer: null });
    expect(workshop.answers.of('hold-guides', ask)).toBe(first);
    expect(workshop.answers.of('name-peaks', ask)).not.toBe(first);
    await settled();
    expect(WorkerAtHand.asked.map(({ kind }) => kind)).toEqual(['hold-guides', 'name-peaks']);
    // The sixty-first answer crowds out the first.
    for (let i = 0; i < 59; i++) workshop.answers.of('hold-guides', { i } as never);
    expect(workshop.answers.of('hold-guides', ask)).not.toBe(first);
  });

  test('a spectrum is made once from the taps that are here; without any there is none', async () => {
    const { workshop, ports } = workshopOn('spectra');
    const tap = { samples: Float32Array.of(0, 0.5, -0.25), sampleRateHz: 48_000, onsetIndex: 1 };
    await ports.putTaps([['here', tap]]);
    const here = roundOf('r', ['here', 'gone']);
    const spectrum = workshop.spectra.of([here]);
    expect(spectrum.value).toEqual({ kind: 'loading' });
    await settled();
    expect(spectrum.value).toEqual({ kind: 'spectrum', spectrum: answers['average-spectrum'] });
    expect(WorkerAtHand.asked).toEqual([{ kind: 'average-spectrum', ask: { taps: [tap] } }]);
    expect(workshop.spectra.of([here])).toBe(spectrum);
    const none = workshop.spectra.of([roundOf('q', ['gone'])]);
    await settled();
    expect(none.value).toEqual({ kind: 'no-sound' });
  });

  test('a newer page is offered and taken when the maker says so', () => {
    let offer: () => void = () => undefined;
    let taken = 0;
    const updates = new Updates(({ onNeedRefresh }) => {
      offer = onNeedRefresh;
      return async () => void taken++;
    });
    expect(updates.ready.value).toBe(false);
    offer();
    expect(updates.ready.value).toBe(true);
    expect(taken).toBe(0);
    updates.take();
    expect(taken).toBe(1);
  });
});

describe('rounds in states of the closed box', () => {
  test('are held and tapped as the state asks, and the bench is as it was before', async () => {
    await put(instrument('box'));
    const { workshop, microphone } = workshopOn('box-rounds');
    await workshop.begin();
    workshop.bench.support.value = { hold: 'box-open', bridge: 'glued', strung: true };
    workshop.bench.spot.value = 'elsewhere';
    await workshop.boxRounds.listen({ recordId: 'box', stepId: 's' }, 'blocked', 0);
    expect(workshop.bench.spot.value).toBe('elsewhere');
    await microphone.hear(1, 53);
    await expect.poll(() => workshop.bench.state.value.kind, { timeout: 20_000 }).toBe('answer');
    const [round] = workshop.shelf.record.value!.steps[0]!.rounds;
    expect(round).toMatchObject({ support: { hold: 'box-hole-blocked', bridge: 'glued', strung: true } });
    expect(round!.spot).not.toBe('elsewhere');
    expect(workshop.bench.support.value).toEqual({ hold: 'box-open', bridge: 'glued', strung: true });
  });
});

describe('recordings dropped on the bench', () => {
  const file = (name: string, bytes: Uint8Array) => new File([new Uint8Array(bytes)], name);

  test('a file that is no sound and one without a tap are named and leave nothing behind', async () => {
    await put(instrument('files'));
    const { workshop } = workshopOn('files');
    await workshop.begin();
    let homes = 0;
    const home = () => {
      homes++;
      return { recordId: 'files', stepId: 's' };
    };
    await workshop.recordings.take(home, [file('text.wav', new TextEncoder().encode('none'))]);
    expect(workshop.notices.current.value).toMatchObject({ kind: 'file-refused', name: 'text.wav' });
    const silence = writeWav([new Float32Array(96_000)], 48_000);
    await workshop.recordings.take(home, [file('silence.wav', silence)]);
    expect(workshop.notices.current.value).toEqual({ kind: 'file-refused', name: 'silence.wav', because: 'no-tap' });
    expect(homes).toBe(0);
    expect(workshop.shelf.record.value!.steps[0]!.rounds).toEqual([]);
  });

  test('each file is a hold of one round; one that breaks off is read as far as it goes, and this is said', async () => {
    await put(instrument('holds'));
    const { workshop } = workshopOn('two-files');
    await workshop.begin();
    const sound = (seed: number) =>
      writeWav([Float32Array.from(blocks(2, seed).flatMap((block) => [...block]))], rateHz);
    const files = [file('one.wav', sound(54)), file('two.wav', sound(55).subarray(0, -6000))];
    await workshop.recordings.take(() => ({ recordId: 'holds', stepId: 's' }), files);
    expect(workshop.notices.current.value).toEqual({ kind: 'file-breaks-off', name: 'two.wav' });
    const [round] = workshop.shelf.record.value!.steps[0]!.rounds;
    expect(round).toMatchObject({ source: 'one.wav, two.wav', state: 'closed', fit });
    expect(round!.taps.map(({ hold }) => hold)).toEqual([0, 0, 1, 1]);
    expect(workshop.bench.heard.value.map(({ number }) => number)).toEqual([0, 1, 2, 3]);
  });
});

test('erasing the bin erases photographs that no other record shows', async () => {
  const { workshop, ports } = workshopOn('bin');
  const photo = new Blob(['picture']);
  await ports.putPhoto('own', photo);
  await ports.putPhoto('shared', photo);
  const withPhotos = (id: string, photos: readonly string[]): InstrumentRecord => ({
    ...recordOf(id, []),
    steps: photos.map((photoId) => ({ ...stepOf(photoId), photoId })),
  });
  await put(withPhotos('kept', ['shared']));
  await put({ ...withPhotos('binned', ['own', 'shared']), deletedAtIso: '2026-11-02T08:00:00.000Z' });
  await workshop.begin();
  await workshop.records.emptyBin();
  expect(await ports.getPhoto('own')).toBeUndefined();
  expect(await ports.getPhoto('shared')).toBeDefined();
  expect(await ports.recordIds()).toEqual(['kept']);
});

describe('what can be done to a record as a whole', () => {
  test('a copy has a name, an id and a day of its own, and the same taps', async () => {
    await put(recordOf('first', [roundOf('r', ['shared'])]));
    const { workshop } = workshopOn('copy');
    await workshop.begin();
    await workshop.records.duplicate('first', (name) => `${name}, again`);
    expect(workshop.shelf.record.value).toMatchObject({
      id: 'copy-made-1',
      name: 'One, again',
      createdAtIso: '2026-11-25T08:00:00.000Z',
      steps: [{ rounds: [{ taps: [{ id: 'shared' }] }] }],
    });
    await workshop.records.duplicate('first', (name) => name.repeat(1000));
    expect(workshop.shelf.record.value?.name.length).toBeLessThanOrEqual(500);
    expect(await records.recordIds()).toHaveLength(3);
    await workshop.records.duplicate('nowhere', (name) => name);
    expect(await records.recordIds()).toHaveLength(3);
  });

  test('into the bin goes the one that was asked for, and it is named', async () => {
    for (const id of ['a', 'b', 'c']) await put(instrument(id));
    const { workshop } = workshopOn('which');
    await workshop.begin();
    for (const id of ['c', 'a', 'b']) {
      await workshop.records.remove(id);
      expect(workshop.notices.current.value).toEqual({ kind: 'deleted', name: `Instrument ${id}` });
    }
  });

  test('it is put away and taken out, binned and brought back, and each can be undone', async () => {
    await put(instrument('a'));
    const { workshop } = workshopOn('whole');
    const { records: whole, shelf } = workshop;
    await workshop.begin();
    await whole.archive('a', true);
    expect([shelf.record.value?.archived, shelf.toUndo.value]).toEqual([true, 'archive']);
    await whole.archive('a', false);
    expect([shelf.record.value?.archived, shelf.toUndo.value]).toEqual([false, 'unarchive']);
    await whole.remove('a');
    expect(shelf.record.value?.deletedAtIso).toBe('2026-11-25T08:00:00.000Z');
    expect(workshop.notices.current.value).toEqual({ kind: 'deleted', name: 'Instrument a' });
    expect(shelf.toUndo.value).toBe('bin');
    await whole.restore('a');
    expect(shelf.record.value).not.toHaveProperty('deletedAtIso');
    expect(shelf.toUndo.value).toBe('bring-back');
    await shelf.undo();
    expect(shelf.record.value?.deletedAtIso).toBeDefined();
  });

  test('with a record in it that cannot be read the bin is not emptied: its sounds may be that one’s', async () => {
    const { workshop } = workshopOn('bin-2');
    await put({ ...instrument('binned'), deletedAtIso: '2026-11-02T08:00:00.000Z' });
    await plant({ ...instrument('newer'), schema: 'platewright-record/99' as never }, '2026-11-25T08:00:00.000Z');
    await workshop.shelf.refresh();
    await workshop.records.emptyBin();
    expect(workshop.notices.current.value).toMatchObject({ kind: 'record-unreadable', name: 'Instrument newer' });
    expect((await records.recordIds()).toSorted()).toEqual(['binned', 'newer']);
  });
});

describe('the stock shelf', () => {
  const piece = (id: string) => ({ ...freshPiece(id, 'top', `Piece ${id}`, 'picea-abies'), notes: 'from the loft' });

  test('is put up once, and a piece goes there from an instrument and is taken back by one undo', async () => {
    await put({ ...instrument('a'), pieces: [piece('p'), piece('q')] });
    const { workshop } = workshopOn('stock');
    const { stock, shelf } = workshop;
    await workshop.begin();
    await stock.open('Stock');
    const stockId = shelf.record.value!.id;
    expect(shelf.record.value).toMatchObject({ name: 'Stock', kind: 'stock' });
    await shelf.open('a');
    await stock.open('Another');
    expect(shelf.record.value?.id).toBe(stockId);
    await shelf.open('a');
    await stock.move(shelf.record.value!.pieces![0]!, stockId);
    expect(workshop.notices.current.value).toEqual({ kind: 'piece-moved', name: 'Piece p', to: 'Stock' });
    expect(shelf.record.value?.id).toBe('a');
    expect(shelf.record.value?.pieces?.map(({ id }) => id)).toEqual(['q']);
    expect(shelf.toUndo.value).toBe('move-piece');
    expect((await workshop.peek(stockId))?.pieces?.map(({ id }) => id)).toEqual(['p']);
    expect((await stock.all()).map(({ piece: { id }, recordName }) => [id, recordName])).toEqual([
      ['q', 'Instrument a'],
      ['p', 'Stock'],
    ]);
    await shelf.undo();
    await shelf.flush();
    expect((await workshop.peek('a'))?.pieces?.map(({ id }) => id).toSorted()).toEqual(['p', 'q']);
    expect((await workshop.peek(stockId))?.pieces ?? []).toEqual([]);
  });

  test('a piece in a record that lies in the bin is none of the pieces there are', async () => {
    await put({ ...instrument('a'), pieces: [piece('p')] });
    await put({ ...instrument('b', { deletedAtIso: '2026-11-02T08:00:00.000Z' }), pieces: [piece('gone')] });
    const { workshop } = workshopOn('binned-pieces');
    await workshop.begin();
    expect((await workshop.stock.all()).map(({ piece: { id } }) => id)).toEqual(['p']);
  });

  test('its table goes out and comes in: a row with the id of a piece changes it, others are new', async () => {
    await put({ ...instrument('a'), pieces: [piece('p')] });
    const { workshop, saved } = workshopOn('table');
    await workshop.begin();
    workshop.stock.writeTable();
    expect(saved.map(({ name }) => name)).toEqual(['wood.csv']);
    const written = new TextDecoder().decode(saved[0]!.bytes);
    const [header, row] = written.trim().split(/\r?\n/);
    const columns = header!.split(',');
    const rowWith = (id: string, lengthMm: string) => {
      const cells = row!.split(',');
      cells[columns.indexOf('id')] = id;
      cells[columns.indexOf('length_mm')] = lengthMm;
      return cells.join(',');
    };
    const text = [header, rowWith('p', '551'), rowWith('new', '480'), rowWith('bad', 'long')].join('\r\n');
    await workshop.stock.takeTable(new File([text], 'table.csv'));
    expect(workshop.notices.current.value).toMatchObject({ kind: 'table-taken', taken: 2, refused: [{}] });
    const { pieces = [] } = workshop.shelf.record.value!;
    expect(pieces.map(({ id, lengthMm }) => [id, lengthMm?.value])).toEqual([
      ['p', 551],
      ['table-made-1', 480],
    ]);
    // A ruler's half width of 0.5 mm is 1.96 of its spread.
    const { rulerMm } = workshop.preferences.settings.value;
    expect(pieces[0]!.lengthMm!.sigma).toBeCloseTo(rulerMm / 1.959964, 6);
    expect(pieces[0]!.name).toBe('Piece p');
    await workshop.stock.takeTable(new File(['nothing of the kind'], 'other.csv'));
    expect(workshop.notices.current.value).toMatchObject({ kind: 'table-refused', name: 'other.csv' });
  });

  test('is named as such where it is the stock’s own; a piece moved from nowhere, or to a record that cannot be read, stays', async () => {
    await put({ ...instrument('a'), pieces: [piece('p')] });
    const { workshop, saved } = workshopOn('stock-table');
    const { stock, shelf, notices } = workshop;
    expect([stock.page.value, stock.chosenId.value]).toEqual(['pieces', undefined]);
    stock.writeTable();
    await stock.takeTable(new File(['id'], 'table.csv'));
    await stock.move(piece('p'), 'nowhere');
    expect([saved, notices.current.value, await stock.all()]).toEqual([[], undefined, []]);
    await workshop.begin();
    await stock.move(shelf.record.value!.pieces![0]!, 'nowhere');
    expect(notices.current.value).toBeUndefined();
    expect(shelf.record.value?.pieces?.map(({ id }) => id)).toEqual(['p']);
    await stock.open('Stock');
    stock.writeTable();
    expect(saved.map(({ name }) => name)).toEqual(['stock-shelf.csv']);
    expect(shelf.record.value?.pieces ?? []).toEqual([]);
    // What cannot be read has no pieces.
    await plant({ ...instrument('newer'), schema: 'platewright-record/99' as never }, '2026-11-25T08:00:00.000Z');
    await shelf.refresh();
    expect((await stock.all()).map(({ recordId }) => recordId)).toEqual(['a']);
  });

  test('one in the bin is not opened again: another is put up', async () => {
    const { workshop } = workshopOn('stock-bin');
    const { stock, shelf } = workshop;
    await stock.open('First');
    const first = shelf.record.value!.id;
    await workshop.records.remove(first);
    await stock.open('Second');
    expect(shelf.record.value).toMatchObject({ name: 'Second' });
    expect(shelf.record.value!.id).not.toBe(first);
  });
});

describe('what the browser refuses', () => {
  test('a record goes out of it all the same, with the pictures that can be had', async () => {
    const refused = async () => {
      throw new StorageError('refused', undefined);
    };
    const { workshop, saved } = workshopOn('refuses', { getTaps: refused, getPhoto: refused });
    const record = recordOf('shown', [roundOf('r', ['lost'])]);
    await put({ ...record, steps: [{ ...record.steps[0]!, photoId: 'gone' }] });
    await workshop.shelf.refresh();
    await workshop.exchange.exportOne('shown');
    expect(saved.map(({ name }) => name)).toEqual(['one.zip']);
    expect(workshop.notices.current.value).toMatchObject({ kind: 'exported', records: 1, taps: 0, missing: 1 });
    expect(WorkerAtHand.asked.at(-1)).toMatchObject({ ask: { bundles: [{ photos: new Map() }] } });
  });

  test('a record that is gone from under the list keeps the bin from being emptied', async () => {
    await put({ ...instrument('binned'), deletedAtIso: '2026-11-02T08:00:00.000Z' });
    await put(instrument('gone'));
    const { workshop } = workshopOn('gone-bin');
    await workshop.shelf.refresh();
    await records.removeRecord('gone');
    await workshop.records.emptyBin();
    expect(workshop.notices.current.value).toEqual({
      kind: 'record-unreadable',
      name: 'Instrument gone',
      because: 'gone',
    });
    expect(await records.recordIds()).toEqual(['binned']);
  });
});

test('what there is no voice for is a tone', async () => {
  await put(instrument('cued'));
  await saveSettings({ ...(await loadSettings()), feedback: 'spoken' });
  const { heard, microphone, ports, workshop } = workshopOn('no-voice');
  Object.assign(ports.feedback, { say: () => 0 });
  await workshop.begin();
  await workshop.bench.start({ recordId: 'cued', stepId: 's' });
  await microphone.hear(1, 58);
  await expect.poll(() => workshop.bench.state.value.kind, { timeout: 20_000 }).toBe('answer');
  expect(heard).toEqual(['unlocked', 'round-done']);
});
