// What a zip says of its files, by its directory and by the headers before them, field by field. Layout: PKWARE APPNOTE.TXT
// 6.3.10, section 4.3; contents are unpacked and check sums counted by another program (zlib).
import { inflateRawSync, crc32 as zlibCrc32 } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import {
  directoryEntries,
  has64BitDirectory,
  scannedEntries,
  type ZipListing,
} from '../../src/record/archive-entries.ts';
import { with64BitEnd, type ZipFile, zipOf } from './zip-builder.ts';

const textOf = (text: string) => new TextEncoder().encode(text);
const joined = (...parts: readonly Uint8Array[]) => new Uint8Array(Buffer.concat(parts));
/** PK, 3, 4: how a file begins. */
const HEADER = Uint8Array.of(0x50, 0x4b, 3, 4);
const files: readonly ZipFile[] = [
  { name: 'record.json', content: textOf('{"name":"One","steps":[1,1,1,1,1,1,1,1]}'), localExtra: new Uint8Array(9) },
  { name: 'taps/größe.wav', content: textOf('sound'), stored: true, directoryExtra: new Uint8Array(5), remark: 'loud' },
  { name: 'e', content: new Uint8Array(0), stored: true, remark: 'nothing in it' },
];
const whole = zipOf(files);
const bare = zipOf(files, { directory: false });
const listed = (listing: ZipListing) => {
  if (listing.kind !== 'entries') throw new Error(listing.kind);
  return listing;
};
const namesOf = (listing: ZipListing) => listed(listing).entries.map(({ name }) => name);

/** Every field against what was packed; the data against what another program makes of it. */
function holds(listing: ZipListing, bytes: Uint8Array, packed: readonly ZipFile[] = files) {
  const { entries } = listed(listing);
  expect(entries.map(({ name }) => name)).toEqual(packed.map(({ name }) => name));
  entries.forEach((entry, k) => {
    const { content, stored } = packed[k]!;
    expect(entry.bytes).toBe(content.length);
    expect(entry.crc).toBe(zlibCrc32(content));
    expect(entry.method).toBe(stored ? 0 : 8);
    const data = bytes.subarray(entry.dataAt!, entry.dataAt! + entry.packedBytes);
    expect(new Uint8Array(stored ? data : inflateRawSync(data))).toEqual(content);
  });
}

