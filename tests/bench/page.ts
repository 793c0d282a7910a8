// What the page weighs on first load, and how long a step takes to be stored.
import 'fake-indexeddb/auto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { build } from 'vite';
import { demoInstrument } from '../../src/demo/demo-record.ts';
import { changesBetween } from '../../src/record/change.ts';
import { appendStep, freshStep } from '../../src/record/edit.ts';
import { records } from '../../src/storage/shelf.ts';
import { pageWeight } from './page-weight.ts';

const root = path.resolve(import.meta.dirname, '../..');

/** Kilobytes after gzip: what the first view needs, and everything that is code. */
export async function pageSizes(): Promise<readonly string[]> {
  const outDir = mkdtempSync(path.join(tmpdir(), 'platewright-size-'));
  await build({ root, logLevel: 'error', build: { outDir, emptyOutDir: true } });
  const { firstKb, allKb } = pageWeight(outDir);
  const lines = [
    `first load before the charts  ${firstKb.toFixed(0)} kB gzip (aim 150)`,
    `all code                      ${allKb.toFixed(0)} kB gzip (aim 600)`,
  ];
  rmSync(outDir, { recursive: true });
  return lines;
}

/** Milliseconds to store a new step, median and largest of 50, in a database in memory (a real disk is slower). */
export async function savingTimes(): Promise<readonly string[]> {
  const at = '2026-11-25T08:00:00.000Z';
  let record = demoInstrument(new Map());
  await records.putRecord(record, at);
  const times: number[] = [];
  for (let i = 0; i < 50; i++) {
    const next = appendStep(record, freshStep(`step-${i}`, at, record.steps.at(-1)));
    const begin = performance.now();
    await records.saveChanges(record.id, changesBetween(record, next), at);
    times.push(performance.now() - begin);
    record = next;
  }
  times.sort((a, b) => a - b);
  return [
    `a step is stored in            ${times[25]!.toFixed(1)} ms median, ${times[49]!.toFixed(1)} ms at most, of 50 (aim 50)`,
  ];
}
