// Leaves out the tests whose titles a mutation run calls slow, while it asks the quick ones.
import { readFileSync } from 'node:fs';
import { beforeEach } from 'vitest';

const { MUTATION_SKIP: file } = process.env;
const slow = new Set(file ? (JSON.parse(readFileSync(file, 'utf8')) as readonly string[]) : []);
beforeEach(({ task, skip }) => skip(slow.has(task.name)));
