// Poles by variable projection: Levenberg-Marquardt on (frequency, decay) of all modes at once, the amplitudes of
// every tap solved for inside. Steps are counted in bandwidths: x = (w / a, ln a), so one unit means the same for
// a slow mode and a quick one.
import { factorInPlace, solveFactored } from '../../algebra/dense-cholesky.ts';
import type { Pole } from '../pole.ts';
import type { Decays } from '../prepare/hearing.ts';
import { leftover, type Projection, project } from './project.ts';

/** Slope and curvature of half the leftover with respect to (w / a, ln a) of each mode, in that order; (2 M,), (2 M, 2 M). */
export interface Information {
  readonly slope: Float64Array;
  readonly matrix: Float64Array;
}

/** Largest step of one iteration: half a bandwidth in frequency, a factor 1.65 in decay. */
const LONGEST_STEP = 0.5;

/**
 * What some of the taps say about the poles: Fisher information (unit noise) and score at the current poles.
 * For a tap with amplitudes c the derivative of the signal by s is Re(c d), by i s is Re(i c d).
 * @param which tap numbers to add up
 * Source: our derivation, following Kaufman, BIT 15 (1975) 49; checked by differences in tests/signal/search/varpro.test.ts.
 */
export function information(p: Projection, sampleRateHz: number, which: Iterable<number>): Information {
  const modes = p.poles.length;
  const n = 2 * modes;
  const slope = new Float64Array(n);
  const matrix = new Float64Array(n * n);
  const jacobian = new Float64Array(4 * modes);
  for (const k of which) {
    const c = p.amplitudes[k]!;
    const e = p.slopes[k]!;
    for (let i = 0; i < modes; i++) {
      const scale = p.poles[i]!.decayPerS / sampleRateHz;
      jacobian[4 * i] = scale * c[2 * i + 1]!;
      jacobian[4 * i + 1] = -scale * c[2 * i]!;
      jacobian[4 * i + 2] = -scale * c[2 * i]!;
      jacobian[4 * i + 3] = -scale * c[2 * i + 1]!;
      slope[2 * i]! += jacobian[4 * i]! * e[2 * i]! + jacobian[4 * i + 1]! * e[2 * i + 1]!;
      slope[2 * i + 1]! += jacobian[4 * i + 2]! * e[2 * i]! + jacobian[4 * i + 3]! * e[2 * i + 1]!;
    }
    addCurvature(matrix, jacobian, p.curvature, n);
  }
  return { slope, matrix };
}

/** matrix += C' S C with C block diagonal, its 2 x 2 blocks stored column by column in `jacobian`. */
function addCurvature(matrix: Float64Array, jacobian: Float64Array, s: Float64Array, n: number): void {
  for (let i = 0; i < n; i += 2) {
    for (let j = 0; j < n; j += 2) {
      const s00 = s[i * n + j]!;
      const s01 = s[i * n + j + 1]!;
      const s10 = s[(i + 1) * n + j]!;
      const s11 = s[(i + 1) * n + j + 1]!;
      for (let a = 0; a < 2; a++) {
        const u0 = jacobian[2 * (i + a)]!;
        const u1 = jacobian[2 * (i + a) + 1]!;
        const t0 = u0 * s00 + u1 * s10;
        const t1 = u0 * s01 + u1 * s11;
        matrix[(i + a) * n + j]! += t0 * jacobian[2 * j]! + t1 * jacobian[2 * j + 1]!;
        matrix[(i + a) * n + j + 1]! += t0 * jacobian[2 * j + 2]! + t1 * jacobian[2 * j + 3]!;
      }
    }
  }
}

/** Where the poles may go. */
export interface PoleLimits {
  readonly lowestHz: number;
  readonly highestHz: number;
  readonly slowestPerS: number;
  readonly lowestQ: number;
}

/**
 * The poles that leave least over, from a start near them.
 * Ends when the best step promises less than `settled` of the noise's own scale (0.002: a twentieth of a standard
 * deviation), or after `most` steps.
 * Source: Marquardt, J. SIAM 11 (1963) 431, damping relative to the curvature's diagonal.
 */
export function refine(decays: Decays, start: Projection, limits: PoleLimits, most: number): Projection {
  if (start.poles.length === 0) return start;
  let best = start;
  const everyTap = decays.taps.map((_, k) => k);
  const degrees = decays.grid.rows * decays.taps.length;
  let damping = 1e-3;
  for (let step = 0; step < most && damping < 1e6; step++) {
    const { slope, matrix } = information(best, decays.grid.sampleRateHz, everyTap);
    const noise = Math.max(1, leftover(best) / degrees);
    const settled = 0.002 * noise;
    let better: Projection | undefined;
    let promise = 0;
    while (better === undefined && damping < 1e6) {
      const x = solveDamped(matrix, slope, damping);
      promise = x.reduce((sum, v, i) => sum + v * slope[i]!, 0);
      if (promise < settled && damping <= 1) return best;
      const next = project(
        decays,
        best.poles.map((pole, i) => moved(pole, x[2 * i]!, x[2 * i + 1]!, limits)),
      );
      if (next !== undefined && leftover(next) < leftover(best)) better = next;
      else damping *= 10;
    }
    if (better === undefined) break;
    best = better;
    damping = Math.max(1e-9, damping / 10);
  }
  return best;
}

function solveDamped(matrix: Float64Array, slope: Float64Array, damping: number): Float64Array {
  const n = slope.length;
  const a = matrix.slice();
  for (let i = 0; i < n; i++) a[i * n + i]! *= 1 + damping;
  const x = slope.slice();
  if (factorInPlace(a, n, 1e-13) >= 0) return x.fill(0);
  solveFactored(a, n, x);
  const longest = x.reduce((m, v) => Math.max(m, Math.abs(v)), 0);
  return longest > LONGEST_STEP ? x.map((v) => (v * LONGEST_STEP) / longest) : x;
}

function moved(pole: Pole, bandwidths: number, lnDecay: number, limits: PoleLimits): Pole {
  const frequencyHz = pole.frequencyHz + (bandwidths * pole.decayPerS) / (2 * Math.PI);
  const kept = Math.min(limits.highestHz, Math.max(limits.lowestHz, frequencyHz));
  const quickest = (Math.PI * kept) / limits.lowestQ;
  const decayPerS = Math.min(quickest, Math.max(limits.slowestPerS, pole.decayPerS * Math.exp(lnDecay)));
  return { frequencyHz: kept, decayPerS };
}
