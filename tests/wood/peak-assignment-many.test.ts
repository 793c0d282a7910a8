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
    const own = heard.filter(({ truth }) => truth !== null);
    // more of them, and lower, than the search looks at for the twist and the first bend
    const strays = [0.5, 0.6, 0.7, 0.8, 0.9, 0.95].map((part, i) =>
      peak(part * own[0]!.frequencyHz.value, i % 2 === 0 ? 5 : 2000),
    );
    const clean = assignPeaks(board, own, start());
    const mixed = assignPeaks(board, [...strays, ...own], start());
    if (clean.kind !== 'assigned' || mixed.kind !== 'assigned') throw new Error(`seed ${seed}: not named`);
    expect(mixed.constants).toEqual(clean.constants);
    expect(mixed.peaks.slice(0, strays.length).map(({ pattern }) => pattern)).toEqual(strays.map(() => null));
    expect(mixed.peaks.slice(strays.length)).toEqual(clean.peaks);
  }
});

test('a wrong name among the peaks that are used is not called sure', () => {
  const scores = Array.from({ length: 12 }, (_, i) => scoreNaming(drawUnnamed(seeded(70_000 + i), likeWood)));
  const named = scores.filter((score) => score !== undefined);
  expect(named.length).toBeGreaterThan(8);
  expect(named.filter(({ isWrong, isSure }) => isWrong && isSure)).toEqual([]);
});
