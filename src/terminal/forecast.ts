// `npm run forecast -- CASE.json [--json]`: modes of one plate, or of every plate in a file, from the terminal.
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { sectionShapes } from '../brace/section.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { checkPlate, type PlateFault } from '../plate/plate-check.ts';
import { plateModes, preparePlate } from '../plate/plate-modes.ts';

interface Forecast {
  readonly case: string;
  readonly modes: readonly { readonly frequencyHz: number }[];
  readonly massG: number;
  readonly degreesOfFreedom: number;
  readonly timeMs: number;
}

class BadCase extends Error {
  override readonly name = 'BadCase';
}

function main(args: readonly string[]): void {
  const files = args.filter((arg) => !arg.startsWith('--'));
  const unknown = args.find((arg) => arg.startsWith('--') && arg !== '--json');
  if (unknown !== undefined) throw new BadCase(`unknown option ${unknown}`);
  if (files.length !== 1) throw new BadCase('usage: npm run --silent forecast -- CASE.json [--json]');
  for (const [name, value] of readCases(files[0]!)) {
    try {
      const forecast = forecastOf(name, asCase(value, name));
      process.stdout.write(args.includes('--json') ? `${JSON.stringify(forecast)}\n` : table(forecast));
    } catch (error) {
      // One bad case does not keep the others of its file from being answered.
      complain(error instanceof RangeError ? new BadCase(`${name}: cannot be computed: ${error.message}`) : error);
    }
  }
}

function complain(error: unknown): void {
  if (!(error instanceof BadCase)) throw error;
  process.stderr.write(`forecast: ${error.message}\n`);
  process.exitCode = 2;
}

