// Other methods in Python, on the same taps. Where Python with SciPy is not at hand a bench says so and leaves them out.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Tap } from '../../src/signal/tap.ts';

/** Whether the independent methods can run here. */
export function pythonWithScipy(): boolean {
  return spawnSync('python3', ['-c', 'import scipy'], { stdio: 'ignore' }).status === 0;
}

/**
 * What a script beside this file prints of some taps, parsed.
 * @param more further entries of its job
 */
export function askPython(script: string, taps: readonly Tap[], more: Readonly<Record<string, unknown>> = {}): unknown {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
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
    writeFileSync(job, JSON.stringify({ file, taps: listed, ...more }));
    const printed = execFileSync('python3', [fileURLToPath(new URL(script, import.meta.url)), job], {
      encoding: 'utf8',
      maxBuffer: 1 << 28,
      // more threads than one only get in each other's way on matrices of this size
      env: { ...process.env, OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1' },
    });
    return JSON.parse(printed);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
