// The columns of the fit and their inner products in closed form. A mode is Re(c z^n), z = exp(s / rate),
// s = -a + i w; n counts samples from the first row of the fit. After whitening the column is A(z) z^n (A: the
// whitener's transfer function), except in the first rows where the whitener is still short; those rows are summed
// one by one, the rest by geometric series, so an inner product costs the same for a short record and a long one.
import type { Whitener } from './whiten.ts';

/** Where a mode lies in the complex plane: s = -decayPerS + 2 pi i frequencyHz. decayPerS 0 is a steady tone (hum). */
export interface Pole {
  readonly frequencyHz: number;
  readonly decayPerS: number;
}

/** The grid of rows every tap of a fit shares. */
export interface Grid {
  readonly rows: number;
  readonly sampleRateHz: number;
  readonly whitener: Whitener;
}

/** Q = pi f / a. Source: for instance Ege, Boutillon & David, J. Sound Vib. 325 (2009) 852, eq. 3. */
export const qOf = (pole: Pole): number => (Math.PI * pole.frequencyHz) / pole.decayPerS;

/** Amplitude factor below which a decayed column is not worth another row: exp(-14) is 122 dB down. */
const GONE_NEPER = 14;

/** Rows a pole still sounds in. */
export function soundingRows(pole: Pole, grid: Grid): number {
  if (pole.decayPerS <= 0) return grid.rows;
  return Math.min(grid.rows, Math.ceil((GONE_NEPER * grid.sampleRateHz) / pole.decayPerS) + grid.whitener.order);
}

/** z, and the whitener's A(z) and A1 = dA/d(ln z), as [zRe, zIm, aRe, aIm, a1Re, a1Im]. */
function constants(pole: Pole, grid: Grid): Float64Array {
  const { order, filters } = grid.whitener;
  const decay = pole.decayPerS / grid.sampleRateHz;
  const angle = (2 * Math.PI * pole.frequencyHz) / grid.sampleRateHz;
  const out = new Float64Array(6);
  out[0] = Math.exp(-decay) * Math.cos(angle);
  out[1] = Math.exp(-decay) * Math.sin(angle);
  for (let j = 0; j <= order; j++) {
    const size = filters[order * (order + 1) + j]! * Math.exp(decay * j);
    const re = size * Math.cos(angle * j);
    const im = -size * Math.sin(angle * j);
    out[2]! += re;
    out[3]! += im;
    out[4]! -= j * re;
    out[5]! -= j * im;
  }
  return out;
}

/** Buffers for one pole's columns: f = whitened z^n, d = its derivative by ln z, real and imaginary parts, (rows,) each. */
export interface Columns {
  readonly fRe: Float64Array;
  readonly fIm: Float64Array;
  readonly dRe: Float64Array;
  readonly dIm: Float64Array;
}

/** Buffers long enough for a grid. */
export function columnsFor(rows: number): Columns {
  const make = (): Float64Array => new Float64Array(rows);
  return { fRe: make(), fIm: make(), dRe: make(), dIm: make() };
}

/** Writes one pole's columns; returns how many rows were written (the rest count as zero). */
export function writeColumns(pole: Pole, grid: Grid, out: Columns): number {
  const { order, filters } = grid.whitener;
  const [zRe, zIm, aRe, aIm, a1Re, a1Im] = constants(pole, grid) as unknown as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const rows = soundingRows(pole, grid);
  const decay = pole.decayPerS / grid.sampleRateHz;
  const angle = (2 * Math.PI * pole.frequencyHz) / grid.sampleRateHz;
  const { fRe, fIm, dRe, dIm } = out;
  const head = Math.min(order, rows);
  for (let n = 0; n < head; n++) {
    let [re, im, slopeRe, slopeIm] = [0, 0, 0, 0];
    for (let j = 0; j <= n; j++) {
      const size = filters[n * (order + 1) + j]! * Math.exp(-decay * (n - j));
      const r = size * Math.cos(angle * (n - j));
      const i = size * Math.sin(angle * (n - j));
      re += r;
      im += i;
      slopeRe += (n - j) * r;
      slopeIm += (n - j) * i;
    }
    fRe[n] = re;
    fIm[n] = im;
    dRe[n] = slopeRe;
    dIm[n] = slopeIm;
  }
  let pRe = Math.exp(-decay * head) * Math.cos(angle * head);
  let pIm = Math.exp(-decay * head) * Math.sin(angle * head);
  for (let n = head; n < rows; n++) {
    const bRe = n * aRe + a1Re;
    const bIm = n * aIm + a1Im;
    fRe[n] = aRe * pRe - aIm * pIm;
    fIm[n] = aRe * pIm + aIm * pRe;
    dRe[n] = bRe * pRe - bIm * pIm;
    dIm[n] = bRe * pIm + bIm * pRe;
    const next = pRe * zRe - pIm * zIm;
    pIm = pRe * zIm + pIm * zRe;
    pRe = next;
  }
  return rows;
}

