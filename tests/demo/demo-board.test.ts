// The demo's wood sounds as the board solver says its truth must; that solver is held to published plates elsewhere.
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { boardTapsOf, keptReading, startOf } from '../../src/compare/piece-reading.ts';
import {
  type DemoReadings,
  demoHalfModes,
  demoHalfSize,
  demoHalfTruth,
  demoOtherHalfTruth,
  demoPieces,
} from '../../src/demo/demo-board.ts';
import { demoWood } from '../../src/demo/demo-record.ts';
import type { HeardRound } from '../../src/demo/demo-taps.ts';
import { readBoard } from '../../src/wood/board-constants.ts';
import { boardModes } from '../../src/wood/board-modes.ts';
import { elasticStart, withShear } from '../../src/wood/elastic-start.ts';
import { speciesById } from '../../src/wood/species.ts';

const stored = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../reference-audio/demo/${name}`, import.meta.url), 'utf8'));
const heard = new Map(Object.entries(stored('heard.json') as Record<string, HeardRound>));
const readings = stored('readings.json') as DemoReadings;
const start = elasticStart(speciesById('sitka-spruce'));
const size = {
  lengthM: demoHalfSize.lengthMm / 1000,
  widthM: demoHalfSize.widthMm / 1000,
  thicknessM: demoHalfSize.thicknessMm / 1000,
};

function modesOf(truth: { eLongGpa: number; eCrossGpa: number; gGpa: number; densityKgM3: number }) {
  const plain = {
    eLongPa: truth.eLongGpa * 1e9,
    eCrossPa: truth.eCrossGpa * 1e9,
    gPa: truth.gGpa * 1e9,
    nuLR: start.nuLR.value,
  };
  return boardModes(size, withShear(plain, start.shearRatios), truth.densityKgM3);
}

describe('the wood of the demo', () => {
  test('the tapped half sounds as its truth', () => {
    const expected = modesOf(demoHalfTruth).slice(0, demoHalfModes.length);
    // written down to 0.01 Hz
    expected.forEach(({ frequencyHz }, i) => {
      expect(Math.abs(frequencyHz - demoHalfModes[i]!.frequencyHz)).toBeLessThan(0.006);
    });
    const names = { twist: [1, 1], 'long-grain-bending': [2, 0], 'cross-grain-bending': [0, 2] } as const;
    demoHalfModes.forEach(({ wanted }, i) => {
      if (wanted === undefined) return;
      expect([expected[i]!.pattern.m, expected[i]!.pattern.n]).toEqual(names[wanted]);
    });
  });

  test('the half that was typed has the modes of its own truth, within what its maker wrote', () => {
    const typed = demoPieces([]).find(({ id }) => id === 'demo-half-treble')!;
    const modes = modesOf(demoOtherHalfTruth);
    const of = (m: number, n: number) => modes.find(({ pattern }) => pattern.m === m && pattern.n === n)!.frequencyHz;
    const truth = { 'long-grain-bending': of(2, 0), 'cross-grain-bending': of(0, 2), twist: of(1, 1) };
    for (const { id, frequencyHz } of typed.modes)
      expect(Math.abs(frequencyHz.value - truth[id])).toBeLessThan(frequencyHz.sigma);
    expect(boardTapsOf(typed)).toBeDefined();
  });

  test.each([
    ['demo-half-bass', demoHalfTruth],
    ['demo-half-treble', demoOtherHalfTruth],
  ] as const)('the reading kept of %s is of its pieces as they stand, and holds its truth', (id, truth) => {
    const piece = demoWood(heard).find((known) => known.id === id)!;
    const read = readBoard(boardTapsOf(piece)!, startOf(piece));
    if (read.kind !== 'read') throw new Error(read.kind);
    const kept = readings[id]!;
    expect(kept).toEqual(JSON.parse(JSON.stringify(keptReading(piece, read.constants, kept.atIso))));
    for (const [key, value] of Object.entries(truth)) {
      const { value: found, sigma } = kept[key as keyof typeof truth]!;
      expect(Math.abs(found - value)).toBeLessThan(2 * sigma);
    }
  });
});
