// Everything bundled into the page asks that its notice goes with it: a plugin of the build that writes licences.txt from the
// modules that are really in the page, its workers and its worklet.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../..');

/** The offline worker is put together after the bundle; these are what it is made of. A test compares. */
const inOfflineWorker = ['workbox-core', 'workbox-precaching', 'workbox-routing', 'workbox-strategies'];

/** The package a bundled module belongs to; undefined for our own. @param id as the bundler names it */
function packageOf(id: string): string | undefined {
  // What the bundler itself adds has no file.
  const own = /^\0(vite|rolldown)\//.exec(id)?.[1];
  return own ?? /.*node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(id)?.[1];
}

/**
 * The notice of a package: its licence files, else what its readme says under that heading.
 * @throws Error where it has none: it must not go out without
 */
function noticeOf(name: string): string {
  const folder = path.join(root, 'node_modules', name);
  const files = readdirSync(folder);
  const notices = files.filter((file) => /^(licen[cs]e|copying|notice)/i.test(file)).sort();
  // What a tool is itself made of does not come into the page.
  const texts = notices.map((file) =>
    readFileSync(path.join(folder, file), 'utf8')
      .split(/^# Licenses of bundled dependencies$/m)[0]!
      .trim(),
  );
  if (texts.length > 0) return texts.join('\n\n');
  const readme = files.find((file) => /^readme/i.test(file));
  const under = readme && /^#+ *licen[cs]e\s*$([\s\S]*)/im.exec(readFileSync(path.join(folder, readme), 'utf8'))?.[1];
  if (!under) throw new Error(`licences: the package ${name} has no notice that could go with the page`);
  return under.trim();
}

/** All notices as one text, ours first. */
function written(names: readonly string[]): string {
  const parts = names.map((name) => {
    const { version, license } = JSON.parse(
      readFileSync(path.join(root, 'node_modules', name, 'package.json'), 'utf8'),
    ) as { readonly version: string; readonly license: string };
    return `${name} ${version} (${license})\n\n${noticeOf(name)}`;
  });
  const ours = readFileSync(path.join(root, 'LICENSE'), 'utf8').trim();
  const line = `\n\n${'-'.repeat(72)}\n\n`;
  return `${['Platewright', ours].join('\n\n')}${line}This page also holds parts of the following programs.${line}${parts.join(line)}\n`;
}

interface Bundle {
  readonly [file: string]: { readonly type: string; readonly modules?: Readonly<Record<string, unknown>> };
}

/** The plugins: one for the page, which writes the file, one for each of its workers. */
export function licences() {
  const bundled = new Set(inOfflineWorker);
  const note = (bundle: Bundle) => {
    for (const { modules = {} } of Object.values(bundle))
      for (const id of Object.keys(modules)) {
        const name = packageOf(id);
        if (name !== undefined) bundled.add(name);
      }
  };
  return {
    ofPage: {
      name: 'licences',
      apply: 'build' as const,
      generateBundle(
        this: { emitFile(file: { type: 'asset'; fileName: string; source: string }): string },
        _: unknown,
        bundle: Bundle,
      ) {
        note(bundle);
        this.emitFile({ type: 'asset', fileName: 'licences.txt', source: written([...bundled].sort()) });
      },
    },
    ofWorker: { name: 'licences-of-worker', generateBundle: (_: unknown, bundle: Bundle) => note(bundle) },
  };
}
