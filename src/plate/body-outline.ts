// Smooth body outlines from a few stations, and some of our own dimensions to start from.
import type { Point } from './outline.ts';

/** A body outline by its widths, mm. Positions are measured from the tail along the centre line. */
export interface BodyStations {
  readonly lengthMm: number;
  readonly lowerBout: { readonly atMm: number; readonly widthMm: number };
  readonly waist: { readonly atMm: number; readonly widthMm: number };
  readonly upperBout: { readonly atMm: number; readonly widthMm: number };
}

/** Outlines of our own dimensions, to start from. */
export const BODY_STATIONS: Readonly<Record<'small parlour' | 'concert' | 'large', BodyStations>> = {
  'small parlour': {
    lengthMm: 458,
    lowerBout: { atMm: 128, widthMm: 338 },
    waist: { atMm: 281, widthMm: 222 },
    upperBout: { atMm: 382, widthMm: 252 },
  },
  concert: {
    lengthMm: 487,
    lowerBout: { atMm: 136, widthMm: 384 },
    waist: { atMm: 298, widthMm: 242 },
    upperBout: { atMm: 404, widthMm: 286 },
  },
  large: {
    lengthMm: 506,
    lowerBout: { atMm: 142, widthMm: 404 },
    waist: { atMm: 308, widthMm: 272 },
    upperBout: { atMm: 420, widthMm: 298 },
  },
};

/** How full the ends are: slope of the half-width at the ends, relative to a straight rise to the bout. */
const END_FULLNESS = 2.1;

/**
 * A smooth closed outline, symmetric about y = 0, tail at the origin, counter-clockwise.
 *
 * With x = L (1 - cos pi s) / 2 the half-width is a cubic in s between tail, lower bout, waist, upper bout and neck end,
 * level at the three stations; at both ends it rises linearly in s, which makes x(y) round there.
 * @param points number of points, even, at least 24
 * @throws RangeError if the stations are not in order along the body or a width is not positive
 */
export function outlineThroughStations(stations: BodyStations, points = 160): Point[] {
  const { lengthMm, lowerBout, waist, upperBout } = stations;
  const order = [0, lowerBout.atMm, waist.atMm, upperBout.atMm, lengthMm];
  if (!order.every((at, i) => i === 0 || at > order[i - 1]!))
    throw new RangeError(`outlineThroughStations: stations ${order.join(', ')} mm, need them in order`);
  const widths = [0, lowerBout.widthMm, waist.widthMm, upperBout.widthMm, 0];
  if (!widths.slice(1, 4).every((w) => w > 0))
    throw new RangeError(`outlineThroughStations: widths ${widths.slice(1, 4).join(', ')} mm, need positive ones`);
  const s = order.map((at) => Math.acos(1 - (2 * at) / lengthMm) / Math.PI);
  const half = widths.map((w) => w / 2);
  const slopes = [(END_FULLNESS * half[1]!) / s[1]!, 0, 0, 0, (-END_FULLNESS * half[3]!) / (1 - s[3]!)];
  const halfWidth = (t: number): number => {
    const k = Math.min(
      3,
      s.findIndex((_, i) => i === 4 || t < s[i + 1]!),
    );
    const d = s[k + 1]! - s[k]!;
    const q = (t - s[k]!) / d;
    const a = (1 + 2 * q) * (1 - q) ** 2;
    const b = q * (1 - q) ** 2 * d;
    const c = q * q * (3 - 2 * q);
    const e = q * q * (q - 1) * d;
    return a * half[k]! + b * slopes[k]! + c * half[k + 1]! + e * slopes[k + 1]!;
  };
  const n = Math.max(12, Math.floor(points / 2));
  const side = Array.from({ length: n + 1 }, (_, i): Point => {
    const t = i / n;
    return [(lengthMm * (1 - Math.cos(Math.PI * t))) / 2, i === 0 || i === n ? 0 : halfWidth(t)];
  });
  return [...side.map(([x, y]): Point => [x, -y]), ...side.slice(1, -1).reverse()];
}
