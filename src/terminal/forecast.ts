// `npm run forecast -- CASE.json [--json]`: modes of one plate, or of every plate in a file, from the terminal.
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { cutAway } from '../plate/cut-away.ts';
import { missedModes } from '../plate/mode-count.ts';
import type { PlateCase } from '../plate/plate-case.ts';
import { checkPlate, isHarmless, type PlateFault } from '../plate/plate-check.ts';
import { plateModes, preparePlate } from '../plate/plate-modes.ts';
import { namesWithUnits } from './plate-case-names.ts';
import { passedOver, readPlateCase } from './plate-case-schema.ts';

/** Something wrong with a part of a drawing that does not keep the rest from being solved. */
interface ToldFault {
  readonly part: PlateFault['part'];
  readonly id?: string;
  readonly because: PlateFault['because'];
  readonly sentence: string;
  /** the modes are those of the plate without this part */
  readonly isLeftOut: boolean;
}

interface Forecast {
  readonly case: string;
  readonly modes: readonly { readonly frequencyHz: number }[];
  readonly massG: number;
  readonly degreesOfFreedom: number;
  readonly timeMs: number;
  /** modes below the highest shown that the search passed over, by a count of its own */
  readonly missedModes?: number;
  /** how the drawing was taken where it leaves that open */
  readonly notes?: readonly string[];
  readonly faults?: readonly ToldFault[];
}

class BadCase extends Error {
  override readonly name = 'BadCase';
}

const USAGE = 'usage: npm run --silent forecast -- CASE.json [--json]';
const HELP = `${USAGE}

The lowest 12 modes of a drawn plate with its braces, as computed from its woods.

  CASE.json   one case, or an object of cases by their names. An example is docs/forecast-example.json, the schema
              src/static/plate-case.schema.json. Units stand in the names of the fields: mm, MPa (1 GPa = 1000 MPa),
              kg/m^3. Names without units (outline, from, to, polygon, eL, gLR and so on) are still read.
  --json      one JSON object a line and case, instead of a table: case, modes[].frequencyHz, massG, degreesOfFreedom,
              timeMs, missedModes (of a count of its own; 0 is right), notes[] and faults[] where there are any.
  --help      this text

A brace, patch or soundhole that cannot be is left out of the plate: faults[] names it with isLeftOut, standard error says
so, and the command ends with 2. So it does where a case cannot be read or computed at all; the other cases of the file are
answered all the same. It ends with 0 where every case was computed as drawn.
`;

function main(args: readonly string[]): void {
  const options = args.filter((arg) => arg.startsWith('-'));
  const unknown = options.find((arg) => !['--json', '--help', '-h'].includes(arg));
  if (unknown !== undefined) throw new BadCase(`unknown option ${unknown}`);
  if (options.includes('--help') || options.includes('-h')) {
    process.stdout.write(HELP);
    return;
  }
  const files = args.filter((arg) => !arg.startsWith('-'));
  if (files.length !== 1) throw new BadCase(USAGE);
  for (const [name, value] of readCases(files[0]!)) {
    try {
      const forecast = forecastOf(name, asCase(value, name));
      process.stdout.write(options.includes('--json') ? `${JSON.stringify(forecast)}\n` : table(forecast));
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
  if ('outline' in value || namesWithUnits['outline']! in value)
    return [[basename(path).replace(/\.json$/i, ''), value]];
  const named = Object.entries(value);
  if (named.length === 0)
    throw new BadCase(`${path} holds no plate: need one case with an outline, or an object of cases`);
  return named;
}

function asCase(value: unknown, name: string): PlateCase {
  const read = readPlateCase(value);
  if (typeof read === 'string') throw new BadCase(`${name}: ${read}`);
  for (const note of passedOver(value)) process.stderr.write(`${name}: ${note}\n`);
  return read;
}

const sentenceOf = (fault: PlateFault): string =>
  `${'id' in fault ? `${fault.part} ${fault.id}` : fault.part}: ${fault.because.replaceAll('-', ' ')}`;

function toldOf(fault: PlateFault): ToldFault {
  const isLeftOut = !isHarmless(fault);
  const { part, because } = fault;
  const sentence = `${sentenceOf(fault)}${isLeftOut ? '; it is left out' : ''}`;
  return { part, ...('id' in fault && { id: fault.id }), because, sentence, isLeftOut };
}

function forecastOf(name: string, plate: PlateCase): Forecast {
  const started = performance.now();
  const { faults, solvable } = checkPlate(plate);
  if (solvable === undefined) throw new BadCase(`${name}: ${faults.map(sentenceOf).join('; ')}`);
  const told = faults.map(toldOf);
  for (const { sentence, isLeftOut } of told)
    if (isLeftOut) complain(new BadCase(`${name}: ${sentence}`));
    else process.stderr.write(`${name}: ${sentence}\n`);
  const prepared = preparePlate(solvable);
  const answer = plateModes(prepared);
  if (answer.kind !== 'modes')
    throw new BadCase(`${name}: no modes found (${answer.kind === 'unsolvable' ? answer.because : answer.kind})`);
  const timeMs = Number((performance.now() - started).toFixed(1));
  const missed = missedModes(prepared, solvable, answer.modes);
  if (missed !== undefined && missed !== 0)
    complain(new BadCase(`${name}: ${missed} modes below the highest are missing`));
  const notes = cutAway(prepared.mesh, solvable).map(
    ({ patchId, braceId }) => `patch ${patchId} is taken as cut away where brace ${braceId} runs over it`,
  );
  for (const note of notes) process.stderr.write(`${name}: ${note}\n`);
  return {
    case: name,
    modes: answer.modes.map(({ frequencyHz }) => ({ frequencyHz: Number(frequencyHz.toFixed(4)) })),
    massG: Number(answer.massG.toFixed(3)),
    degreesOfFreedom: answer.degreesOfFreedom,
    timeMs,
    ...(missed !== undefined && { missedModes: missed }),
    ...(notes.length > 0 && { notes }),
    ...(told.length > 0 && { faults: told }),
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
