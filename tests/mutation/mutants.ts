// `npm run mutants -- FOLDER [SEED]`: how many wrong programs the unit tests notice. 200 mutants of a folder of src, drawn by
// the seed from all that a test reaches, default operators, none left out; those that no test reaches count as they are.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../..');
const [folder, seed = '1'] = process.argv.slice(2);
if (folder === undefined || !/^[a-z]+$/.test(folder)) throw new Error('mutants: name a folder of src');
const COUNT = 200;

interface Report {
  readonly files: Readonly<
    Record<
      string,
      {
        readonly mutants: readonly {
          readonly mutatorName: string;
          readonly replacement?: string;
          readonly status: string;
          readonly location: { readonly start: { readonly line: number } };
        }[];
      }
    >
  >;
}

const own = mkdtempSync(path.join(tmpdir(), 'mutants-'));
const reportFile = path.join(own, 'report.json');
const options = {
  testRunner: 'vitest',
  plugins: ['@stryker-mutator/vitest-runner', './tests/mutation/sample-checker.mjs'],
  vitest: { configFile: 'tests/mutation/vitest.config.ts' },
  checkers: ['sample'],
  mutate: [`src/${folder}/**/*.{ts,tsx}`],
  ignorePatterns: ['dist', 'release', 'reports'],
  tempDirName: path.join(own, 'copies'),
  concurrency: 2,
  timeoutMS: 20_000,
  disableTypeChecks: false,
  reporters: ['json', 'progress-append-only'],
  jsonReporter: { fileName: reportFile },
  allowEmpty: false,
};
const optionsFile = path.join(own, 'options.json');
writeFileSync(optionsFile, JSON.stringify(options));
const run = spawnSync('npx', ['stryker', 'run', optionsFile], {
  cwd: root,
  stdio: ['ignore', 'inherit', 'inherit'],
  env: {
    ...process.env,
    MUTATION_SAMPLE: path.join(own, 'sample.json'),
    MUTATION_SEED: seed,
    MUTATION_COUNT: String(COUNT),
  },
});
if (run.status !== 0) process.exit(run.status ?? 1);

const { files } = JSON.parse(readFileSync(reportFile, 'utf8')) as Report;
rmSync(own, { recursive: true, force: true });
const all = Object.entries(files).flatMap(([file, { mutants }]) => mutants.map((mutant) => ({ file, ...mutant })));
const of = (...statuses: readonly string[]) => all.filter(({ status }) => statuses.includes(status));
const [noticed, lived, unreached] = [of('Killed', 'Timeout', 'RuntimeError'), of('Survived'), of('NoCoverage')];
const tried = noticed.length + lived.length;
const reached = (all.length - unreached.length) / all.length;
const share = noticed.length / tried;

/** Wilson's interval of a share. Source: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209. */
function interval(p: number, n: number): readonly [number, number] {
  const z = 1.959964;
  const middle = (p + z ** 2 / (2 * n)) / (1 + z ** 2 / n);
  const half = (z / (1 + z ** 2 / n)) * Math.sqrt((p * (1 - p)) / n + z ** 2 / (4 * n ** 2));
  return [middle - half, middle + half];
}
const percent = (x: number) => `${(100 * x).toFixed(1)} %`;
const [low, high] = interval(share, tried);
console.log(`\n${folder}, seed ${seed}: ${all.length} mutants, ${unreached.length} of them reached by no test`);
console.log(`noticed ${noticed.length} of ${tried} tried: ${percent(share)} (${percent(low)} to ${percent(high)})`);
console.log(
  `with those not reached: ${percent(share * reached)} (${percent(low * reached)} to ${percent(high * reached)})`,
);
for (const { file, location, mutatorName, replacement } of lived)
  console.log(
    `lived  ${file}:${location.start.line}  ${mutatorName}  ${(replacement ?? '').split('\n')[0]!.slice(0, 70)}`,
  );
