import { expect, test } from 'vitest';
import type { BoardElastic, BoardSize } from '../../src/wood/board-energy.ts';
import { type BoardMode, boardModes, deflectionAt } from '../../src/wood/board-modes.ts';
import type { Sensitivities } from '../../src/wood/board-sensitivity.ts';

const size: BoardSize = { lengthM: 0.55, widthM: 0.21, thicknessM: 0.004 };
const spruce: BoardElastic = {
  eLongPa: 11e9,
  eCrossPa: 0.85e9,
  gPa: 0.76e9,
  nuLR: 0.372,
  shear: { longPa: 0.671e9, crossPa: 0.033e9 },
};
const named = (modes: readonly BoardMode[], m: number, n: number) =>
  modes.find(({ pattern }) => pattern.m === m && pattern.n === n)!;

test('a strip much stiffer in shear bends as Kirchhoff says', () => {
  const stiff = { ...spruce, shear: { longPa: 1e13, crossPa: 1e13 } };
  const thin = boardModes(
    { ...size, thicknessM: 0.001 },
    { ...spruce, shear: undefined } as unknown as BoardElastic,
    410,
  );
  const mindlin = boardModes({ ...size, thicknessM: 0.001 }, stiff, 410);
  // 2e-4: edge layer and rotary inertia of a 1 mm board
  for (let k = 0; k < 6; k++) expect(Math.abs(mindlin[k]!.frequencyHz / thin[k]!.frequencyHz - 1)).toBeLessThan(2e-4);
});

test('transverse shear lowers cross-grain bending as the first-order Timoshenko bar does', () => {
  // Goens (1931), form checked against a converged solution: (f/f0)^2 = 1/(1 + (r/L)^2 (49.48 + 12.30 E/(5/6 G)))
  const wide: BoardElastic = { ...spruce, nuLR: 0.001 };
  const { shear: _, ...thin } = wide;
  const r2 = 0.004 ** 2 / 12 / 0.21 ** 2;
  const expected = 1 / Math.sqrt(1 + r2 * (49.48 + (12.3 * 0.85) / ((5 / 6) * 0.033)));
  const ratio =
    named(boardModes(size, wide, 410), 0, 2).frequencyHz / named(boardModes(size, thin, 410), 0, 2).frequencyHz;
  expect(Math.abs(ratio / expected - 1)).toBeLessThan(5e-4);
});

test('energy shares add up to one and every stated sensitivity is the slope of the solver', () => {
  const coarse = { functions: 5, perParity: 3 };
  const base = boardModes(size, spruce, 410, undefined, coarse);
  const mass = 410 * size.lengthM * size.widthM * size.thicknessM;
  const step = 1e-4;
  /** the same board with one quantity scaled; sizes keep the mass, as a scale would */
  const changed = (key: keyof Sensitivities, by: number): readonly BoardMode[] => {
    const s = { ...size };
    const e = { ...spruce, shear: { ...spruce.shear! } };
    let kg = mass;
    if (key === 'length') s.lengthM *= by;
    if (key === 'width') s.widthM *= by;
    if (key === 'thickness') s.thicknessM *= by;
    if (key === 'mass') kg *= by;
    const elastic: BoardElastic = {
      eLongPa: e.eLongPa * (key === 'eLong' ? by : 1),
      eCrossPa: e.eCrossPa * (key === 'eCross' ? by : 1),
      gPa: e.gPa * (key === 'g' ? by : 1),
      nuLR: e.nuLR * (key === 'nu' ? by : 1),
      shear: {
        longPa: e.shear.longPa * (key === 'shearLong' ? by : 1),
        crossPa: e.shear.crossPa * (key === 'shearCross' ? by : 1),
      },
    };
    return boardModes(s, elastic, kg / (s.lengthM * s.widthM * s.thicknessM), undefined, coarse);
  };
  const keys = Object.keys(base[0]!.sensitivity) as (keyof Sensitivities)[];
  for (const key of keys) {
    const up = changed(key, 1 + step);
    const down = changed(key, 1 - step);
    for (let k = 0; k < 8; k++) {
      const slope = Math.log(up[k]!.frequencyHz / down[k]!.frequencyHz) / (Math.log(1 + step) - Math.log(1 - step));
      // 1e-4: rotations are eliminated statically; rotary mass (up to 1e-3) times the shear share (3 %), to the third power
      expect(Math.abs(slope - base[k]!.sensitivity[key]), `${key} of mode ${k}`).toBeLessThan(1e-4);
    }
  }
  for (const mode of base) {
    expect(Object.values(mode.energy).reduce((sum, each) => sum + each, 0)).toBeCloseTo(1, 9);
  }
});

test('a board turned by a quarter has the same modes with the pattern turned', () => {
  const turned = boardModes(
    { lengthM: size.widthM, widthM: size.lengthM, thicknessM: size.thicknessM },
    {
      eLongPa: spruce.eCrossPa,
      eCrossPa: spruce.eLongPa,
      gPa: spruce.gPa,
      nuLR: (spruce.nuLR * spruce.eCrossPa) / spruce.eLongPa,
      shear: { longPa: 0.033e9, crossPa: 0.671e9 },
    },
    410,
  );
  boardModes(size, spruce, 410)
    .slice(0, 8)
    .forEach((mode, k) => {
      expect(turned[k]!.frequencyHz / mode.frequencyHz).toBeCloseTo(1, 7);
      expect(turned[k]!.pattern).toEqual({ m: mode.pattern.n, n: mode.pattern.m });
    });
});

test('the bending shape of a slender board is that of a free bar', () => {
  // node at 0.22416 of the length, from the exact free-free bar; 2e-3 is the plate's own curvature of the node line
  const slender = boardModes({ ...size, widthM: 0.02 }, { ...spruce, nuLR: 0.01 }, 410);
  const bend = named(slender, 2, 0);
  const middle = deflectionAt(bend, 0, 0);
  const node = 1 - 2 * 0.22416;
  expect(Math.abs(deflectionAt(bend, node, 0) / middle)).toBeLessThan(2e-3);
  expect(deflectionAt(bend, 1, 0) / middle).toBeLessThan(-1.5);
});

test('a board without size or stiffness is refused by name and value', () => {
  expect(() => boardModes({ ...size, widthM: 0 }, spruce, 410)).toThrow('boardModes: widthM 0, need > 0');
  expect(() => boardModes(size, { ...spruce, nuLR: 4 }, 410)).toThrow('boardModes: nuLR 4');
});
