// Sparse Cholesky factorisation L L^T of a positive definite block matrix by fronts (multifrontal method): every front is
// a small dense problem, so nearly all arithmetic runs in dense inner loops over contiguous memory.
import type { BlockPattern } from './block-symmetric.ts';
import type { Front } from './nested-dissection.ts';

/** What depends on the pattern alone; kept while only the values change. */
export interface CholeskyPlan {
  readonly pattern: BlockPattern;
  readonly fronts: readonly PlannedFront[];
  /** Values of the factor, including zeros inside fronts. */
  readonly factorValues: number;
  /** Multiply-add pairs of one numeric factorisation. */
  readonly multiplyAdds: number;
  readonly stackValues: number;
}

interface PlannedFront {
  readonly firstDof: number;
  readonly own: number;
  /** Unknowns outside this front that its elimination touches, ascending. */
  readonly boundary: Int32Array;
  readonly firstNode: number;
  readonly endNode: number;
  readonly panelStart: number;
  readonly children: readonly { readonly front: number; readonly place: Int32Array }[];
}

/** A factor ready to solve with; the plan's pattern gives the order of unknowns. */
export interface Cholesky {
  readonly plan: CholeskyPlan;
  readonly panels: Float64Array;
}

/**
 * Plans the factorisation of matrices with this pattern.
 * @param pattern matrix pattern, nodes already in elimination order
 * @param fronts  fronts in postorder that cover all nodes
 * Source: Duff and Reid 1983, ACM Trans. Math. Softw. 9, 302 (multifrontal method).
 */
export function planCholesky(pattern: BlockPattern, fronts: readonly Front[]): CholeskyPlan {
  const { dofStart, columnStart, rowNode } = pattern;
  const boundaries: number[][] = [];
  const planned: PlannedFront[] = [];
  let panelStart = 0;
  let multiplyAdds = 0;
  let stack = 0;
  let stackValues = 0;
  for (const front of fronts) {
    const touched = new Set<number>();
    for (let b = front.start; b < front.end; b++)
      for (let block = columnStart[b]!; block < columnStart[b + 1]!; block++) touched.add(rowNode[block]!);
    for (const child of front.children) for (const node of boundaries[child]!) touched.add(node);
    const nodes = [...touched].filter((node) => node >= front.end).sort((p, q) => p - q);
    boundaries.push(nodes);
    const firstDof = dofStart[front.start]!;
    const own = dofStart[front.end]! - firstDof;
    const boundary = Int32Array.from(
      nodes.flatMap((node) =>
        Array.from({ length: dofStart[node + 1]! - dofStart[node]! }, (_, k) => dofStart[node]! + k),
      ),
    );
    const localOf = new Map<number, number>();
    boundary.forEach((dof, i) => {
      localOf.set(dof, own + i);
    });
    const children = front.children.map((child) => ({
      front: child,
      place: planned[child]!.boundary.map((dof) =>
        dof < firstDof + own ? dof - firstDof : (localOf.get(dof) ?? Number.NaN),
      ),
    }));
    const b = boundary.length;
    planned.push({ firstDof, own, boundary, firstNode: front.start, endNode: front.end, panelStart, children });
    panelStart += (own + b) * own;
    multiplyAdds += own ** 3 / 6 + (b * own * own) / 2 + (own * b * b) / 2;
    stackValues = Math.max(stackValues, stack + b * b);
    for (const child of front.children) stack -= planned[child]!.boundary.length ** 2;
    stack += b * b;
  }
  return { pattern, fronts: planned, factorValues: panelStart, multiplyAdds, stackValues };
}

/** Why a matrix could not be factorised: the unknown at which it stops being positive definite. */
export interface NotPositiveDefinite {
  readonly kind: 'not-positive-definite';
  readonly dof: number;
}

/**
 * Factorises one matrix of the planned pattern.
 * @param values blocks of the matrix, (valueCount(pattern),)
 * @param into   an earlier factor of the same plan whose memory may be reused
 * @returns the factor, or at which unknown a pivot was not positive (an unsupported mechanism or an absurd material)
 */
