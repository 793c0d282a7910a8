// `npm run check -- FOLDER` (wood, src/wood, views/bench): types, lint and unit tests of one folder, in seconds.
// What draws many cases (`*-many.test.ts`) is left to `npm run test:long`.
// `npm run watch -- FOLDER`: its unit tests again at every change.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../..');
const bin = (file) => path.join(root, 'node_modules', file);
const args = process.argv.slice(2);
const isWatch = args.includes('--watch');
const given = args.filter((arg) => !arg.startsWith('--'));
const folder = given[0]
  ?.replaceAll('\\', '/')
  .replace(/^(\.\/)?((src|tests)\/)?/, '')
  .replace(/\/+$/, '');
const source = `src/${folder}`;

if (given.length !== 1 || folder === '' || !existsSync(path.join(root, source))) {
  const folders = readdirSync(path.join(root, 'src'), { withFileTypes: true }).filter((entry) => entry.isDirectory());
  console.error(`usage: npm run ${isWatch ? 'watch' : 'check'} -- FOLDER`);
  console.error(`FOLDER is one of ${folders.map(({ name }) => name).join(', ')}, or a folder in one of them`);
  process.exit(2);
}

// The tests of a folder lie in the folder of that name, or begin with it: tests/views/bench-figures.test.tsx.
const holds = existsSync(path.join(root, 'tests', folder)) ? `tests/${folder}/` : `tests/${folder}`;
const vitest = [
  bin('vitest/vitest.mjs'),
  isWatch ? 'watch' : 'run',
  '--project=pure',
  '--project=unit',
  '--passWithNoTests',
  holds,
];
const lint = [source, `tests/${folder}`].filter((place) => existsSync(path.join(root, place)));
const steps = isWatch
  ? [['tests', vitest]]
  : [
      ['types', [bin('typescript/bin/tsc'), '-b', 'tsconfig.node.json']],
      ['lint', [bin('@biomejs/biome/bin/biome'), 'check', '--error-on-warnings', ...lint]],
      ['tests', vitest],
    ];
for (const [name, command] of steps) {
  console.log(`\n== ${name}`);
  const { status } = spawnSync(process.execPath, command, { cwd: root, stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? 1);
}
