import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { rectangle, spruce } from '../plate/plates.ts';

// Starting a program takes seconds on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

const folder = mkdtempSync(join(tmpdir(), 'forecast-'));
const plate = { outline: rectangle(200, 150), thicknessMm: 3, material: spruce };
const file = (name: string, content: string): string => {
  writeFileSync(join(folder, name), content);
  return join(folder, name);
};
const program = ['--import', 'tsx', 'src/terminal/forecast.ts'];

test('one case gives one JSON object, an object of cases one object a line', () => {
  const one = execFileSync('node', [...program, file('small.json', JSON.stringify(plate)), '--json'], {
    encoding: 'utf8',
  });
  const answer = JSON.parse(one);
  expect(answer.case).toBe('small');
  expect(answer.modes).toHaveLength(12);
  expect(answer.massG).toBeCloseTo(200 * 150 * 3 * 410e-6, 2);
  const two = execFileSync('node', [...program, file('two.json', JSON.stringify({ a: plate, b: plate })), '--json'], {
    encoding: 'utf8',
  });
  expect(
    two
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line).case),
  ).toEqual(['a', 'b']);
});

test.each([
  ['no JSON', 'not JSON at all', 'is not JSON'],
  ['a list', '[1, 2]', 'holds no plate'],
  ['no thickness', JSON.stringify({ ...plate, thicknessMm: 'thin' }), 'thicknessMm must be a number'],
  [
    'an outline that crosses itself',
    JSON.stringify({
      ...plate,
      outline: [
        [0, 0],
        [100, 100],
        [100, 0],
        [0, 120],
      ],
    }),
    'crosses itself',
  ],
])('%s ends with code 2 and one sentence', (_, content, sentence) => {
  const { status, stderr, stdout } = spawnSync('node', [...program, file('bad.json', content)], { encoding: 'utf8' });
  expect(status).toBe(2);
  expect(stdout).toBe('');
  expect(stderr.trim().split('\n')).toHaveLength(1);
  expect(stderr).toContain(sentence);
});

test('one bad case of several is told and the others are answered all the same', () => {
  const cases = { bad: { ...plate, outline: 'round' }, good: plate };
  const { status, stderr, stdout } = spawnSync(
    'node',
    [...program, file('mixed.json', JSON.stringify(cases)), '--json'],
    { encoding: 'utf8' },
  );
  expect(status).toBe(2);
  expect(stderr).toContain('bad: outline must be a list of [x, y] points in mm');
  expect(JSON.parse(stdout).case).toBe('good');
});

test('the example of the README is computed as drawn, and --help names it and its schema', () => {
  const { status, stdout, stderr } = spawnSync('node', [...program, 'docs/forecast-example.json', '--json'], {
    encoding: 'utf8',
  });
  expect({ status, stderr: stderr.trim().split('\n') }).toEqual({
    status: 0,
    stderr: ['bass', 'treble'].map(
      (side) => `forecast-example: patch bridge-plate is taken as cut away where brace x-${side} runs over it`,
    ),
  });
  const answer = JSON.parse(stdout);
  expect(answer.notes).toHaveLength(2);
  expect(answer.missedModes).toBe(0);
  expect(answer.faults).toBeUndefined();
  expect(answer.modes).toHaveLength(12);
  const help = spawnSync('node', [...program, '--help'], { encoding: 'utf8' });
  expect(help.status).toBe(0);
  expect(help.stdout).toContain('docs/forecast-example.json');
  expect(help.stdout).toContain('src/static/plate-case.schema.json');
  expect(readFileSync('README.md', 'utf8')).toContain('docs/forecast-example.json');
});

test('a brace and a soundhole that cannot be are left out, named in the JSON, and end with code 2', () => {
  const off = { id: 'off', from: [900, 0], to: [950, 0], widthMm: 6, heightMm: [[0, 8]], material: spruce };
  const over = { ...off, id: 'over', from: [20, 50], to: [230, 50] };
  const cases = {
    faulty: { ...plate, braces: [off], soundhole: { xMm: 10, yMm: 10, radiusMm: 50 } },
    told: { ...plate, braces: [over] },
  };
  const { status, stdout, stderr } = spawnSync(
    'node',
    [...program, file('faulty.json', JSON.stringify(cases)), '--json'],
    { encoding: 'utf8' },
  );
  expect(status).toBe(2);
  const [faulty, told] = stdout
    .trim()
    .split('\n')
    .map((line) => JSON.parse(line));
  expect(faulty.faults).toEqual([
    {
      part: 'soundhole',
      because: 'outside-outline',
      sentence: 'soundhole: outside outline; it is left out',
      isLeftOut: true,
    },
    {
      part: 'brace',
      id: 'off',
      because: 'outside-outline',
      sentence: 'brace off: outside outline; it is left out',
      isLeftOut: true,
    },
  ]);
  expect(stderr).toContain('forecast: faulty: brace off: outside outline; it is left out');
  expect(told.faults.map((fault: { isLeftOut: boolean }) => fault.isLeftOut)).toEqual([false]);
  const alone = spawnSync('node', [...program, file('told.json', JSON.stringify(cases.told)), '--json'], {
    encoding: 'utf8',
  });
  expect(alone.status).toBe(0);
});
