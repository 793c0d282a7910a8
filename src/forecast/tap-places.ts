// Where the spots of the bench lie on a drawn top.
import type { Point } from '../plate/outline.ts';
import { chord, neckEndMm, planOutline, saddleMm } from '../record/plan-outline.ts';
import type { InstrumentRecord, Plan } from '../record/record.ts';

/** Stations at which the width is read, shares of the length. */
const STATIONS = 60;
/** Share of half the bridge at which its end is tapped, and how far behind it, mm: on the wood beside it. Common practice, no source. */
const BRIDGE_END = 0.9;
const BEHIND_MM = 25;

/** Places of the spots that a drawing knows, mm; a spot in the maker's own words, an edge or a corner has none. */
export function tapPlaces(plan: Plan, hand: InstrumentRecord['hand']): ReadonlyMap<string, Point> {
  const outline = planOutline(plan);
  const length = neckEndMm(outline);
  if (!(length > 0)) return new Map();
  const stations = Array.from({ length: STATIONS - 1 }, (_, i) => ((i + 1) / STATIONS) * length);
  const widths = stations.map((x) => {
    const ends = chord(outline, [x, 0], 90, 0);
    return ends === undefined ? 0 : ends[0][1] - ends[1][1];
  });
  const widest = (from: number, to: number, sign: 1 | -1): number => {
    const inside = stations.flatMap((x, i) => (x >= from && x <= to ? [[x, sign * widths[i]!] as const] : []));
    return inside.reduce((best, station) => (station[1] > best[1] ? station : best))[0];
  };
  const lower = widest(0, length / 2, 1);
  const upper = widest(0.65 * length, length, 1);
  const saddle = saddleMm(plan, outline);
  const bassSide = hand === 'right' ? -1 : 1;
  const end = (BRIDGE_END * plan.bridge.acrossMm) / 2;
  return new Map<string, Point>([
    ['lower-bout-centre', [lower, 0]],
    ['bridge-centre', [saddle, 0]],
    ['bridge-bass', [saddle, bassSide * end]],
    ['bridge-treble', [saddle, -bassSide * end]],
    ['behind-bridge', [saddle - (2 * plan.bridge.alongMm) / 3 - BEHIND_MM, 0]],
    ['waist', [widest(lower, upper, -1), 0]],
    ['upper-bout', [upper, 0]],
  ]);
}
