// How much of each mode's energy is in one part, read from frequencies alone: stop the part, load it or damp it, and the
// way the peaks move gives the share, without any model of the box.

/**
 * Share of a part in each mode, from the peaks with the part free and with it stopped (hole blocked, back held).
 * share_k = prod_i (L_k - M_i) / prod_(j != k) (L_k - L_j), L and M the squares of the free and stopped frequencies.
 * @param freeHz    all modes with the part free, ascending, (n,)
 * @param stoppedHz all modes with it stopped, ascending, (n - 1,)
 * @returns shares of the kinetic energy, (n,), summing to 1; outside 0 to 1 only by reading error
 * @throws RangeError if the counts do not fit
 * Source: eigenvectors from eigenvalues, Jacobi 1834 as collected in Denton, Parke, Tao & Zhang 2022, Bull. Amer. Math. Soc.
 * 59:31, theorem 1.
 */
export function shareByStopping(freeHz: readonly number[], stoppedHz: readonly number[]): readonly number[] {
  if (stoppedHz.length !== freeHz.length - 1)
    throw new RangeError(`shareByStopping: ${stoppedHz.length} stopped modes, need ${freeHz.length - 1}`);
  return freeHz.map((fk, k) => {
    const others = freeHz.filter((_, j) => j !== k);
    return others.reduce((share, fj, i) => (share * (fk * fk - stoppedHz[i]! ** 2)) / (fk * fk - fj * fj), 1);
  });
}

/**
 * Share of a part in each mode, from the peaks without and with a mass on it.
 * share_k ~ -prod_j (M_j - L_k) / [L_k prod_(j != k) (L_j - L_k)], L and M the squares without and with the mass.
 * @param bareHz  modes without the mass, ascending, (n,)
 * @param heavyHz the same modes with it, ascending, (n,)
 * @returns shares of the kinetic energy of what moves in these modes, (n,), summing to 1
 * @throws RangeError if the counts do not fit
 * Source: our derivation: residues of det(K - L (M + dm e e^T)) / det(K - L M), see tests/box/energy-share.test.ts.
 */
export function shareByMass(bareHz: readonly number[], heavyHz: readonly number[]): readonly number[] {
  if (heavyHz.length !== bareHz.length)
    throw new RangeError(`shareByMass: ${heavyHz.length} modes with the mass, need ${bareHz.length}`);
  const residues = bareHz.map((fk, k) => {
    const own = (fk * fk - heavyHz[k]! ** 2) / (fk * fk);
    return bareHz.reduce(
      (product, fj, j) => (j === k ? product : (product * (heavyHz[j]! ** 2 - fk * fk)) / (fj * fj - fk * fk)),
      own,
    );
  });
  return normalised(residues);
}

/**
 * Share of a part in each mode, from how much the losses grew when a hand damped it: f / Q is the loss, and a damped part
 * adds to each mode's loss in proportion to its share.
 * @param before f / Q of each mode, Hz, (n,)
 * @param after  f / Q with the part damped, Hz, (n,)
 * @returns shares, (n,), summing to 1
 * Source: light damping, as in `boxModes`.
 */
export function shareByDamping(before: readonly number[], after: readonly number[]): readonly number[] {
  return normalised(before.map((loss, k) => after[k]! - loss));
}

function normalised(values: readonly number[]): readonly number[] {
  const sum = values.reduce((total, value) => total + value, 0);
  return values.map((value) => value / sum);
}