export function factorise(plan: CholeskyPlan, values: Float64Array, into?: Cholesky): Cholesky | NotPositiveDefinite {
  const panels = into?.panels ?? new Float64Array(plan.factorValues);
  panels.fill(0);
  const { pattern } = plan;
  // Update matrices live on a stack: postorder guarantees that a front's children lie on top, in order.
  const stack = new Float64Array(plan.stackValues);
  const updateStart = new Int32Array(plan.fronts.length);
  const scratch = { local: new Int32Array(pattern.dofStart.at(-1)!), update: new Float64Array(0) };
  let top = 0;
  for (let f = 0; f < plan.fronts.length; f++) {
    const front = plan.fronts[f]!;
    const { own, boundary, panelStart } = front;
    const b = boundary.length;
    if (scratch.update.length < b * b) scratch.update = new Float64Array(b * b);
    const update = scratch.update;
    update.fill(0, 0, b * b);
    scatterMatrix(pattern, values, front, scratch.local, panels);
    for (const child of front.children) {
      const size = child.place.length;
      extendAdd(stack, updateStart[child.front]!, size, child.place, own, b, panels, panelStart, update);
    }
    for (const child of front.children) top -= child.place.length ** 2;
    const failedAt = factorisePanel(panels, panelStart, own, own + b);
    if (failedAt >= 0) return { kind: 'not-positive-definite', dof: front.firstDof + failedAt };
    subtractOuter(panels, panelStart + own * own, own, b, update);
    updateStart[f] = top;
    stack.set(update.subarray(0, b * b), top);
    top += b * b;
  }
  return { plan, panels };
}

/** Puts the matrix's own columns of a front where they belong in its panel. @param local overwritten, (dofCount,) */
export function scatterMatrix(
  pattern: BlockPattern,
  values: Float64Array,
  front: PlannedFront,
  local: Int32Array,
  panels: Float64Array,
): void {
  const { dofStart, columnStart, rowNode, valueStart } = pattern;
  const { firstDof, own, boundary, panelStart } = front;
  for (let i = 0; i < own; i++) local[firstDof + i] = i;
  for (let i = 0; i < boundary.length; i++) local[boundary[i]!] = own + i;
  for (let node = front.firstNode; node < front.endNode; node++) {
    const j0 = dofStart[node]! - firstDof;
    const width = dofStart[node + 1]! - dofStart[node]!;
    for (let block = columnStart[node]!; block < columnStart[node + 1]!; block++) {
      const row = rowNode[block]!;
      let at = valueStart[block]!;
      for (let i = dofStart[row]!; i < dofStart[row + 1]!; i++) {
        const to = panelStart + local[i]! * own + j0;
        for (let j = 0; j < width; j++) panels[to + j]! += values[at++]!;
      }
    }
  }
}

/** Adds what a child's elimination left to the panel and the update of its parent. */
export function extendAdd(
  stack: Float64Array,
  from: number,
  size: number,
  place: Int32Array,
  own: number,
  b: number,
  panels: Float64Array,
  panelStart: number,
  update: Float64Array,
): void {
  for (let i = 0; i < size; i++) {
    const row = place[i]!;
    const read = from + i * size;
    const toPanel = panelStart + row * own;
    const toUpdate = (row - own) * b - own;
    let j = 0;
    for (; j <= i && place[j]! < own; j++) panels[toPanel + place[j]!]! += stack[read + j]!;
    for (; j <= i; j++) update[toUpdate + place[j]!]! += stack[read + j]!;
  }
}

/**
 * In-place Cholesky of the own columns of a panel (rows contiguous), four rows at a time against two earlier rows, so that
 * every loaded value serves several products; returns the failing column or -1.
 */
