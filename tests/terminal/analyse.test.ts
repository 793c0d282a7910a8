import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const analyse = (...words: readonly string[]) =>
  spawnSync(process.execPath, ['--import', 'tsx', 'src/terminal/analyse.ts', ...words], {
    cwd: ROOT,
    encoding: 'utf8',
  });

it('a recording is answered by one JSON object of the published shape, a single mode with its decay time', () => {
  const { stdout, status } = analyse('reference-audio/temple_block_5_mf.wav', '--json');
  const result = JSON.parse(stdout);
  expect([status, Object.keys(result)]).toEqual([0, ['file', 'sampleRateHz', 'taps', 'modes']]);
  expect(result.taps).toEqual([{ timeS: expect.closeTo(0.0005, 3), accepted: true, reason: null }]);
  const frequencies = result.modes.map((mode: { frequencyHz: number }) => mode.frequencyHz);
  expect(frequencies).toEqual(frequencies.toSorted((a: number, b: number) => a - b));
  for (const mode of result.modes) {
    expect(Object.keys(mode)).toEqual(['frequencyHz', 'frequencyStdHz', 'q', 'qStd', 'decayTimeS', 'levelDb']);
    // 60 dB are 6.9078 time constants of the amplitude
    expect(mode.decayTimeS / ((6.9078 * mode.q) / (Math.PI * mode.frequencyHz))).toBeCloseTo(1, 4);
  }
}, 60_000);

it('a file that is not audio is answered by one sentence and exit code 2', () => {
  const { stdout, stderr, status } = analyse('package.json');
  expect([stdout, status, stderr.trim().split('\n').length]).toEqual(['', 2, 1]);
  expect(stderr).toContain('package.json is not a WAV file');
}, 30_000);
