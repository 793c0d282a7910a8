// What a file must hold to be a plate, and one sentence for the first thing in which it fails. What is wrong with sizes and
// places is for checkPlate.
import * as v from 'valibot';
import { sectionShapes } from '../brace/section.ts';
import type { PlateCase, WoodConstants } from '../plate/plate-case.ts';
import { meantName, namesWithUnits, plainNames } from './plate-case-names.ts';
import { woodNonsense } from './wood-sense.ts';

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

const hinge = v.object({
  kind: v.literal('hinged'),
  pinnedAt: v.exactOptional(v.picklist(['lower-edge', 'mid-surface'])),
  rotationalStiffnessN: v.exactOptional(v.pipe(number, v.minValue(0))),
});

const edge = v.union([v.picklist(['free', 'hinged', 'clamped']), hinge]);

const soundhole = v.object({ xMm: number, yMm: number, radiusMm: number });

/** A case under the names without units. */
export const plateCaseSchema = v.object({
  outline: v.array(point),
  soundhole: v.exactOptional(soundhole),
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

/** Reads a case from JSON, or says in a sentence what is wrong with it first. */
export function readPlateCase(given: unknown): PlateCase | string {
  const { value, hadUnits, twice } = plainNames(given);
  if (twice !== undefined) return `${twice} is given twice, with its unit in the name and without`;
  const asWritten = (name: string): string => (hadUnits.has(name) ? namesWithUnits[name]! : name);
  for (const { where, name, known } of unknownFields(value)) {
    const meant = meantName(name, known);
    if (meant !== undefined) return `${where}unknown field ${name}; is ${namesWithUnits[meant] ?? meant} meant?`;
  }
  const parsed = v.safeParse(plateCaseSchema, value, { abortEarly: true });
  if (!parsed.success) return sentenceOf(parsed.issues[0].path ?? [], asWritten);
  return nonsenseIn(parsed.output) ?? parsed.output;
}

/** Names in a case that mean nothing here and resemble nothing; a program's own notes may stand so. */
export function passedOver(given: unknown): readonly string[] {
  return unknownFields(plainNames(given).value).map(
    ({ where, name }) => `${where}unknown field ${name} is passed over`,
  );
}

interface UnknownField {
  /** whose it is, ready to stand before a sentence */
  readonly where: string;
  readonly name: string;
  /** names that are not yet given where it stands */
  readonly known: readonly string[];
}

type Fields = Readonly<Record<string, unknown>>;
const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function unknownFields(value: unknown): UnknownField[] {
  const at = (node: unknown, entries: Fields, where: string): UnknownField[] =>
    isFields(node)
      ? Object.keys(node)
          .filter((name) => name !== '$schema' && !Object.hasOwn(entries, name))
          .map((name) => ({ where, name, known: Object.keys(entries).filter((free) => !Object.hasOwn(node, free)) }))
      : [];
  if (!isFields(value)) return [];
  const parts = (list: unknown, entries: Fields, kind: 'brace' | 'patch'): UnknownField[] =>
    (Array.isArray(list) ? list : []).flatMap((part: unknown, i) => {
      const where = `${kind} ${isFields(part) ? (part['id'] ?? i + 1) : i + 1}: `;
      const wood = isFields(part) ? at(part['material'], material.entries, `${where}material: `) : [];
      return [...at(part, entries, where), ...wood];
    });
  return [
    ...at(value, plateCaseSchema.entries, ''),
    ...at(value['material'], material.entries, 'material: '),
    ...at(value['soundhole'], soundhole.entries, 'soundhole: '),
    ...at(value['edge'], hinge.entries, 'edge: '),
    ...parts(value['braces'], brace.entries, 'brace'),
    ...parts(value['patches'], patch.entries, 'patch'),
  ];
}

/** The first wood that none is, and whose it is. */
function nonsenseIn({ material: own, braces = [], patches = [] }: PlateCase): string | undefined {
  const woods: readonly (readonly [string, WoodConstants])[] = [
    ['the plate', own],
    ...braces.map(({ id: name, material: wood }) => [`brace ${name}`, wood] as const),
    ...patches.map(({ id: name, material: wood }) => [`patch ${name}`, wood] as const),
  ];
  for (const [whose, wood] of woods) {
    const nonsense = woodNonsense(wood);
    if (nonsense !== undefined) return `${whose}: ${nonsense}`;
  }
  return undefined;
}

type Step = { readonly key: unknown; readonly value: unknown };
type AsWritten = (name: string) => string;

/** The sentence of the field at fault, with the name of the brace or patch it belongs to. */
function sentenceOf(path: readonly Step[], asWritten: AsWritten): string {
  const [list, part, ...within] = path;
  if (list === undefined) return 'not a plate: need an object with an outline';
  if ((list.key === 'braces' || list.key === 'patches') && within.length > 0) {
    const { id: name } = part!.value as { readonly id?: unknown };
    return `${list.key === 'braces' ? 'brace' : 'patch'} ${name ?? Number(part!.key) + 1}: ${fieldSentence(within, asWritten)}`;
  }
  return fieldSentence(path, asWritten);
}

function fieldSentence([field, constant]: readonly Step[], asWritten: AsWritten): string {
  if (field!.key === 'material' && constant !== undefined)
    return `material needs a number ${asWritten(String(constant.key))}`;
  const name = field!.key as keyof typeof needs;
  return needs[name].replace(new RegExp(`^${name}\\b`), asWritten(name));
}
