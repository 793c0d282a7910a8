// The motions of a free plate that cost no energy; they are kept out of the search for modes exactly.
import { type Freedoms, MOTIONS, PSI_X, PSI_Y, THETA_X, THETA_Y, U, V, W } from './freedoms.ts';
import type { PlateMesh } from './mesh.ts';

type Values = readonly (readonly [motion: number, value: number])[];

/**
 * The six rigid motions (three when in-plane motion is left out) on the unknowns of a free plate.
 * @param glueM height of the glue line above the plate's middle: where a brace bridges the soundhole, u and v belong to it
 */
export function rigidMotions(mesh: PlateMesh, freedoms: Freedoms, hasPlane: boolean, glueM: number): Float64Array[] {
  const { pattern, unknown } = freedoms;
  const tilt = (theta: number, psi: number, inPlane: number, distanceM: number, hasPlate: boolean): Values => [
    [W, distanceM],
    [theta, -1],
    [psi, -1],
    [inPlane, hasPlate ? 0 : -glueM],
  ];
  const motions: ((xM: number, yM: number, hasPlate: boolean) => Values)[] = [
    () => [[W, 1]],
    (x, _y, hasPlate) => tilt(THETA_X, PSI_X, U, x, hasPlate),
    (_x, y, hasPlate) => tilt(THETA_Y, PSI_Y, V, y, hasPlate),
  ];
  if (hasPlane) {
    motions.push(
      () => [[U, 1]],
      () => [[V, 1]],
      (x, y) => [
        [U, -y],
        [V, x],
      ],
    );
  }
  return motions.map((motion) => {
    const vector = new Float64Array(pattern.dofStart.at(-1)!);
    for (let node = 0; node < mesh.xMm.length; node++) {
      const hasPlate = unknown[node * MOTIONS + THETA_X]! >= 0;
      for (const [m, value] of motion(mesh.xMm[node]! / 1000, mesh.yMm[node]! / 1000, hasPlate)) {
        const at = unknown[node * MOTIONS + m]!;
        if (at >= 0) vector[at] = value;
      }
    }
    return vector;
  });
}
