// Files in and out of the browser.

/** Hands a file to the person under the name given. */
export function saveFile(name: string, type: string, bytes: Uint8Array<ArrayBuffer>): void {
  const url = URL.createObjectURL(new Blob([bytes], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The download has taken its own hold of the data by the next turn of the event loop.
  setTimeout(() => URL.revokeObjectURL(url), 0);
}

/** All bytes of a file. */
export async function readFile(file: Blob): Promise<Uint8Array<ArrayBuffer>> {
  return new Uint8Array(await file.arrayBuffer());
}

/** Longest side of a stored photograph, pixels: enough to see a brace, small enough for a record of hundreds. */
const photoSide = 1600;

/** A photograph made small enough to keep, as JPEG. @throws DOMException where the file is no picture */
export async function shrinkPhoto(file: Blob): Promise<Blob> {
  const bitmap = await createImageBitmap(file);
  const scale = Math.min(1, photoSide / Math.max(bitmap.width, bitmap.height));
  const canvas = new OffscreenCanvas(Math.round(bitmap.width * scale), Math.round(bitmap.height * scale));
  canvas.getContext('2d')?.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  return canvas.convertToBlob({ type: 'image/jpeg', quality: 0.85 });
}
