// Names of modes over a stage of the build, on plates of which symmetry says what the modes are.
import { describe, expect, test } from 'vitest';
import { carried, stageShapes, withoutRigid } from '../../src/forecast/stage-shapes.ts';
import type { PlateCase } from '../../src/plate/plate-case.ts';
import { preparePlate } from '../../src/plate/plate-modes.ts';
import type { Estimate } from '../../src/quantity/estimate.ts';
import { once } from '../once.ts';
import { rectangle, spruce } from '../plate/plates.ts';

const coarse = (plate: PlateCase) => preparePlate(plate, 60);
const silent = () => undefined;

const bare: PlateCase = { outline: rectangle(300, 200), thicknessMm: 3, material: spruce };
/** One tall brace along the middle: it stiffens the bending along itself and lies on the node line of the twist. */
const braced: PlateCase = {
  ...bare,
  braces: [
    {
      id: 'middle',
      from: [10, 100],
      to: [290, 100],
      widthMm: 8,
      heightMm: [
        [0, 14],
        [280, 14],
      ],
      material: spruce,
    },
  ],
};

describe('names over a stage', () => {
  const answered = once(() => {
    const answer = stageShapes({ before: bare, after: braced, parameters: [] }, silent, coarse);
    if (answer.kind !== 'carried') throw new Error(answer.kind);
    return answer;
  });
  const ranked = (of: (name: string) => number) => ['long-grain bending', 'cross-grain bending', 'twist'].map(of);

  test('a brace that lifts one mode past others: every name goes with its node lines, not with its rank', () => {
    const answer = answered();
    const byName = new Map(answer.modes.map((mode) => [mode.name, mode]));
    const beforeHz = ranked((name) => byName.get(name)!.frequencyHz.value);
    const afterHz = ranked((name) => byName.get(name)!.after.frequencyHz.value);
    // by symmetry about the brace: only the bending along it is stiffened much
    expect(afterHz[0]! / beforeHz[0]!).toBeGreaterThan(afterHz[2]! / beforeHz[2]!);
    expect(answer.orderChanges).toBe(true);
    for (const name of ['long-grain bending', 'twist']) {
      const { after, verdict, likeness } = byName.get(name)!;
      // the names come from counted node lines, the pairs from the shapes' assurance: two ways to one answer
      expect({ name, after: after.name, verdict }).toEqual({ name, after: name, verdict: 'clear' });
      expect(likeness).toBeGreaterThan(0.5);
    }
  });

  test('held against itself every mode is itself, wholly', () => {
    const same = stageShapes({ before: braced, after: braced, parameters: [] }, silent, coarse);
    if (same.kind !== 'carried') throw new Error(same.kind);
    expect(same.orderChanges).toBe(false);
    for (const { name, after, likeness, verdict } of same.modes) {
      expect({ after: after.name, verdict }).toEqual({ after: name, verdict: 'clear' });
      expect(likeness).toBeCloseTo(1, 9);
    }
  });

  test('taps of another wood put the stage after where that wood has it, and its ± is narrower', () => {
    const parameters = (['plate eL', 'plate eR', 'plate gLR'] as const).map((property) => ({
      property,
      relativeSigma: 0.15,
    }));
    const held = { ...bare, edge: { kind: 'hinged', pinnedAt: 'mid-surface' } } as const;
    const { eL, eR, gLR } = spruce;
    const other = { ...bare, material: { ...spruce, eL: 1.2 * eL, eR: 0.85 * eR, gLR: 1.1 * gLR } };
    const carriedBy = (
      plate: PlateCase,
      tapped?: readonly { readonly name: string; readonly frequencyHz: Estimate }[],
    ) => {
      const after = { ...held, material: plate.material };
      const answer = stageShapes({ before: plate, after, parameters, ...(tapped && { tapped }) }, silent, coarse);
      if (answer.kind !== 'carried') throw new Error(answer.kind);
      return answer;
    };
    const truth = carriedBy(other);
    const asDrawn = carriedBy(bare);
    const tapped = truth.modes.map(({ name, frequencyHz }) => ({ name, frequencyHz: { ...frequencyHz, sigma: 0.2 } }));
    const fitted = carriedBy(bare, tapped);
    expect(asDrawn.fittedTo).toBe(0);
    expect(fitted.fittedTo).toBeGreaterThan(2);
    const offs = (of: typeof fitted) =>
      [0, 1, 2].map((i) => Math.abs(of.after[i]!.frequencyHz.value / truth.after[i]!.frequencyHz.value - 1));
    expect(Math.max(...offs(fitted))).toBeLessThan(0.01);
    expect(Math.max(...offs(asDrawn))).toBeGreaterThan(0.02);
    expect(fitted.pumping.frequencyHz.sigma).toBeLessThan(0.5 * asDrawn.pumping.frequencyHz.sigma);
  });

  test('a hinged plate pumps by its monopole, as much as sin x sin y does: (8/pi²)² = 0.657', () => {
    const { outline, thicknessMm, material } = bare;
    const hinged: PlateCase = {
      outline,
      thicknessMm,
      material,
      edge: { kind: 'hinged', pinnedAt: 'mid-surface' },
    };
    const held = stageShapes({ before: bare, after: hinged, parameters: [] }, silent, coarse);
    if (held.kind !== 'carried') throw new Error(held.kind);
    expect(held.pumping.name).toBe('monopole');
    // the coarse mesh and a grid of 20 by 13 leave a hundredth
    expect(Math.abs(held.pumping.share - (8 / Math.PI ** 2) ** 2)).toBeLessThan(0.01);
    // sin by sin of unit modal mass, 2 / sqrt(M), pushes 8 a b / (pi² sqrt(M)); modes with an even number of halves push nothing
    const plateKg = 0.3 * 0.2 * 0.003 * spruce.densityKgM3;
    const pushed = held.after.map(({ pushedM2PerSqrtKg }) => Math.abs(pushedM2PerSqrtKg));
    expect(pushed[0]! / ((8 * 0.3 * 0.2) / (Math.PI ** 2 * Math.sqrt(plateKg)))).toBeCloseTo(1, 2);
    expect(Math.min(pushed[1]!, pushed[2]!)).toBeLessThan(0.01 * pushed[0]!);
  });
});

