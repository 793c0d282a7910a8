// A plate as a solid for CalculiX (Debian: calculix-ccx): its triangles drawn up into quadratic wedges, layers in the plate and in
// the braces, wood with all nine constants, the rim held along the lower edge. Another theory of the same body.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { lineHeightMm } from '../../src/brace/profile.ts';
import { distanceAlongMm } from '../../src/plate/footprint.ts';
import { plateMesh } from '../../src/plate/mesh.ts';
import type { Fineness } from '../../src/plate/mesh-size.ts';
import type { BraceCase, PlateCase, WoodConstants } from '../../src/plate/plate-case.ts';

/** Layers of elements in the plate; in the braces, an even number for the half-lap where two cross. */
const PLATE_LAYERS = 2;
const BRACE_LAYERS = 4;

export interface SolidMesh extends Fineness {
  readonly sizeMm: number;
}

export interface SolidAnswer {
  /** elastic modes, ascending */
  readonly frequenciesHz: readonly number[];
  readonly nodes: number;
  /** processor time of CalculiX in one thread, ms */
  readonly cpuMs: number;
}

/**
 * Frequencies of a plate as a solid. Braces are rectangular and meet at equal heights where they cross, of which the later one has
 * the lower half; patches are left out.
 * @param shaped the case whose heights the mesh of `plate` is given: the same elements, only nodes of the braces moved
 * @throws Error where CalculiX is not installed or has no answer
 */
