import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readWav } from '../../src/files/wav.ts';
import { readArchive, roomOf, roomTogether, tapFromWav, tapToWav, writeArchive } from '../../src/record/archive.ts';
import { archiveLimits, openZip } from '../../src/record/archive-unzip.ts';
import { crc32 } from '../../src/record/crc32.ts';
import { recordText } from '../../src/record/read.ts';
import { arbitraryBundle } from './arbitrary-record.ts';
import { fuzzRuns, fuzzTimeout } from './runs.ts';
import { recordOf, roundOf } from './small-record.ts';
import { with64BitEnd, type ZipFile, zipOf, zipOfMany } from './zip-builder.ts';

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const sound = {
  samples: Float32Array.from({ length: 120 }, (_, i) => (i < 2 ? 0 : 0.5 * (-0.9) ** i)),
  sampleRateHz: 48_000,
  onsetIndex: 2,
};

/** A record with one round of the taps named. */
const tapped = (id: string, taps: readonly string[]) => recordOf(id, [roundOf('r', taps)]);
const record = tapped('i', ['t1', 't2']);
const bundle = {
  record,
  taps: new Map([
    ['t1', sound],
    ['t2', sound],
  ]),
  photos: new Map<string, Uint8Array>(),
};
const files = (overrides: Partial<Record<string, Partial<ZipFile>>> = {}): ZipFile[] =>
  [
    { name: 'record.json', content: bytesOf(recordText(record)) },
    { name: 'taps/t1.wav', content: tapToWav(sound, 'a') },
    { name: 'taps/t2.wav', content: tapToWav(sound, 'b') },
  ].map((file) => ({ ...file, ...overrides[file.name] }));

/** The reading, which the test needs to have succeeded. */
function read(bytes: Uint8Array, limits = archiveLimits) {
  const result = readArchive(bytes, limits);
  if (result.kind === 'refused') throw new Error(`refused: ${result.because}`);
  return result;
}
const tapsOf = (bytes: Uint8Array) => [...(read(bytes).bundles[0]?.taps.keys() ?? [])];

