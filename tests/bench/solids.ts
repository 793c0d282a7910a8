// `npm run bench -- solids`: tops of tests/reference/plate-layers.json solved anew as solids by CalculiX (Debian: calculix-ccx) and as
// plates, in one run: how far the modes lie apart, and how much longer the solid takes.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { errorsPercent } from '../plate/plates.ts';
import { timed } from './side-by-side.ts';
import { solidModes } from './solid-plate.ts';

interface Layers {
  readonly name: string;
  readonly meshMm: number;
  readonly plate: PlateCase;
}

const MODES = 10;

export function* solidFigures(): Generator<string> {
  const file = path.join(import.meta.dirname, '../reference/plate-layers.json');
  const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { readonly cases: readonly Layers[] };
  yield 'top, mesh mm | nodes of the solid | largest, median, mean % | its own mesh error taken off % | solid s | plate ms | times';
  for (const { name, meshMm, plate } of cases) {
    const solid = solidModes(plate, { sizeMm: meshMm, atEndsMm: 2, growth: 0.35 }, MODES);
    const solve = () => plateModes(preparePlate(plate), plate, { count: MODES });
    solve();
    const { result, ms } = timed(solve);
    if (result.kind !== 'modes') throw new Error(result.kind);
    const { each, largest, median } = errorsPercent(
      result.modes.map(({ frequencyHz }) => frequencyHz),
      solid.frequenciesHz,
    );
    const mean = (of: readonly number[]) => of.reduce((sum, x) => sum + x, 0) / of.length;
    const taken = mean(result.modes.map(({ solvedHz, frequencyHz }) => 100 * (solvedHz / frequencyHz - 1)));
    yield [
      name,
      solid.nodes,
      `${largest.toFixed(2)}, ${median.toFixed(2)}, ${mean(each).toFixed(2)}`,
      taken.toFixed(2),
      (solid.cpuMs / 1000).toFixed(1),
      ms.toFixed(0),
      (solid.cpuMs / ms).toFixed(0),
    ].join(' | ');
  }
}
