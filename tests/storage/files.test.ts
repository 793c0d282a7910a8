import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { readFile, saveFile, shrinkPhoto } from '../../src/storage/files.ts';

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
});

/** A browser that downloads what a link leads to; as the File API (W3C) has it, a URL that was revoked leads nowhere. */
function downloads() {
  const living = new Map<string, Blob>();
  const saved: { readonly name: string; readonly blob: Blob | undefined }[] = [];
  vi.spyOn(URL, 'createObjectURL').mockImplementation((blob) => {
    const url = `blob:${living.size}`;
    living.set(url, blob as Blob);
    return url;
  });
  vi.spyOn(URL, 'revokeObjectURL').mockImplementation((url) => void living.delete(url));
  const createElement = (tag: string) => ({
    href: '',
    download: '',
    click() {
      // The browser takes hold of the data a little later.
      if (tag === 'a') queueMicrotask(() => saved.push({ name: this.download, blob: living.get(this.href) }));
    },
  });
  vi.stubGlobal('document', { createElement });
  return { living, saved };
}

describe('files', () => {
  test('one handed out has its name, kind and bytes, and the browser need not keep it after that', async () => {
    const { living, saved } = downloads();
    saveFile('wood.csv', 'text/csv', Uint8Array.of(1, 2, 250));
    await vi.advanceTimersByTimeAsync(1);
    const [{ name, blob }] = saved as [{ name: string; blob: Blob }];
    expect([name, blob.type, blob.size]).toEqual(['wood.csv', 'text/csv', 3]);
    expect(await readFile(blob)).toEqual(Uint8Array.of(1, 2, 250));
    expect(living.size).toBe(0);
  });
});

/** A browser with pictures of a size; what is drawn, and asked to be packed, is listed. */
function pictures(width: number, height: number) {
  const packed: { readonly size: readonly number[]; readonly drawn: readonly number[]; readonly as: unknown }[] = [];
  const bitmap = {
    width,
    height,
    closed: false,
    close() {
      this.closed = true;
    },
  };
  vi.stubGlobal('createImageBitmap', async (file: Blob) => {
    if (file.size === 0) throw new DOMException('', 'InvalidStateError');
    return bitmap;
  });
  vi.stubGlobal(
    'OffscreenCanvas',
    class {
      readonly width: number;
      readonly height: number;
      private drawn: readonly number[] = [];
      constructor(width: number, height: number) {
        this.width = width;
        this.height = height;
      }
      getContext(kind: string) {
        const drawImage = (of: { closed: boolean }, ...place: number[]) => {
          if (of.closed) throw new DOMException('', 'InvalidStateError');
          this.drawn = place;
        };
        return kind === '2d' ? { drawImage } : null;
      }
      async convertToBlob(as: { readonly type: string }) {
        packed.push({ size: [this.width, this.height], drawn: this.drawn, as });
        return new Blob(['small'], { type: as.type });
      }
    },
  );
  return { packed, bitmap };
}

describe('a photograph', () => {
  test.each([
    // Four by three, either way up: the longer side becomes 1600.
    [4000, 3000, 1600, 1200],
    [3000, 4000, 1200, 1600],
    // 1999 x 1600 / 3000 = 1066.13 and 2001 x 1600 / 3000 = 1067.2
    [3000, 1999, 1600, 1066],
    [2001, 3000, 1067, 1600],
    // 997 x 1600 / 2000 = 797.6: to the nearest pixel
    [2000, 997, 1600, 798],
    // small enough as it is
    [1600, 900, 1600, 900],
    [640, 480, 640, 480],
  ])('of %i x %i pixels is kept as %i x %i, all of it', async (width, height, keptWidth, keptHeight) => {
    const { packed, bitmap } = pictures(width, height);
    const kept = await shrinkPhoto(new Blob(['large']));
    expect(kept.type).toBe('image/jpeg');
    expect(packed).toEqual([
      {
        size: [keptWidth, keptHeight],
        drawn: [0, 0, keptWidth, keptHeight],
        as: { type: 'image/jpeg', quality: 0.85 },
      },
    ]);
    // A picture that is not closed stays in memory, 48 MB each.
    expect(bitmap.closed).toBe(true);
  });

  test('that is none is refused by the browser', async () => {
    pictures(100, 100);
    await expect(shrinkPhoto(new Blob([]))).rejects.toBeInstanceOf(DOMException);
  });
});
