// What a shaving does to each mode, against every solid that was shaved. In plate-moves.json the mesh stays the same before
// and after: only the nodes of the shaved brace are moved, so that the mesh's error stays out of the difference.
import { readFileSync } from 'node:fs';
import { expect, test, vi } from 'vitest';
import { MOVE_ERROR_SHARE } from '../../src/forecast/shaving.ts';
import type { Point } from '../../src/plate/outline.ts';
import type { BraceCase, PlateCase } from '../../src/plate/plate-case.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { asSolved, solidCase, solidEntry, tetraCases, tetraMoves } from '../reference/plate-cases.ts';

vi.setConfig({ testTimeout: 120_000 });

interface Series {
  readonly name: string;
  /** parts of body_x_free_14, whose X legs become those of body_x_free_12 */
  readonly top?: { readonly parts: readonly string[]; readonly edge: 'free' | 'hinged' };
  /** braces on the plate of plate_one_brace_along, 14 mm high and then 12 mm over the stretches told in plate-solids.md */
  readonly braces?: readonly { readonly from: Point; readonly to: Point }[];
  readonly beforeHz: readonly number[];
  readonly afterHz: readonly number[];
}
const all = JSON.parse(
  readFileSync(new URL('../reference/plate-moves.json', import.meta.url), 'utf8'),
) as readonly Series[];

function casesOf({ top, braces }: Series): readonly [PlateCase, PlateCase] {
  if (top !== undefined) {
    const of = (name: string): PlateCase => {
      const plate = tetraCases[name]!;
      return { ...plate, edge: top.edge, braces: plate.braces!.filter(({ id }) => top.parts.includes(id)) };
    };
    return [of('body_x_free_14'), of('body_x_free_12')];
  }
  const plate = tetraCases.plate_one_brace_along!;
  const brace = plate.braces![0]!;
  const of = (heightMm: number): PlateCase => ({
    ...plate,
    braces: braces!.map(({ from, to }, i): BraceCase => {
      const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
      // Where two braces cross, they keep their height.
      const lap: readonly Point[] =
        braces!.length > 1
          ? [
              [120, heightMm],
              [140, 14],
            ]
          : [];
      const toMiddle: readonly Point[] = [[0, 4], [50, heightMm], ...lap];
      const back = toMiddle.toReversed().map(([s, h]): Point => [length - s, h]);
      return { ...brace, id: `x${i + 1}`, from, to, heightMm: [...toMiddle, ...back] };
    }),
  });
  return [of(14), of(12)];
}

type Move = readonly [here: number, solid: number];

/** Moves of the first six modes here, beside those of the solid, Hz. */
function movesOf([before, after]: readonly [PlateCase, PlateCase], solid: readonly number[]): readonly Move[] {
  const prepared = preparePlate(before);
  const [was, is] = [before, after].map((plate) => {
    const answer = plateModes(prepared, plate);
    if (answer.kind !== 'modes') throw new Error(answer.kind);
    return answer.modes.map(({ frequencyHz }) => frequencyHz);
  });
  return Array.from({ length: 6 }, (_, k) => [is![k]! - was![k]!, solid[k]!]);
}

const matchedMoves = (series: Series): readonly Move[] =>
  movesOf(
    casesOf(series),
    series.afterHz.map((hz, k) => hz - series.beforeHz[k]!),
  );

/** Moves of the two reference sets, whose meshes were made anew for each height. */
function remeshedMoves(): readonly Move[] {
  const tetra = (
    [
      ['body_x_free_14', 'body_x_free_13'],
      ['body_x_free_14', 'body_x_free_12'],
      ['body_x_free_14', 'body_x_free_10'],
      ['body_x_hinged_14', 'body_x_hinged_12'],
    ] as const
  ).flatMap(([from, to]) => {
    const [before, after] = [tetraCases[from]!, tetraCases[to]!];
    return movesOf([asSolved(before), asSolved(after)], tetraMoves(before, after));
  });
  const hexa = (['free', 'hinged'] as const).flatMap((bc) =>
    ['c6_1', 'c6_2', 'c6_3', 'c6_s'].flatMap((name) => {
      const [before, after] = [solidEntry('c5', bc), solidEntry(name, bc)];
      return movesOf(
        [solidCase(before), solidCase(after)],
        after.freqs_hz.map((hz, k) => hz - before.freqs_hz[k]!),
      );
    }),
  );
  return [...tetra, ...hexa];
}

// 0.15 Hz is what a round of taps leaves open at best and what the remeshed solids scatter by.
const isHeld = ([here, solid]: Move): boolean =>
  Math.abs(here - solid) < Math.max(0.15, 2 * MOVE_ERROR_SHARE * Math.abs(here));

test('the spread that is stated for a forecast move holds 95 % of all moves of solids that are known', () => {
  const moves = [...all.flatMap(matchedMoves), ...remeshedMoves()];
  expect(moves).toHaveLength(120);
  expect(moves.filter(isHeld).length / moves.length).toBeGreaterThanOrEqual(0.95);
});

test('where a brace bends and does not twist, its shaving moves the modes as in the solid, within 0.15 Hz or 6 percent', () => {
  const along = matchedMoves(all.find(({ name }) => name === 'one brace along the grain')!);
  // Modes 1 and 4 twist the brace: they move 38 and 63 percent too little here.
  for (const k of [1, 2, 4, 5]) {
    const [here, solid] = along[k]!;
    expect(Math.abs(here - solid)).toBeLessThan(Math.max(0.15, 0.06 * Math.abs(solid)));
  }
});