/**
 * Gram matrix of all real columns, in the order [f of every pole | d of the first `free` poles], two real columns (Re, Im) each.
 * @param free poles with a derivative column (the modes; hum lines come after them and have none)
 * @returns (n, n) row-major, n = 2 (poles + free), symmetric, both triangles filled
 */
export function gram(poles: readonly Pole[], free: number, grid: Grid): Float64Array {
  const count = poles.length;
  const n = 2 * (count + free);
  const out = new Float64Array(n * n);
  const { order } = grid.whitener;
  const all = poles.map((pole) => constants(pole, grid));
  const put = (row: number, column: number, p: Complex, q: Complex): void => {
    const rr = (p.re + q.re) / 2;
    const ii = (q.re - p.re) / 2;
    const ri = (p.im - q.im) / 2;
    const ir = (p.im + q.im) / 2;
    const r = 2 * row;
    const c = 2 * column;
    out[r * n + c] = rr;
    out[c * n + r] = rr;
    out[(r + 1) * n + c + 1] = ii;
    out[(c + 1) * n + r + 1] = ii;
    out[r * n + c + 1] = ri;
    out[(c + 1) * n + r] = ri;
    out[(r + 1) * n + c] = ir;
    out[c * n + r + 1] = ir;
  };
  for (let i = 0; i < count; i++) {
    for (let j = i; j < count; j++) {
      const p = moments(all[i]!, all[j]!, 1, order, grid.rows);
      const q = moments(all[i]!, all[j]!, -1, order, grid.rows);
      put(i, j, p.ff, q.ff);
      if (i < free) put(count + i, j, p.df, q.df);
      if (j < free && j !== i) put(i, count + j, p.fd, q.fd);
      if (i < free && j < free) put(count + i, count + j, p.dd, q.dd);
    }
  }
  addHead(out, n, poles, free, grid);
  return out;
}

interface Complex {
  readonly re: number;
  readonly im: number;
}

/**
 * Sums over n = first..rows-1 of (f or d of pole i) times (f or d of pole j), conjugated if `sign` is -1, from
 * S0 = sum u^n, S1 = sum n u^n, S2 = sum n^2 u^n with u = z_i z_j (or its conjugate form):
 * (1 - u) S0 = 1 - u^m, (1 - u) S1 = S0 - 1 - (m - 1) u^m, (1 - u) S2 = 2 S1 - (S0 - 1) - (m - 1)^2 u^m, shifted by `first`.
 * Source: our derivation by differencing the series; tests/signal/atoms.test.ts adds the rows one by one.
 */