/** Reads one case, or an object of cases, by name. */
function readCases(path: string): [string, unknown][] {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (cause) {
    throw new BadCase(`cannot read ${path}`, { cause });
  }
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (cause) {
    throw new BadCase(`${path} is not JSON`, { cause });
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new BadCase(`${path} holds no plate: need one case with an outline, or an object of cases`);
  if ('outline' in value) return [[basename(path).replace(/\.json$/i, ''), value]];
  const named = Object.entries(value);
  if (named.length === 0)
    throw new BadCase(`${path} holds no plate: need one case with an outline, or an object of cases`);
  return named;
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const isPoint = (value: unknown): boolean => Array.isArray(value) && value.length >= 2 && value.every(isNumber);
const isNumber = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value);

const MATERIAL_FIELDS = ['eL', 'eR', 'eT', 'gLR', 'gLT', 'gRT', 'nuLR', 'nuLT', 'nuRT', 'densityKgM3'] as const;

/** Checks the shape of a case; what it says about wood is for checkPlate. */
function asCase(value: unknown, name: string): PlateCase {
  const need = (isSound: boolean, what: string): void => {
    if (!isSound) throw new BadCase(`${name}: ${what}`);
  };
  const needMaterial = (material: unknown, where: string): void => {
    need(isRecord(material), `${where} needs a material`);
    for (const field of MATERIAL_FIELDS)
      need(isNumber((material as Record<string, unknown>)[field]), `${where}: material needs a number ${field}`);
  };
  if (!isRecord(value)) throw new BadCase(`${name}: not a plate`);
  need(
    Array.isArray(value['outline']) && value['outline'].every(isPoint),
    'outline must be a list of [x, y] points in mm',
  );
  need(isNumber(value['thicknessMm']), 'thicknessMm must be a number');
  needMaterial(value['material'], 'plate');
  const { braces = [], patches = [], soundhole, edge } = value;
  need(Array.isArray(braces) && Array.isArray(patches), 'braces and patches must be lists');
  for (const brace of braces as unknown[]) {
    if (!isRecord(brace)) throw new BadCase(`${name}: a brace is not an object`);
    const id = `brace ${String(brace['id'])}`;
    need(isPoint(brace['from']) && isPoint(brace['to']), `${id} needs from and to as [x, y] in mm`);
    need(isNumber(brace['widthMm']), `${id} needs a number widthMm`);
    need(
      Array.isArray(brace['heightMm']) && brace['heightMm'].every(isPoint),
      `${id} needs heightMm as [distance, height] pairs`,
    );
    needMaterial(brace['material'], id);
    const { crossSection = 'rectangle', upright = 'R', grainDeg = 0 } = brace;
    need(
      sectionShapes.some((shape) => shape === crossSection),
      `${id}: crossSection is not one of ${sectionShapes.join(', ')}`,
    );
    need(upright === 'R' || upright === 'T', `${id}: upright is not R or T`);
    need(isNumber(grainDeg), `${id}: grainDeg must be a number`);
  }
  for (const patch of patches as unknown[]) {
    if (!isRecord(patch)) throw new BadCase(`${name}: a patch is not an object`);
    const id = `patch ${String(patch.id)}`;
    need(Array.isArray(patch.polygon) && patch.polygon.every(isPoint), `${id} needs a polygon of [x, y] points in mm`);
    need(isNumber(patch.thicknessMm), `${id} needs a number thicknessMm`);
    needMaterial(patch.material, id);
    need(isNumber(patch.grainDeg ?? 0), `${id}: grainDeg must be a number`);
    need([undefined, 'inside', 'outside'].includes(patch.face as undefined), `${id}: face is not inside or outside`);
  }
  if (soundhole !== undefined)
    need(
      isRecord(soundhole) && [soundhole.xMm, soundhole.yMm, soundhole.radiusMm].every(isNumber),
      'soundhole needs xMm, yMm and radiusMm',
    );
  const isEdge =
    edge === undefined ||
    edge === 'free' ||
    edge === 'hinged' ||
    edge === 'clamped' ||
    (isRecord(edge) &&
      edge.kind === 'hinged' &&
      ['lower-edge', 'mid-surface'].includes(String(edge.pinnedAt ?? 'lower-edge')) &&
      isNumber(edge.rotationalStiffnessN ?? 0) &&
      Number(edge.rotationalStiffnessN ?? 0) >= 0);
  need(isEdge, `edge ${JSON.stringify(edge)} is not free, hinged or clamped`);
  need(isNumber(value['grainDeg'] ?? 0), 'grainDeg must be a number');
  const { thicknessPointsMm = [] } = value;
  need(
    Array.isArray(thicknessPointsMm) &&
      thicknessPointsMm.every((point) => isPoint(point) && (point as unknown[]).length === 3),
    'thicknessPointsMm must be a list of [x, y, thickness] in mm',
  );
  return value as unknown as PlateCase;
}

const told = (fault: PlateFault): string =>
  `${'id' in fault ? `${fault.part} ${fault.id}` : fault.part}: ${fault.because.replaceAll('-', ' ')}`;

function forecastOf(name: string, plate: PlateCase): Forecast {
  const started = performance.now();
  const { faults, solvable } = checkPlate(plate);
  if (solvable === undefined) throw new BadCase(`${name}: ${faults.map(told).join('; ')}`);
  for (const fault of faults) process.stderr.write(`${name}: ${told(fault)}\n`);
  const answer = plateModes(preparePlate(solvable));
  if (answer.kind !== 'modes')
    throw new BadCase(`${name}: no modes found (${answer.kind === 'unsolvable' ? answer.because : answer.kind})`);
  return {
    case: name,
    modes: answer.modes.map(({ frequencyHz }) => ({ frequencyHz: Number(frequencyHz.toFixed(4)) })),
    massG: Number(answer.massG.toFixed(3)),
    degreesOfFreedom: answer.degreesOfFreedom,
    timeMs: Number((performance.now() - started).toFixed(1)),
  };
}

function table({ case: name, modes, massG, degreesOfFreedom, timeMs }: Forecast): string {
  const rows = modes.map(
    ({ frequencyHz }, i) => `${String(i + 1).padStart(4)}  ${frequencyHz.toFixed(1).padStart(8)} Hz`,
  );
  return `${name}: ${massG.toFixed(1)} g, ${degreesOfFreedom} unknowns, ${timeMs.toFixed(0)} ms\n${rows.join('\n')}\n`;
}

try {
  main(process.argv.slice(2));
} catch (error) {
  complain(error);
}
