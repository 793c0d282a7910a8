// The published JSON Schema of a plate's case: what any other program needs to write one for `npm run forecast`.
import { toJsonSchema } from '@valibot/to-json-schema';
import { namesWithUnits } from './plate-case-names.ts';
import { plateCaseSchema } from './plate-case-schema.ts';

type Node = Readonly<Record<string, unknown>>;

/** The schema as the text of its file, JSON Schema 2020-12. */
export function plateCaseJsonSchema(): string {
  const { $schema, ...rest } = toJsonSchema(plateCaseSchema, {
    target: 'draft-2020-12',
    ignoreActions: ['finite'],
    errorMode: 'throw',
  });
  const head = {
    $schema,
    $id: 'urn:platewright-plate-case:1',
    title: 'A drawn plate, platewright-plate-case/1',
    description:
      'A plate with soundhole, braces, patches and support. Lengths in mm, elastic moduli in MPa (1 GPa = 1000 MPa), density in kg/m^3, angles in degrees. x runs along the grain toward the neck, y across. Names marked deprecated are the same without their unit and are still read; of each, one of the two is given.',
  };
  return `${JSON.stringify({ ...head, ...(withUnits(rest) as Node) }, null, 2)}\n`;
}

/** Every field that has a name with its unit, under both names. */
function withUnits(node: unknown): unknown {
  if (Array.isArray(node)) return node.map(withUnits);
  if (typeof node !== 'object' || node === null) return node;
  const changed: Record<string, unknown> = Object.fromEntries(
    Object.entries(node).map(([key, below]) => [key, withUnits(below)]),
  );
  const { properties, required } = changed as { properties?: Node; required?: readonly string[] };
  if (properties === undefined || required === undefined) return changed;
  const both = required.filter((name) => namesWithUnits[name] !== undefined);
  return {
    ...changed,
    properties: Object.fromEntries(
      Object.entries(properties).flatMap(([name, below]): [string, unknown][] => {
        const full = namesWithUnits[name];
        return full === undefined
          ? [[name, below]]
          : [
              [full, below],
              [name, { deprecated: true, ...(below as Node) }],
            ];
      }),
    ),
    required: required.filter((name) => !both.includes(name)),
    ...(both.length > 0 && {
      allOf: both.map((name) => ({ oneOf: [{ required: [namesWithUnits[name]] }, { required: [name] }] })),
    }),
  };
}
