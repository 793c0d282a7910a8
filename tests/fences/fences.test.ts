// The fences are worth nothing if they let anything through: each of these bad files must be refused in its place.
import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const root = path.resolve(import.meta.dirname, '../..');
let copy: string;
beforeAll(() => {
  copy = mkdtempSync(path.join(tmpdir(), 'platewright-fences-'));
  for (const part of [
    'src',
    'worklets',
    '.dependency-cruiser.cjs',
    'tsconfig.json',
    'tsconfig.base.json',
    'tsconfig.pure.json',
    'package.json',
  ])
    cpSync(path.join(root, part), path.join(copy, part), { recursive: true });
  symlinkSync(path.join(root, 'node_modules'), path.join(copy, 'node_modules'), 'junction');
});
afterAll(() => rmSync(copy, { recursive: true, force: true }));

const put = (bad: string, folder: string) =>
  cpSync(path.join(import.meta.dirname, bad), path.join(copy, 'src', folder, bad));

function cruise(): string {
  const done = spawnSync(
    process.execPath,
    [
      path.join(root, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs'),
      'src',
      '--config',
      '.dependency-cruiser.cjs',
    ],
    { cwd: copy, encoding: 'utf8' },
  );
  return done.stdout + done.stderr;
}

function tsc(...args: readonly string[]): string {
  const program = path.join(root, 'node_modules/typescript/bin/tsc');
  return spawnSync(process.execPath, [program, ...args], { cwd: copy, encoding: 'utf8' }).stdout;
}

describe('the fences', () => {
  test('physics that reads the record, and a view that opens the microphone or speaks English only, are refused by name', () => {
    put('physics-reads-the-record.ts', 'box');
    put('view-opens-the-microphone.ts', 'views');
    put('view-speaks-only-english.ts', 'views');
    put('search-asks-what-is-told.ts', 'signal/search');
    const said = cruise();
    expect(said).toContain('physics-knows-no-record: src/box/physics-reads-the-record.ts');
    expect(said).toContain('sound-goes-one-way-search: src/signal/search/search-asks-what-is-told.ts');
    expect(said).toContain('views-only-render: src/views/view-opens-the-microphone.ts');
    expect(said).toContain('views-speak-the-language-chosen: src/views/view-speaks-only-english.ts');
  });

  test('pure code that uses the page or a clock does not compile', () => {
    put('signal-uses-the-page.ts', 'signal');
    writeFileSync(
      path.join(copy, 'tsconfig.fence.json'),
      JSON.stringify({ extends: './tsconfig.pure.json', include: ['src/signal/signal-uses-the-page.ts'] }),
    );
    const said = tsc('-p', 'tsconfig.fence.json');
    expect(said).toContain("Cannot find name 'window'");
    expect(said).toContain("Cannot find name 'performance'");
  });

  test('every folder but those of the page and the shells is compiled so', () => {
    const withBrowser = ['app', 'capture', 'solver', 'static', 'storage', 'terminal', 'views'];
    const pure = readdirSync(path.join(copy, 'src'), { withFileTypes: true })
      .filter((entry) => entry.isDirectory() && !withBrowser.includes(entry.name))
      .map(({ name }) => name);
    for (const folder of pure) put('signal-uses-the-page.ts', folder);
    const compiled = tsc('-p', 'tsconfig.pure.json', '--listFilesOnly');
    for (const folder of pure) expect(compiled).toContain(`/src/${folder}/signal-uses-the-page.ts`);
  });
});
