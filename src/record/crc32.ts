// The check sum by which a zip tells a damaged file from a sound one.

/** Reflected generator polynomial. Source: PKWARE APPNOTE.TXT 6.3.10, section 4.4.7 (0xdebb20e3 is its remainder). */
const polynomial = 0xedb88320;

const table = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit++) rest = (rest >>> 1) ^ (rest & 1 ? polynomial : 0);
  return rest;
});

/** CRC-32 of the bytes, 0 to 2^32 - 1. Source: PKWARE APPNOTE.TXT 6.3.10, section 4.4.7. */
export function crc32(bytes: Uint8Array): number {
  let rest = 0xffffffff;
  for (let i = 0; i < bytes.length; i++) rest = (rest >>> 8) ^ table[(rest ^ bytes[i]!) & 255]!;
  return (rest ^ 0xffffffff) >>> 0;
}
