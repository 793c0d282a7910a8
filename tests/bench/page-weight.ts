// What a built page weighs when it travels.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { gzipSync } from 'node:zlib';

/** kB (1000 bytes) after gzip: what the page asks for before it shows anything, and everything that is code or style. */
export function pageWeight(folder: string): { readonly firstKb: number; readonly allKb: number } {
  const html = readFileSync(path.join(folder, 'index.html'), 'utf8');
  const assets = path.join(folder, 'assets');
  let firstKb = gzipSync(html).length / 1000;
  let allKb = firstKb;
  for (const name of readdirSync(assets).filter((each) => /\.(js|css)$/.test(each))) {
    const kb = gzipSync(readFileSync(path.join(assets, name))).length / 1000;
    allKb += kb;
    if (html.includes(name)) firstKb += kb;
  }
  return { firstKb, allKb };
}