describe('the archive', () => {
  test('what is exported is imported the same: records with unknown fields, sounds and photographs', () => {
    const several = fc.uniqueArray(arbitraryBundle, { selector: (one) => one.record.id, minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(several, (bundles) => {
        const result = read(writeArchive(bundles));
        expect(result.bundles).toEqual(bundles);
        expect(result).toMatchObject({ unreadable: [], lost: [], lostTaps: 0, passedOver: [] });
      }),
      { numRuns: 100 },
    );
  });

  test('the same records give the same bytes', () => {
    expect(writeArchive([bundle])).toEqual(writeArchive([bundle]));
  });

  test('the check sum of "123456789" is cbf43926 (the check value of CRC-32 in common use, ITU-T V.42)', () => {
    expect(crc32(bytesOf('123456789'))).toBe(0xcbf43926);
  });

  test('a zip of another program is read, also one that writes sizes after the data or backslashes', () => {
    expect(read(zipOf(files())).bundles).toEqual([bundle]);
    const streamed = files().map((file) => ({ ...file, sizesAfter: true, name: file.name.replace('/', '\\') }));
    expect(read(zipOf(streamed)).bundles).toEqual([bundle]);
    expect(read(new Uint8Array([...bytesOf('#!/bin/sh\n'), ...zipOf(files())])).bundles).toEqual([bundle]);
  });

  test('two records of one id are refused by the writer', () => {
    expect(() => writeArchive([bundle, bundle])).toThrow(/^writeArchive: two records of one id/);
  });

  test('what is too much for one archive is parted: by bytes, and by the 65,535 files a zip can count', () => {
    expect(roomOf(bundle).files).toBe(1 + bundle.taps.size + bundle.photos.size);
    expect(roomTogether({ bytes: 30, files: 2 }, { bytes: 30, files: 3 }, 60)).toEqual({ bytes: 60, files: 5 });
    expect(roomTogether({ bytes: 30, files: 2 }, { bytes: 31, files: 3 }, 60)).toBeUndefined();
    expect(roomTogether({ bytes: 0, files: 65_534 }, { bytes: 0, files: 1 })).toBeDefined();
    expect(roomTogether({ bytes: 0, files: 65_535 }, { bytes: 0, files: 1 })).toBeUndefined();
  });
});

describe('a damaged archive gives back what can be saved', () => {
  test('a tap whose check sum is wrong is lost, and nothing else', () => {
    const result = read(zipOf(files({ 'taps/t1.wav': { claimedCrc: 1 } })));
    expect(result.bundles[0]?.record).toEqual(record);
    expect([...result.bundles[0]!.taps.keys()]).toEqual(['t2']);
    expect(result.lost).toEqual([{ recordId: 'i', what: 'tap', id: 't1', because: 'damaged' }]);
  });

  test('a stored tap with one flipped bit is lost', () => {
    const bytes = zipOf(files({ 'taps/t2.wav': { stored: true } }));
    const at = Buffer.from(bytes).lastIndexOf('data') + 10;
    bytes[at] = bytes[at]! ^ 1;
    expect(tapsOf(bytes)).toEqual(['t1']);
  });

  test('broken off anywhere behind the record, it gives the record and every tap that lies whole before the break', () => {
    const whole = writeArchive([bundle]);
    const ends = ['taps/t1.wav', 'taps/t2.wav'].map((name) => {
      const zip = openZip(whole);
      const content = zip.kind === 'zip' ? zip.read(name) : zip;
      expect(content.kind).toBe('file');
      return Buffer.from(whole).indexOf(name);
    });
    for (let length = ends[0]!; length < whole.length; length++) {
      const result = read(whole.subarray(0, length));
      expect(result.bundles[0]?.record).toEqual(record);
      const expected = length < ends[1]! - 30 ? 0 : 1;
      expect(result.bundles[0]!.taps.size).toBeGreaterThanOrEqual(expected);
      expect(result.lostTaps).toBe(2 - result.bundles[0]!.taps.size);
    }
    // Without the directory alone nothing is lost.
    const directory = Buffer.from(whole).indexOf(Buffer.from([0x50, 0x4b, 1, 2]));
    expect(read(whole.subarray(0, directory)).bundles).toEqual([bundle]);
  });

  test('an archive that broke off holds all its records, for they come before the sounds', () => {
    const second = { ...bundle, record: tapped('j', []), taps: new Map() };
    const whole = writeArchive([bundle, second]);
    const firstSound = Buffer.from(whole).indexOf('i/taps/');
    expect(read(whole.subarray(0, firstSound)).bundles.map((one) => one.record.id)).toEqual(['i', 'j']);
  });

  test('a directory that lies about one file is corrected by the header before that file', () => {
    const bytes = writeArchive([bundle]);
    const name = Buffer.from(bytes).lastIndexOf('taps/t1.wav');
    bytes[name] = 'x'.charCodeAt(0);
    expect(read(bytes).bundles).toEqual([bundle]);
  });

  test('files streamed without a directory are found by the sizes after them', () => {
    const streamed = files().map((file) => ({ ...file, sizesAfter: true }));
    expect(read(zipOf(streamed, { directory: false })).bundles).toEqual([bundle]);
  });

  test('one unreadable record does not keep the others out, and is named with the reason', () => {
    const good = { name: 'good/record.json', content: bytesOf(recordText(tapped('g', []))) };
    const cases = [
      ['a', 'not json', 'not-json'],
      ['b', '{"schema":"platewright-record/99"}', 'newer-version'],
      ['c', '{"schema":"other/1"}', 'foreign'],
      ['d', recordText(record).replace('"right"', '"third"'), 'damaged'],
      ['e', '['.repeat(100_000) + ']'.repeat(100_000), 'too-deep'],
      ['f', recordText(record).replace('"archived": false', '"archived": NaN'), 'not-json'],
    ] as const;
    const bad = cases.map(([folder, text]) => ({ name: `${folder}/record.json`, content: bytesOf(text) }));
    const result = read(zipOf([...bad, good]));
    expect(result.bundles.map((one) => one.record.id)).toEqual(['g']);
    expect(result.unreadable).toEqual(cases.map(([folder, , because]) => ({ folder: `${folder}/`, because })));
  });

  test.each([
    ['is encrypted', { flags: 0x801 }],
    ['is packed by a method we do not know', { method: 12 }],
    ['is longer than it claims', { claimedBytes: 10 }],
    ['is shorter than it claims', { claimedBytes: 1000 }],
  ])('a tap that %s is lost alone', (_what, fault) => {
    expect(tapsOf(zipOf(files({ 'taps/t1.wav': fault })))).toEqual(['t2']);
  });

  test.each([
    ['of a rate that nothing here is made for', { ...sound, sampleRateHz: 4000 }, 4000, 'rate-out-of-range'],
    ['of a rate that its note does not tell', { ...sound, sampleRateHz: 44_100 }, 48_000, 'rate-not-as-noted'],
    ['too short to ring', { ...sound, samples: sound.samples.slice(0, 99) }, 48_000, 'too-short'],
  ] as const)('a tap %s is lost alone, and why is said', (_what, tap, notedHz, because) => {
    const text = recordText(record).replace('"sampleRateHz": 48000', `"sampleRateHz": ${Math.max(notedHz, 8000)}`);
    const result = read(
      zipOf(files({ 'taps/t1.wav': { content: tapToWav(tap, 'a') }, 'record.json': { content: bytesOf(text) } })),
    );
    expect(result.lost).toEqual([{ recordId: 'i', what: 'tap', id: 't1', because }]);
    expect([...result.bundles[0]!.taps.keys()]).toEqual(['t2']);
  });

  test('a tap that is no sound, or whose sound breaks off, is lost alone', () => {
    const wav = tapToWav(sound, 'a');
    for (const content of [bytesOf('<html>'), wav.subarray(0, 60), new Uint8Array(0)])
      expect(tapsOf(zipOf(files({ 'taps/t1.wav': { content } })))).toEqual(['t2']);
  });
});

describe('a hostile archive', () => {
  test.each([
    '../record.json',
    '/record.json',
    'C:\\record.json',
    'a/../../record.json',
    'a\0/record.json',
    './record.json',
  ])('a name that leaves its folder is passed over and named: %j', (name) => {
    const trick = { name, content: bytesOf(recordText(tapped('x', []))) };
    const result = read(zipOf([trick, ...files()]));
    expect(result.bundles).toEqual([bundle]);
    expect(result.passedOver).toEqual([{ name: name.replaceAll('\\', '/'), because: 'unsafe-name' }]);
  });

  test('a name of no end is told by its beginning', () => {
    const name = `../${'n'.repeat(1000)}`;
    const result = read(zipOf([{ name, content: bytesOf('x') }, ...files()]));
    expect(result.passedOver).toEqual([{ name: name.slice(0, 200), because: 'unsafe-name' }]);
  });

  test('of two files of one name the first is taken and the second named', () => {
    const again = { name: 'record.json', content: bytesOf(recordText(tapped('x', []))) };
    const result = read(zipOf([...files(), again]));
    expect(result.bundles).toEqual([bundle]);
    expect(result.passedOver).toEqual([{ name: 'record.json', because: 'name-twice' }]);
  });

  test('a file that claims to be huge is not unpacked, and the others are given', () => {
    const result = read(zipOf(files({ 'taps/t1.wav': { claimedBytes: 0xfffffffe } })));
    expect(result.lost).toEqual([{ recordId: 'i', what: 'tap', id: 't1', because: 'too-large' }]);
    expect([...result.bundles[0]!.taps.keys()]).toEqual(['t2']);
  });

  test('a bomb that admits its size is refused by its ratio, one that hides it stops at the size it claims', () => {
    const bomb = new Uint8Array(30 * 2 ** 20);
    const admitted = read(zipOf(files({ 'taps/t1.wav': { content: bomb } })));
    expect(admitted.lost).toMatchObject([{ id: 't1', because: 'too-large' }]);
    const hidden = read(zipOf(files({ 'taps/t1.wav': { content: bomb, claimedBytes: 5000 } })));
    expect(hidden.lost).toMatchObject([{ id: 't1', because: 'damaged' }]);
  });

  test('many small files together unpack to no more than the archive may', () => {
    const limits = { ...archiveLimits, mostBytes: recordText(record).length + tapToWav(sound, 'a').length + 10 };
    const result = read(zipOf(files()), limits);
    expect(result.lost).toEqual([{ recordId: 'i', what: 'tap', id: 't2', because: 'too-large' }]);
  });

  test('a million files are refused, with a directory and without', () => {
    const header = zipOf([{ name: 'a', content: new Uint8Array(0), stored: true }]);
    const directory = Buffer.from(header).indexOf(Buffer.from([0x50, 0x4b, 1, 2]));
    const million = 1_000_000;
    const local = Buffer.alloc(directory * million, header.subarray(0, directory));
    expect(readArchive(new Uint8Array(local))).toEqual({ kind: 'refused', because: 'too-many-files' });
    expect(readArchive(zipOfMany(million))).toEqual({ kind: 'refused', because: 'too-many-files' });
  });

  test('a zip that keeps its directory in the 64-bit form is refused as that, not as rubbish', () => {
    expect(readArchive(with64BitEnd(zipOf(files({}))))).toEqual({ kind: 'refused', because: '64-bit' });
  });

  test('keys that could pass for a prototype are left out, and no object is changed by them', () => {
    const text = recordText(record).replace(
      '{',
      '{"__proto__":{"polluted":1},"deep":{"constructor":{"prototype":{"polluted":1}},"kept":1},',
    );
    const taken = read(zipOf(files({ 'record.json': { content: bytesOf(text) } }))).bundles[0]!.record;
    expect(taken).toEqual({ ...record, deep: { kept: 1 } });
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
  });

  test('a text of ten megabytes in a field of ours is damage, in a field unknown to us it is carried; markup stays text', () => {
    const long = 'x'.repeat(10_000_000);
    const withField = (key: string, value: string, stored: boolean) => {
      const content = bytesOf(JSON.stringify({ ...record, [key]: value }));
      return read(zipOf(files({ 'record.json': { content, stored } })));
    };
    expect(withField('notes', long, true).unreadable).toEqual([{ folder: '', because: 'damaged' }]);
    // Ten million equal letters pack a thousand times: that is what a bomb looks like.
    expect(withField('notes', long, false).unreadable).toEqual([{ folder: '', because: 'too-large' }]);
    expect(withField('later', long, true).bundles[0]?.record).toEqual({ ...record, later: long });
    const markup = '<img src=x onerror=alert(1)>';
    expect(withField('notes', markup, false).bundles[0]?.record.notes).toBe(markup);
  });

  test('bytes at random are refused or read, never thrown at', { timeout: fuzzTimeout }, () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
        expect(['refused', 'read']).toContain(readArchive(bytes).kind);
      }),
      fuzzRuns,
    );
  });

  test('a mutated archive never throws and never gives a sound other than the one that went in', {
    timeout: fuzzTimeout,
  }, () => {
    const whole = writeArchive([bundle]);
    const mutation = fc.tuple(fc.nat(whole.length - 1), fc.nat(255));
    fc.assert(
      fc.property(fc.array(mutation, { minLength: 1, maxLength: 12 }), fc.nat(whole.length), (mutations, cut) => {
        const bytes = whole.slice(0, cut % 3 === 0 ? cut : whole.length);
        for (const [at, value] of mutations) if (at < bytes.length) bytes[at] = value;
        const result = readArchive(bytes);
        if (result.kind !== 'read') return;
        for (const found of result.bundles) {
          expect(found.record).toEqual(record);
          for (const tap of found.taps.values()) expect(tap).toEqual(sound);
        }
      }),
      fuzzRuns,
    );
  });
});

describe('a tap as a WAV file', () => {
  test('bytes at random and mutated files are refused or read, never thrown at', { timeout: fuzzTimeout }, () => {
    const whole = readFileSync(new URL('../reference/golden-sample.wav', import.meta.url)).subarray(0, 400);
    const mutated = fc.array(fc.tuple(fc.nat(399), fc.nat(255)), { maxLength: 8 }).map((mutations) => {
      const bytes = Uint8Array.from(whole);
      for (const [at, value] of mutations) bytes[at] = value;
      return bytes;
    });
    fc.assert(
      fc.property(fc.oneof(fc.uint8Array({ maxLength: 200 }), mutated), (bytes) => {
        expect(['refused', 'audio']).toContain(readWav(bytes).kind);
        const tap = tapFromWav(bytes);
        if (tap !== undefined) expect(tap.samples.every(Number.isFinite)).toBe(true);
      }),
      fuzzRuns,
    );
  });
});
