// `npm start` and the build behind it: the page at the one address, built when something changed, never half.
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeEach, describe, expect, onTestFinished, test } from 'vitest';
import { build, fingerprint, isBuilt } from '../../src/terminal/build.mjs';
import { identityOf, serve } from '../../src/terminal/serve.mjs';

const project = path.resolve(import.meta.dirname, '../..');

/** What `npm start` says and ends with at this port. */
function start(port: number): Promise<{ readonly said: string; readonly code: number | null }> {
  return new Promise((resolve) => {
    let said = '';
    const child = spawn(process.execPath, [path.join(project, 'src/terminal/start.mjs')], {
      env: { ...process.env, PORT: String(port), NO_OPEN: '1' },
    });
    for (const stream of [child.stdout, child.stderr])
      stream.on('data', (bytes) => {
        said += bytes;
      });
    child.on('exit', (code) => resolve({ said, code }));
  });
}

describe('where the address is taken', () => {
  test('by another program, it says so and that the records belong to the address, and ends', async () => {
    const other = createServer((socket) =>
      socket
        .resume()
        .on('error', () => undefined)
        .end(),
    );
    await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve));
    onTestFinished(() => void other.close());
    const address = other.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    const { said, code } = await start(port);
    expect(code).toBe(1);
    expect(said).toContain(`Another program is using the address http://localhost:${port}/`);
    expect(said).toContain('Your browser keeps your records under that address');
  });

  test('by a copy in another folder, it says so and ends', async () => {
    const other = await serve(project, 0, identityOf('/another/folder'));
    onTestFinished(() => other.close());
    const { said, code } = await start(Number(new URL(other.url).port));
    expect(code).toBe(1);
    expect(said).toContain(`Another copy of Platewright, from another folder, is being served at ${other.url}`);
  });
});

describe('the build', () => {
  let root: string;
  const roots: string[] = [];
  let builds: number;
  const good = (_root: string, outDir: string) => {
    builds++;
    mkdirSync(path.join(outDir, 'assets'), { recursive: true });
    writeFileSync(path.join(outDir, 'index.html'), `build ${builds}`);
    writeFileSync(path.join(outDir, 'assets/a.js'), 'a');
    return true;
  };
  const page = () => readFileSync(path.join(root, 'dist/index.html'), 'utf8');
  beforeEach(() => {
    builds = 0;
    root = mkdtempSync(path.join(tmpdir(), 'platewright-start-'));
    roots.push(root);
    mkdirSync(path.join(root, 'src/app'), { recursive: true });
    writeFileSync(path.join(root, 'src/app/a.ts'), 'export const a = 1;');
    writeFileSync(path.join(root, 'index.html'), '<p>');
  });
  afterAll(() => {
    for (const each of roots) rmSync(each, { recursive: true });
  });

  test('is up to date until a source changes, comes or goes; a touched one has not changed', () => {
    expect(isBuilt(root)).toBe(false);
    build(root, good);
    expect(isBuilt(root)).toBe(true);
    utimesSync(path.join(root, 'src/app/a.ts'), new Date(0), new Date());
    expect(isBuilt(root)).toBe(true);
    const changes = [
      () => writeFileSync(path.join(root, 'src/app/a.ts'), 'export const a = 2;'),
      () => writeFileSync(path.join(root, 'src/app/b.ts'), ''),
      () => rmSync(path.join(root, 'src/app/b.ts')),
      () => writeFileSync(path.join(root, 'package-lock.json'), '{}'),
      () => writeFileSync(path.join(root, 'vite.config.ts'), ''),
    ];
    for (const change of changes) {
      change();
      expect(isBuilt(root)).toBe(false);
      build(root, good);
      expect(isBuilt(root)).toBe(true);
    }
  });

  test('one that breaks off leaves the one before in its place, and is not taken for whole', () => {
    build(root, good);
    writeFileSync(path.join(root, 'src/app/a.ts'), 'export const a = ;');
    const half = (_root: string, outDir: string) => {
      mkdirSync(outDir, { recursive: true });
      writeFileSync(path.join(outDir, 'index.html'), 'half');
      return false;
    };
    expect(build(root, half)).toBe(false);
    expect([page(), isBuilt(root)]).toEqual(['build 1', false]);
  });

  test('what is changed while it is built is built the next time', () => {
    build(root, (at, outDir) => {
      writeFileSync(path.join(at, 'src/app/a.ts'), 'export const a = 3;');
      return good(at, outDir);
    });
    expect(isBuilt(root)).toBe(false);
  });

  test('a page that has lost a file, or whose file was cut short, is built anew', () => {
    build(root, good);
    rmSync(path.join(root, 'dist/assets/a.js'));
    expect(isBuilt(root)).toBe(false);
    build(root, good);
    writeFileSync(path.join(root, 'dist/assets/a.js'), '');
    expect(isBuilt(root)).toBe(false);
  });

  test('the project itself has a fingerprint of everything the build reads', () => {
    expect(fingerprint(project)).toMatch(/^[0-9a-f]{64}$/);
    expect(fingerprint(project)).toBe(fingerprint(project));
  });
});
