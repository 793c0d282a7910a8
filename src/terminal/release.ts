// `npm run release`: the built page as one archive that any host can serve from any folder, with its checksum beside it.
import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { writeTexts } from '../record/archive.ts';
import { build, filesUnder, noteName } from './build.mjs';

export interface Release {
  /** file name of the archive, without folder */
  readonly name: string;
  readonly archive: Uint8Array;
  /** SHA-256 of the archive, in the form that `sha256sum --check` reads */
  readonly sums: string;
}

const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
const sumLine = (bytes: Uint8Array, name: string): string => `${sha256(bytes)}  ${name}\n`;

const readMe = (version: string): string => `Platewright ${version}

This folder is a web page. It must be served: opened as a file it cannot start.

- On a web host: copy everything in this folder into any folder of the host. Nothing runs on the host. The address must
  begin with https:// (or be localhost), or the browser gives no microphone.
- For a new version: copy the new folder over the old one, index.html and sw.js last. Records stay: they belong to the
  address and lie in the maker's own browser. The page offers the new version at its next visit.
- SHA256SUMS holds the checksum of every file here.
`;

/**
 * Packs a built page; the same page gives the same bytes.
 * @param folder the built page
 * @param changes docs/CHANGELOG.md, which must tell of the version
 * @throws Error where it does not, or where a file of the page is no text
 */
export function releaseOf(folder: string, version: string, changes: string): Release {
  if (!changes.includes(`\n## ${version}\n`))
    throw new Error(`release: docs/CHANGELOG.md says nothing of version ${version}`);
  const texts = new Map<string, string>([
    ['READ-ME-FIRST.txt', readMe(version)],
    ['CHANGELOG.md', changes],
  ]);
  for (const name of filesUnder(folder).filter((each) => path.basename(each) !== noteName))
    texts.set(
      name.split(path.sep).join('/'),
      new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(readFileSync(path.join(folder, name))),
    );
  const ordered = [...texts].sort(([a], [b]) => (a < b ? -1 : 1));
  const sums = ordered.map(([name, text]) => sumLine(new TextEncoder().encode(text), name)).join('');
  const top = `platewright-${version}`;
  const archive = writeTexts(
    new Map([...ordered, ['SHA256SUMS', sums] as const].map(([name, text]) => [`${top}/${name}`, text])),
  );
  return { name: `${top}.zip`, archive, sums: sumLine(archive, `${top}.zip`) };
}

if (process.argv[1] === import.meta.filename) {
  const root = path.resolve(import.meta.dirname, '../..');
  if (!build(root)) process.exit(1);
  const { version } = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8')) as { readonly version: string };
  const changes = readFileSync(path.join(root, 'docs/CHANGELOG.md'), 'utf8');
  const { name, archive, sums } = releaseOf(path.join(root, 'dist'), version, changes);
  mkdirSync(path.join(root, 'release'), { recursive: true });
  writeFileSync(path.join(root, 'release', name), archive);
  writeFileSync(path.join(root, 'release/SHA256SUMS'), sums);
  console.log(`release/${name}, ${(archive.length / 1000).toFixed(0)} kB, with its checksum in release/SHA256SUMS`);
}