describe('by the directory', () => {
  test('each file has its name, sizes, check sum and place, whatever further fields stand there', () => {
    const listing = directoryEntries(whole, 3);
    holds(listing, whole);
    expect(listed(listing).isComplete).toBe(true);
    expect(listed(listing).entries.map(({ isEncrypted }) => isEncrypted)).toEqual([false, false, false]);
  });

  test('a file that is locked is told, beside others that are not', () => {
    const some = zipOf([files[1]!, { ...files[1]!, flags: 0x801 }]);
    expect(listed(directoryEntries(some, 9)).entries.map(({ isEncrypted }) => isEncrypted)).toEqual([false, true]);
    expect(listed(scannedEntries(some, 9)).entries.map(({ isEncrypted }) => isEncrypted)).toEqual([false, true]);
  });

  test('names are read in the code that they are written in', () => {
    const old = zipOf([{ name: 'größe', content: textOf('a'), flags: 0 }]);
    expect(namesOf(directoryEntries(old, 9))).toEqual(['größe']);
    expect(namesOf(scannedEntries(old, 9))).toEqual(['größe']);
  });

  test('what was put before the archive moves the places, and nothing else', () => {
    const moved = joined(textOf('a program that unpacks itself'), whole);
    holds(directoryEntries(moved, 9), moved);
  });

  test('a remark at the end, up to the longest, leaves it to be found; more is no zip', () => {
    for (const length of [1, 4, 65_535]) {
      const remarked = joined(whole, new Uint8Array(length));
      holds(directoryEntries(remarked, 9), remarked);
    }
    expect(directoryEntries(joined(whole, new Uint8Array(65_536)), 9)).toEqual({
      kind: 'entries',
      entries: [],
      isComplete: false,
    });
  });

  test('an end that points before the beginning is passed over for an earlier one', () => {
    const end = whole.slice(whole.length - 22);
    const lying = new DataView(end.buffer);
    lying.setUint32(12, 2 ** 31, true);
    const twice = joined(whole, end);
    holds(directoryEntries(twice, 9), twice);
  });

  test.each([
    ['nothing', new Uint8Array(0)],
    ['less than an end', whole.slice(whole.length - 21)],
    ['no end', bare],
  ])('%s has no directory', (_, bytes) => {
    expect(directoryEntries(bytes, 9)).toEqual({ kind: 'entries', entries: [], isComplete: false });
  });

  test('so many and no more', () => {
    expect(namesOf(directoryEntries(whole, 3))).toHaveLength(3);
    expect(directoryEntries(whole, 2)).toEqual({ kind: 'too-many' });
  });

  test('a directory that breaks off gives what stands before the break, and says so', () => {
    const broken = whole.slice();
    const directory = Buffer.from(whole).indexOf(Uint8Array.of(0x50, 0x4b, 1, 2));
    const second = Buffer.from(whole).indexOf(Uint8Array.of(0x50, 0x4b, 1, 2), directory + 1);
    broken[second] = 0;
    expect(listed(directoryEntries(broken, 9))).toMatchObject({
      entries: [{ name: 'record.json' }],
      isComplete: false,
    });
  });

  test('a name that would reach beyond the archive is the last that is listed', () => {
    const long = whole.slice();
    const directory = Buffer.from(whole).indexOf(Uint8Array.of(0x50, 0x4b, 1, 2));
    new DataView(long.buffer).setUint16(directory + 28, 65_535, true);
    expect(listed(directoryEntries(long, 9))).toMatchObject({
      entries: [{ bytes: files[0]!.content.length }],
      isComplete: false,
    });
  });

  test('a file without a name is listed, last as well', () => {
    expect(
      namesOf(
        directoryEntries(
          zipOf([files[2]!, { ...files[1]!, name: '', remark: '', directoryExtra: new Uint8Array(0) }]),
          9,
        ),
      ),
    ).toEqual(['e', '']);
  });

  test('a file whose header is gone, or that would lie beyond the end, has no place', () => {
    const gone = whole.slice();
    gone[2] = 0;
    expect(listed(directoryEntries(gone, 9)).entries.map(({ dataAt }) => dataAt === undefined)).toEqual([
      true,
      false,
      false,
    ]);
    const beyond = whole.slice();
    const directory = Buffer.from(whole).indexOf(Uint8Array.of(0x50, 0x4b, 1, 2));
    new DataView(beyond.buffer).setUint32(directory + 42, whole.length - 29, true);
    expect(listed(directoryEntries(beyond, 9)).entries[0]!.dataAt).toBeUndefined();
  });
});

describe('the 64-bit form', () => {
  test('is told by its locator, also before a remark; a plain zip is not taken for it', () => {
    const long = with64BitEnd(whole);
    expect(has64BitDirectory(long)).toBe(true);
    expect(has64BitDirectory(joined(long, new Uint8Array(65_535)))).toBe(true);
    expect(has64BitDirectory(joined(long, new Uint8Array(65_536)))).toBe(false);
    expect(has64BitDirectory(whole)).toBe(false);
    expect(has64BitDirectory(new Uint8Array(41))).toBe(false);
    expect(has64BitDirectory(joined(long.slice(0, long.length - 22), new Uint8Array(22)))).toBe(false);
    // The locator and the end alone: 42 bytes.
    expect(has64BitDirectory(long.slice(long.length - 42))).toBe(true);
    expect(has64BitDirectory(long.slice(long.length - 41))).toBe(false);
  });
});

