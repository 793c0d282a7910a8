// Accuracy of the forecast and the time of what is done with its modes; `plate-times.ts` has the time of the modes.
import { calibrate } from '../../src/forecast/calibration.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { braceSensitivity } from '../../src/plate/sensitivity.ts';
import { seeded, trial } from '../forecast/trial.ts';
import { errorsPercent } from '../plate/plates.ts';
import { asSolved, solidCase, solidEntries, solidEntry, solidHz, tetraCases } from '../reference/plate-cases.ts';

/** Median processor time of a few runs after one to warm up, ms. */
function cpuMs(run: () => unknown, runs = 5): number {
  run();
  const times = Array.from({ length: runs }, () => {
    const start = process.cpuUsage();
    run();
    const { user, system } = process.cpuUsage(start);
    return (user + system) / 1000;
  });
  return times.sort((a, b) => a - b)[runs >> 1]!;
}

function accuracy(): void {
  console.log('accuracy against tetrahedra as they were solved (first 8 modes), %: largest, median');
  for (const [name, given] of Object.entries(tetraCases)) {
    const plate = asSolved(given);
    const answer = plateModes(preparePlate(plate), plate, { count: 8 });
    if (answer.kind !== 'modes') throw new Error(answer.kind);
    const { largest, median } = errorsPercent(
      answer.modes.map(({ frequencyHz }) => frequencyHz),
      plate.extrapolatedHz.slice(0, 8),
    );
    console.log(`  ${name.padEnd(24)} ${largest.toFixed(2)}  ${median.toFixed(2)}`);
  }
  console.log('accuracy against hexahedra (all 12 modes), %: largest, median');
  for (const entry of solidEntries) {
    const answer = plateModes(preparePlate(solidCase(entry)));
    if (answer.kind !== 'modes') throw new Error(answer.kind);
    const { largest, median } = errorsPercent(
      answer.modes.map(({ frequencyHz }) => frequencyHz),
      solidHz(entry),
    );
    console.log(`  ${entry.case.padEnd(5)} ${entry.bc.padEnd(8)} ${largest.toFixed(2)}  ${median.toFixed(2)}`);
  }
}

function speed(): void {
  const entry = solidEntry('c5', 'hinged');
  const plate = solidCase(entry);
  const prepared = preparePlate(plate);
  const answer = plateModes(prepared);
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  console.log(`braced top, ${answer.degreesOfFreedom} unknowns, processor time on one core:`);
  console.log(
    `  sensitivities of all braces ${cpuMs(() => braceSensitivity(prepared, plate, answer.modes)).toFixed(0)} ms`,
  );
  const measured = answer.modes
    .slice(0, 5)
    .map(({ frequencyHz }, mode) => ({ mode, frequencyHz: { value: frequencyHz * 1.02, sigma: 0.3 } }));
  const fitMs = cpuMs(
    () =>
      calibrate(prepared, plate, measured, [
        { property: 'plate eL', relativeSigma: 0.1 },
        { property: 'brace eL', relativeSigma: 0.1 },
      ]),
    1,
  );
  console.log(`  fit of two properties to five modes ${fitMs.toFixed(0)} ms`);
}

function trials(count: number): void {
  const random = seeded(29);
  const results = Array.from({ length: count }, () => trial(random));
  const share = (list: readonly boolean[]) => ((100 * list.filter(Boolean).length) / list.length).toFixed(1);
  const sigmas = results.flatMap((result) => result.sigmas);
  console.log(`${count} invented tops: targets reached ${share(results.map(({ reached }) => reached))} % (goal 95),`);
  console.log(
    `  above floors ${share(results.map(({ aboveFloors }) => aboveFloors))} %, truth within two sigma ${share(sigmas.map((s) => Math.abs(s) < 2))} %`,
  );
}

/** Prints everything; `count` invented tops for the advice. */
export function plateFigures(count: number): void {
  speed();
  accuracy();
  trials(count);
}
