// The command line, run as a person runs it.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const root = path.resolve(import.meta.dirname, '../..');
const analyse = (...given: string[]) =>
  spawnSync(
    process.execPath,
    [path.join(root, 'node_modules/tsx/dist/cli.mjs'), path.join(root, 'src/terminal/analyse.ts'), ...given],
    { encoding: 'utf8', cwd: root },
  );

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'platewright-analyse-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

describe('analyse', () => {
  test('prints one object for a file, with the modes of the truth in ascending order', () => {
    const done = analyse('reference-audio/demo/04-x-legs.wav', '--json');
    expect(done.status).toBe(0);
    const told = JSON.parse(done.stdout);
    expect(Object.keys(told)).toEqual(['file', 'sampleRateHz', 'taps', 'modes']);
    expect(told.sampleRateHz).toBe(16_000);
    expect(told.taps.filter((tap: { accepted: boolean }) => tap.accepted)).toHaveLength(6);
    const hz = told.modes.map((mode: { frequencyHz: number }) => mode.frequencyHz);
    expect(hz).toEqual(hz.toSorted((a: number, b: number) => a - b));
    const truths = JSON.parse(
      readFileSync(path.join(root, 'reference-audio/demo/04-x-legs.truth.json'), 'utf8'),
    ).modes.slice(0, 3);
    for (const { frequencyHz: truth } of truths)
      expect(Math.min(...hz.map((f: number) => Math.abs(f / truth - 1)))).toBeLessThan(0.002);
    const { frequencyHz, q, decayTimeS } = told.modes[0];
    expect(decayTimeS).toBeCloseTo((6.907755 * q) / (Math.PI * frequencyHz), 4);
  });

  test('several files are one object a line', () => {
    const done = analyse('reference-audio/marimba_c3.wav', 'reference-audio/temple_block_5_f.wav', '--json');
    const lines = done.stdout
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(lines.map((line) => line.file)).toEqual([
      'reference-audio/marimba_c3.wav',
      'reference-audio/temple_block_5_f.wav',
    ]);
  });

  test.each([
    ['text', Buffer.from('no sound'), 'is not a sound'],
    ['empty', Buffer.alloc(0), 'is not a sound'],
  ])('a file of %s ends with 2 and one clear sentence', (name, bytes, words) => {
    const file = path.join(folder, `${name}.wav`);
    writeFileSync(file, bytes);
    const done = analyse(file, '--json');
    expect(done.status).toBe(2);
    expect(done.stderr).toContain(words);
    expect(done.stderr.trim().split('\n')).toHaveLength(1);
    expect(done.stdout).toBe('');
  });

  test('a file that is not there ends with 2 and its name', () => {
    const done = analyse('nowhere.wav');
    expect(done.status).toBe(2);
    expect(done.stderr).toContain('"nowhere.wav" cannot be opened');
  });
});
