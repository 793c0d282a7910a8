// `npm run mutants -- FOLDER [SEED [FILE,FILE]]`: how many wrong programs the unit tests notice. 200 mutants of a folder of src,
// or of some of its files (names without ending), drawn by the seed, default operators, none left out. The folder's own tests
// are asked first, the others only about what those have not noticed: asking all of them about everything takes an hour a folder.
// Of `signal`, whose tests take minutes for a mutant that lives, the quick ones are asked before the slow ones; a part of the
// sample can be asked about (MUTATION_PART=1/2, then 2/2), and MUTATION_QUICK=only leaves out the slow tests and those of other
// folders: what they alone would notice then counts as not noticed.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../..');
const [folder, seed = '1', names] = process.argv.slice(2);
if (folder === undefined || !/^[a-z]+$/.test(folder)) throw new Error('mutants: name a folder of src');
const fileNames = names?.split(',') ?? ['*'];
const COUNT = 200;
/** A test that takes longer than this is slow, ms. */
const SLOW_MS = 1000;
const [part = 1, parts = 1] = (process.env['MUTATION_PART'] ?? '1/1').split('/').map(Number);
const isQuickOnly = process.env['MUTATION_QUICK'] === 'only';

interface Report {
  readonly files: Readonly<
    Record<
      string,
      {
        readonly mutants: readonly {
          readonly id: string;
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
const sampleFile = path.join(own, 'sample.json');

/** Titles of the folder's slow tests, as they take by themselves, in a file. */
function slowTests(): string {
  const [times, titles] = [path.join(own, 'times.json'), path.join(own, 'slow.json')];
  const command = ['vitest', 'run', '--project', 'unit', `tests/${folder}`, '--reporter=json', `--outputFile=${times}`];
  if (spawnSync('npx', command, { cwd: root, stdio: 'ignore' }).status !== 0) throw new Error('mutants: a test fails');
  const { testResults } = JSON.parse(readFileSync(times, 'utf8')) as {
    readonly testResults: readonly {
      readonly assertionResults: readonly { readonly title: string; readonly duration?: number }[];
    }[];
  };
  const slow = testResults.flatMap(({ assertionResults }) =>
    assertionResults.flatMap(({ title, duration = 0 }) => (duration > SLOW_MS ? [title] : [])),
  );
  writeFileSync(titles, JSON.stringify(slow));
  return titles;
}

/** What becomes of the mutants of the sample file, or of a sample drawn anew, when these tests are asked. */
function ask(tests: string, skipped = '') {
  const reportFile = path.join(own, 'report.json');
  const optionsFile = path.join(own, 'options.json');
  const options = {
    testRunner: 'vitest',
    plugins: ['@stryker-mutator/vitest-runner', './tests/mutation/sample-checker.mjs'],
    vitest: { configFile: 'tests/mutation/vitest.config.ts' },
    checkers: ['sample'],
    mutate: fileNames.map((name) => `src/${folder}/**/${name}.{ts,tsx}`),
    ignorePatterns: ['dist', 'release', 'reports'],
    tempDirName: path.join(own, 'copies'),
    concurrency: 2,
    timeoutMS: 20_000,
    // Of the time that the tests took while it was noted what they reach: several times what they take by themselves.
    timeoutFactor: 0.5,
    // The physics run several times as long while Stryker notes which test reaches what.
    dryRunTimeoutMinutes: 30,
    disableTypeChecks: false,
    reporters: ['json', 'progress-append-only'],
    jsonReporter: { fileName: reportFile },
    allowEmpty: false,
  };
  writeFileSync(optionsFile, JSON.stringify(options));
  const [from, to] = [part - 1, part].map((end) => String((end / parts) * COUNT));
  const sampling = { MUTATION_SAMPLE: sampleFile, MUTATION_SEED: seed, MUTATION_FROM: from, MUTATION_TO: to };
  const run = spawnSync('npx', ['stryker', 'run', optionsFile], {
    cwd: root,
    stdio: ['ignore', 'inherit', 'inherit'],
    env: { ...process.env, MUTATION_TESTS: tests, MUTATION_SKIP: skipped, ...sampling },
  });
  if (run.status !== 0) process.exit(run.status ?? 1);
  const { files } = JSON.parse(readFileSync(reportFile, 'utf8')) as Report;
  const asked = new Set(JSON.parse(readFileSync(sampleFile, 'utf8')) as readonly string[]);
  const mutants = Object.entries(files)
    .flatMap(([file, of]) => of.mutants.map((mutant) => ({ file, ...mutant })))
    .filter(({ id }) => asked.has(id));
  const lived = mutants.filter(({ status }) => status === 'Survived' || status === 'NoCoverage');
  writeFileSync(sampleFile, JSON.stringify(lived.map(({ id }) => id)));
  return { mutants, lived, timedOut: mutants.filter(({ status }) => status === 'Timeout') };
}

const all = `${folder}/**`;
const quick = folder === 'signal' ? ask(all, slowTests()) : ask(all);
const slow = folder === 'signal' && !isQuickOnly ? ask(all) : { ...quick, timedOut: [] };
const first = { mutants: quick.mutants, lived: slow.lived, timedOut: [...quick.timedOut, ...slow.timedOut] };
// Those that hear sounds or solve plates take minutes, and are about signal and plate.
const { lived, timedOut } = isQuickOnly
  ? { ...first, timedOut: [] }
  : ask(
      ['signal', 'plate'].includes(folder) ? `!(${folder})/**` : `!(${folder}|signal|demo|plate|forecast|reference)/**`,
    );
rmSync(own, { recursive: true, force: true });
const count = first.mutants.length;
const noticed = count - lived.length;

/** Wilson's interval of a share. Source: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209. */
function interval(p: number, n: number): readonly [number, number] {
  const z = 1.959964;
  const middle = (p + z ** 2 / (2 * n)) / (1 + z ** 2 / n);
  const half = (z / (1 + z ** 2 / n)) * Math.sqrt((p * (1 - p)) / n + z ** 2 / (4 * n ** 2));
  return [middle - half, middle + half];
}
const percent = (x: number) => `${(100 * x).toFixed(1)} %`;
const score = (n: number) =>
  `${n} of ${count}: ${percent(n / count)} (${interval(n / count, count)
    .map(percent)
    .join(' to ')})`;
const outOfTime = [...first.timedOut, ...timedOut];
console.log(
  `\n${folder}${names === undefined ? '' : ` (${names})`}, seed ${seed}: noticed ${score(noticed)}, ${outOfTime.length} of them by running out of time`,
);
console.log(`by the tests of the folder alone ${score(count - first.lived.length)}`);
const inFile = (list: readonly { readonly file: string }[], of: string) =>
  list.filter(({ file }) => file === of).length;
for (const file of [...new Set(first.mutants.map((mutant) => mutant.file))].toSorted()) {
  const asked = inFile(first.mutants, file);
  console.log(`${String(asked - inFile(lived, file)).padStart(3)} of ${String(asked).padStart(3)}  ${file}`);
}
const reached = new Set(first.lived.filter(({ status }) => status === 'Survived').map(({ id }) => id));
for (const { id, file, location, mutatorName, replacement, status } of [...lived, ...outOfTime]) {
  const fate =
    status === 'Timeout' ? 'late     ' : status === 'Survived' || reached.has(id) ? 'lived    ' : 'unreached';
  console.log(
    `${fate}  ${file}:${location.start.line}  ${mutatorName}  ${(replacement ?? '').split('\n')[0]!.slice(0, 70)}`,
  );
}