describe('where the shapes do not tell', () => {
  const modes = ['a', 'b'].map((name, i) => ({ name, frequencyHz: { value: 100 * (i + 1), sigma: 1 } }));
  const verdicts = (likeness: number[][]) => carried(modes, modes, likeness).map(({ verdict }) => verdict);
  test('half a shape each, or two modes that want the same one: asked', () => {
    expect(
      verdicts([
        [0.48, 0.47],
        [0.1, 0.9],
      ]),
    ).toEqual(['ask', 'clear']);
    expect(
      verdicts([
        [0.6, 0.1],
        [0.7, 0.2],
      ]),
    ).toEqual(['ask', 'ask']);
    expect(
      verdicts([
        [0.1, 0.8],
        [0.9, 0.05],
      ]),
    ).toEqual(['clear', 'clear']);
  });
});

describe('what is asked of it', () => {
  const { outline, thicknessMm, material } = bare;
  const hinged: PlateCase = { outline, thicknessMm, material, edge: { kind: 'hinged', pinnedAt: 'mid-surface' } };

  test('progress is told through both stages', () => {
    const told: number[] = [];
    stageShapes({ before: bare, after: braced, parameters: [] }, (share) => told.push(share), coarse);
    expect(told).toEqual(told.toSorted((a, b) => a - b));
    expect(told[0]).toBeCloseTo(0.2, 9);
    expect(told.filter((share) => share < 0.5).length).toBeGreaterThan(1);
    expect(told.some((share) => Math.abs(share - 0.76) < 1e-9)).toBe(true);
    expect(told.at(-1)).toBeGreaterThan(0.9);
    expect(told.at(-1)).toBeLessThanOrEqual(1);
  });

  test('a stage that cannot be computed makes the whole unsolvable', () => {
    const soft = { ...bare, material: { ...spruce, eL: -1, eR: -1, gLR: -1 } };
    const ask = (before: PlateCase, after: PlateCase) => stageShapes({ before, after, parameters: [] }, silent, coarse);
    expect(ask(soft, bare)).toEqual({ kind: 'unsolvable' });
    expect(ask(bare, soft)).toEqual({ kind: 'unsolvable' });
  });

  test('six modes go on, each told as well as its woods are known', () => {
    const asked = (relativeSigma: number) => {
      const answer = stageShapes(
        { before: bare, after: braced, parameters: [{ property: 'plate density', relativeSigma }] },
        silent,
        coarse,
      );
      if (answer.kind !== 'carried') throw new Error(answer.kind);
      return answer.modes;
    };
    const modes = asked(0.2);
    expect(modes).toHaveLength(6);
    expect(modes.map(({ frequencyHz }) => frequencyHz.value)).toEqual(
      modes.map(({ frequencyHz }) => frequencyHz.value).toSorted((a, b) => a - b),
    );
    // A bare plate goes with the root of one over its density; a hundredth is the model's.
    for (const { frequencyHz } of modes)
      expect(frequencyHz.sigma / frequencyHz.value).toBeCloseTo(Math.hypot(0.1, 0.01), 4);
  });

  test('a hole that is there at one stage only takes its places out, and the modes go on', () => {
    const holed: PlateCase = { ...bare, soundhole: { xMm: 150, yMm: 100, radiusMm: 30 } };
    const answer = stageShapes({ before: bare, after: holed, parameters: [] }, silent, coarse);
    if (answer.kind !== 'carried') throw new Error(answer.kind);
    for (const { name, after, verdict } of answer.modes.slice(0, 3))
      expect({ after: after.name, verdict }).toEqual({ after: name, verdict: 'clear' });
  });

  test('a small board is read at enough places to tell its modes', () => {
    // 40 by 30 mm: three places by two at 15 mm would hold no twist.
    const small: PlateCase = { ...bare, outline: rectangle(40, 30), thicknessMm: 1 };
    const answer = stageShapes({ before: small, after: small, parameters: [] }, silent, (plate) =>
      preparePlate(plate, 15),
    );
    if (answer.kind !== 'carried') throw new Error(answer.kind);
    for (const { likeness, verdict } of answer.modes) {
      expect(verdict).toBe('clear');
      expect(likeness).toBeCloseTo(1, 9);
    }
  });

  test('from a board on foam to a rim: the order of the clear ones stays where nothing passes another', () => {
    const answer = stageShapes({ before: hinged, after: hinged, parameters: [] }, silent, coarse);
    if (answer.kind !== 'carried') throw new Error(answer.kind);
    expect(answer.orderChanges).toBe(false);
    expect(answer.modes[0]!.name).toBe('monopole');
    expect(answer.pumping.frequencyHz.value).toBeCloseTo(answer.modes[0]!.frequencyHz.value, 6);
  });
});

