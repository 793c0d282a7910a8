// The published JSON Schema of the instrument record: what any other program needs to read one.
import { toJsonSchema } from '@valibot/to-json-schema';
import { recordFormat, recordSchema } from '../record/record.ts';

/** The schema as the text of its file, JSON Schema 2020-12. */
export function recordJsonSchema(): string {
  const schema = toJsonSchema(recordSchema, {
    target: 'draft-2020-12',
    // JSON holds no number that is not finite.
    ignoreActions: ['finite'],
    errorMode: 'throw',
  });
  const { $schema, ...rest } = schema;
  const head = {
    $schema,
    $id: `urn:${recordFormat.replace('/', ':')}`,
    title: `Instrument record, ${recordFormat}`,
    description:
      'Everything known about one instrument: steps, rounds of taps, what was read from them, targets and names. Units stand in the names. Fields that are not listed are allowed and kept.',
  };
  return `${JSON.stringify({ ...head, ...rest }, null, 2)}\n`;
}
