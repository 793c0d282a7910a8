// Writes the published JSON Schemas anew: run it after a change of src/record/record.ts or plate-case-schema.ts.
import { writeFileSync } from 'node:fs';
import { plateCaseJsonSchema } from './plate-case-json-schema.ts';
import { recordJsonSchema } from './record-json-schema.ts';

writeFileSync(new URL('../static/record.schema.json', import.meta.url), recordJsonSchema());
writeFileSync(new URL('../static/plate-case.schema.json', import.meta.url), plateCaseJsonSchema());
