// How many eigenvalues of K x = lambda M x lie below a value, without finding any: as many as K - value M has negative pivots
// when it is eliminated. Source: Sylvester's law of inertia; Parlett 1980, The Symmetric Eigenvalue Problem, section 3.3.
import { type CholeskyPlan, extendAdd, scatterMatrix, subtractOuter } from './cholesky.ts';

/**
 * Counts negative pivots of a symmetric matrix of the planned pattern, by the fronts of the Cholesky factorisation, in
 * L S L^T with S of +1 and -1. Nothing is exchanged: the value should lie well between two eigenvalues.
 * @param values blocks of the matrix, (valueCount(pattern),)
 * @returns the count, or undefined where a pivot vanishes
 */
export function negativePivots(plan: CholeskyPlan, values: Float64Array): number | undefined {
  const { pattern, fronts } = plan;
  const most = fronts.reduce((size, { own, boundary }) => Math.max(size, (own + boundary.length) * own), 0);
  const panel = new Float64Array(most);
  const signed = new Float64Array(most);
  const local = new Int32Array(pattern.dofStart.at(-1)!);
  const stack = new Float64Array(plan.stackValues);
  const updateStart = new Int32Array(fronts.length);
  let update = new Float64Array(0);
  let top = 0;
  let negative = 0;
  fronts.forEach((front, f) => {
    const { own, boundary } = front;
    const b = boundary.length;
    if (update.length < b * b) update = new Float64Array(b * b);
    update.fill(0, 0, b * b);
    panel.fill(0, 0, (own + b) * own);
    scatterMatrix(pattern, values, { ...front, panelStart: 0 }, local, panel);
    for (const child of front.children) {
      const size = child.place.length;
      extendAdd(stack, updateStart[child.front]!, size, child.place, own, b, panel, 0, update);
    }
    for (const child of front.children) top -= child.place.length ** 2;
    negative += signedPanel(panel, signed, own, own + b);
    subtractOuter(panel, own * own, own, b, update, signed);
    updateStart[f] = top;
    stack.set(update.subarray(0, b * b), top);
    top += b * b;
  });
  return Number.isFinite(negative) ? negative : undefined;
}

/**
 * Eliminates the own columns of a panel in place. Below the diagonal `panel` becomes L, and `signed` L S.
 * @returns how many pivots are negative, NaN where one vanishes
 */
function signedPanel(panel: Float64Array, signed: Float64Array, own: number, rows: number): number {
  const inverse = new Float64Array(own);
  const sign = new Float64Array(own);
  let negative = 0;
  for (let i = 0; i < rows; i++) {
    const row = i * own;
    const columns = Math.min(i, own);
    for (let c = 0; c < columns; c++) {
      const other = c * own;
      let sum = panel[row + c]!;
      for (let t = 0; t < c; t++) sum -= panel[row + t]! * signed[other + t]!;
      panel[row + c] = sum * inverse[c]!;
    }
    for (let c = 0; c < columns; c++) signed[row + c] = panel[row + c]! * sign[c]!;
    if (i >= own) continue;
    let pivot = panel[row + i]!;
    for (let t = 0; t < i; t++) pivot -= panel[row + t]! * signed[row + t]!;
    if (pivot === 0) return Number.NaN;
    sign[i] = Math.sign(pivot);
    inverse[i] = sign[i]! / Math.sqrt(Math.abs(pivot));
    if (pivot < 0) negative++;
  }
  return negative;
}
