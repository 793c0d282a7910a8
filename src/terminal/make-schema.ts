// Writes the published JSON Schema of the instrument record anew: run it after a change of src/record/record.ts.
import { writeFileSync } from 'node:fs';
import { recordJsonSchema } from './record-json-schema.ts';

writeFileSync(new URL('../static/record.schema.json', import.meta.url), recordJsonSchema());
