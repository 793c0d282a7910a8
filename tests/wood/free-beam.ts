import { EigenvalueDecomposition, inverse, Matrix } from 'ml-matrix';

/**
 * Square of the first bending frequency of a free beam with its own thickness, any unit: cubic elements (Bathe, Finite Element Procedures,
 * section 5.4, from memory), solved by ml-matrix. Nothing of it is the program's.
 */
export function freeBeam(thicknessAt: (share: number) => number, elements = 24): number {
  const n = 2 * (elements + 1);
  const [k, m] = [Matrix.zeros(n, n), Matrix.zeros(n, n)];
  const l = 1 / elements;
  for (let e = 0; e < elements; e++) {
    const h = thicknessAt((e + 0.5) / elements);
    const stiff = [
      [12, 6 * l, -12, 6 * l],
      [6 * l, 4 * l * l, -6 * l, 2 * l * l],
      [-12, -6 * l, 12, -6 * l],
      [6 * l, 2 * l * l, -6 * l, 4 * l * l],
    ];
    const heavy = [
      [156, 22 * l, 54, -13 * l],
      [22 * l, 4 * l * l, 13 * l, -3 * l * l],
      [54, 13 * l, 156, -22 * l],
      [-13 * l, -3 * l * l, -22 * l, 4 * l * l],
    ];
    for (let i = 0; i < 4; i++)
      for (let j = 0; j < 4; j++) {
        const [p, q] = [2 * e + i, 2 * e + j];
        k.set(p, q, k.get(p, q) + (h ** 3 * stiff[i]![j]!) / l ** 3);
        m.set(p, q, m.get(p, q) + (h * l * heavy[i]![j]!) / 420);
      }
  }
  const values = new EigenvalueDecomposition(inverse(m).mmul(k)).realEigenvalues.toSorted((a, b) => a - b);
  // Two motions as a rigid body come first.
  return values[2]!;
}