export function solidModes(plate: PlateCase, size: SolidMesh, count: number, shaped: PlateCase = plate): SolidAnswer {
  const { input, nodes } = solidInput(plate, size, count, shaped);
  const folder = mkdtempSync(path.join(tmpdir(), 'solid-'));
  try {
    writeFileSync(path.join(folder, 'plate.inp'), input);
    const run = spawnSync('bash', ['-c', 'ulimit -s unlimited; TIMEFORMAT="%U %S"; time ccx plate'], {
      cwd: folder,
      env: { ...process.env, OMP_NUM_THREADS: '1' },
      encoding: 'utf8',
      maxBuffer: 1e9,
    });
    if (run.status !== 0) throw new Error(`solidModes: ccx failed: ${run.stdout.slice(-500)}`);
    const [user, system] = run.stderr.trim().split('\n').at(-1)!.split(' ').map(Number);
    const answer = readFileSync(path.join(folder, 'plate.dat'), 'utf8');
    const all = [...answer.matchAll(/^\s+\d+\s+(\S+)\s+\S+\s+(\S+)\s+\S+\s*$/gm)].map((line) => Number(line[2]));
    const rigid = plate.edge === 'free' ? 6 : 0;
    return {
      frequenciesHz: all.slice(rigid, rigid + count),
      nodes,
      cpuMs: 1000 * (user! + system!),
    };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function solidInput(plate: PlateCase, { sizeMm, ...fineness }: SolidMesh, count: number, shaped: PlateCase) {
  const mesh = plateMesh(plate, sizeMm, fineness);
  const braces = shaped.braces ?? [];
  const ids = new Map<string, number>();
  const lines: string[] = [];
  const nodeAt = (node: number, level: number): number => {
    const key = `${node} ${level}`;
    const known = ids.get(key);
    if (known !== undefined) return known;
    const id = ids.size + 1;
    ids.set(key, id);
    const [x, y] = placeOf(node);
    const share = level / (2 * PLATE_LAYERS);
    const above = (level - 2 * PLATE_LAYERS) / (2 * BRACE_LAYERS);
    const z = share <= 1 ? plate.thicknessMm * (share - 0.5) : plate.thicknessMm / 2 + above * heightAt.get(node)!;
    lines.push(`${id}, ${x.toFixed(6)}, ${y.toFixed(6)}, ${z.toFixed(6)}`);
    return id;
  };
  // Sides are straight: the solver takes no element that a bent border would turn inside out.
  const straight = new Map<number, readonly [number, number]>();
  const placeOf = (node: number) => straight.get(node) ?? ([mesh.xMm[node]!, mesh.yMm[node]!] as const);
  for (let e = 0; e < mesh.elementNodes.length; e += 6)
    for (let side = 0; side < 3; side++) {
      const [a, b] = [mesh.elementNodes[e + side]!, mesh.elementNodes[e + ((side + 1) % 3)]!];
      straight.set(mesh.elementNodes[e + 3 + side]!, [
        (mesh.xMm[a]! + mesh.xMm[b]!) / 2,
        (mesh.yMm[a]! + mesh.yMm[b]!) / 2,
      ]);
    }
  const heightAt = new Map<number, number>();
  const bracesOf = (e: number): readonly number[] =>
    mesh.elementCover[e]!.filter((part) => mesh.footprints[part]!.kind === 'brace').map(
      (part) => mesh.footprints[part]!.index,
    );
  const elements = mesh.elementCover.length;
  for (let e = 0; e < elements; e++)
    for (const brace of bracesOf(e))
      for (const node of mesh.elementNodes.subarray(6 * e, 6 * e + 6))
        heightAt.set(
          node,
          lineHeightMm(braces[brace]!.heightMm, distanceAlongMm(braces[brace]!, [mesh.xMm[node]!, mesh.yMm[node]!])),
        );
  const sets = new Map<string, string[]>();
  let wedges = 0;
  const wedge = (set: string, e: number, level: number): void => {
    const [a, b, c, ab, bc, ca] = mesh.elementNodes.subarray(6 * e, 6 * e + 6) as unknown as number[];
    const at = (nodes: readonly (number | undefined)[], up: number) => nodes.map((node) => nodeAt(node!, level + up));
    const nodes = [
      ...at([a, b, c], 0),
      ...at([a, b, c], 2),
      ...at([ab, bc, ca], 0),
      ...at([ab, bc, ca], 2),
      ...at([a, b, c], 1),
    ];
    if (!sets.has(set)) sets.set(set, []);
    sets.get(set)!.push(`${++wedges}, ${nodes.join(', ')}`);
  };
  for (let e = 0; e < elements; e++) {
    if (mesh.elementHasPlate[e] === 1) for (let k = 0; k < PLATE_LAYERS; k++) wedge('plate', e, 2 * k);
    const here = bracesOf(e).toSorted((p, q) => q - p);
    for (let k = 0; k < BRACE_LAYERS && here.length > 0; k++) {
      const which = here[Math.floor((k * here.length) / BRACE_LAYERS)]!;
      wedge(`brace${which}`, e, 2 * (PLATE_LAYERS + k));
    }
  }
  const held = [...new Set(mesh.rim.flat())].map((node) => `${nodeAt(node, 0)}, 1, 3`);
  const input = [
    '*NODE',
    ...lines,
    ...[...sets].flatMap(([set, rows]) => [`*ELEMENT, TYPE=C3D15, ELSET=${set}`, ...rows.map(inTwoLines)]),
    ...woodCards('plate', plate.material, 'T', ((plate.grainDeg ?? 0) * Math.PI) / 180),
    ...braces.flatMap((brace, i) => woodCards(`brace${i}`, brace.material, brace.upright ?? 'R', grainRad(brace))),
    ...(plate.edge === 'free' ? [] : ['*BOUNDARY', ...held]),
    '*STEP',
    '*FREQUENCY',
    String(count + (plate.edge === 'free' ? 6 : 0) + 2),
    '*END STEP',
    '',
  ].join('\n');
  return { input, nodes: ids.size };
}

/** An input line has at most 16 entries. */
function inTwoLines(row: string): string {
  const entries = row.split(', ');
  return `${entries.slice(0, 15).join(', ')},\n${entries.slice(15).join(', ')}`;
}

const grainRad = ({ from, to, grainDeg = 0 }: BraceCase): number =>
  Math.atan2(to[1] - from[1], to[0] - from[0]) + (grainDeg * Math.PI) / 180;

/** Material, direction and section: axis 1 along the grain, 3 upright. A field of the input holds 20 characters. */
function woodCards(set: string, wood: WoodConstants, upright: 'R' | 'T', angleRad: number): string[] {
  const { eL, eR, eT, gLR, gLT, gRT, nuLR, nuLT, nuRT } = wood;
  const constants =
    upright === 'T'
      ? [eL, eR, eT, nuLR, nuLT, nuRT, gLR, gLT, gRT]
      : [eL, eT, eR, nuLT, nuLR, (nuRT * eT) / eR, gLT, gLR, gRT];
  const written = constants.map((value) => value.toPrecision(9));
  const [c, s] = [Math.cos(angleRad).toFixed(9), Math.sin(angleRad).toFixed(9)];
  return [
    `*MATERIAL, NAME=w${set}`,
    '*ELASTIC, TYPE=ENGINEERING CONSTANTS',
    `${written.slice(0, 8).join(', ')},`,
    `${written[8]}, 293`,
    '*DENSITY',
    (wood.densityKgM3 * 1e-12).toExponential(9),
    `*ORIENTATION, NAME=o${set}, SYSTEM=RECTANGULAR`,
    `${c}, ${s}, 0, ${(-Number(s)).toFixed(9)}, ${c}, 0`,
    `*SOLID SECTION, ELSET=${set}, MATERIAL=w${set}, ORIENTATION=o${set}`,
  ];
}