function factorisePanel(p: Float64Array, start: number, own: number, rows: number): number {
  let i = 0;
  for (; i + 3 < rows; i += 4) {
    const r0 = start + i * own;
    const r1 = r0 + own;
    const r2 = r1 + own;
    const r3 = r2 + own;
    const done = Math.min(i, own) & ~1;
    for (let c = 0; c < done; c += 2) {
      const rc = start + c * own;
      const rd = rc + own;
      let c0 = p[r0 + c]!;
      let c1 = p[r1 + c]!;
      let c2 = p[r2 + c]!;
      let c3 = p[r3 + c]!;
      let d0 = p[r0 + c + 1]!;
      let d1 = p[r1 + c + 1]!;
      let d2 = p[r2 + c + 1]!;
      let d3 = p[r3 + c + 1]!;
      for (let t = 0; t < c; t++) {
        const lc = p[rc + t]!;
        const ld = p[rd + t]!;
        const w0 = p[r0 + t]!;
        const w1 = p[r1 + t]!;
        const w2 = p[r2 + t]!;
        const w3 = p[r3 + t]!;
        c0 -= w0 * lc;
        d0 -= w0 * ld;
        c1 -= w1 * lc;
        d1 -= w1 * ld;
        c2 -= w2 * lc;
        d2 -= w2 * ld;
        c3 -= w3 * lc;
        d3 -= w3 * ld;
      }
      const inverse = p[rc + c]!;
      c0 *= inverse;
      c1 *= inverse;
      c2 *= inverse;
      c3 *= inverse;
      p[r0 + c] = c0;
      p[r1 + c] = c1;
      p[r2 + c] = c2;
      p[r3 + c] = c3;
      const corner = p[rd + c]!;
      const next = p[rd + c + 1]!;
      p[r0 + c + 1] = (d0 - c0 * corner) * next;
      p[r1 + c + 1] = (d1 - c1 * corner) * next;
      p[r2 + c + 1] = (d2 - c2 * corner) * next;
      p[r3 + c + 1] = (d3 - c3 * corner) * next;
    }
    for (let row = i; row < i + 4; row++) {
      const failedAt = finishRow(p, start, own, row, done);
      if (failedAt >= 0) return failedAt;
    }
  }
  for (; i < rows; i++) {
    const failedAt = finishRow(p, start, own, i, 0);
    if (failedAt >= 0) return failedAt;
  }
  return -1;
}

/** The columns of one row from `column` on, with its pivot where it is an own row; returns the failing column or -1. */
function finishRow(p: Float64Array, start: number, own: number, row: number, column: number): number {
  const r = start + row * own;
  for (let c = column; c < Math.min(row, own); c++) {
    const rc = start + c * own;
    let sum = p[r + c]!;
    for (let t = 0; t < c; t++) sum -= p[r + t]! * p[rc + t]!;
    p[r + c] = sum * p[rc + c]!;
  }
  if (row >= own) return -1;
  let pivot = p[r + row]!;
  for (let t = 0; t < row; t++) pivot -= p[r + t]! * p[r + t]!;
  if (!(pivot > 0)) return row;
  // The diagonal keeps 1 / L_jj: a multiplication in every later use instead of a division.
  p[r + row] = 1 / Math.sqrt(pivot);
  return -1;
}

/**
 * update -= B C^T on and below the diagonal, in tiles of 4 x 2 so that every loaded row serves several products.
 * @param q where C stands, at the place of B in p; B itself unless given
 */
export function subtractOuter(
  p: Float64Array,
  start: number,
  own: number,
  b: number,
  update: Float64Array,
  q: Float64Array = p,
): void {
  for (let i = 0; i < b; i += 4) {
    const last = Math.min(i + 3, b - 1);
    const r0 = start + i * own;
    const r1 = start + Math.min(i + 1, last) * own;
    const r2 = start + Math.min(i + 2, last) * own;
    const r3 = start + last * own;
    for (let j = 0; j <= last; j += 2) {
      const c0 = start + j * own;
      const c1 = start + Math.min(j + 1, b - 1) * own;
      let a00 = 0;
      let a01 = 0;
      let a10 = 0;
      let a11 = 0;
      let a20 = 0;
      let a21 = 0;
      let a30 = 0;
      let a31 = 0;
      for (let t = 0; t < own; t++) {
        const v0 = q[c0 + t]!;
        const v1 = q[c1 + t]!;
        const w0 = p[r0 + t]!;
        const w1 = p[r1 + t]!;
        const w2 = p[r2 + t]!;
        const w3 = p[r3 + t]!;
        a00 += w0 * v0;
        a01 += w0 * v1;
        a10 += w1 * v0;
        a11 += w1 * v1;
        a20 += w2 * v0;
        a21 += w2 * v1;
        a30 += w3 * v0;
        a31 += w3 * v1;
      }
      const pair = j + 1 < b;
      const at = i * b + j;
      update[at]! -= a00;
      if (pair) update[at + 1]! -= a01;
      if (i + 1 <= last) {
        update[at + b]! -= a10;
        if (pair) update[at + b + 1]! -= a11;
      }
      if (i + 2 <= last) {
        update[at + 2 * b]! -= a20;
        if (pair) update[at + 2 * b + 1]! -= a21;
      }
      if (i + 3 <= last) {
        update[at + 3 * b]! -= a30;
        if (pair) update[at + 3 * b + 1]! -= a31;
      }
    }
  }
}