function moments(
  zi: Float64Array,
  zj: Float64Array,
  sign: 1 | -1,
  first: number,
  rows: number,
): { ff: Complex; df: Complex; fd: Complex; dd: Complex } {
  const m = rows - first;
  const z = multiply(zi[0]!, zi[1]!, zj[0]!, sign * zj[1]!);
  const logSize = Math.log(Math.hypot(z.re, z.im));
  const angle = Math.atan2(z.im, z.re);
  const power = (k: number): Complex => {
    const size = Math.exp(logSize * k);
    return { re: size * Math.cos(angle * k), im: size * Math.sin(angle * k) };
  };
  const end = power(m);
  const gap = { re: 1 - z.re, im: -z.im };
  let s0: Complex = { re: m, im: 0 };
  let s1: Complex = { re: (m * (m - 1)) / 2, im: 0 };
  let s2: Complex = { re: (m * (m - 1) * (2 * m - 1)) / 6, im: 0 };
  if (gap.re * gap.re + gap.im * gap.im > 1e-20) {
    s0 = divide({ re: 1 - end.re, im: -end.im }, gap);
    s1 = divide({ re: s0.re - 1 - (m - 1) * end.re, im: s0.im - (m - 1) * end.im }, gap);
    const last = (m - 1) ** 2;
    s2 = divide({ re: 2 * s1.re - (s0.re - 1) - last * end.re, im: 2 * s1.im - s0.im - last * end.im }, gap);
  }
  const shift = power(first);
  const t0 = multiply(shift.re, shift.im, s0.re, s0.im);
  const t1 = multiply(shift.re, shift.im, s1.re + first * s0.re, s1.im + first * s0.im);
  const t2 = multiply(
    shift.re,
    shift.im,
    s2.re + 2 * first * s1.re + first * first * s0.re,
    s2.im + 2 * first * s1.im + first * first * s0.im,
  );
  const aa = multiply(zi[2]!, zi[3]!, zj[2]!, sign * zj[3]!);
  const ba = multiply(zi[4]!, zi[5]!, zj[2]!, sign * zj[3]!);
  const ab = multiply(zi[2]!, zi[3]!, zj[4]!, sign * zj[5]!);
  const bb = multiply(zi[4]!, zi[5]!, zj[4]!, sign * zj[5]!);
  const ff = multiply(aa.re, aa.im, t0.re, t0.im);
  const nf = multiply(aa.re, aa.im, t1.re, t1.im);
  const df = multiply(ba.re, ba.im, t0.re, t0.im);
  const fd = multiply(ab.re, ab.im, t0.re, t0.im);
  const nn = multiply(aa.re, aa.im, t2.re, t2.im);
  const cross = multiply(ab.re + ba.re, ab.im + ba.im, t1.re, t1.im);
  const base = multiply(bb.re, bb.im, t0.re, t0.im);
  return {
    ff,
    df: { re: nf.re + df.re, im: nf.im + df.im },
    fd: { re: nf.re + fd.re, im: nf.im + fd.im },
    dd: { re: nn.re + cross.re + base.re, im: nn.im + cross.im + base.im },
  };
}

function multiply(aRe: number, aIm: number, bRe: number, bIm: number): Complex {
  return { re: aRe * bRe - aIm * bIm, im: aRe * bIm + aIm * bRe };
}

function divide(a: Complex, b: Complex): Complex {
  const norm = b.re * b.re + b.im * b.im;
  return { re: (a.re * b.re + a.im * b.im) / norm, im: (a.im * b.re - a.re * b.im) / norm };
}

/** Adds the first rows, where the whitener is still short, row by row. */
function addHead(out: Float64Array, n: number, poles: readonly Pole[], free: number, grid: Grid): void {
  const head = Math.min(grid.whitener.order, grid.rows);
  if (head === 0) return;
  const rows = new Float64Array(head * n);
  const columns = columnsFor(head);
  const short = { ...grid, rows: head };
  poles.forEach((pole, i) => {
    writeColumns(pole, short, columns);
    for (let k = 0; k < head; k++) {
      rows[k * n + 2 * i] = columns.fRe[k]!;
      rows[k * n + 2 * i + 1] = columns.fIm[k]!;
      if (i >= free) continue;
      rows[k * n + 2 * (poles.length + i)] = columns.dRe[k]!;
      rows[k * n + 2 * (poles.length + i) + 1] = columns.dIm[k]!;
    }
  });
  for (let k = 0; k < head; k++) {
    for (let i = 0; i < n; i++) {
      const x = rows[k * n + i]!;
      for (let j = 0; j < n; j++) out[i * n + j]! += x * rows[k * n + j]!;
    }
  }
}
