// Where a drawing puts a brace over a patch on the same face: the brace is glued to the plate, and the patch is cut to fit.
import type { PlateMesh } from './mesh.ts';
import type { PlateCase } from './plate-case.ts';

/** Patches that braces run over, each pair once. */
export function cutAway(
  mesh: PlateMesh,
  plate: PlateCase,
): readonly { readonly patchId: string; readonly braceId: string }[] {
  const pairs = new Set<string>();
  for (const cover of mesh.elementCover)
    for (const under of cover)
      for (const over of cover) {
        const [patch, brace] = [mesh.footprints[under]!, mesh.footprints[over]!];
        if (patch.kind === 'patch' && brace.kind === 'brace' && plate.patches![patch.index]!.face !== 'outside')
          pairs.add(`${patch.index} ${brace.index}`);
      }
  return [...pairs].toSorted().map((pair) => {
    const [patch, brace] = pair.split(' ').map(Number);
    return { patchId: plate.patches![patch!]!.id, braceId: plate.braces![brace!]!.id };
  });
}
