// UTF-8 by the language alone: the pure folders know no TextEncoder.

/** The bytes of a text; a lone surrogate becomes the replacement character. */
export function encodeUtf8(text: string): Uint8Array {
  const escaped = encodeURIComponent(text.replace(/\p{Surrogate}/gu, '\ufffd'));
  const bytes: number[] = [];
  for (let i = 0; i < escaped.length; i++) {
    if (escaped[i] === '%') {
      bytes.push(Number.parseInt(escaped.slice(i + 1, i + 3), 16));
      i += 2;
    } else bytes.push(escaped.charCodeAt(i));
  }
  return Uint8Array.from(bytes);
}

/** The text of bytes; bytes that are no UTF-8 are read as Latin-1, as older programs write them. */
export function decodeUtf8(bytes: Uint8Array): string {
  let escaped = '';
  let plain = '';
  for (const byte of bytes) {
    escaped += `%${byte.toString(16).padStart(2, '0')}`;
    plain += String.fromCharCode(byte);
  }
  try {
    return decodeURIComponent(escaped);
  } catch {
    return plain;
  }
}
