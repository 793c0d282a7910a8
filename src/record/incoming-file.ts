// Any file that can come in: an archive of records, or a universal file of another program.
import { type ArchiveResult, latinText, readArchive } from './archive.ts';
import { looksUniversal, recordFromUff, type UffContent } from './uff-incoming.ts';

/** What a file gave. */
export type FileResult = (ArchiveResult | { readonly kind: 'refused'; readonly because: 'no-tap' | 'too-long' }) & {
  /** set where it is a universal file */
  readonly universal?: UffContent;
};

/** Longest universal file that is taken: some hundred taps as text. */
const longestUniversalBytes = 400e6;

/**
 * Reads a file of either kind. Never throws, whatever the bytes.
 * @param atIso time of taps that carry none
 */
export function readIncomingFile(bytes: Uint8Array, name: string, atIso: string): FileResult {
  if (!looksUniversal(latinText(bytes.subarray(0, 400)))) return readArchive(bytes);
  if (bytes.length > longestUniversalBytes) return { kind: 'refused', because: 'too-long' };
  const { bundle, content: universal } = recordFromUff(latinText(bytes), name, atIso);
  if (bundle === undefined) return { kind: 'refused', because: 'no-tap', universal };
  return { kind: 'read', bundles: [bundle], unreadable: [], lost: [], lostTaps: 0, passedOver: [], universal };
}
