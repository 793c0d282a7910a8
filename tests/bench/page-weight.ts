// What a built page weighs when it travels.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { gzipSync } from 'node:zlib';

/** kB (1000 bytes) after gzip: what the page asks for before it shows anything, and everything that is code or style. */
export function pageWeight(folder: string): { readonly firstKb: number; readonly allKb: number } {
  const html = readFileSync(path.join(folder, 'index.html'), 'utf8');
  let firstKb = gzipSync(html).length / 1000;
  let allKb = firstKb;
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((it) =>
    /\.(js|css)$/.test(it),
  )) {
    const kb = gzipSync(readFileSync(path.join(folder, name))).length / 1000;
    allKb += kb;
    if (html.includes(path.basename(name))) firstKb += kb;
  }
  return { firstKb, allKb };
}
