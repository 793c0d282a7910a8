// Our plates against solids by another program: the numbers the forecast stands on.
import { expect, test, vi } from 'vitest';
import { assurance, deflection, sampled } from '../../src/plate/mode-shape.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { asSolved, solidCase, solidEntry, solidHz, solvedAgain, tetraCases } from '../reference/plate-cases.ts';
import { errorsPercent, frequenciesOf } from './plates.ts';

// Solving solids' worth of cases takes seconds on a busy machine; correctness is tested, not speed.
vi.setConfig({ testTimeout: 120_000 });

test.each(['iso_square', 'half_plate', 'joined_plate', 'body_bare_free'])(
  'the first 8 modes of the bare free plate %s lie within half a percent of the tetrahedra',
  (name) => {
    const plate = tetraCases[name]!;
    expect(errorsPercent(frequenciesOf(plate).slice(0, 8), plate.extrapolatedHz.slice(0, 8)).largest).toBeLessThan(0.5);
  },
);

test('a bare top hinged at its lower edge lies within 0.5 % of the tetrahedra', () => {
  const plate = tetraCases.body_bare_hinged!;
  expect(errorsPercent(frequenciesOf(plate), plate.extrapolatedHz.slice(0, 12)).largest).toBeLessThan(0.5);
});

// A brace that twists with its plate reads 0.7 % low (the first mode here): see plate-solids.md.
test('one brace along the grain lies within 0.8 % of the tetrahedra, half of the modes within 0.3 %', () => {
  const plate = tetraCases.plate_one_brace_along!;
  const { largest, median } = errorsPercent(frequenciesOf(plate), plate.extrapolatedHz.slice(0, 12));
  expect(largest).toBeLessThan(0.8);
  expect(median).toBeLessThan(0.3);
});

test('one brace across lies within 0.7 % of the tetrahedra once the grain error of that file is made here too', () => {
  const plate = asSolved(tetraCases.plate_one_brace_across!);
  expect(errorsPercent(frequenciesOf(plate), plate.extrapolatedHz.slice(0, 12)).largest).toBeLessThan(0.7);
});

// Nothing in the plate model was fitted to this series. Its crossing gives all of the overlap to one brace and cuts the other
// through, which is no half-lap: the second mode, which bends both, reads 1.3 to 1.7 % high.
test.each([
  'body_x_free_14',
  'body_x_free_13',
  'body_x_free_12',
  'body_x_free_10',
  'body_x_hinged_14',
  'body_x_hinged_12',
  'body_x_clamped_12',
])('the first 8 modes of %s lie within 2 %% of the tetrahedra, half of them within 0.8 %%', (name) => {
  const plate = asSolved(tetraCases[name]!);
  const { largest, median } = errorsPercent(frequenciesOf(plate).slice(0, 8), plate.extrapolatedHz.slice(0, 8));
  expect(largest).toBeLessThan(2);
  expect(median).toBeLessThan(0.8);
});

test.each(['body_x_free_14', 'plate_one_brace_across'])(
  'the first 8 modes of %s as described lie within 1.5 %% of tetrahedra',
  (name) => {
    const plate = tetraCases[name]!;
    const { meshSizeMm, freqsHz } = solvedAgain[`${name} as described`]!;
    // What a mesh of that side reads too high is known from the same body with its mistakes.
    const same = plate.results.find((result) => result.meshSizeMm === meshSizeMm)!.freqsHz;
    const expected = freqsHz.slice(0, 8).map((hz, i) => (hz * plate.extrapolatedHz[i]!) / same[i]!);
    expect(errorsPercent(frequenciesOf(plate).slice(0, 8), expected).largest).toBeLessThan(1.5);
  },
);

// Frequencies of an independent model of ours with 27-point quadratic bricks (18 mm plan mesh, two layers), the plate's
// grain turned by 48 degrees; such a mesh reads 0.3 % high at mode 1 and 1 % at mode 12.
test('one brace at 48 degrees to the grain lies within 1.2 % of full-integration bricks', () => {
  const bricksHz = [44.56, 82.91, 97.12, 108.29, 136.42, 172.45, 182.86, 261.94, 265.16, 276.97, 310.97, 359.35];
  const found = frequenciesOf({ ...tetraCases.plate_one_brace_along!, grainDeg: 48 });
  expect(errorsPercent(found, bricksHz).largest).toBeLessThan(1.2);
});

test.each([
  ['c1', 'free', 0.5, 0.3],
  ['c2', 'free', 0.5, 0.3],
  ['c3', 'free', 0.5, 0.3],
  ['c4', 'free', 0.3, 0.1],
  ['c4', 'hinged', 0.4, 0.3],
  ['c4', 'clamped', 1.3, 0.7],
  ['c5', 'free', 1, 0.4],
  ['c6_s', 'free', 1.1, 0.5],
  ['c5', 'hinged', 1, 0.4],
] as const)(
  '%s %s: all modes within %f percent of the hexahedra, half of them within %f percent',
  (name, bc, most, typical) => {
    const entry = solidEntry(name, bc);
    const { largest, median } = errorsPercent(frequenciesOf(solidCase(entry)), solidHz(entry));
    expect(largest).toBeLessThan(most);
    expect(median).toBeLessThan(typical);
  },
);

test('the shapes of the braced free top match the hexahedra mode by mode', () => {
  const entry = solidEntry('c5', 'free');
  const prepared = preparePlate(solidCase(entry));
  const answer = plateModes(prepared);
  if (answer.kind !== 'modes' || entry.mode_shapes === undefined) throw new Error('no shapes');
  for (const [k, mode] of answer.modes.slice(0, 8).entries()) {
    const here = sampled(prepared.mesh, deflection(prepared, mode), entry.sample_points);
    const inside = here.map((w, i) => [w, entry.mode_shapes![k]![i]!] as const).filter(([w]) => w !== undefined);
    const likeness = assurance(
      inside.map(([w]) => w!),
      inside.map(([, w]) => w),
    );
    // Close pairs may mix a little; every mode of the first eight here stands alone by more than 5 Hz.
    expect(likeness).toBeGreaterThan(0.95);
  }
});

// The reference's own moves carry 0.1 Hz of mesh noise. With a held rim its modes 4 and 6 move a third less here at 1 mm (0.2 and
// 0.3 Hz less), a tenth less at 3 mm; the others lie within a tenth.
test.each([
  ['free', [0, 1, 2, 3, 4, 5]],
  ['hinged', [0, 1, 2, 4]],
] as const)(
  'shaving the X legs of the %s top moves its modes as in the hexahedra, within 0.15 Hz or 20 percent',
  (bc, modes) => {
    const base = solidEntry('c5', bc);
    const prepared = preparePlate(solidCase(base));
    const hz = (name: string): number[] => {
      const answer = plateModes(prepared, solidCase(solidEntry(name, bc)));
      if (answer.kind !== 'modes') throw new Error(answer.kind);
      return answer.modes.map(({ solvedHz }) => solvedHz);
    };
    const before = hz('c5');
    for (const name of ['c6_1', 'c6_3', 'c6_s']) {
      const after = hz(name);
      for (const k of modes) {
        const expected = solidEntry(name, bc).freqs_hz[k]! - base.freqs_hz[k]!;
        expect(Math.abs(after[k]! - before[k]! - expected)).toBeLessThan(Math.max(0.15, 0.2 * Math.abs(expected)));
      }
    }
  },
);
