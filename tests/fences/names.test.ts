// A name that means two things makes whoever reads it look twice: each exported name is declared in one file of src.
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';

const folder = path.resolve(import.meta.dirname, '../../src');
const sources = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((file) => /\.tsx?$/.test(file));

test('each exported name means one thing', () => {
  const files = new Map<string, string[]>();
  for (const file of sources) {
    const text = readFileSync(path.join(folder, file), 'utf8');
    const declared = text.matchAll(
      /^export (?:declare |abstract |async )*(?:function|const|class|interface|type) (\w+)/gm,
    );
    for (const name of new Set([...declared].map(([, found]) => found!)))
      files.set(name, [...(files.get(name) ?? []), file]);
  }
  expect(files.size).toBeGreaterThan(1000);
  expect([...files].filter(([, where]) => where.length > 1)).toEqual([]);
});
