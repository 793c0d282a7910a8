// Builds the page once for all browser tests; each file serves the folder at an address, and so with a storage, of its own.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { build } from 'vite';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    readonly builtFolder: string;
  }
}

export async function setup(project: TestProject): Promise<() => void> {
  const outDir = mkdtempSync(path.join(tmpdir(), 'platewright-built-'));
  // The page as it is given out: the test runner's own mode would leave development code in.
  const ownMode = process.env['NODE_ENV'];
  process.env['NODE_ENV'] = 'production';
  await build({ root: project.config.root, logLevel: 'error', build: { outDir, emptyOutDir: true } });
  process.env['NODE_ENV'] = ownMode;
  project.provide('builtFolder', outDir);
  return () => rmSync(outDir, { recursive: true });
}
