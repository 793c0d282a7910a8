// The air volume of a box from its outline and its depths.

/** How deep the box is and what is in the way of its air. */
export interface CavityDepths {
  /** inside depth at the tail block, on the centre line, m, > 0 */
  readonly tailM: number;
  /** inside depth at the neck block, on the centre line, m, > 0 */
  readonly neckM: number;
  /** spherical dome radius of the top, m; absent: flat */
  readonly topDomeRadiusM?: number;
  /** spherical dome radius of the back, m; absent: flat */
  readonly backDomeRadiusM?: number;
  /** blocks, linings, braces inside, m³, >= 0 */
  readonly occupiedM3: number;
}

/**
 * Air volume of the box, m³: the depth runs straight from tail to neck on the centre line, and the domes rise from there.
 * Exact for the polygon: V = integral of d(x) + [(x - x0)(x1 - x) - y²] (1/2R_top + 1/2R_back).
 * @param outline inside outline seen from above, closed, [x, y] in m, (n >= 3,); x from the tail to the neck, y = 0 on the
 *                centre line
 * @throws RangeError if the outline has no area, or the volume is not positive
 * Source: moments of a polygon by Green's theorem; dome as a paraboloid of the same radius (sag r²/2R, error below 0.1 %
 * of the sag for guitar domes).
 */
export function cavityVolumeM3(outline: readonly (readonly [number, number])[], depths: CavityDepths): number {
  let area = 0;
  let sumX = 0;
  let sumXX = 0;
  let sumYY = 0;
  outline.forEach(([x, y], i) => {
    const [nextX, nextY] = outline[(i + 1) % outline.length]!;
    const cross = x * nextY - nextX * y;
    area += cross / 2;
    sumX += ((x + nextX) * cross) / 6;
    sumXX += ((x * x + x * nextX + nextX * nextX) * cross) / 12;
    sumYY += ((y * y + y * nextY + nextY * nextY) * cross) / 12;
  });
  if (outline.length < 3 || area === 0)
    throw new RangeError('cavityVolumeM3: outline without area, need 3 points or more');
  const turn = Math.sign(area); // an outline drawn clockwise counts its moments negative
  const xs = outline.map(([x]) => x);
  const tailX = Math.min(...xs);
  const neckX = Math.max(...xs);
  const taper = (depths.neckM - depths.tailM) / (neckX - tailX);
  const straight = depths.tailM * area + taper * (sumX - tailX * area);
  const sagPerRadius = ((tailX + neckX) * sumX - tailX * neckX * area - sumXX - sumYY) / 2;
  const curvature = 1 / (depths.topDomeRadiusM ?? Infinity) + 1 / (depths.backDomeRadiusM ?? Infinity);
  const volume = turn * (straight + sagPerRadius * curvature) - depths.occupiedM3;
  if (!(volume > 0)) throw new RangeError(`cavityVolumeM3: ${volume} m³, need > 0`);
  return volume;
}
