// Which files a zip holds, by its own directory at the end or, where that is gone, by the header before each file.
// Source of the layout: PKWARE APPNOTE.TXT 6.3.10, sections 4.3.7 (local header), 4.3.9 (data descriptor),
// 4.3.12 (central directory), 4.3.15 (locator of the 64-bit end record) and 4.3.16 (end record).
import { strFromU8 } from 'fflate';

/** Where a file lies in the archive and what the archive says of it. */
export interface ZipEntry {
  readonly name: string;
  readonly method: number;
  readonly isEncrypted: boolean;
  readonly crc: number;
  readonly packedBytes: number;
  readonly bytes: number;
  /** first byte of the packed data, or undefined where the local header is not where the directory says */
  readonly dataAt: number | undefined;
}

/** The entries of an archive. */
export type ZipListing =
  | {
      readonly kind: 'entries';
      readonly entries: readonly ZipEntry[];
      /** false where the directory is missing or breaks off */
      readonly isComplete: boolean;
    }
  | { readonly kind: 'too-many' };

const localSignature = 0x04034b50;
const descriptorSignature = 0x08074b50;
const centralSignature = 0x02014b50;
const endSignature = 0x06054b50;
const locator64Signature = 0x07064b50;
const locator64Bytes = 20;
const localBytes = 30;
const centralBytes = 46;
const endBytes = 22;
const longestComment = 0xffff;
const encryptedFlag = 1;
const descriptorFlag = 8;
const utf8Flag = 0x800;

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

/** The entries by the directory at the end of the archive. */
export function directoryEntries(bytes: Uint8Array, mostEntries: number): ZipListing {
  const view = viewOf(bytes);
  const directory = findDirectory(view);
  if (directory === undefined) return { kind: 'entries', entries: [], isComplete: false };
  const entries: ZipEntry[] = [];
  let at = directory.from;
  while (at + centralBytes <= directory.to && view.getUint32(at, true) === centralSignature) {
    if (entries.length === mostEntries) return { kind: 'too-many' };
    const nameBytes = view.getUint16(at + 28, true);
    const flags = view.getUint16(at + 8, true);
    entries.push({
      name: nameOf(bytes, at + centralBytes, nameBytes, flags),
      method: view.getUint16(at + 10, true),
      isEncrypted: (flags & encryptedFlag) !== 0,
      crc: view.getUint32(at + 16, true),
      packedBytes: view.getUint32(at + 20, true),
      bytes: view.getUint32(at + 24, true),
      dataAt: dataAfter(view, directory.shift + view.getUint32(at + 42, true)),
    });
    at += centralBytes + nameBytes + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return { kind: 'entries', entries, isComplete: at === directory.to };
}

/** Whether the archive keeps its directory in the 64-bit form. */
export function has64BitDirectory(bytes: Uint8Array): boolean {
  const view = viewOf(bytes);
  const earliest = Math.max(locator64Bytes, view.byteLength - endBytes - longestComment);
  for (let at = view.byteLength - endBytes; at >= earliest; at--)
    if (view.getUint32(at, true) === endSignature && view.getUint32(at - locator64Bytes, true) === locator64Signature)
      return true;
  return false;
}

/** `shift`: bytes that were put in front of the archive after its offsets were written. */
function findDirectory(view: DataView): { from: number; to: number; shift: number } | undefined {
  const earliest = Math.max(0, view.byteLength - endBytes - longestComment);
  for (let at = view.byteLength - endBytes; at >= earliest; at--) {
    if (view.getUint32(at, true) !== endSignature) continue;
    const size = view.getUint32(at + 12, true);
    const shift = at - size - view.getUint32(at + 16, true);
    if (shift >= 0) return { from: at - size, to: at, shift };
  }
  return undefined;
}

function dataAfter(view: DataView, at: number): number | undefined {
  if (at + localBytes > view.byteLength || view.getUint32(at, true) !== localSignature) return undefined;
  return at + localBytes + view.getUint16(at + 26, true) + view.getUint16(at + 28, true);
}

function nameOf(bytes: Uint8Array, at: number, length: number, flags: number): string {
  return strFromU8(bytes.subarray(at, at + length), (flags & utf8Flag) === 0);
}

/** The entries by the local header before each file, for an archive whose directory is damaged or gone. */
export function scannedEntries(bytes: Uint8Array, mostEntries: number): ZipListing {
  const view = viewOf(bytes);
  const entries: ZipEntry[] = [];
  // A file whose sizes follow it: the entry so far.
  let unsized: (ZipEntry & { readonly dataAt: number }) | undefined;
  for (let at = bytes.indexOf(0x50); at >= 0 && at + 16 <= bytes.length; at = bytes.indexOf(0x50, at)) {
    if (entries.length > mostEntries) return { kind: 'too-many' };
    const signature = view.getUint32(at, true);
    const dataAt = signature === localSignature ? dataAfter(view, at) : undefined;
    if (dataAt !== undefined) {
      const flags = view.getUint16(at + 6, true);
      const entry = {
        name: nameOf(bytes, at + localBytes, view.getUint16(at + 26, true), flags),
        method: view.getUint16(at + 8, true),
        isEncrypted: (flags & encryptedFlag) !== 0,
        crc: view.getUint32(at + 14, true),
        packedBytes: view.getUint32(at + 18, true),
        bytes: view.getUint32(at + 22, true),
        dataAt,
      };
      if ((flags & descriptorFlag) !== 0 && entry.packedBytes === 0) {
        unsized = entry;
        at = dataAt;
      } else {
        entries.push(entry);
        const end = dataAt + entry.packedBytes;
        // A header that fits the one after it is believed; otherwise its sizes may be the damage, and nothing is leapt.
        at = end === bytes.length || isHeader(view, end) ? end : dataAt;
      }
    } else {
      if (signature === descriptorSignature && unsized !== undefined) {
        const packedBytes = view.getUint32(at + 8, true);
        if (packedBytes === at - unsized.dataAt) {
          entries.push({
            ...unsized,
            crc: view.getUint32(at + 4, true),
            packedBytes,
            bytes: view.getUint32(at + 12, true),
          });
          unsized = undefined;
        }
      }
      at++;
    }
  }
  return { kind: 'entries', entries, isComplete: entries.length > 0 };
}

function isHeader(view: DataView, at: number): boolean {
  if (at + 4 > view.byteLength) return false;
  const signature = view.getUint32(at, true);
  return signature === localSignature || signature === centralSignature || signature === endSignature;
}
