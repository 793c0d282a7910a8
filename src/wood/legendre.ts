// Orthonormal Legendre polynomials on [-1, 1]: the functions in which a board's motion is written. Their products
// integrate in closed form, so nothing here is quadrature.
import { transposed } from './dense.ts';

/** Highest derivative the tables hold. */
export type Order = 0 | 1 | 2;

/** Inner products of derivatives: `tables[p][q][i * count + j]` = integral of p-th derivative of P_i times q-th of P_j. */
export type ProductTables = readonly (readonly Float64Array[])[];

function multiplyTransposed(a: Float64Array, b: Float64Array, count: number): Float64Array {
  const product = new Float64Array(count * count);
  for (let k = 0; k < count; k++) {
    for (let i = 0; i < count; i++) {
      const aki = a[k * count + i]!;
      if (aki === 0) continue;
      for (let j = 0; j < count; j++) product[i * count + j]! += aki * b[k * count + j]!;
    }
  }
  return product;
}

/**
 * Columns of the derivative in the same basis: P_n' = sum over m of D[m, n] P_m.
 * Source: P_n' = sum of (2m + 1) P_m over m = n-1, n-3, ... (Abramowitz & Stegun 22), normalised.
 */
function derivative(count: number): Float64Array {
  const d = new Float64Array(count * count);
  for (let n = 1; n < count; n++) {
    for (let m = n - 1; m >= 0; m -= 2) d[m * count + n] = Math.sqrt((2 * m + 1) * (2 * n + 1));
  }
  return d;
}

/**
 * All inner products of the first `count` polynomials and their first two derivatives, exact.
 * @param count number of polynomials, degrees 0 to count - 1
 */
export function legendreProducts(count: number): ProductTables {
  const zeroth = new Float64Array(count * count);
  for (let i = 0; i < count; i++) zeroth[i * count + i] = 1;
  const first = derivative(count);
  const second = multiplyTransposed(transposed(first, count), first, count);
  const orders = [zeroth, first, second];
  return orders.map((p) => orders.map((q) => multiplyTransposed(p, q, count)));
}

/**
 * Values of the first `count` orthonormal polynomials at one point.
 * @param x in [-1, 1]
 * Source: Bonnet's recursion, (n + 1) P_{n+1} = (2n + 1) x P_n - n P_{n-1}.
 */
export function legendreValues(count: number, x: number): Float64Array {
  const values = new Float64Array(count);
  let before = 0;
  let here = 1;
  for (let n = 0; n < count; n++) {
    values[n] = here * Math.sqrt(n + 0.5);
    const next = ((2 * n + 1) * x * here - n * before) / (n + 1);
    before = here;
    here = next;
  }
  return values;
}