/** Solves A x = b in place. @param x right-hand side on entry, solution on return, (dofCount,) */
export function solve(factor: Cholesky, x: Float64Array): void {
  const p = factor.panels;
  const { fronts } = factor.plan;
  // The own part of x is worked on in a small buffer; boundary rows are taken four at a time, because reading the factor
  // is what takes the time.
  const y = new Float64Array(fronts.reduce((most, { own }) => Math.max(most, own), 0));
  for (const front of fronts) forward(p, front, x, y);
  for (let f = fronts.length - 1; f >= 0; f--) backward(p, fronts[f]!, x, y);
}

function forward(p: Float64Array, front: PlannedFront, x: Float64Array, y: Float64Array): void {
  const { own, firstDof, boundary, panelStart } = front;
  for (let i = 0; i < own; i++) {
    const row = panelStart + i * own;
    let sum = x[firstDof + i]!;
    for (let t = 0; t < i; t++) sum -= p[row + t]! * y[t]!;
    y[i] = sum * p[row + i]!;
    x[firstDof + i] = y[i]!;
  }
  const b = boundary.length;
  let i = 0;
  for (; i + 3 < b; i += 4) {
    const r0 = panelStart + (own + i) * own;
    const r1 = r0 + own;
    const r2 = r1 + own;
    const r3 = r2 + own;
    let s0 = 0;
    let s1 = 0;
    let s2 = 0;
    let s3 = 0;
    for (let t = 0; t < own; t++) {
      const v = y[t]!;
      s0 += p[r0 + t]! * v;
      s1 += p[r1 + t]! * v;
      s2 += p[r2 + t]! * v;
      s3 += p[r3 + t]! * v;
    }
    x[boundary[i]!]! -= s0;
    x[boundary[i + 1]!]! -= s1;
    x[boundary[i + 2]!]! -= s2;
    x[boundary[i + 3]!]! -= s3;
  }
  for (; i < b; i++) {
    const row = panelStart + (own + i) * own;
    let sum = 0;
    for (let t = 0; t < own; t++) sum += p[row + t]! * y[t]!;
    x[boundary[i]!]! -= sum;
  }
}

function backward(p: Float64Array, front: PlannedFront, x: Float64Array, y: Float64Array): void {
  const { own, firstDof, boundary, panelStart } = front;
  for (let t = 0; t < own; t++) y[t] = x[firstDof + t]!;
  const b = boundary.length;
  let i = 0;
  for (; i + 3 < b; i += 4) {
    const r0 = panelStart + (own + i) * own;
    const r1 = r0 + own;
    const r2 = r1 + own;
    const r3 = r2 + own;
    const x0 = x[boundary[i]!]!;
    const x1 = x[boundary[i + 1]!]!;
    const x2 = x[boundary[i + 2]!]!;
    const x3 = x[boundary[i + 3]!]!;
    for (let t = 0; t < own; t++) y[t]! -= p[r0 + t]! * x0 + p[r1 + t]! * x1 + p[r2 + t]! * x2 + p[r3 + t]! * x3;
  }
  for (; i < b; i++) {
    const row = panelStart + (own + i) * own;
    const xi = x[boundary[i]!]!;
    for (let t = 0; t < own; t++) y[t]! -= p[row + t]! * xi;
  }
  for (let j = own - 1; j >= 0; j--) {
    const row = panelStart + j * own;
    const yj = y[j]! * p[row + j]!;
    x[firstDof + j] = yj;
    for (let t = 0; t < j; t++) y[t]! -= p[row + t]! * yj;
  }
}
