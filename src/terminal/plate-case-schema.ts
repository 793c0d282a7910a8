// What a file must hold to be a plate, and one sentence for the first thing it lacks. What a plate says about wood and
// sizes is for checkPlate.
import * as v from 'valibot';
import { sectionShapes } from '../brace/section.ts';
import type { PlateCase } from '../plate/plate-case.ts';

const number = v.pipe(v.number(), v.finite());
const point = v.tuple([number, number]);
const id = v.string();
const grainDeg = v.exactOptional(number);

const material = v.object({
  eL: number,
  eR: number,
  eT: number,
  gLR: number,
  gLT: number,
  gRT: number,
  nuLR: number,
  nuLT: number,
  nuRT: number,
  densityKgM3: number,
});

const brace = v.object({
  id,
  from: point,
  to: point,
  widthMm: number,
  heightMm: v.array(point),
  material,
  crossSection: v.exactOptional(v.picklist(sectionShapes)),
  upright: v.exactOptional(v.picklist(['R', 'T'])),
  grainDeg,
});

const patch = v.object({
  id,
  polygon: v.array(point),
  thicknessMm: number,
  material,
  grainDeg,
  face: v.exactOptional(v.picklist(['inside', 'outside'])),
});

const edge = v.union([
  v.picklist(['free', 'hinged', 'clamped']),
  v.object({
    kind: v.literal('hinged'),
    pinnedAt: v.exactOptional(v.picklist(['lower-edge', 'mid-surface'])),
    rotationalStiffnessN: v.exactOptional(v.pipe(number, v.minValue(0))),
  }),
]);

const plateCase = v.object({
  outline: v.array(point),
  soundhole: v.exactOptional(v.object({ xMm: number, yMm: number, radiusMm: number })),
  thicknessMm: number,
  thicknessPointsMm: v.exactOptional(v.array(v.strictTuple([number, number, number]))),
  material,
  grainDeg,
  braces: v.exactOptional(v.array(brace)),
  patches: v.exactOptional(v.array(patch)),
  edge: v.exactOptional(edge),
}) satisfies v.GenericSchema<unknown, PlateCase>;

/** What each field must be, said of a plate or of one of its parts. */
const needs = {
  id: 'id must be a text',
  outline: 'outline must be a list of [x, y] points in mm',
  polygon: 'polygon must be a list of [x, y] points in mm',
  from: 'from must be [x, y] in mm',
  to: 'to must be [x, y] in mm',
  heightMm: 'heightMm must be a list of [distance, height] pairs in mm',
  widthMm: 'widthMm must be a number',
  thicknessMm: 'thicknessMm must be a number',
  grainDeg: 'grainDeg must be a number',
  thicknessPointsMm: 'thicknessPointsMm must be a list of [x, y, thickness] in mm',
  soundhole: 'soundhole needs xMm, yMm and radiusMm',
  braces: 'braces must be a list of objects',
  patches: 'patches must be a list of objects',
  crossSection: `crossSection is not one of ${sectionShapes.join(', ')}`,
  upright: 'upright is not R or T',
  face: 'face is not inside or outside',
  edge: 'edge is not free, hinged or clamped',
  material: 'needs a material',
} as const satisfies Record<string, string>;

/** Reads a case from JSON, or says in a sentence what it lacks first. */
export function readPlateCase(value: unknown): PlateCase | string {
  const parsed = v.safeParse(plateCase, value, { abortEarly: true });
  return parsed.success ? parsed.output : sentenceOf(parsed.issues[0].path ?? []);
}

type Step = { readonly key: unknown; readonly value: unknown };

/** The sentence of the field at fault, with the name of the brace or patch it belongs to. */
function sentenceOf(path: readonly Step[]): string {
  const [list, part, ...within] = path;
  if (list === undefined) return 'not a plate: need an object with an outline';
  if ((list.key === 'braces' || list.key === 'patches') && within.length > 0) {
    const { id: name } = part!.value as { readonly id?: unknown };
    return `${list.key === 'braces' ? 'brace' : 'patch'} ${name ?? Number(part!.key) + 1}: ${fieldSentence(within)}`;
  }
  return fieldSentence(path);
}

function fieldSentence([field, constant]: readonly Step[]): string {
  if (field!.key === 'material' && constant !== undefined) return `material needs a number ${constant.key}`;
  return needs[field!.key as keyof typeof needs];
}