test('a shape that is all lifting and tilting leaves nothing', () => {
  const places = [
    [0, 0],
    [300, 10],
    [20, 200],
    [280, 190],
    [150, 90],
  ] as const;
  withoutRigid(
    places,
    places.map(([x, y]) => 2 - 0.03 * x + 0.01 * y),
  ).forEach((w) => {
    expect(w).toBeCloseTo(0, 9);
  });
});

test('a mode goes to the one it is likest, however many there are, at the first of two alike', () => {
  const named = (...names: readonly string[]) =>
    names.map((name, i) => ({ name, frequencyHz: { value: i, sigma: 0 } }));
  const [one] = carried(named('a'), named('x', 'y', 'z'), [[0.2, 0.3, 0.51]]);
  expect(one).toMatchObject({ name: 'a', after: { name: 'z' }, likeness: 0.51, verdict: 'clear' });
  const [half] = carried(named('a'), named('x', 'y'), [[0.5, 0.5]]);
  expect(half).toMatchObject({ after: { name: 'x' }, likeness: 0.5, verdict: 'ask' });
  // Another that has just half of it lays no claim.
  const claims = carried(named('a', 'b'), named('x', 'y'), [
    [0.9, 0.1],
    [0.5, 0.4],
  ]);
  expect(claims.map(({ verdict }) => verdict)).toEqual(['clear', 'ask']);
});

test('lifting and tilting are taken off a shape, bending is left', () => {
  const places = [-2, -1, 0, 1, 2].flatMap((x) => [-1, 0, 1].map((y) => [100 * x, 100 * y] as const));
  const bend = places.map(([x]) => (x / 100) ** 2 - 2);
  const lifted = bend.map((w, i) => w + 3 + 0.02 * places[i]![0] - 0.05 * places[i]![1]);
  withoutRigid(places, lifted).forEach((w, i) => {
    expect(w).toBeCloseTo(bend[i]!, 9);
  });
});
