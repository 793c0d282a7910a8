// `npm test`: types, lint, unit, published and browser tests, in that order; one closing line that counts them. What
// listens for minutes is the longer tier, `npm run test:long`.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../..');
const run = (name, args) => {
  console.log(`\n== ${name}`);
  const done = spawnSync(process.execPath, args, { cwd: root, stdio: 'inherit' });
  if (done.status !== 0) {
    console.error(`${name}: failed`);
    process.exit(done.status ?? 1);
  }
};
const bin = (file) => path.join(root, 'node_modules', file);

run('types', [bin('typescript/bin/tsc'), '-b', 'tsconfig.node.json']);
run('lint', [bin('@biomejs/biome/bin/biome'), 'ci', '--error-on-warnings', '.']);
run('direction of imports', [
  bin('dependency-cruiser/bin/dependency-cruise.mjs'),
  'src',
  'worklets',
  'tests',
  '--config',
  '.dependency-cruiser.cjs',
]);
run('unused code', [bin('knip/bin/knip.js')]);

const folder = mkdtempSync(path.join(tmpdir(), 'platewright-'));
const report = path.join(folder, 'report.json');
console.log('\n== tests');
const tests = spawnSync(
  process.execPath,
  [
    bin('vitest/vitest.mjs'),
    'run',
    '--project=pure',
    '--project=unit',
    '--project=browser',
    '--reporter=default',
    '--reporter=json',
    `--outputFile.json=${report}`,
    ...process.argv.slice(2),
  ],
  { cwd: root, stdio: 'inherit' },
);
const counted = JSON.parse(readFileSync(report, 'utf8'));
rmSync(folder, { recursive: true });
console.log(`\n${counted.numPassedTests} passed, ${counted.numFailedTests} failed, ${counted.numPendingTests} skipped`);
process.exit(tests.status ?? 1);