describe('by the header before each file', () => {
  test('all are found, with a directory behind them or without', () => {
    for (const bytes of [bare, whole]) {
      holds(scannedEntries(bytes, 9), bytes);
      expect(listed(scannedEntries(bytes, 9)).isComplete).toBe(true);
    }
    expect(scannedEntries(textOf('PK is not enough, PK PK PK'), 9)).toEqual({
      kind: 'entries',
      entries: [],
      isComplete: false,
    });
  });

  test('sizes that stand after the data are taken from there, with what looks like them inside the data passed over', () => {
    const tricky = joined(textOf('PK'), Uint8Array.of(0x50, 0x4b, 7, 8), new Uint8Array(20), textOf('PK'));
    const streamed: readonly ZipFile[] = [
      { name: 'a', content: tricky, stored: true, sizesAfter: true },
      { name: 'b', content: textOf('bbbbbbbbbbbbbbbbbbbbbbbb'), sizesAfter: true },
    ];
    const bytes = zipOf(streamed, { directory: false });
    holds(scannedEntries(bytes, 9), bytes, streamed);
  });

  test('sizes that stand before the data all the same are believed', () => {
    const both: readonly ZipFile[] = [{ name: 'a', content: textOf('aaa'), stored: true, flags: 0x808 }, files[1]!];
    const bytes = zipOf(both, { directory: false });
    holds(scannedEntries(bytes, 9), bytes, both);
  });

  test('sizes after data that nobody waits for are nothing', () => {
    const after = joined(bare, Uint8Array.of(0x50, 0x4b, 7, 8), new Uint8Array(12));
    holds(scannedEntries(after, 9), after);
  });

  test('a zip inside a zip is leapt where the sizes fit what follows, and looked into where they may be the damage', () => {
    const inner = zipOf([{ name: 'inner', content: textOf('inside'), stored: true }], { directory: false });
    const outer: ZipFile = { name: 'outer', content: inner, stored: true };
    expect(namesOf(scannedEntries(zipOf([outer]), 9))).toEqual(['outer']);
    expect(namesOf(scannedEntries(zipOf([outer], { directory: false }), 9))).toEqual(['outer']);
    expect(namesOf(scannedEntries(zipOf([outer, files[1]!], { directory: false }), 9))).toEqual([
      'outer',
      'taps/größe.wav',
    ]);
    const damaged = zipOf([outer, files[1]!], { directory: false });
    new DataView(damaged.buffer).setUint32(18, inner.length + 3, true);
    expect(namesOf(scannedEntries(damaged, 9))).toEqual(['outer', 'inner', 'taps/größe.wav']);
    // Before the end of a zip whose directory is empty as well.
    const ended = joined(zipOf([outer], { directory: false }), zipOf([]));
    expect(namesOf(scannedEntries(ended, 9))).toEqual(['outer']);
    const cut = joined(zipOf([outer], { directory: false }), Uint8Array.of(0x50, 0x4b, 5, 6));
    expect(namesOf(scannedEntries(cut, 9))).toEqual(['outer']);
  });

  test('a header that breaks off at the end is no file', () => {
    expect(namesOf(scannedEntries(joined(bare, HEADER), 9))).toEqual(files.map(({ name }) => name));
    expect(namesOf(scannedEntries(joined(bare, HEADER, new Uint8Array(25)), 9))).toHaveLength(3);
    // Thirty bytes are a whole header, of an empty file without a name.
    expect(namesOf(scannedEntries(joined(bare, HEADER, new Uint8Array(26)), 9))).toEqual([
      ...files.map(({ name }) => name),
      '',
    ]);
  });

  test('more than so many are refused', () => {
    expect(namesOf(scannedEntries(bare, 3))).toHaveLength(3);
    expect(namesOf(scannedEntries(whole, 3))).toHaveLength(3);
    expect(scannedEntries(joined(bare, bare), 4)).toEqual({ kind: 'too-many' });
  });

  test('a view of a larger buffer is read from its own beginning', () => {
    const larger = joined(new Uint8Array(7), whole, new Uint8Array(3));
    const view = larger.subarray(7, 7 + whole.length);
    holds(directoryEntries(view, 9), view);
    holds(scannedEntries(view, 9), view);
  });
});
