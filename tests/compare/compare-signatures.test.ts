// What moved between two steps once the air's part is taken out, by hand.
import { expect, test } from 'vitest';
import { compareSignatures } from '../../src/compare/compare-signatures.ts';
import { signatures } from '../../src/compare/signature.ts';
import { once } from '../once.ts';
import { story } from './story.ts';

const record = story([
  { modesHz: [200, 300], sigmaHz: 0.5 },
  { modesHz: [221, 400], sigmaHz: 0.3 },
]);
const both = once(() => record.steps.map((step) => signatures(step)[0]!));

test('the air is taken out of the step before, with its doubt', () => {
  const [row] = compareSignatures(both()[0]!, both()[1]!, { value: 1.1, sigma: 0.002 });
  if (row?.kind !== 'moved') throw new Error(row?.kind);
  // 200 +- 0.5 Hz in the air of after: 220 +- sqrt((0.5 x 1.1)^2 + (200 x 0.002)^2) Hz
  expect(row.move.hz.value).toBeCloseTo(1, 9);
  expect(row.move.hz.sigma).toBeCloseTo(Math.sqrt(0.55 ** 2 + 0.4 ** 2 + 0.3 ** 2), 9);
});

test('without an air the frequencies are compared as they are; what has no partner is told on either side', () => {
  const rows = compareSignatures(both()[0]!, both()[1]!);
  expect(rows.map(({ kind }) => kind)).toEqual(['moved', 'not-heard-again', 'appeared']);
  const [row] = rows;
  if (row?.kind !== 'moved') throw new Error(row?.kind);
  expect(row.move.hz).toEqual({ value: 21, sigma: Math.hypot(0.5, 0.3) });
});

test('rows ascend by the frequency before, or after where there was none before; each mode stands in one', () => {
  const [one, two] = story([{ modesHz: [400, 100, 250] }, { modesHz: [180, 251, 101, 700] }]).steps.map(
    (step) => signatures(step)[0]!,
  );
  const told = compareSignatures(one!, two!).map((row) => [
    row.kind,
    row.kind === 'appeared' ? undefined : row.before.frequencyHz.value,
    row.kind === 'not-heard-again' ? undefined : row.after.frequencyHz.value,
  ]);
  expect(told).toEqual([
    ['moved', 100, 101],
    ['appeared', undefined, 180],
    ['moved', 250, 251],
    ['not-heard-again', 400, undefined],
    ['appeared', undefined, 700],
  ]);
});
