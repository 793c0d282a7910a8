// Naming over several invented boards: each a search of a second and more, which a mutation run cannot wait for.
import { expect, test } from 'vitest';
import { elasticStart } from '../../src/wood/elastic-start.ts';
import { assignPeaks } from '../../src/wood/peak-assignment.ts';
import { speciesById } from '../../src/wood/species.ts';
import { seeded } from '../bench/tap-signals.ts';
import { drawUnnamed, likeWood, scoreNaming, unlikeWood } from '../bench/unnamed-boards.ts';
import { once } from '../once.ts';

const start = once(() => elasticStart(speciesById('sitka-spruce')));
const peak = (value: number, q: number) => ({ frequencyHz: { value, sigma: 0.1 }, q: { value: q, sigma: 0 } });

test('peaks of impossible Q are no modes of the board, and take none from the peaks that are', () => {
  for (const seed of [3, 4, 5]) {
    const { board, heard } = drawUnnamed(seeded(seed), unlikeWood);
    const own = heard.filter(({ truth }) => truth !== undefined);
    // more of them, and lower, than the search looks at for the twist and the first bend
    const strays = [0.5, 0.6, 0.7, 0.8, 0.9, 0.95].map((part, i) =>
      peak(part * own[0]!.frequencyHz.value, i % 2 === 0 ? 5 : 2000),
    );
    const clean = assignPeaks(board, own, start());
    const mixed = assignPeaks(board, [...strays, ...own], start());
    if (clean.kind !== 'assigned' || mixed.kind !== 'assigned') throw new Error(`seed ${seed}: not named`);
    expect(mixed.constants).toEqual(clean.constants);
    expect(mixed.peaks.slice(0, strays.length).map(({ pattern }) => pattern)).toEqual(strays.map(() => undefined));
    expect(mixed.peaks.slice(strays.length)).toEqual(clean.peaks);
  }
});

test('a wrong name among the peaks that are used is not called sure', () => {
  const scores = Array.from({ length: 12 }, (_, i) => scoreNaming(drawUnnamed(seeded(70_000 + i), likeWood)));
  const named = scores.filter((score) => score !== undefined);
  expect(named.length).toBeGreaterThan(8);
  expect(named.filter(({ isWrong, isSure }) => isWrong && isSure)).toEqual([]);
});

test('a board whose first long-grain bend was never heard is named by the others', () => {
  const { board, heard } = drawUnnamed(seeded(12), unlikeWood);
  const rest = heard.filter(({ truth }) => truth !== undefined && !(truth.m === 2 && truth.n === 0));
  expect(rest.length).toBeGreaterThan(5);
  const reading = assignPeaks(board, rest, start());
  if (reading.kind !== 'assigned') throw new Error(reading.because);
  const used = reading.peaks.flatMap(({ isUsed, pattern }, k) => (isUsed ? [[pattern, rest[k]!.truth]] : []));
  for (const [named, truth] of used) expect(named).toEqual(truth);
});

test('two peaks that could both be the same mode leave the naming unsure', () => {
  const { board, heard } = drawUnnamed(seeded(21), unlikeWood);
  const own = heard.filter(({ truth }) => truth !== undefined);
  const bend = own.find(({ truth }) => truth?.m === 2 && truth.n === 0)!;
  const twin = { ...bend, frequencyHz: { value: 1.02 * bend.frequencyHz.value, sigma: 0.1 } };
  const alone = assignPeaks(board, own, start());
  const beside = assignPeaks(board, [...own, twin], start());
  expect([alone.kind === 'assigned' && alone.isSure, beside.kind === 'assigned' && beside.isSure]).toEqual([
    true,
    false,
  ]);
  // By how much the next naming is dearer: sure from 8 on.
  expect(alone.kind === 'assigned' && alone.lead >= 8).toBe(true);
  expect(beside.kind === 'assigned' && beside.lead >= 0 && beside.lead < 8).toBe(true);
});
