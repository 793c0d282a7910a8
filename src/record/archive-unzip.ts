// Taking files out of a zip that may be damaged or hostile: every file is checked against its check sum by itself, no
// more is unpacked than is allowed, and what the directory lost is looked for by the headers.
import { Inflate } from 'fflate';
import { directoryEntries, has64BitDirectory, scannedEntries, type ZipEntry } from './archive-entries.ts';
import { crc32 } from './crc32.ts';

/** How much an archive may be. */
export interface ZipLimits {
  readonly mostFiles: number;
  /** of one file, unpacked */
  readonly mostFileBytes: number;
  /** of all files together, unpacked */
  readonly mostBytes: number;
  /** unpacked over packed, for a file of more than a megabyte and, with 16 MB to spare, for the whole archive */
  readonly mostRatio: number;
}

/**
 * A zip without its 64-bit extension holds no more than 65,535 files. A tap is below 2 MB, a photograph below 5 MB, and
 * a record of hundreds of steps below 10 MB; text packs some 30 times, sound hardly, silence a thousand times.
 */
export const archiveLimits: ZipLimits = {
  mostFiles: 65_535,
  mostFileBytes: 64 * 2 ** 20,
  mostBytes: 4 * 2 ** 30,
  mostRatio: 200,
};

/** A file of an archive, or why it is lost. */
export type FileReading =
  | { readonly kind: 'file'; readonly bytes: Uint8Array }
  | { readonly kind: 'lost'; readonly because: 'missing' | 'damaged' | 'too-large' };

/** A name in the archive that was passed over. */
export interface PassedOver {
  readonly name: string;
  readonly because: 'unsafe-name' | 'name-twice';
}

/** An archive that files can be taken from, or why not. */
export type Zip =
  | {
      readonly kind: 'zip';
      readonly names: readonly string[];
      readonly passedOver: readonly PassedOver[];
      read(name: string): FileReading;
    }
  | { readonly kind: 'refused'; readonly because: 'not-an-archive' | 'too-many-files' | '64-bit' };

/** Opens an archive; nothing is unpacked before it is asked for. Never throws, whatever the bytes. */
export function openZip(bytes: Uint8Array, limits: ZipLimits = archiveLimits): Zip {
  const directory = directoryEntries(bytes, limits.mostFiles);
  if (directory.kind === 'too-many') return { kind: 'refused', because: 'too-many-files' };
  if (directory.entries.length === 0 && has64BitDirectory(bytes)) return { kind: 'refused', because: '64-bit' };
  const scan = directory.isComplete ? undefined : scannedEntries(bytes, limits.mostFiles);
  if (scan?.kind === 'too-many') return { kind: 'refused', because: 'too-many-files' };
  const listed = [...directory.entries, ...(scan?.entries ?? [])];
  if (listed.length === 0 && !directory.isComplete) return { kind: 'refused', because: 'not-an-archive' };
  const passedOver: PassedOver[] = [];
  const entries = byName(directory.entries, passedOver);
  let scanned = scan === undefined ? undefined : byName(scan.entries, directory.entries.length === 0 ? passedOver : []);
  let bytesLeft = Math.min(limits.mostBytes, 16 * 2 ** 20 + limits.mostRatio * bytes.length);

  const take = (entry: ZipEntry | undefined): FileReading => {
    if (entry === undefined) return { kind: 'lost', because: 'missing' };
    const isBloated = entry.bytes > 2 ** 20 && entry.bytes > limits.mostRatio * entry.packedBytes;
    if (entry.bytes > Math.min(limits.mostFileBytes, bytesLeft) || isBloated)
      return { kind: 'lost', because: 'too-large' };
    bytesLeft -= entry.bytes;
    const content = unpacked(bytes, entry);
    return content === undefined ? { kind: 'lost', because: 'damaged' } : { kind: 'file', bytes: content };
  };
  const read = (name: string): FileReading => {
    const first = take(entries.get(name));
    if (first.kind === 'file' || first.because === 'too-large') return first;
    if (scanned === undefined) {
      const found = scannedEntries(bytes, limits.mostFiles);
      scanned = byName(found.kind === 'entries' ? found.entries : [], []);
    }
    const second = take(scanned.get(name));
    return second.kind === 'lost' && second.because === 'missing' ? first : second;
  };
  return { kind: 'zip', names: [...new Set([...entries.keys(), ...(scanned?.keys() ?? [])])], passedOver, read };
}

/** The first entry of each name; names that point out of the archive are passed over, folders are left out. */
function byName(entries: readonly ZipEntry[], passedOver: PassedOver[]): ReadonlyMap<string, ZipEntry> {
  const found = new Map<string, ZipEntry>();
  for (const entry of entries) {
    const name = entry.name.replaceAll('\\', '/');
    if (name.endsWith('/')) continue;
    const because = !isSafe(name) ? 'unsafe-name' : found.has(name) ? 'name-twice' : undefined;
    if (because === undefined) found.set(name, entry);
    else passedOver.push({ name: name.slice(0, 200), because });
  }
  return found;
}

/** Relative, without a step up, a drive or a control character. */
function isSafe(name: string): boolean {
  return (
    name.length <= 1024 &&
    !/^[A-Za-z]:|\p{Cc}/u.test(name) &&
    name.split('/').every((part) => part !== '' && part !== '.' && part !== '..')
  );
}

const stored = 0;
const deflated = 8;
/** Packed bytes given to the unpacker at once: deflate makes at most 1032 bytes of one, so 33 MB before we look. */
const portionBytes = 32 * 1024;

/** The content of an entry that fits its size and check sum, or undefined. */
function unpacked(bytes: Uint8Array, entry: ZipEntry): Uint8Array | undefined {
  const { dataAt, packedBytes } = entry;
  if (entry.isEncrypted || dataAt === undefined || dataAt + packedBytes > bytes.length) return undefined;
  const packed = bytes.subarray(dataAt, dataAt + packedBytes);
  const content =
    entry.method === stored ? packed.slice() : entry.method === deflated ? inflated(packed, entry.bytes) : undefined;
  return content !== undefined && content.length === entry.bytes && crc32(content) === entry.crc ? content : undefined;
}

/** The deflated bytes unpacked, or undefined where they are damaged or more than `size`. */
function inflated(packed: Uint8Array, size: number): Uint8Array | undefined {
  const content = new Uint8Array(size);
  let filled = 0;
  const inflate = new Inflate((portion) => {
    if (filled + portion.length <= size) content.set(portion, filled);
    filled += portion.length;
  });
  try {
    for (let at = 0; at < packed.length && filled <= size; at += portionBytes)
      inflate.push(packed.subarray(at, at + portionBytes), at + portionBytes >= packed.length);
  } catch {
    // The unpacker throws on damaged data.
    return undefined;
  }
  return filled === size ? content : undefined;
}
