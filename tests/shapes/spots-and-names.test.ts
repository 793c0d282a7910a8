import { describe, expect, it } from 'vitest';
import { assurance, deflection } from '../../src/plate/mode-shape.ts';
import { distance, distanceToSegment } from '../../src/plate/outline.ts';
import { plateModes, preparePlate } from '../../src/plate/plate-modes.ts';
import { namesByShape } from '../../src/shapes/names-by-shape.ts';
import { plateBasis, wholeShape } from '../../src/shapes/plate-basis.ts';
import { spotGrid, walked } from '../../src/shapes/spot-grid.ts';
import { once } from '../once.ts';
import { smallTop } from '../plate/plates.ts';

const solved = once(() => {
  const prepared = preparePlate(smallTop, 60);
  const answer = plateModes(prepared, smallTop, { count: 5 });
  if (answer.kind !== 'modes') throw new Error(answer.kind);
  return { prepared, modes: answer.modes };
});

describe('walked', () => {
  it('goes through the same spots row by row from the tail, there and back', () => {
    const spots = spotGrid(smallTop, 16);
    const path = walked(spots);
    expect(new Set(path)).toEqual(new Set(spots));
    const way = (points: typeof spots) =>
      points.slice(1).reduce((sum, point, i) => sum + distance(point, points[i]!), 0);
    // The grid itself goes to the farthest spot each time.
    expect(way(path)).toBeLessThan(0.6 * way(spots));
    expect(path[0]![0]).toBeLessThan(path.at(-1)![0]);
  });
});

describe('spotGrid', () => {
  it('spreads the spots, 30 mm from a held rim and 14 mm from a free one', () => {
    for (const [edge, rimMm] of [
      ['hinged', 30],
      ['free', 14],
    ] as const) {
      const spots = spotGrid({ ...smallTop, edge }, 9);
      expect(spots).toHaveLength(9);
      const { outline } = smallTop;
      for (const spot of spots)
        outline.forEach((from, i) => {
          expect(distanceToSegment(spot, from, outline[(i + 1) % outline.length]!)).toBeGreaterThanOrEqual(rimMm);
        });
      spots.forEach((spot, i) => {
        for (const other of spots.slice(i + 1)) expect(distance(spot, other)).toBeGreaterThan(45);
      });
    }
  });
});

describe('namesByShape', () => {
  it('follows the shapes where two frequencies have changed places and all are a semitone low', () => {
    const computed = [
      { frequencyHz: 100, atSpots: [1, 1, 1, 1] },
      { frequencyHz: 150, atSpots: [1, -1, 1, -1] },
      { frequencyHz: 160, atSpots: [1, 1, -1, -1] },
    ];
    const low = 2 ** (-1 / 12);
    const measured = [0, 2, 1].map((j, k) => ({
      frequencyHz: computed[k]!.frequencyHz * low,
      atSpots: computed[j]!.atSpots.map((w, s) => -w + 0.1 * (s % 2)),
    }));
    expect(namesByShape(measured, computed)).toEqual([0, 2, 1]);
  });

  it('leaves a mode alone that is like none', () => {
    const computed = [{ frequencyHz: 100, atSpots: [1, 1, 1, 1] }];
    expect(namesByShape([{ frequencyHz: 190, atSpots: [1, -1, 1, -1] }], computed)).toEqual([undefined]);
  });
});

describe('plateBasis', () => {
  it('draws a computed mode as it is, and mixes nothing but the floor where nothing is off', () => {
    const { prepared, modes } = solved();
    const whole = wholeShape(prepared, modes, [0, 1, 0, 0, 0]);
    expect(assurance(whole, deflection(prepared, modes[1]!))).toBeCloseTo(1, 12);
    const { mixing } = plateBasis(prepared, modes, [smallTop], [[100, 100]], [0]);
    expect(new Set(mixing.flat()).size).toBe(1);
  });

  it('foretells how the shapes mix when the wood is another: the solver agrees', () => {
    const { prepared, modes } = solved();
    const variant = { ...smallTop, material: { ...smallTop.material, eR: smallTop.material.eR * 1.3 } };
    const { mixing } = plateBasis(prepared, modes, [variant], [[100, 100]], [0]);
    const answer = plateModes(prepared, variant, { count: 5 });
    if (answer.kind !== 'modes') throw new Error(answer.kind);
    answer.modes.forEach((mode, k) => {
      const shape = deflection(prepared, mode);
      const unlike = 1 - assurance(shape, deflection(prepared, modes[k]!));
      const told = modes.reduce((sum, _, j) => (j === k ? sum : sum + mixing[j]![k]! ** 2), 0);
      // The floor stands for what no spread tells; what the wood does lies below what is told.
      expect(unlike).toBeLessThan(told + 0.02);
    });
  });

  it('refuses a spot off the plate', () => {
    const { prepared, modes } = solved();
    expect(() => plateBasis(prepared, modes, [], [[-50, 0]], [0])).toThrow('plateBasis: spot -50, 0 mm');
  });
});
