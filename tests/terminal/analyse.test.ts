// The command line, run as a person runs it.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { writeWav16 } from '../../src/files/wav-write.ts';
import { normal, seeded } from '../bench/tap-signals.ts';

const root = path.resolve(import.meta.dirname, '../..');
const analyse = (...given: string[]) =>
  spawnSync(process.execPath, ['--import', 'tsx', path.join(root, 'src/terminal/analyse.ts'), ...given], {
    encoding: 'utf8',
    cwd: root,
  });

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'platewright-analyse-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const RATE_HZ = 44_100;
const TAP_EVERY_S = 2;

/** Taps on two modes, 150 Hz of Q 40 and 310 Hz of Q 60, in a faint hiss; `gain` is what the recorder does over the time since a tap. */
function tapsFile(name: string, taps: number, gain: (sinceTapS: number) => number = () => 1, shift = 1): string {
  const random = seeded(4711);
  const samples = Float32Array.from({ length: (0.7 + TAP_EVERY_S * taps) * RATE_HZ }, (_, n) => {
    const sinceS = n / RATE_HZ - 0.7;
    const tapS = sinceS < 0 ? sinceS : sinceS % TAP_EVERY_S;
    const ring = (hz: number, q: number) =>
      tapS < 0 ? 0 : Math.exp((-Math.PI * hz * tapS) / q) * Math.sin(2 * Math.PI * hz * tapS);
    return gain(tapS) * (0.2 * ring(150 * shift, 40) + 0.1 * ring(310 * shift, 60) + 0.0003 * normal(random));
  });
  return file(name, samples);
}

function file(name: string, samples: Float32Array): string {
  const at = path.join(folder, `${name}.wav`);
  writeFileSync(at, writeWav16([samples], RATE_HZ));
  return at;
}

const told = (...given: string[]) => {
  const done = analyse(...given, '--json');
  return {
    status: done.status,
    objects: done.stdout
      .split('\n')
      .filter((line) => line !== '')
      .map((line) => JSON.parse(line)),
  };
};

describe('analyse', () => {
  test('a round of several files is one answer that knows the scatter of holding; file by file it does not', () => {
    const holds = [tapsFile('hold-a', 3), tapsFile('hold-b', 3, () => 1, 1.002)];
    const { objects } = told('--round', ...holds);
    expect(objects).toHaveLength(1);
    const [round] = objects;
    expect(round.files).toEqual(holds);
    expect(round.taps.map((tap: { file: string }) => tap.file)).toEqual(holds.flatMap((hold) => [hold, hold, hold]));
    expect(round.notes.scatterKnown).toBe(true);
    const each = told(...holds).objects;
    expect(each.map(({ notes }) => notes.scatterKnown)).toEqual([false, false]);
    // The second hold rings 2 parts in 1000 higher: the round lies between, and its ± reaches both.
    const lowest = (of: { modes: { frequencyHz: number; frequencyStdHz: number }[] }) => of.modes[0]!;
    expect(lowest(round).frequencyHz).toBeCloseTo(150.15, 1);
    expect(1.96 * lowest(round).frequencyStdHz).toBeGreaterThan(0.14);
    expect(1.96 * lowest(each[0]).frequencyStdHz).toBeLessThan(0.05);
  });

  test('a clean round has nothing to note, and every mode says whether it is one', () => {
    const { notes, modes } = told(tapsFile('clean', 3)).objects[0];
    expect(notes).toEqual({
      setAside: [],
      disagreement: null,
      roomAnswerDb: null,
      isRungOver: false,
      scatterKnown: false,
      recorder: null,
      nothingBecause: null,
    });
    expect(modes.map(({ resolution }: { resolution: string }) => resolution)).toEqual(['single', 'single']);
  });

  test('a tap that disagrees with the others is named by its time', () => {
    const good = tapsFile('good', 4);
    const odd = tapsFile('odd', 1, () => 1, 1.06);
    const { notes } = told('--round', good, odd).objects[0];
    expect(notes.setAside).toHaveLength(1);
    expect(notes.setAside[0].file).toBe(odd);
    expect(notes.setAside[0].timeS).toBeCloseTo(0.7, 2);
  });

  test('through a recorder that turns itself down and up no Q is told, and the frequencies hold', () => {
    const slow = (sinceTapS: number) => (sinceTapS < 0 ? 1 : 1 - 0.7 * Math.exp(-sinceTapS / 0.4));
    const { notes, modes } = told(tapsFile('gain', 5, slow)).objects[0];
    expect(notes.recorder).toBe('gain-control');
    expect(modes[0]).toMatchObject({ q: null, qStd: null, decayTimeS: null });
    expect(modes[0].frequencyHz).toBeCloseTo(150, 0);
    expect(analyse(path.join(folder, 'gain.wav')).stdout).toContain('no Q can be read');
  });

  const hissing = (length: number, level: number) => {
    const random = seeded(12);
    return Float32Array.from({ length }, () => level * normal(random));
  };
  test.each([
    ['nothing but zeros', () => new Float32Array(2 * RATE_HZ), 'holds no sound at all'],
    ['nothing but hiss', () => hissing(3 * RATE_HZ, 0.01), 'no sound begins in it'],
    [
      'a burst of noise',
      () => hissing(3 * RATE_HZ, 0.01).map((x, n) => (Math.abs(n / RATE_HZ - 1.3) < 0.3 ? 20 * x : x)),
      'no sound was kept as a tap (not-a-tap',
    ],
  ])('%s gives no modes, and says why', (name, samples, why) => {
    const heard = file(name, samples());
    const { objects, status } = told(heard);
    expect(status).toBe(0);
    expect(objects[0].modes).toEqual([]);
    expect(objects[0].notes.nothingBecause).toContain(why);
    expect(analyse(heard).stdout).toContain(why);
  });

  test('a file that cannot be read does not keep the others from being answered', () => {
    const { objects, status } = told('nowhere.wav', tapsFile('other', 1), folder);
    expect(status).toBe(2);
    expect(objects).toHaveLength(1);
    expect(objects[0].modes).toHaveLength(2);
  });

  test('--help tells every option and ends well; an option that is none is named', () => {
    const help = analyse('--help');
    expect(help.status).toBe(0);
    for (const option of ['--round', '--json', 'nothingBecause']) expect(help.stdout).toContain(option);
    const wrong = analyse('--rond', 'taps.wav');
    expect(wrong.status).toBe(2);
    expect(wrong.stderr).toContain("'--rond'");
    expect(analyse().stderr).toContain('Name one or more WAV files');
  });

  test('prints one object for a file, with the modes of the truth in ascending order', () => {
    const done = analyse('reference-audio/demo/04-x-legs.wav', '--json');
    expect(done.status).toBe(0);
    const told = JSON.parse(done.stdout);
    expect(Object.keys(told)).toEqual(['file', 'sampleRateHz', 'taps', 'modes', 'notes']);
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
