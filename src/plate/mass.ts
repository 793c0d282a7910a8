// Mass and centre of gravity of a plate and of each part, by integration over the mesh.
import { type AssemblyPlan, type PlateWood, sectionAt } from './assembly.ts';
import { emptySection } from './layered-section.ts';

/** Masses, g, and the centre of gravity, mm. */
export interface PlateMass {
  readonly totalG: number;
  /** Mass of the plate without parts. */
  readonly plateG: number;
  /** Mass of each part, in the order of the mesh's footprints; the wood of a brace's laps is shared out evenly. */
  readonly partsG: readonly number[];
  readonly centreMm: readonly [x: number, y: number];
}

/** Weighs a plate: exact for straight-sided elements, within 0.1 % with curved rims. */
export function plateMass(plan: AssemblyPlan, wood: PlateWood): PlateMass {
  const { mesh, massPoints } = plan;
  const section = emptySection();
  const partsG = new Array<number>(mesh.footprints.length).fill(0);
  let [totalG, plateG, momentX, momentY] = [0, 0, 0, 0];
  for (let e = 0; e < mesh.elementCover.length; e++) {
    const cover = mesh.elementCover[e]!;
    for (let k = 0; k < massPoints.rule.count; k++) {
      const at = e * massPoints.rule.count + k;
      const [x, y, areaM2] = [massPoints.xMm[at]!, massPoints.yMm[at]!, massPoints.areaM2[at]!];
      const bareG = mesh.elementHasPlate[e] === 1 ? 1000 * areaM2 * wood.plate.densityKgM3 * wood.thicknessM(x, y) : 0;
      let wholeG = bareG;
      if (cover.length > 0) {
        sectionAt(section, wood, mesh, e, x, y);
        wholeG = 1000 * areaM2 * section.mass[0]!;
        const ownG = (part: number): number =>
          1000 * areaM2 * wood.parts[part]!.heightM([x, y]) * wood.parts[part]!.stiffness.densityKgM3;
        const lapped = cover.filter((part) => wood.parts[part]!.foot !== undefined);
        // A patch is cut away where a brace runs over it.
        const alone = cover.filter((part) => wood.parts[part]!.isOutside || lapped.length === 0);
        let lapG = wholeG - bareG;
        for (const part of alone) {
          partsG[part]! += ownG(part);
          lapG -= ownG(part);
        }
        for (const part of lapped) partsG[part]! += lapG / lapped.length;
      }
      totalG += wholeG;
      plateG += bareG;
      momentX += wholeG * x;
      momentY += wholeG * y;
    }
  }
  return { totalG, plateG, partsG, centreMm: [momentX / totalG, momentY / totalG] };
}
