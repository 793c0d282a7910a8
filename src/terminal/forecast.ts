// `npm run forecast -- CASE.json [--json]`: modes of one plate, or of every plate in a file, from the terminal.
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import type { PlateCase } from '../plate/plate-case.ts';
import { checkPlate, type PlateFault } from '../plate/plate-check.ts';
import { plateModes, preparePlate } from '../plate/plate-modes.ts';
import { readPlateCase } from './plate-case-schema.ts';

interface Forecast {
  readonly case: string;
  readonly modes: readonly { readonly frequencyHz: number }[];
  readonly massG: number;
  readonly degreesOfFreedom: number;
  readonly timeMs: number;
}

class BadCase extends Error {
  override readonly name = 'BadCase';
}

function main(args: readonly string[]): void {
  const files = args.filter((arg) => !arg.startsWith('--'));
  const unknown = args.find((arg) => arg.startsWith('--') && arg !== '--json');
  if (unknown !== undefined) throw new BadCase(`unknown option ${unknown}`);
  if (files.length !== 1) throw new BadCase('usage: npm run --silent forecast -- CASE.json [--json]');
  for (const [name, value] of readCases(files[0]!)) {
    try {
      const forecast = forecastOf(name, asCase(value, name));
      process.stdout.write(args.includes('--json') ? `${JSON.stringify(forecast)}\n` : table(forecast));
    } catch (error) {
      // One bad case does not keep the others of its file from being answered.
      complain(error instanceof RangeError ? new BadCase(`${name}: cannot be computed: ${error.message}`) : error);
    }
  }
}

function complain(error: unknown): void {
  if (!(error instanceof BadCase)) throw error;
  process.stderr.write(`forecast: ${error.message}\n`);
  process.exitCode = 2;
}

/** Reads one case, or an object of cases, by name. */
function readCases(path: string): [string, unknown][] {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (cause) {
    throw new BadCase(`cannot read ${path}`, { cause });
  }
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (cause) {
    throw new BadCase(`${path} is not JSON`, { cause });
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new BadCase(`${path} holds no plate: need one case with an outline, or an object of cases`);
  if ('outline' in value) return [[basename(path).replace(/\.json$/i, ''), value]];
  const named = Object.entries(value);
  if (named.length === 0)
    throw new BadCase(`${path} holds no plate: need one case with an outline, or an object of cases`);
  return named;
}

function asCase(value: unknown, name: string): PlateCase {
  const read = readPlateCase(value);
  if (typeof read === 'string') throw new BadCase(`${name}: ${read}`);
  return read;
}

const sentenceOf = (fault: PlateFault): string =>
  `${'id' in fault ? `${fault.part} ${fault.id}` : fault.part}: ${fault.because.replaceAll('-', ' ')}`;

function forecastOf(name: string, plate: PlateCase): Forecast {
  const started = performance.now();
  const { faults, solvable } = checkPlate(plate);
  if (solvable === undefined) throw new BadCase(`${name}: ${faults.map(sentenceOf).join('; ')}`);
  for (const fault of faults) process.stderr.write(`${name}: ${sentenceOf(fault)}\n`);
  const answer = plateModes(preparePlate(solvable));
  if (answer.kind !== 'modes')
    throw new BadCase(`${name}: no modes found (${answer.kind === 'unsolvable' ? answer.because : answer.kind})`);
  return {
    case: name,
    modes: answer.modes.map(({ frequencyHz }) => ({ frequencyHz: Number(frequencyHz.toFixed(4)) })),
    massG: Number(answer.massG.toFixed(3)),
    degreesOfFreedom: answer.degreesOfFreedom,
    timeMs: Number((performance.now() - started).toFixed(1)),
  };
}

function table({ case: name, modes, massG, degreesOfFreedom, timeMs }: Forecast): string {
  const rows = modes.map(
    ({ frequencyHz }, i) => `${String(i + 1).padStart(4)}  ${frequencyHz.toFixed(1).padStart(8)} Hz`,
  );
  return `${name}: ${massG.toFixed(1)} g, ${degreesOfFreedom} unknowns, ${timeMs.toFixed(0)} ms\n${rows.join('\n')}\n`;
}

try {
  main(process.argv.slice(2));
} catch (error) {
  complain(error);
}
