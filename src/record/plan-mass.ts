// What the drawn top weighs, without solving anything, so that the figure follows every edit.
import { heightAtMm } from '../brace/profile.ts';
import { unitSection } from '../brace/section.ts';
import { crossing, isInside, type Point, signedArea } from '../plate/outline.ts';
import { planBraceLengthMm } from './plan-brace.ts';
import { slabPolygon } from './plan-case.ts';
import { planOutline, pointOf } from './plan-outline.ts';
import { braceWoodOf } from './plan-wood.ts';
import type { Plan, PlanBrace } from './record.ts';

/** Masses, g, and the centre of gravity, mm. The bridge is left out: it is outside and often off. */
export interface PlanMass {
  readonly totalG: number;
  readonly plateG: number;
  readonly bridgePlateG: number;
  readonly bracesG: ReadonlyMap<string, number>;
  readonly centre: Point;
}

interface Lump {
  readonly massG: number;
  readonly at: Point;
}

/** Mass of the drawn top. Braces count as far as they lie inside the outline; a half-lap's wood is shared by halves. */
export function planMass(plan: Plan): PlanMass {
  const outline = planOutline(plan);
  const plate = plateLump(plan, outline);
  const slab = slabPolygon(plan, plan.bridgePlate, outline);
  const bridgePlate: Lump = {
    massG: gramsOf(Math.abs(signedArea(slab)) * plan.bridgePlate.thicknessMm, plan.bridgePlate.wood.densityKgM3.value),
    at: [(slab[0]![0] + slab[1]![0]) / 2, 0],
  };
  const braces = new Map(plan.braces.map((brace) => [brace.id, braceLumps(plan, brace, outline)] as const));
  const lumps = [plate, bridgePlate, ...[...braces.values()].flat()];
  const totalG = lumps.reduce((sum, lump) => sum + lump.massG, 0);
  const moment = (k: 0 | 1) => lumps.reduce((sum, lump) => sum + lump.massG * lump.at[k], 0) / totalG;
  return {
    totalG,
    plateG: plate.massG,
    bridgePlateG: bridgePlate.massG,
    bracesG: new Map([...braces].map(([id, list]) => [id, list.reduce((sum, lump) => sum + lump.massG, 0)])),
    centre: [moment(0), moment(1)],
  };
}

/** mm^3 and kg/m^3 to g. */
const gramsOf = (volumeMm3: number, densityKgM3: number): number => volumeMm3 * densityKgM3 * 1e-6;

function plateLump(plan: Plan, outline: readonly Point[]): Lump {
  let [twice, mx, my] = [0, 0, 0];
  for (let i = 0; i < outline.length; i++) {
    const [a, b] = [outline[i]!, outline[(i + 1) % outline.length]!];
    const cross = a[0] * b[1] - b[0] * a[1];
    twice += cross;
    mx += (cross * (a[0] + b[0])) / 3;
    my += (cross * (a[1] + b[1])) / 3;
  }
  const hole = plan.soundhole;
  const holeArea = hole === undefined ? 0 : Math.PI * hole.radiusMm ** 2;
  const sign = Math.sign(twice);
  const area = Math.abs(twice) / 2 - holeArea;
  return {
    massG: gramsOf(area * plan.thicknessMm, plan.wood.densityKgM3.value),
    at: [
      ((sign * mx) / 2 - holeArea * (hole?.xMm ?? 0)) / area,
      ((sign * my) / 2 - holeArea * (hole?.yMm ?? 0)) / area,
    ],
  };
}

const SLICE_MM = 2;

/** A brace in slices; where it meets another, the wood both would fill is given half to each. */
function braceLumps(plan: Plan, brace: PlanBrace, outline: readonly Point[]): Lump[] {
  const length = planBraceLengthMm(brace);
  if (!(length > 0) || brace.profile.length === 0) return [];
  const slices = Math.max(1, Math.round(length / SLICE_MM));
  const area = unitSection(brace.section).area * brace.widthMm;
  const density = braceWoodOf(plan, brace).densityKgM3.value;
  const [from, to] = [pointOf(brace.from), pointOf(brace.to)];
  const lumps: Lump[] = [];
  for (let i = 0; i < slices; i++) {
    const share = (i + 0.5) / slices;
    const at: Point = [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])];
    if (!isInside(outline, at)) continue;
    const height = Math.max(0, heightAtMm(brace.profile, share * length));
    lumps.push({ massG: gramsOf((area * height * length) / slices, density), at });
  }
  for (const other of plan.braces) {
    if (other.id === brace.id || other.profile.length === 0) continue;
    const hit = crossing(from, to, pointOf(other.from), pointOf(other.to));
    if (hit === undefined) continue;
    const otherLength = planBraceLengthMm(other);
    const cos =
      ((to[0] - from[0]) * (other.to.xMm - other.from.xMm) + (to[1] - from[1]) * (other.to.yMm - other.from.yMm)) /
      (length * otherLength);
    const sin = Math.sqrt(Math.max(1e-6, 1 - cos * cos));
    const height = Math.min(
      heightAtMm(brace.profile, hit[0] * length),
      heightAtMm(other.profile, hit[1] * otherLength),
    );
    const shared = (unitSection(brace.section).area * brace.widthMm * other.widthMm * height) / sin;
    lumps.push({
      massG: -gramsOf(shared, density) / 2,
      at: [from[0] + hit[0] * (to[0] - from[0]), from[1] + hit[0] * (to[1] - from[1])],
    });
  }
  return lumps;
}
