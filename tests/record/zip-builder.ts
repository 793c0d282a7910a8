// Zips put together by hand, so that each field can be made to lie. Layout: PKWARE APPNOTE.TXT 6.3.10, section 4.3.
import { deflateRawSync, crc32 as zlibCrc32 } from 'node:zlib';

const nothing = new Uint8Array(0);

export interface ZipFile {
  readonly name: string;
  readonly content: Uint8Array;
  readonly stored?: boolean;
  readonly claimedBytes?: number;
  readonly claimedCrc?: number;
  /** sizes and check sum after the data instead of before it, as programs write that stream */
  readonly sizesAfter?: boolean;
  readonly flags?: number;
  readonly method?: number;
  /** bytes of further fields before the data, and in the directory with a remark behind them */
  readonly localExtra?: Uint8Array;
  readonly directoryExtra?: Uint8Array;
  readonly remark?: string;
}

/** An archive of the files, with or without the directory at its end. */
export function zipOf(files: readonly ZipFile[], options: { readonly directory?: boolean } = {}): Uint8Array {
  const parts: Buffer[] = [];
  const directory: Buffer[] = [];
  let at = 0;
  for (const file of files) {
    const data = file.stored ? Buffer.from(file.content) : deflateRawSync(file.content);
    const name = Buffer.from(file.name, ((file.flags ?? 0x800) & 0x800) === 0 ? 'latin1' : 'utf8');
    const [localExtra, directoryExtra] = [file.localExtra ?? nothing, file.directoryExtra ?? nothing];
    const remark = Buffer.from(file.remark ?? '', 'utf8');
    const crc = file.claimedCrc ?? zlibCrc32(file.content);
    const bytes = file.claimedBytes ?? file.content.length;
    const flags = (file.flags ?? 0x800) | (file.sizesAfter ? 8 : 0);
    const method = file.method ?? (file.stored ? 0 : 8);
    const known = [u16(20), u16(flags), u16(method), u32(0)];
    const sizes = [u32(crc), u32(data.length), u32(bytes)];
    const local = Buffer.concat([
      u32(0x04034b50),
      ...known,
      ...(file.sizesAfter ? [u32(0), u32(0), u32(0)] : sizes),
      u16(name.length),
      u16(localExtra.length),
      name,
      localExtra,
      data,
      ...(file.sizesAfter ? [u32(0x08074b50), ...sizes] : []),
    ]);
    parts.push(local);
    directory.push(
      Buffer.concat([u32(0x02014b50), u16(20), ...known, ...sizes]),
      Buffer.concat([u16(name.length), u16(directoryExtra.length), u16(remark.length), u16(0), u16(0)]),
      Buffer.concat([u32(0), u32(at), name, directoryExtra, remark]),
    );
    at += local.length;
  }
  const central = Buffer.concat(directory);
  const count = files.length % 65_536;
  const end = Buffer.concat([
    u32(0x06054b50),
    u16(0),
    u16(0),
    u16(count),
    u16(count),
    u32(central.length),
    u32(at),
    u16(0),
  ]);
  return new Uint8Array(Buffer.concat(options.directory === false ? parts : [...parts, central, end]));
}

/** An archive whose directory lists one empty file over and over. */
export function zipOfMany(files: number): Uint8Array {
  const one = Buffer.from(zipOf([{ name: 'a', content: new Uint8Array(0), stored: true }]));
  const directory = one.indexOf(Buffer.from([0x50, 0x4b, 1, 2]));
  const end = one.indexOf(Buffer.from([0x50, 0x4b, 5, 6]));
  const entries = Buffer.alloc((end - directory) * files, one.subarray(directory, end));
  const last = Buffer.from(one.subarray(end));
  last.writeUInt32LE(entries.length, 12);
  return new Uint8Array(Buffer.concat([one.subarray(0, directory), entries, last]));
}

/** The archive with the end of a zip that keeps its directory in the 64-bit form. Source: APPNOTE.TXT 4.3.14 to 4.3.16. */
export function with64BitEnd(zip: Uint8Array): Uint8Array {
  const end = Buffer.from(zip.slice(zip.length - 22));
  const at = zip.length - 22;
  const end64 = Buffer.alloc(56);
  end64.writeUInt32LE(0x06064b50, 0);
  end64.writeBigUInt64LE(44n, 4);
  end64.writeBigUInt64LE(BigInt(end.readUInt16LE(10)), 24);
  end64.writeBigUInt64LE(BigInt(end.readUInt16LE(10)), 32);
  end64.writeBigUInt64LE(BigInt(end.readUInt32LE(12)), 40);
  end64.writeBigUInt64LE(BigInt(end.readUInt32LE(16)), 48);
  const locator = Buffer.alloc(20);
  locator.writeUInt32LE(0x07064b50, 0);
  locator.writeBigUInt64LE(BigInt(at), 8);
  locator.writeUInt32LE(1, 16);
  end.writeUInt16LE(0xffff, 8);
  end.writeUInt16LE(0xffff, 10);
  end.writeUInt32LE(0xffffffff, 12);
  end.writeUInt32LE(0xffffffff, 16);
  return new Uint8Array(Buffer.concat([zip.slice(0, at), end64, locator, end]));
}

function u16(value: number): Buffer {
  const bytes = Buffer.alloc(2);
  bytes.writeUInt16LE(value);
  return bytes;
}

function u32(value: number): Buffer {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32LE(value >>> 0);
  return bytes;
}
