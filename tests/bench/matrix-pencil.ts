// The independent method of the table, run in Python: matrix_pencil.py.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Tap } from '../../src/signal/tap.ts';
import type { PoleFound } from './mode-score.ts';

/** The taps through the NumPy matrix pencil; undefined where Python with SciPy is not at hand. */
export function matrixPencil(taps: readonly Tap[]): PoleFound[][] | undefined {
  if (!pythonWithScipy()) return undefined;
  const folder = mkdtempSync(join(tmpdir(), 'pencil-'));
  try {
    const file = join(folder, 'taps.f32');
    let offset = 0;
    const listed = taps.map(({ samples, onsetIndex, sampleRateHz }) => {
      const entry = { offset, length: samples.length, onset: onsetIndex, rate: sampleRateHz };
      offset += samples.length;
      return entry;
    });
    const joined = new Float32Array(offset);
    taps.forEach(({ samples }, i) => {
      joined.set(samples, listed[i]!.offset);
    });
    writeFileSync(file, new Uint8Array(joined.buffer));
    const job = join(folder, 'job.json');
    writeFileSync(job, JSON.stringify({ file, taps: listed }));
    const script = fileURLToPath(new URL('matrix_pencil.py', import.meta.url));
    const printed = execFileSync('python3', [script, job], {
      encoding: 'utf8',
      maxBuffer: 1 << 28,
      stdio: ['ignore', 'pipe', 'ignore'],
      // more threads than one only get in each other's way on matrices of this size
      env: { ...process.env, OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1' },
    });
    return (JSON.parse(printed) as [number, number][][]).map((modes) =>
      modes.map(([frequencyHz, q]) => ({ frequencyHz, q })),
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Whether the independent method can run here. */
export function pythonWithScipy(): boolean {
  return spawnSync('python3', ['-c', 'import scipy'], { stdio: 'ignore' }).status === 0;
}
