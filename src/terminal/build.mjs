// `npm run build`: the page in dist, built aside and put in place when it is whole, so that nobody is ever served half of
// one. `npm start` builds only what has changed since.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';

const here = path.resolve(import.meta.dirname, '../..');

/** What the page is built from. */
const sources = [
  'src',
  'worklets',
  'reference-audio/demo/heard.json',
  'reference-audio/demo/readings.json',
  'index.html',
  'vite.config.ts',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'tsconfig.base.json',
  'LICENSE',
];

/** Says beside the build what it was made from and what belongs to it. */
export const noteName = '.built.json';

/** Every file in a folder and below it, named from there, in order. @param {string} folder */
export const filesUnder = (folder) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.relative(folder, path.join(entry.parentPath ?? entry.path, entry.name)))
    .sort();

/** Changes whenever anything does that the page is built from. @param {string} root */
export function fingerprint(root) {
  const hash = createHash('sha256');
  const add = (name) =>
    hash
      .update(`${name}\0`)
      .update(readFileSync(path.join(root, name)))
      .update('\0');
  for (const source of sources) {
    const stat = statSync(path.join(root, source), { throwIfNoEntry: false });
    if (stat?.isFile()) add(source);
    else if (stat?.isDirectory()) for (const name of filesUnder(path.join(root, source))) add(path.join(source, name));
  }
  return hash.digest('hex');
}

/** Whether dist holds the whole page as it would be built now. @param {string} root */
export function isBuilt(root) {
  const dist = path.join(root, 'dist');
  try {
    const note = JSON.parse(readFileSync(path.join(dist, noteName), 'utf8'));
    const sizeOf = (name) => statSync(path.join(dist, name), { throwIfNoEntry: false })?.size;
    return (
      note.fingerprint === fingerprint(root) &&
      Object.entries(note.files).every(([name, size]) => sizeOf(name) === size)
    );
  } catch {
    // No note, or half of one: nothing is known of what lies there.
    return false;
  }
}

function buildWithVite(root, outDir) {
  const vite = path.join(here, 'node_modules/vite/bin/vite.js');
  const args = [vite, 'build', '--logLevel', 'error', '--outDir', outDir];
  return spawnSync(process.execPath, args, { cwd: root, stdio: 'inherit' }).status === 0;
}

/**
 * Builds the page into dist.
 * @param {string} root
 * @param {(root: string, outDir: string) => boolean} [into] builds into a folder; false where it could not
 * @returns {boolean} false where it could not be built; then what lay in dist still lies there
 */
export function build(root, into = buildWithVite) {
  // On the same disk as dist, so that the whole folder changes its name at once.
  const aside = path.join(root, '.vite', `build-${process.pid}`);
  const made = path.join(aside, 'made');
  const before = path.join(aside, 'before');
  const dist = path.join(root, 'dist');
  try {
    mkdirSync(aside, { recursive: true });
    // Taken first: what changes while it is built is built the next time.
    const madeFrom = fingerprint(root);
    if (!into(root, made)) return false;
    const files = Object.fromEntries(filesUnder(made).map((name) => [name, statSync(path.join(made, name)).size]));
    writeFileSync(path.join(made, noteName), `${JSON.stringify({ fingerprint: madeFrom, files })}\n`);
    if (existsSync(dist)) renameSync(dist, before);
    renameSync(made, dist);
    return true;
  } finally {
    rmSync(aside, { recursive: true, force: true });
  }
}

if (process.argv[1] === import.meta.filename && !build(here)) process.exit(1);
